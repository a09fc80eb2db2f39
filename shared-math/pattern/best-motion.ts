/**
 * The motion of the pattern that makes its largest position as small as possible, and the one of least squares.
 *
 * Positions are norms of functions that are nearly affine in the motion: what they bend by is the position times the angle of the
 * motion. So the convex problem (norm-minimax.ts) is solved about the motion found so far, exactly evaluated, until it
 * moves no more; each round gains about as many digits as the positions are smaller than the disc. The certificate is that of
 * the convex problem about the final motion: it excludes better motions to first order in the distance from it.
 *
 * Source: K. Madsen, J. Inst. Maths Applics 16 (1975) 321–328 (minimax by linearisation); our own otherwise.
 */
import type { PatternFreedom } from '../definition.ts';
import type { PatternMotion } from '../result.ts';
import { certificate, type NormMinimax, normMinimax } from './norm-minimax.ts';
import type { NormProblem } from './norm-problem.ts';
import {
  changeMotion,
  NO_MOTION,
  normProblem,
  type PatternUnknowns,
  patternUnknowns,
} from './pattern-motion.ts';
import { choleskySolve } from './small-cholesky.ts';
import type { ZonePoint } from './zone-points.ts';

export interface BestMotion {
  readonly motion: PatternMotion;
  /** Full zone size, mm. */
  readonly tolerance: number;
  /** Largest position it leaves, mm. */
  readonly value: number;
  /** Proven distance of `value` from the smallest possible, mm. */
  readonly gap: number;
  readonly unknowns: PatternUnknowns;
  /** The convex problem about the motion and its certificate, as shares of the tolerance. */
  readonly problem: NormProblem;
  readonly proof: NormMinimax;
  readonly leastSquares: { readonly motion: PatternMotion; readonly value: number };
}

const ROUNDS = 30;
/** Steps of the unknowns (1 moves a point by half a tolerance) below this are rounding. */
const STILL = 1e-13;
/** Shortest part of a step that is tried when the whole one makes it worse. */
const SHORTEST_PART = 1e-6;

/**
 * @param points at least one.
 * @param tolerance full zone size, mm.
 */
export function bestMotion(
  points: readonly ZonePoint[],
  free: readonly PatternFreedom[],
  tolerance: number,
): BestMotion {
  const unknowns = patternUnknowns(points, free, tolerance);
  const about = (motion: PatternMotion): NormProblem => normProblem(points, motion, unknowns, tolerance);
  const move = (motion: PatternMotion, step: Float64Array, part = 1): PatternMotion =>
    changeMotion(
      motion,
      unknowns,
      step.map((x) => part * x),
    );
  const squares = leastSquaresMotion(about, move);

  // Least squares may leave a larger position than no motion at all.
  const starts = [squares, NO_MOTION].map((motion) => ({ motion, value: longestOffset(about(motion)) }));
  let now = starts[0]!.value <= starts[1]!.value ? starts[0]! : starts[1]!;
  let weights: Float64Array = new Float64Array(3 * points.length);
  for (let round = 0; round < ROUNDS; round++) {
    const found = normMinimax(about(now.motion));
    weights = found.weights;
    if (Math.hypot(...found.step) < STILL) break;
    const next = descend(now, found, about, move);
    if (next === null) break;
    now = next;
  }
  const problem = about(now.motion);
  const proof = certificate(problem, new Float64Array(problem.size), weights);
  return {
    motion: now.motion,
    tolerance,
    value: tolerance * proof.value,
    gap: tolerance * (proof.value - proof.lower),
    unknowns,
    problem,
    proof,
    leastSquares: { motion: squares, value: tolerance * longestOffset(about(squares)) },
  };
}

interface Placed {
  readonly motion: PatternMotion;
  readonly value: number;
}

/** The step, or the largest part of it by halves, that makes the exact largest position smaller; null where none does. */
function descend(
  now: Placed,
  { step }: NormMinimax,
  about: (motion: PatternMotion) => NormProblem,
  move: (motion: PatternMotion, step: Float64Array, part?: number) => PatternMotion,
): Placed | null {
  for (let part = 1; part > SHORTEST_PART; part /= 2) {
    const motion = move(now.motion, step, part);
    const value = longestOffset(about(motion));
    if (value < now.value) return { motion, value };
  }
  return null;
}

/** Gauss–Newton on the sum of squared positions. */
function leastSquaresMotion(
  about: (motion: PatternMotion) => NormProblem,
  move: (motion: PatternMotion, step: Float64Array) => PatternMotion,
): PatternMotion {
  let motion = NO_MOTION;
  for (let round = 0; round < ROUNDS; round++) {
    const { size, offsets, rows } = about(motion);
    const gram = new Float64Array(size * size);
    const pull = new Float64Array(size);
    for (let row = 0; row < offsets.length; row++)
      for (let p = 0; p < size; p++) {
        const b = rows[row * size + p]!;
        pull[p]! -= b * offsets[row]!;
        for (let q = 0; q <= p; q++) gram[p * size + q]! += b * rows[row * size + q]!;
      }
    const step = choleskySolve(gram, pull, size);
    motion = move(motion, step);
    if (Math.hypot(...step) < STILL) break;
  }
  return motion;
}

function longestOffset({ count, offsets }: NormProblem): number {
  let most = 0;
  for (let j = 0; j < count; j++)
    most = Math.max(most, Math.hypot(offsets[3 * j]!, offsets[3 * j + 1]!, offsets[3 * j + 2]!));
  return most;
}
