/**
 * Symmetric positive semidefinite systems. Zeros before the first entry of a row stay zero in the factor and are passed over, so
 * that unknowns without entries between each other cost little where they come first.
 *
 * Source: Golub & Van Loan, Matrix Computations, 4th ed. (2013), 4.2; J. A. George, J. W. Liu, Computer Solution of Large Sparse
 * Positive Definite Systems (1981), 4 (envelope), from memory.
 */

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
  const first = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    let c = 0;
    while (c < i && factor[i * n + c] === 0) c++;
    first[i] = c;
  }
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let j = first[i]!; j < i; j++) {
      let sum = factor[row + j]!;
      for (let k = Math.max(first[i]!, first[j]!); k < j; k++) sum -= factor[row + k]! * factor[j * n + k]!;
      factor[row + j] = factor[j * n + j]! > 0 ? sum / factor[j * n + j]! : 0;
    }
    const before = factor[row + i]!;
    let pivot = before;
    for (let k = first[i]!; k < i; k++) pivot -= factor[row + k]! * factor[row + k]!;
    factor[row + i] = pivot > LOST_PIVOT * before && before > 0 ? Math.sqrt(pivot) : 0;
  }
  for (let i = 0; i < n; i++) {
    let sum = x[i]!;
    for (let k = first[i]!; k < i; k++) sum -= factor[i * n + k]! * x[k]!;
    x[i] = factor[i * n + i]! > 0 ? sum / factor[i * n + i]! : 0;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * x[k]!;
    x[i] = factor[i * n + i]! > 0 ? sum / factor[i * n + i]! : 0;
  }
  return x;
}
