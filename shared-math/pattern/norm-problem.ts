/** Many vectors a_j + B_j·x of three numbers, as the convex problem of norm-minimax.ts takes them. */

export interface NormProblem {
  /** Number of vectors m. */
  readonly count: number;
  /** Number of unknowns n. */
  readonly size: number;
  /** a, length 3·m. */
  readonly offsets: Float64Array;
  /** B, length 3·m·n, the three rows of a vector together. */
  readonly rows: Float64Array;
}

/** a_j + B_j·x of the given vectors, one after the other into r. */
export function residuals(
  { size, offsets, rows }: NormProblem,
  working: readonly number[],
  x: Float64Array,
  r: Float64Array,
): void {
  for (let k = 0; k < working.length; k++)
    for (let c = 0; c < 3; c++) {
      const row = 3 * working[k]! + c;
      let sum = offsets[row]!;
      for (let p = 0; p < size; p++) sum += rows[row * size + p]! * x[p]!;
      r[3 * k + c] = sum;
    }
}

/** |a_j + B_j·x|. */
export function vectorLength({ size, offsets, rows }: NormProblem, x: Float64Array, j: number): number {
  let squares = 0;
  for (let c = 0; c < 3; c++) {
    const row = 3 * j + c;
    const component = offsets[row]! + product(rows, row * size, x);
    squares += component * component;
  }
  return Math.sqrt(squares);
}

/** Length of the longest vector at x. @param over indices of those that count; null: all. */
export function lengthOver(problem: NormProblem, x: Float64Array, over: Iterable<number> | null): number {
  let most = 0;
  if (over !== null) for (const j of over) most = Math.max(most, vectorLength(problem, x, j));
  else for (let j = 0; j < problem.count; j++) most = Math.max(most, vectorLength(problem, x, j));
  return most;
}

/** Indices of the longest vectors, longest first. */
export function longest(problem: NormProblem, x: Float64Array, count: number): Set<number> {
  const lengths = Float64Array.from({ length: problem.count }, (_, j) => vectorLength(problem, x, j));
  const order = Array.from(lengths.keys());
  order.sort((p, q) => lengths[q]! - lengths[p]! || p - q);
  return new Set(order.slice(0, count));
}

/** Inner product of x with the numbers from `at` on. */
export function product(rows: Float64Array, at: number, x: Float64Array): number {
  let sum = 0;
  for (let p = 0; p < x.length; p++) sum += rows[at + p]! * x[p]!;
  return sum;
}

/** Length of the three numbers from `at`; Math.hypot guards against overflow, which lengths near 1 do not need, at ten times the cost. */
export function tripleLength(v: Float64Array, at: number): number {
  return Math.sqrt(v[at]! * v[at]! + v[at + 1]! * v[at + 1]! + v[at + 2]! * v[at + 2]!);
}
