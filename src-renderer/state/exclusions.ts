/** What is left out by hand, and the steps that led there. */
import type { FeatureExclusion, PointExclusion } from '../../src-main/api.ts';

export interface Exclusions {
  readonly points: readonly PointExclusion[];
  readonly features: readonly FeatureExclusion[];
}

export interface ExclusionHistory {
  readonly past: readonly Exclusions[];
  readonly present: Exclusions;
  readonly future: readonly Exclusions[];
}

/** A feature by its station (null: the hub) and its name. */
export interface FeatureName {
  readonly station: number | null;
  readonly feature: string;
}

export const noExclusions: Exclusions = { points: [], features: [] };

/** A history that starts at what is left out now, such as that of an opened session. */
export function historyFrom(present: Exclusions): ExclusionHistory {
  return { past: [], present, future: [] };
}

export const emptyHistory = historyFrom(noExclusions);

/** A new step; what had been undone is let go. */
export function stepTo({ past, present }: ExclusionHistory, next: Exclusions): ExclusionHistory {
  return { past: [...past, present], present: next, future: [] };
}

export function undone({ past, present, future }: ExclusionHistory): ExclusionHistory | null {
  const before = past.at(-1);
  return before === undefined
    ? null
    : { past: past.slice(0, -1), present: before, future: [present, ...future] };
}

export function redone({ past, present, future }: ExclusionHistory): ExclusionHistory | null {
  const [after, ...rest] = future;
  return after === undefined ? null : { past: [...past, present], present: after, future: rest };
}

export function sameFeature(a: FeatureName, b: FeatureName): boolean {
  return a.station === b.station && a.feature === b.feature;
}

/** Leaves points out for one reason. A line that is left out already takes the new reason. */
export function withPoints(now: Exclusions, lines: readonly number[], reason: string): Exclusions {
  const fresh = lines.map((line) => ({ line, reason: reason.trim() }));
  const points = [...now.points.filter(({ line }) => !lines.includes(line)), ...fresh];
  return { ...now, points: points.sort((a, b) => a.line - b.line) };
}

export function withFeature(now: Exclusions, { station, feature }: FeatureName, reason: string): Exclusions {
  const others = now.features.filter((entry) => !sameFeature(entry, { station, feature }));
  return { ...now, features: [...others, { station, feature, reason: reason.trim() }] };
}

export function withoutPoints(now: Exclusions, lines: readonly number[]): Exclusions {
  return { ...now, points: now.points.filter(({ line }) => !lines.includes(line)) };
}

export function withoutFeature(now: Exclusions, name: FeatureName): Exclusions {
  return { ...now, features: now.features.filter((entry) => !sameFeature(entry, name)) };
}

/** How many entries the list has. */
export function exclusionCount({ points, features }: Exclusions): number {
  return points.length + features.length;
}

/** Reasons already written, the latest first, to be taken again. */
export function reasonsGiven({ past, present }: ExclusionHistory): readonly string[] {
  const all = [present, ...[...past].reverse()].flatMap(({ points, features }) =>
    [...features, ...points].map(({ reason }) => reason),
  );
  return [...new Set(all)];
}
