/**
 * A screen for outliers: robust association by iteratively reweighted least squares, then a count of the points that lie
 * too far from it for its robust scale. It reports; whether a flagged point is left out is for the plan to say.
 *
 * Sources: Huber, Ann. Math. Statist. 35 (1964) 73–101 and Robust Statistics (Wiley 1981); Beaton & Tukey, Technometrics
 * 16 (1974) 147–185 (biweight); Rousseeuw, J. Am. Statist. Assoc. 79 (1984) 871–880 (least median of squares); Rousseeuw &
 * Leroy, Robust Regression and Outlier Detection (Wiley 1987), its scale for few points.
 */
import { ReductionError } from '../../errors.ts';
import { freedomOf } from '../direction.ts';
import { residualDistances } from '../residuals.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from '../types.ts';
import { leastMedianFeature } from './least-median.ts';
import { leastSquaresFeature } from './least-squares.ts';
import { medianOf, subsetOf } from './samples.ts';
import type { CriterionFeatureType } from './types.ts';

export interface ScreenedFeature {
  readonly type: CriterionFeatureType;
  readonly orientation: Orientation;
  /** Start of a cylinder's radius, mm. */
  readonly radius?: number | null;
}

export interface ScreenOptions {
  /** `huber`: far points keep a falling weight. `biweight`: redescending, far points end with none. */
  readonly method: 'huber' | 'biweight';
  /** A point is flagged where its distance is beyond this many robust standard deviations; 3 to 4 is common practice. */
  readonly cutoff: number;
}

export interface OutlierScreen {
  /** Weight of each point in the robust fit, 0 … 1, length n. */
  readonly weights: Float64Array;
  /** Indices of the flagged points, ascending. */
  readonly flagged: readonly number[];
  /** Robust standard deviation of one component of the distances, mm. */
  readonly scale: number;
  /** Least-squares feature without the flagged points, with the weights of the input. */
  readonly feature: SubstituteFeature;
  /** Reweighted fits made. */
  readonly iterations: number;
  /** `least-median`: started from the least median of squares, which half of the points cannot spoil. */
  readonly start: 'least-median' | 'least-squares';
}

/** Tuning that keeps 95 % efficiency for normal errors (Huber 1981; Beaton & Tukey 1974). */
const TUNING = { huber: 1.345, biweight: 4.685 };
/** Standard deviation over median of |d| for normal errors, of one component and of two (a line). */
const NORMAL_FROM_MEDIAN = [0, 1 / 0.674489750196082, 1 / Math.sqrt(2 * Math.LN2)] as const;
const MAXIMUM_REWEIGHTS = 30;
/** Weights that move by less change no flag that is not at its limit anyway. */
const SETTLED = 1e-4;
/** Distances are right to about this fraction of the largest coordinate; no scale is smaller. */
const ROUNDING_RATIO = 1e-14;

/**
 * Screens the points of a feature.
 *
 * The scale is the median absolute deviation, taken anew after each fit. Planes, lines, circles, spheres and cylinders of
 * given direction start from the least median of squares on random minimal subsets (fixed seed). From there `biweight` resists up
 * to nearly half of outliers, leverage points at the rim of a plane included, unless they agree on a surface of their
 * own more closely than the good points do. `huber` has one solution whatever the start, and a leverage point can pull it over without
 * ever being flagged: it suits scattered outliers only. A cylinder that may turn starts from least squares (then
 * Huber): a cluster of outliers at its end can mislead both methods.
 *
 * @param input as for the least-squares association; weights scale the distances they are compared by
 * @returns see OutlierScreen
 * @throws ReductionError `invalid-argument` for a cutoff that is not positive; as the least-squares association, also where
 * too few points are left
 */
export function screenOutliers(
  { type, orientation, radius = null }: ScreenedFeature,
  input: AssociationInput,
  { method, cutoff }: ScreenOptions,
): OutlierScreen {
  if (!(cutoff > 0 && Number.isFinite(cutoff))) {
    throw new ReductionError(
      'invalid-argument',
      `A cutoff of ${cutoff} standard deviations cannot be.`,
      'Give a cutoff above zero, for example 3.5.',
    );
  }
  const associate = (some: AssociationInput): SubstituteFeature =>
    leastSquaresFeature(type, some, orientation, radius);
  const unscreened = associate(input);
  const measure = measureOf(type, input, unscreened);
  const minimal = minimalPoints(type, freedomOf(orientation).size);
  const median = minimal === null ? null : leastMedianFeature(input, minimal, associate);
  let iterations = 0;
  let current = median ?? unscreened;
  let weights = new Float64Array(measure.points).fill(1);
  const settle = (kind: ScreenOptions['method'], firstScale: number | null): void => {
    let scale = firstScale;
    for (let k = 0; k < MAXIMUM_REWEIGHTS; k++) {
      const distances = measure.distances(current);
      scale ??= measure.scale(distances);
      const next = distances.map((d) => weightOf(kind, d / (TUNING[kind] * scale!)));
      scale = null;
      const change = next.reduce((most, w, i) => Math.max(most, Math.abs(w - weights[i]!)), 0);
      weights = next;
      if (k > 0 && change < SETTLED) return;
      current = associate(reweighted(input, weights));
      iterations++;
    }
  };
  // The least median minimises the very spread its scale is read from, so for few points that comes out too small.
  const firstScale = median
    ? measure.scale(measure.distances(median)) *
      (1 + 5 / Math.max(1, measure.points - unscreened.parameters.length))
    : null;
  if (!median && method === 'biweight') settle('huber', null);
  settle(method, firstScale);
  const distances = measure.distances(current);
  const scale = measure.scale(distances);
  const flagged: number[] = [];
  distances.forEach((d, i) => {
    if (Math.abs(d) > cutoff * scale) flagged.push(i);
  });
  const out = new Set(flagged);
  const feature = flagged.length > 0 ? associate(subsetOf(input, (i) => !out.has(i))) : unscreened;
  return { weights, flagged, scale, feature, iterations, start: median ? 'least-median' : 'least-squares' };
}

/** Points that fix the feature exactly; null where no simple subset does. */
function minimalPoints(type: CriterionFeatureType, turning: 0 | 1 | 2): number | null {
  if (type === 'plane') return 1 + turning;
  if (type === 'line') return turning === 0 ? 1 : 2;
  if (type === 'circle') return 3;
  if (type === 'sphere') return 4;
  return turning === 0 ? 3 : null;
}

function weightOf(method: ScreenOptions['method'], u: number): number {
  if (method === 'huber') return Math.min(1, 1 / Math.abs(u));
  return Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
}

interface Measure {
  readonly points: number;
  /** Distances in units where all points are equally sure. */
  readonly distances: (feature: SubstituteFeature) => Float64Array;
  /** Robust standard deviation of such distances. */
  readonly scale: (distances: Float64Array) => number;
}

function measureOf(type: CriterionFeatureType, input: AssociationInput, fit: SubstituteFeature): Measure {
  const points = input.xyz.length / 3;
  const weights = input.weights ?? null;
  const mean = weights ? weights.reduce((sum, w) => sum + w, 0) / points : 1;
  const reach = input.xyz.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const components = type === 'line' ? 2 : 1;
  const freedom = fit.degreesOfFreedom;
  const absorbed = freedom > 0 ? Math.sqrt((components * points) / freedom) : 1;
  return {
    points,
    distances: (feature) =>
      residualDistances(feature, input).map((d, i) => (weights ? d * Math.sqrt(weights[i]! / mean) : d)),
    scale: (distances) => {
      // A line's distances have no sign and no middle to be measured from.
      const middle = components === 2 ? 0 : medianOf(distances);
      const spread = medianOf(distances.map((d) => Math.abs(d - middle)));
      return Math.max(spread * NORMAL_FROM_MEDIAN[components] * absorbed, ROUNDING_RATIO * reach);
    },
  };
}

/** The points that count, with their weights times those of the input. */
function reweighted(input: AssociationInput, weights: Float64Array): AssociationInput {
  const all = { ...input, weights: weights.map((w, i) => w * (input.weights?.[i] ?? 1)) };
  return subsetOf(all, (i) => weights[i]! > 0);
}
