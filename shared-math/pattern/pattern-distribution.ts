/**
 * Distribution of the largest position of a pattern, and of every blade's, by Monte Carlo: each trial disturbs the blades and
 * brings the pattern of zones into its best place anew.
 *
 * About the best motion the problem is convex and is solved as such in each trial; the disturbances are far smaller than what
 * bends it. Source: JCGM 101:2008, 7 (propagation of distributions; a number of trials chosen beforehand, 7.2).
 */
import { seededGenerator } from '../uncertainty/random.ts';
import type { BestMotion } from './best-motion.ts';
import { normMinimax } from './norm-minimax.ts';
import { vectorLength } from './norm-problem.ts';
import type { PatternDisturbance } from './pattern-noise.ts';
import type { ZonePoint } from './zone-points.ts';

/** A probability p is then known to √(p·(1 − p)/trials): 0.7 % at 95 %. */
const TRIALS = 1000;
const SEED = 20261125;
/** Gap of one trial, as a share of the tolerance: below the scatter of a quantile over so many trials. */
const TRIAL_GAP = 1e-4;

export interface PositionSpread {
  /** One-sided upper quantile at the coverage, mm. */
  readonly quantile: number;
  /** Share of trials within the tolerance. */
  readonly probability: number;
}

export interface PatternDistribution {
  readonly largest: PositionSpread;
  /** By blade, in the order of the blades; null for one without a point. */
  readonly blades: readonly (PositionSpread | null)[];
}

/**
 * @param bladeCount number of blades that the points' indices refer to.
 */
export function patternDistribution(
  best: BestMotion,
  points: readonly ZonePoint[],
  disturbance: PatternDisturbance,
  bladeCount: number,
  coverage: number,
): PatternDistribution {
  const { tolerance } = best;
  const generator = seededGenerator(SEED);
  const largest = new Float64Array(TRIALS);
  const blades = Array.from({ length: bladeCount }, () => new Float64Array(TRIALS));
  for (let trial = 0; trial < TRIALS; trial++) {
    const offsets = best.problem.offsets.slice();
    disturbance(generator, offsets);
    const problem = { ...best.problem, offsets };
    const { step, value } = normMinimax(problem, { gap: TRIAL_GAP });
    largest[trial] = tolerance * value;
    points.forEach(({ blade }, j) => {
      const position = tolerance * vectorLength(problem, step, j);
      blades[blade]![trial] = Math.max(blades[blade]![trial]!, position);
    });
  }
  const present = new Set(points.map((p) => p.blade));
  const spread = (values: Float64Array): PositionSpread => spreadOf(values, tolerance, coverage);
  return {
    largest: spread(largest),
    blades: blades.map((values, blade) => (present.has(blade) ? spread(values) : null)),
  };
}

function spreadOf(values: Float64Array, tolerance: number, coverage: number): PositionSpread {
  const sorted = values.slice().sort();
  const quantile = sorted[Math.min(sorted.length, Math.ceil(coverage * sorted.length)) - 1]!;
  return { quantile, probability: sorted.filter((v) => v <= tolerance).length / sorted.length };
}
