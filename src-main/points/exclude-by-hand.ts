/** Points that a person leaves out, each with a written reason: counted, listed and said, never dropped silently. */
import type { Datum, PartDefinition } from '../../shared-math/definition.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type { ExcludedPoint } from '../../shared-math/result.ts';
import type { FeatureExclusion, PointExclusion, Problem } from '../api.ts';
import { describe, RefusedInput } from '../problems.ts';
import { excludedByReason } from './finish-points.ts';
import { pickPoints } from './pick-points.ts';
import type { ReadPoints } from './read-points.ts';

export interface Exclusions {
  readonly exclusions?: readonly PointExclusion[] | undefined;
  readonly excludedFeatures?: readonly FeatureExclusion[] | undefined;
}

/** What stands before the reason in the list of excluded points. */
const BY_HAND = 'excluded by hand: ';

/**
 * The points without those excluded by hand. A line that the reading has left out already stays with its own reason.
 *
 * @throws RefusedInput where a reason is missing, a line holds no point, or a datum of the hub would have no points left
 */
export function excludeByHand(
  points: ReadPoints,
  wanted: Exclusions,
  definition: PartDefinition,
): ReadPoints {
  const lines = wanted.exclusions ?? [];
  const features = wanted.excludedFeatures ?? [];
  if (lines.length === 0 && features.length === 0) return points;
  const problems: Problem[] = [...missingReasons(lines, features)];
  const reasonOfLine = new Map(lines.map(({ line, reason }) => [line, BY_HAND + reason.trim()]));
  const reasonOfFeature = new Map(
    features.map(({ station, feature, reason }) => [keyOf(station, feature), BY_HAND + reason.trim()]),
  );

  const excluded: ExcludedPoint[] = [];
  const found = new Set<number>();
  const blocks: PointBlock[] = [];
  const linesLeft: Uint32Array[] = [];
  /** Features without a point left, with the first reason. */
  const emptied: { readonly block: PointBlock; readonly reason: string }[] = [];
  points.blocks.forEach((block, b) => {
    const own = points.lines[b] as Uint32Array;
    const whole = reasonOfFeature.get(keyOf(block.station, block.feature));
    const kept: number[] = [];
    const before = excluded.length;
    for (let i = 0; i < own.length; i += 1) {
      const line = own[i] as number;
      const reason = reasonOfLine.get(line);
      if (reason !== undefined) found.add(line);
      if (reason === undefined && whole === undefined) kept.push(i);
      else excluded.push({ line, reason: reason ?? (whole as string) });
    }
    if (kept.length === own.length) {
      blocks.push(block);
      linesLeft.push(own);
    } else if (kept.length > 0) {
      blocks.push(pickPoints(block, kept));
      linesLeft.push(Uint32Array.from(kept, (i) => own[i] as number));
    } else emptied.push({ block, reason: (excluded[before] as ExcludedPoint).reason });
  });

  const leftOutBefore = new Set(points.excluded.map(({ line }) => line));
  for (const { line } of lines)
    if (!found.has(line) && !leftOutBefore.has(line)) problems.push(noPoint(points.name, line));
  for (const { block, reason } of emptied)
    if (block.station === null) problems.push(...hubWithout(points.name, block, reason, definition));
  if (problems.length > 0) throw new RefusedInput(problems, points.warnings);

  return {
    ...points,
    blocks,
    lines: linesLeft,
    used: points.used - excluded.length,
    excluded: [...points.excluded, ...excluded].sort((a, b) => a.line - b.line),
    gaps: withEmptied(points.gaps, emptied),
    firstLineOf: (station, feature) =>
      linesLeft[blocks.findIndex((block) => block.station === station && block.feature === feature)]?.[0],
    warnings: [
      ...points.warnings,
      ...handWarnings(excluded, points.name),
      ...idleFeatures(features, points, definition),
    ],
  };
}

function keyOf(station: number | null, feature: string): string {
  return `${station ?? ''}\n${feature}`;
}

/** A problem for each exclusion without words on why. */
export function missingReasons(
  lines: readonly PointExclusion[],
  features: readonly FeatureExclusion[],
): readonly Problem[] {
  const without = (what: string): Problem =>
    describe({
      code: 'missing-reason',
      says: `the exclusion of ${what} has no reason`,
      expected: 'a few words on why it is left out; they stand in the result and in the report',
      remedy: 'write the reason, or take the exclusion back',
    });
  return [
    ...lines.filter(({ reason }) => reason.trim() === '').map(({ line }) => without(`line ${line}`)),
    ...features
      .filter(({ reason }) => reason.trim() === '')
      .map(({ station, feature }) => without(`${feature} of ${placeOf(station)}`)),
  ];
}

function placeOf(station: number | null): string {
  return station === null ? 'the hub' : `station ${station}`;
}

function noPoint(file: string, line: number): Problem {
  return describe({
    code: 'unknown-line',
    file,
    line,
    says: 'a point is excluded there, but the line holds none',
    expected: 'the line of a point',
    remedy: 'take the exclusion back, and check that it was written for this file',
  });
}

/** The datums of the hub that need the feature. */
function hubWithout(
  file: string,
  { feature }: PointBlock,
  reason: string,
  { hubDatums }: PartDefinition,
): readonly Problem[] {
  return hubDatums
    .filter(({ features }) => features.includes(feature))
    .map(({ label }) =>
      describe({
        code: 'excluded-datum',
        file,
        says: `all points of ${feature} are ${reason.replace(/: .*$/s, '')}, and datum ${label} of the hub rests on them`,
        remedy: 'keep points of this feature, or give a plan that builds the disc frame without it',
      }),
    );
}

/** A blade without a datum feature cannot be posed; its station is listed as missing with this reason. */
function withEmptied(
  gaps: ReadPoints['gaps'],
  emptied: readonly { readonly block: PointBlock; readonly reason: string }[],
): ReadPoints['gaps'] {
  const known = new Set(gaps.map(({ station }) => station));
  const added: { station: number; reason: string }[] = [];
  for (const { block, reason } of emptied) {
    if (block.station === null || known.has(block.station)) continue;
    known.add(block.station);
    added.push({ station: block.station, reason: `All points of ${block.feature} are ${reason}` });
  }
  return [...gaps, ...added].sort((a, b) => a.station - b.station);
}

function handWarnings(excluded: readonly ExcludedPoint[], file: string): readonly string[] {
  return excludedByReason(excluded, file).map(
    ({ reason, count, lines }) =>
      `${file}: ${count} ${count === 1 ? 'point is' : 'points are'} ${reason} (${lines}).`,
  );
}

/** Exclusions of features that change nothing, because the file has no such points or the plan does not use them. */
function idleFeatures(
  features: readonly FeatureExclusion[],
  points: ReadPoints,
  definition: PartDefinition,
): readonly string[] {
  const uses = (datums: readonly Datum[], feature: string): boolean =>
    datums.some((datum) => datum.features.includes(feature));
  return features
    .filter(
      ({ station, feature }) =>
        !points.blocks.some((block) => block.station === station && block.feature === feature),
    )
    .map(({ station, feature }) => {
      const planned = uses(station === null ? definition.hubDatums : definition.bladeDatums, feature);
      const because = planned ? 'the file has no points of it' : 'the plan does not use it';
      return `${points.name}: leaving out ${feature} of ${placeOf(station)} changes nothing: ${because}.`;
    });
}
