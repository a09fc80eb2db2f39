/** Simulated measurements of a known displacement: does the upper bound of its position lie above the true position? */
import {
  type RandomGenerator,
  sampleChiSquared,
  sampleNormalVector,
} from '../../shared-math/uncertainty/random.ts';

export interface CoverageCase {
  readonly name: string;
  readonly covariance: readonly (readonly number[])[];
  /** Unit direction along which the truth moves away from zero. */
  readonly direction: readonly number[];
  /** ν with which the scale of the covariance is estimated at each measurement; null where it is known. */
  readonly degreesOfFreedom: number | null;
}

const FLAT = [
  [1, 0],
  [0, 0.01],
];

export const COVERAGE_CASES: readonly CoverageCase[] = [
  { name: 'one component', covariance: [[1]], direction: [1], degreesOfFreedom: null },
  {
    name: 'two components, isotropic',
    covariance: [
      [1, 0],
      [0, 1],
    ],
    direction: [1, 0],
    degreesOfFreedom: null,
  },
  {
    name: 'two components 10:1, truth along the large one',
    covariance: FLAT,
    direction: [1, 0],
    degreesOfFreedom: null,
  },
  {
    name: 'two components 10:1, truth along the small one',
    covariance: FLAT,
    direction: [0, 1],
    degreesOfFreedom: null,
  },
  {
    name: 'two components 10:1, truth between',
    covariance: FLAT,
    direction: [0.6, 0.8],
    degreesOfFreedom: null,
  },
  {
    name: 'two components, singular, truth across',
    covariance: [
      [1, 0],
      [0, 0],
    ],
    direction: [0.6, 0.8],
    degreesOfFreedom: null,
  },
  {
    name: 'three components, isotropic',
    covariance: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    direction: [1, 0, 0],
    degreesOfFreedom: null,
  },
  {
    name: 'three components 10:3:1, truth along the middle one',
    covariance: [
      [1, 0, 0],
      [0, 0.09, 0],
      [0, 0, 0.01],
    ],
    direction: [0, 1, 0],
    degreesOfFreedom: null,
  },
  {
    name: 'two components, scale estimated with 6 degrees of freedom',
    covariance: [
      [1, 0.3],
      [0.3, 0.25],
    ],
    direction: [1, 0],
    degreesOfFreedom: 6,
  },
];

/** Distances of the truth from zero, in the largest standard deviation. */
export const TRUTHS = [0, 0.25, 0.5, 1, 1.5, 2, 2.5, 3, 4, 6, 10, 30];

export function truthsAlong(
  direction: readonly number[],
  factor: readonly (readonly number[])[],
): { scores: number; truth: number[] }[] {
  const largest = Math.max(...factor.map((row) => Math.hypot(...row)));
  return TRUTHS.map((scores) => ({ scores, truth: direction.map((d) => scores * largest * d) }));
}

type PositionCdf = (
  limit: number,
  mean: readonly number[],
  covariance: readonly (readonly number[])[],
  degreesOfFreedom?: number,
) => number;

/**
 * Share of measurements whose upper bound is not below the true position. The bound v has P(2·|δ| ≤ v) = p, so it is below
 * the true position 2·|truth| exactly if P(2·|δ| ≤ 2·|truth|) > p; one distribution function replaces a search.
 */
export function coverageOfUpperBound(
  experiment: {
    readonly truth: readonly number[];
    readonly covariance: readonly (readonly number[])[];
    readonly factor: readonly (readonly number[])[];
    readonly degreesOfFreedom: number | null;
    readonly coverage: number;
    readonly trials: number;
    readonly generator: RandomGenerator;
  },
  positionCdf: PositionCdf,
): number {
  const { truth, covariance, factor, degreesOfFreedom, coverage, trials, generator } = experiment;
  const position = 2 * Math.hypot(...truth);
  let covered = 0;
  for (let i = 0; i < trials; i++) {
    const measured = sampleNormalVector(generator, truth, factor);
    const scale =
      degreesOfFreedom === null ? 1 : sampleChiSquared(generator, degreesOfFreedom) / degreesOfFreedom;
    const estimated = scale === 1 ? covariance : covariance.map((row) => row.map((entry) => entry * scale));
    const probability = positionCdf(
      position,
      measured,
      estimated,
      degreesOfFreedom ?? Number.POSITIVE_INFINITY,
    );
    if (probability <= coverage) covered++;
  }
  return covered / trials;
}
