/**
 * The variance of the points of a feature: what is stated, and what the fit's residuals show beyond it.
 *
 * With s² = Σd²/ν the value used is max(stated², s²) where ν ≥ 5; below that s² is pooled over the same feature of all
 * stations. The part that is stated is `probing`, what s² adds to it is `form`. Form that is correlated along the
 * surface does not average out over the points: a correlation c among n points inflates its part by 1 + (n − 1)·c.
 *
 * Source: JCGM 100:2008, 4.2 and 5.1 (type A and type B evaluation), G.4 (degrees of freedom).
 */
import type { AssociationInput, SubstituteFeature } from '../association/types.ts';
import type { UncertaintyDefinition } from '../definition.ts';
import type { PointBlock } from '../points.ts';

/** Fewer degrees of freedom than this make an s² too uncertain to stand alone. */
const SMALLEST_OWN_DEGREES = 5;

/** A sum of squared residuals and its degrees of freedom. */
export interface ResidualScatter {
  /** mm², or relative to the stated variances where the fit was weighted by them or points state their own. */
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
}

export interface PointNoise {
  /** Factors of the covariance for points of unit (or stated relative) variance. */
  readonly probing: number;
  readonly form: number;
  /** Of the estimate used: Infinity where the stated value is used. */
  readonly degreesOfFreedom: number;
}

/** Stated variances of the points of each input, mm²; null where no point of the file states its own. */
export type StatedVariances = readonly (Float64Array | null)[];

/** σ² of each point as the file states it; a point without one has the plan's probing value. */
export function statedVariances(
  blocks: readonly PointBlock[],
  { probing }: UncertaintyDefinition,
): StatedVariances {
  return blocks.map(({ sigma }) => sigma?.map((s) => (s > 0 ? s : (probing ?? 0)) ** 2) ?? null);
}

/** The scatter of a feature, relative to the stated variances where there are any. */
export function scatterOf(
  feature: Pick<SubstituteFeature, 'sumOfSquares' | 'degreesOfFreedom'>,
  inputs: readonly AssociationInput[],
  variances: StatedVariances,
): ResidualScatter {
  const weighted = inputs.some((input) => input.weights !== null && input.weights !== undefined);
  const relative = weighted || !variances.some((v) => v !== null) ? 1 : 1 / meanVariance(variances);
  return {
    sumOfSquares: feature.sumOfSquares * relative,
    degreesOfFreedom: Math.max(0, feature.degreesOfFreedom),
  };
}

/** Sum of the scatters of one feature over the stations. */
export function pool(scatters: readonly ResidualScatter[]): ResidualScatter {
  return {
    sumOfSquares: scatters.reduce((sum, s) => sum + s.sumOfSquares, 0),
    degreesOfFreedom: scatters.reduce((sum, s) => sum + s.degreesOfFreedom, 0),
  };
}

/**
 * @param own scatter of this feature; pooled: of the same feature over all stations.
 * @param stated variance stated for a point: 1 where points state their own, else probing²; 0 where nothing is stated.
 * @param points number of points of the feature.
 * @param formCorrelation mean correlation of the form error between two points of the feature, 0 … 1.
 * @returns null where nothing is stated and there are no residuals to judge by.
 */
export function pointNoise(
  own: ResidualScatter,
  pooled: ResidualScatter,
  stated: number,
  points: number,
  formCorrelation: number,
): PointNoise | null {
  const scatter = own.degreesOfFreedom >= SMALLEST_OWN_DEGREES ? own : pooled;
  if (scatter.degreesOfFreedom <= 0)
    return stated > 0 ? { probing: stated, form: 0, degreesOfFreedom: Number.POSITIVE_INFINITY } : null;
  const variance = scatter.sumOfSquares / scatter.degreesOfFreedom;
  if (variance <= stated) return { probing: stated, form: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };
  return {
    probing: stated,
    form: (variance - stated) * (1 + (points - 1) * formCorrelation),
    degreesOfFreedom: scatter.degreesOfFreedom,
  };
}

function meanVariance(variances: StatedVariances): number {
  let [sum, n] = [0, 0];
  for (const list of variances)
    for (const v of list ?? []) {
      sum += v;
      n++;
    }
  return sum / n;
}
