/**
 * The robust screen of a datum's points, and what is left where the plan has flagged points left out.
 */
import { screenOutliers } from '../association/criteria/index.ts';
import { pick } from '../association/criteria/samples.ts';
import type { CriterionFeatureType } from '../association/criteria/types.ts';
import { residualDistances } from '../association/residuals.ts';
import type { AssociationInput, Orientation } from '../association/types.ts';
import type { DatumDefinition, FeatureType } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { Note } from '../notes/notes.ts';
import type { ScreenedPoint } from '../result.ts';

/** Feature types that the robust screen can fit. */
export const SCREENED_TYPES: readonly CriterionFeatureType[] = [
  'plane',
  'line',
  'circle',
  'sphere',
  'cylinder',
];

/** A flagged point: which of the datum's inputs it belongs to, and its place there, from 0. */
export interface FlaggedPoint {
  readonly input: number;
  readonly index: number;
  /** Distance from the feature without the flagged points, mm. */
  readonly distance: number;
  readonly excluded: boolean;
}

/** Points of several inputs as one. */
export function pooledInput(inputs: readonly AssociationInput[]): AssociationInput {
  if (inputs.length === 1) return inputs[0]!;
  const pooled = (key: 'offsets' | 'weights', missing: number): Float64Array | null => {
    if (!inputs.some((input) => input[key])) return null;
    return joined(inputs.map((input) => input[key] ?? new Float64Array(input.xyz.length / 3).fill(missing)));
  };
  return {
    xyz: joined(inputs.map((input) => input.xyz)),
    offsets: pooled('offsets', 0),
    weights: pooled('weights', 1),
  };
}

/** Values that stand one a point (variances) of several inputs as one; null where no input has any. */
export function pooledValues(
  values: readonly (Float64Array | null)[],
  inputs: readonly AssociationInput[],
): Float64Array | null {
  if (values.every((list) => list === null)) return null;
  return joined(inputs.map(({ xyz }, k) => values[k] ?? new Float64Array(xyz.length / 3).fill(1)));
}

function joined(parts: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(parts.reduce((n, part) => n + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/**
 * Flags the points of a datum that lie too far from the others.
 *
 * @throws ReductionError `invalid-argument` for a type that the screen cannot fit; those of the screen.
 */
export function screenDatum(
  { type, nominal, screen }: DatumDefinition,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
): readonly FlaggedPoint[] {
  if (!screen) return [];
  const all = pooledInput(inputs);
  const { flagged, feature } = screenOutliers(
    { type: screenedType(type), orientation, radius: nominal.radius },
    all,
    screen,
  );
  if (flagged.length === 0) return [];
  const distances = residualDistances(feature, all);
  const starts = inputs.map((_, k) => inputs.slice(0, k).reduce((n, { xyz }) => n + xyz.length / 3, 0));
  return flagged.map((i) => {
    const input = starts.findLastIndex((start) => start <= i);
    return { input, index: i - starts[input]!, distance: distances[i]!, excluded: screen.exclude };
  });
}

function screenedType(type: FeatureType): CriterionFeatureType {
  const known = SCREENED_TYPES.find((candidate) => candidate === type);
  if (known) return known;
  throw new ReductionError(
    'invalid-argument',
    `There is no robust screen for a ${type}.`,
    `The screen is defined for: ${SCREENED_TYPES.join(', ')}.`,
  );
}

/** For each input the places of the points that stay; null where all do. */
function kept(flagged: readonly FlaggedPoint[], input: number, points: number): readonly number[] | null {
  const out = new Set(flagged.filter((f) => f.excluded && f.input === input).map((f) => f.index));
  return out.size === 0 ? null : Array.from({ length: points }, (_, i) => i).filter((i) => !out.has(i));
}

/** The inputs without the points that are left out. */
export function withoutExcluded(
  inputs: readonly AssociationInput[],
  flagged: readonly FlaggedPoint[] = [],
): readonly AssociationInput[] {
  if (!flagged.some((f) => f.excluded)) return inputs;
  return inputs.map((input, k) => {
    const stay = kept(flagged, k, input.xyz.length / 3);
    return stay === null ? input : pick(input, stay);
  });
}

/** The same for values that stand one a point (variances). */
export function valuesWithoutExcluded(
  values: readonly (Float64Array | null)[],
  flagged: readonly FlaggedPoint[] = [],
): readonly (Float64Array | null)[] {
  if (!flagged.some((f) => f.excluded)) return values;
  return values.map((list, k) => {
    const stay = list && kept(flagged, k, list.length);
    return stay === null ? list : Float64Array.from(stay, (i) => list![i]!);
  });
}

/** Flagged points of a datum as the result lists them. */
export function screenedPoints(
  { features }: Pick<DatumDefinition, 'features'>,
  station: number | null,
  flagged: readonly FlaggedPoint[] = [],
): readonly ScreenedPoint[] {
  return flagged.map(({ input, index, distance, excluded }) => ({
    station,
    feature: features[input]!,
    point: index + 1,
    distance,
    excluded,
  }));
}

/** Points named in one sentence; the result lists all. */
const MOST_NAMED = 4;

/** A note for each feature with flagged points. */
export function screenWarnings(screened: readonly ScreenedPoint[]): readonly Note[] {
  const groups = new Map<string, ScreenedPoint[]>();
  for (const point of screened) {
    const where = `${point.station ?? ''}\n${point.feature}`;
    groups.set(where, [...(groups.get(where) ?? []), point]);
  }
  return [...groups.values()].map((points) => {
    const { station, feature, excluded } = points[0]!;
    return {
      code: 'screened-points',
      values: {
        station,
        feature,
        points: points.slice(0, MOST_NAMED).map(({ point, distance }) => ({ point, distance })),
        more: Math.max(0, points.length - MOST_NAMED),
        total: points.length,
        excluded,
      },
    };
  });
}
