/** Symmetric positive semidefinite systems of a few unknowns. Source: Golub & Van Loan, Matrix Computations, 4th ed. (2013), 4.2. */

/** A pivot that elimination has reduced to this share of its diagonal entry is rounding: its unknown stays zero. */
const LOST_PIVOT = 1e-15;

/**
 * Solves H·x = b by Cholesky factorisation with zero for the unknowns that the system does not determine.
 *
 * @param lower H row by row, n × n; only the lower triangle is read. Neither argument is changed.
 */
export function choleskySolve(lower: Float64Array, b: Float64Array, n: number): Float64Array {
  const factor = lower.slice();
  const x = b.slice();
  for (let j = 0; j < n; j++) {
    const before = factor[j * n + j]!;
    let pivot = before;
    for (let k = 0; k < j; k++) pivot -= factor[j * n + k]! * factor[j * n + k]!;
    const root = pivot > LOST_PIVOT * before && before > 0 ? Math.sqrt(pivot) : 0;
    factor[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = factor[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= factor[i * n + k]! * factor[j * n + k]!;
      factor[i * n + j] = root > 0 ? sum / root : 0;
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = x[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * x[k]!;
    x[i] = factor[i * n + i]! > 0 ? sum / factor[i * n + i]! : 0;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * x[k]!;
    x[i] = factor[i * n + i]! > 0 ? sum / factor[i * n + i]! : 0;
  }
  return x;
}
