/**
 * The small linear program inside every criterion: make the largest of linear functions as small as a box allows,
 *
 *   min t  subject to  f_j + J_j·p ≤ t,  |p_d| ≤ bound_d.
 *
 * Solved by the primal simplex method on its dual, which has k + 1 equations however many functions there are: each
 * pivot is one exchange of a contact (Stiefel's exchange). The largest function with the box alone is a feasible
 * start, so no first phase is needed. Sources: Stiefel, Numer. Math. 1 (1959) 1–28 (exchange); Bland, Math. Oper.
 * Res. 2 (1977) 103–107 (rule against cycling).
 */
import { ReductionError } from '../../errors.ts';
import { invertInPlace } from './dense.ts';

export interface LinearMinimax {
  /** p, length k. */
  readonly step: Float64Array;
  /** Least t. */
  readonly value: number;
  /** Functions with a positive multiplier: at most k + 1, their rows (J_j, 1) independent. */
  readonly active: readonly number[];
  readonly multipliers: readonly number[];
}

/** Pivots before the rule of Bland takes over from the steepest one. */
const STEEP_PIVOTS = 100;
const MAXIMUM_PIVOTS = 2000;
/** A pivot entry below this fraction of its column is rounding. */
const PIVOT_TOLERANCE = 1e-11;

/**
 * @param values f, length m ≥ 1
 * @param rows J row by row, length m·k
 * @param bounds length k, all positive
 * @throws ReductionError `not-converged` after MAXIMUM_PIVOTS exchanges
 */
export function linearMinimax(
  values: Float64Array,
  rows: Float64Array,
  bounds: readonly number[],
): LinearMinimax {
  const m = values.length;
  const k = bounds.length;
  const order = k + 1;
  let first = 0;
  for (let j = 1; j < m; j++) if (values[j]! > values[first]!) first = j;
  // Column j < m belongs to a function, m + 2d to the bound p_d ≤ bound_d, m + 2d + 1 to −p_d ≤ bound_d.
  const basis = [first, ...bounds.map((_, d) => m + 2 * d + (rows[first * k + d]! > 0 ? 1 : 0))];
  const inverse = new Float64Array(order * order);
  const price = new Float64Array(order);
  const entry = new Float64Array(order);
  const tolerance = Math.max(1e-18, 1e-14 * Math.max(...bounds));

  const fillColumn = (column: number, out: Float64Array, at: number, stride: number): void => {
    for (let d = 0; d < order; d++) out[at + d * stride] = 0;
    if (column < m) {
      for (let d = 0; d < k; d++) out[at + d * stride] = rows[column * k + d]!;
      out[at + k * stride] = 1;
    } else out[at + ((column - m) >> 1) * stride] = (column - m) % 2 === 0 ? 1 : -1;
  };
  const cost = (column: number): number => (column < m ? values[column]! : -bounds[(column - m) >> 1]!);

  for (let pivots = 0; pivots < MAXIMUM_PIVOTS; pivots++) {
    for (let b = 0; b < order; b++) fillColumn(basis[b]!, inverse, b, order);
    if (!invertInPlace(inverse, order)) break;
    for (let d = 0; d < order; d++) {
      let sum = 0;
      for (let b = 0; b < order; b++) sum += cost(basis[b]!) * inverse[b * order + d]!;
      price[d] = sum;
    }
    const bland = pivots >= STEEP_PIVOTS;
    let [entering, gain] = [-1, tolerance];
    for (let j = 0; j < m; j++) {
      let reduced = values[j]! - price[k]!;
      for (let d = 0; d < k; d++) reduced -= price[d]! * rows[j * k + d]!;
      if (reduced > gain) {
        entering = j;
        if (bland) break;
        gain = reduced;
      }
    }
    if (!(bland && entering >= 0)) {
      for (let d = 0; d < k; d++) {
        const excess = Math.abs(price[d]!) - bounds[d]!;
        if (excess <= gain) continue;
        entering = m + 2 * d + (price[d]! < 0 ? 0 : 1);
        if (bland) break;
        gain = excess;
      }
    }
    if (entering < 0 || basis.includes(entering)) {
      const chosen = basis
        .map((column, b) => ({ column, multiplier: inverse[b * order + k]! }))
        .filter(({ column, multiplier }) => column < m && multiplier > 1e-13);
      return {
        step: price.slice(0, k).map((value) => -value),
        value: price[k]!,
        active: chosen.map(({ column }) => column),
        multipliers: chosen.map(({ multiplier }) => multiplier),
      };
    }
    fillColumn(entering, entry, 0, 1);
    const leaving = leavingRow(inverse, entry, order, bland ? basis : null);
    if (leaving < 0) break;
    basis[leaving] = entering;
  }
  throw ReductionError.of('not-converged', { code: 'exchange-endless', values: {} });
}

/** Ratio test; ties go to the largest pivot, under Bland's rule to the lowest column. */
function leavingRow(
  inverse: Float64Array,
  entry: Float64Array,
  order: number,
  bland: readonly number[] | null,
): number {
  const change = Array.from({ length: order }, (_, b) => {
    let sum = 0;
    for (let d = 0; d < order; d++) sum += inverse[b * order + d]! * entry[d]!;
    return sum;
  });
  const floor = PIVOT_TOLERANCE * Math.max(...change.map(Math.abs));
  let [leaving, least] = [-1, Number.POSITIVE_INFINITY];
  for (let b = 0; b < order; b++) {
    if (!(change[b]! > floor)) continue;
    const ratio = Math.max(0, inverse[b * order + order - 1]!) / change[b]!;
    const tie = leaving >= 0 && Math.abs(ratio - least) <= 1e-15;
    const better = tie
      ? bland
        ? bland[b]! < bland[leaving]!
        : change[b]! > change[leaving]!
      : ratio < least;
    if (!better) continue;
    leaving = b;
    least = Math.min(least, ratio);
  }
  return leaving;
}
