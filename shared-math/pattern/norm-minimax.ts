/**
 * The convex problem inside the pattern requirement: make the longest of many short vectors as short as possible,
 *
 *   min over x of  max over j of |a_j + B_j·x|,   a_j three numbers, B_j 3 × n, n ≤ 6.
 *
 * This is a second-order-cone program. Its dual gives every solution a certificate that needs no trust in how it was found: for
 * any vectors u_j with Σ B_jᵀ·u_j = 0 and Σ |u_j| ≤ 1, no x makes the longest vector shorter than Σ u_j·a_j.
 *
 * Solved by the logarithmic barrier on a working set into which longer vectors are exchanged, and by Newton's method on the
 * contacts (contact-newton.ts) for the last digits.
 *
 * Sources: S. Boyd, L. Vandenberghe, Convex Optimization (2004), 11.6 (generalized logarithms, second-order cones), 5.9 (dual
 * certificates); E. L. Stiefel, Numer. Math. 1 (1959) 1–28 (exchange).
 */
import { contactNewton } from './contact-newton.ts';
import { followBarrier } from './norm-barrier.ts';
import {
  lengthOver,
  longest,
  type NormProblem,
  product,
  tripleLength,
  vectorLength,
} from './norm-problem.ts';
import { choleskySolve } from './small-cholesky.ts';

export interface NormMinimax {
  /** x, length n. */
  readonly step: Float64Array;
  /** Longest |a_j + B_j·x|. */
  readonly value: number;
  /** Lower bound that the weights prove, never below 0. */
  readonly lower: number;
  /** u, length 3·m; zero but for the contacts. */
  readonly weights: Float64Array;
}

export interface NormMinimaxOptions {
  /** Gap at which the solution is good enough, default `CERTIFIED_GAP`. */
  readonly gap?: number;
  /** Where to begin, default x = 0. */
  readonly start?: Float64Array;
}

/** Far below what a sixteen-digit coordinate tells about a vector of length 1, and above what rounding leaves of it. */
export const CERTIFIED_GAP = 1e-11;
/** Gaps at which the contacts are looked for: wide enough for quick Newton steps, then as narrow as the barrier can resolve. */
const ROUGH_GAPS = [1e-6, 1e-8, 1e-10];
const EXCHANGES = 60;
/** Vectors of the first working set: several times the contacts that a solution can need. */
const FIRST_WORKING_SET = 24;
/** A vector outside the working set that is longer by more than this comes in. */
const LONGER = 1e-13;

/** A solution with its certificate; `value − lower` says how far from the optimum it can be at most. */
export function normMinimax(problem: NormProblem, options: NormMinimaxOptions = {}): NormMinimax {
  const { gap = CERTIFIED_GAP } = options;
  const start = options.start ?? new Float64Array(problem.size);
  let best = certificate(problem, start, new Float64Array(3 * problem.count));
  if (problem.size === 0 || best.value <= gap) return problem.size === 0 ? fixed(problem) : best;
  const working = longest(problem, start, FIRST_WORKING_SET);
  for (let exchanges = 0; exchanges < EXCHANGES; exchanges++) {
    const found = solveSubset(problem, [...working], best.step, gap);
    if (found.value < best.value || found.value - found.lower < best.value - best.lower) best = found;
    const before = working.size;
    const limit = lengthOver(problem, found.step, working) + LONGER;
    for (const j of longest(problem, found.step, FIRST_WORKING_SET))
      if (vectorLength(problem, found.step, j) > limit) working.add(j);
    if (working.size === before) break;
  }
  return best;
}

/** Nothing may move: the longest vector is the value, and its own direction proves it. */
function fixed(problem: NormProblem): NormMinimax {
  const [j] = longest(problem, new Float64Array(0), 1);
  const weights = new Float64Array(3 * problem.count);
  const { offsets } = problem;
  if (j !== undefined) {
    const length = tripleLength(offsets, 3 * j) || 1;
    for (let c = 0; c < 3; c++) weights[3 * j + c] = offsets[3 * j + c]! / length;
  }
  return certificate(problem, new Float64Array(0), weights);
}

function solveSubset(
  problem: NormProblem,
  working: readonly number[],
  start: Float64Array,
  gap: number,
): NormMinimax {
  let from = start;
  let best: NormMinimax | null = null;
  const offer = (step: Float64Array, weights: Float64Array): boolean => {
    const found = certificate(problem, step, weights, working);
    if (best === null || found.value - found.lower < best.value - best.lower) best = found;
    return best.value - best.lower <= gap;
  };
  const stages = gap > ROUGH_GAPS[0]! ? [gap] : ROUGH_GAPS;
  for (const stage of stages) {
    const path = followBarrier(problem, working, from, stage);
    from = path.step;
    if (offer(path.step, path.weights)) break;
    const polished = contactNewton(problem, working, path.step, path.weights);
    if (polished && offer(polished.step, polished.weights)) break;
  }
  const { step, weights } = best!;
  return certificate(problem, step, weights);
}

/**
 * Value and proven lower bound of x with the given weights, which are first made to satisfy Σ B_jᵀ·u_j = 0 and Σ |u_j| = 1.
 *
 * @param over the vectors that count, all where none are given. Weights of others must be zero.
 */
export function certificate(
  problem: NormProblem,
  step: Float64Array,
  weights: Float64Array,
  over?: readonly number[],
): NormMinimax {
  const { size, offsets } = problem;
  const u = balanced(problem, weights);
  let [sum, bound] = [0, 0];
  for (let j = 0; j < problem.count; j++) {
    const at = 3 * j;
    sum += tripleLength(u, at);
    bound += u[at]! * offsets[at]! + u[at + 1]! * offsets[at + 1]! + u[at + 2]! * offsets[at + 2]!;
  }
  const value = lengthOver(problem, step, over ?? null);
  // Rounding keeps Σ Bᵀu from vanishing exactly; what is left acts through steps as long as the one taken.
  const rest = unbalance(problem, u);
  const reach = Math.hypot(...step) + 1;
  const lower = sum > 0 ? Math.min(value, (bound - reach * Math.hypot(...rest)) / sum) : 0;
  if (!(lower > 0)) return { step, value, lower: 0, weights: new Float64Array(3 * problem.count) };
  return { step, value, lower, weights: size === 0 && sum === 0 ? u : u.map((x) => x / sum) };
}

/** The weights with the least change, relative to their sizes, that makes Σ B_jᵀ·u_j vanish. */
export function balanced({ count, size, rows, ...rest }: NormProblem, weights: Float64Array): Float64Array {
  if (size === 0) return weights;
  const u = weights.slice();
  // A second pass removes the rounding of the first.
  for (let pass = 0; pass < 2; pass++) {
    const gram = new Float64Array(size * size);
    const off = unbalance({ count, size, rows, ...rest }, u);
    for (let j = 0; j < count; j++) {
      const w = tripleLength(u, 3 * j);
      if (w === 0) continue;
      for (let c = 0; c < 3; c++) {
        const at = (3 * j + c) * size;
        for (let p = 0; p < size; p++) {
          const scaled = w * rows[at + p]!;
          if (scaled === 0) continue;
          for (let q = 0; q <= p; q++) gram[p * size + q]! += scaled * rows[at + q]!;
        }
      }
    }
    const shift = choleskySolve(gram, off, size);
    for (let j = 0; j < count; j++) {
      const w = tripleLength(u, 3 * j);
      if (w === 0) continue;
      for (let c = 0; c < 3; c++) u[3 * j + c]! -= w * product(rows, (3 * j + c) * size, shift);
    }
  }
  return u;
}

/** Σ B_jᵀ·u_j. */
export function unbalance({ count, size, rows }: NormProblem, u: Float64Array): Float64Array {
  const sum = new Float64Array(size);
  for (let row = 0; row < 3 * count; row++) {
    if (u[row] === 0) continue;
    for (let p = 0; p < size; p++) sum[p]! += rows[row * size + p]! * u[row]!;
  }
  return sum;
}
