/**
 * The longest of many short vectors made as short as possible, the unknowns kept between bounds:
 *
 *   min over lower ≤ x ≤ upper of  max over j of |a_j + B_j·x|.
 *
 * The certificate: for any vectors u_j with Σ |u_j| ≤ 1 and g = Σ B_jᵀ·u_j, no x between the bounds makes the longest vector
 * shorter than Σ u_j·a_j + Σ_p min(g_p·lower_p, g_p·upper_p). Two unknowns and one vector a point, B = −1: the circle of least
 * radius about the points.
 *
 * Where several x are as good, the analytic centre of them is taken: the one that leaves the other vectors the most room.
 *
 * Source: S. Boyd, L. Vandenberghe, Convex Optimization (2004), 5.9 (dual certificates), 8.5 (analytic centre), 11.3, 11.6.
 */
import { type Bounds, followBarrier } from '../../pattern/norm-barrier.ts';
import { balanced, unbalance } from '../../pattern/norm-minimax.ts';
import { lengthOver, type NormProblem, tripleLength } from '../../pattern/norm-problem.ts';

export interface BoxMinimax {
  readonly step: Float64Array;
  /** Longest |a_j + B_j·x|. */
  readonly value: number;
  /** Lower bound that the certificate proves, never below 0. */
  readonly lower: number;
}

/** As narrow as the barrier resolves with margin; for vectors that are shares of a tolerance far below what anybody measures. */
export const FINE_GAP = 1e-9;
/** Share of the room between bounds that a start keeps from either, and by which an unknown counts as free of them. */
const INSIDE = 1e-3;
/** A proof that falls short by this many gaps is tried again. */
const POOR = 10;

/**
 * @param bounds lower < upper, finite. An unknown is `wide` where its bounds stand for none: the certificate then does not lean
 *   on them, so that it holds whatever they are.
 */
export function boxMinimax(
  problem: NormProblem,
  bounds: Bounds,
  wide: readonly boolean[],
  gap = FINE_GAP,
): BoxMinimax {
  const everything = Array.from({ length: problem.count }, (_, j) => j);
  const start = Float64Array.from(bounds.lower, (low, p) => {
    const room = INSIDE * (bounds.upper[p]! - low);
    return Math.min(Math.max(0, low + room), bounds.upper[p]! - room);
  });
  if (problem.size === 0) {
    const value = lengthOver(problem, start, null);
    return { step: start, value, lower: value };
  }
  const { step, weights } = followBarrier(problem, everything, start, gap, bounds);
  const value = lengthOver(problem, step, null);
  const loose = wide.map((w, p) => w || isInside(step[p]!, bounds.lower[p]!, bounds.upper[p]!));
  let lower = provenBound(problem, bounds, loose, weights);
  if (value - lower > POOR * gap) {
    // The last stage ended where rounding hides the slope; the weights of an earlier one are cleaner.
    const earlier = followBarrier(problem, everything, start, POOR * gap, bounds);
    lower = Math.max(lower, provenBound(problem, bounds, loose, earlier.weights));
  }
  return { step, value, lower: Math.min(value, lower) };
}

function isInside(x: number, lower: number, upper: number): boolean {
  return Math.min(x - lower, upper - x) > INSIDE * (upper - lower);
}

/** @param loose unknowns whose bounds the proof should not lean on. */
function provenBound(
  problem: NormProblem,
  { lower, upper }: Bounds,
  loose: readonly boolean[],
  weights: Float64Array,
): number {
  const u = balanced(
    onlyColumns(
      problem,
      loose.flatMap((l, p) => (l ? [p] : [])),
    ),
    weights,
  );
  const g = unbalance(problem, u);
  let [sum, bound] = [0, 0];
  for (let row = 0; row < u.length; row++) bound += u[row]! * problem.offsets[row]!;
  for (let j = 0; j < problem.count; j++) sum += tripleLength(u, 3 * j);
  for (let p = 0; p < problem.size; p++) bound += Math.min(g[p]! * lower[p]!, g[p]! * upper[p]!);
  return sum > 0 ? Math.max(0, bound / sum) : 0;
}

/** The problem in some of its unknowns, the others at 0. */
export function onlyColumns(
  { count, size, offsets, rows }: NormProblem,
  keep: readonly number[],
): NormProblem {
  const kept = new Float64Array(3 * count * keep.length);
  for (let row = 0; row < 3 * count; row++)
    keep.forEach((p, q) => {
      kept[row * keep.length + q] = rows[row * size + p]!;
    });
  return { count, size: keep.length, offsets, rows: kept };
}
