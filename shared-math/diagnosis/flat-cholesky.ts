/**
 * Cholesky factors in flat arrays, rows one after the other: A = L·Lᵀ, only the lower triangle is read and written.
 *
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. (2013), 4.2, from memory.
 */

/** A pivot that elimination has reduced to this share of its diagonal entry is rounding. */
const LOST_PIVOT = 1e-13;

/**
 * Cholesky factor of a symmetric matrix, put in the place of its lower triangle.
 *
 * @param a n × n entries by rows.
 * @returns logarithm of the determinant of A; NaN, and `a` half done, where A is not positive definite.
 */
export function choleskyInto(a: Float64Array, n: number): number {
  let logarithm = 0;
  for (let j = 0; j < n; j++) {
    const j0 = j * n;
    const before = a[j0 + j]!;
    let pivot = before;
    for (let k = 0; k < j; k++) pivot -= a[j0 + k]! * a[j0 + k]!;
    if (!(pivot > LOST_PIVOT * before)) return Number.NaN;
    const root = Math.sqrt(pivot);
    logarithm += 2 * Math.log(root);
    a[j0 + j] = root;
    for (let i = j + 1; i < n; i++) {
      const i0 = i * n;
      let sum = a[i0 + j]!;
      for (let k = 0; k < j; k++) sum -= a[i0 + k]! * a[j0 + k]!;
      a[i0 + j] = sum / root;
    }
  }
  return logarithm;
}

/** x := L⁻¹·x in place, of the n entries of `x` from `at` on; `l` as `choleskyInto` leaves it. */
export function forward(l: Float64Array, n: number, x: Float64Array, at: number): void {
  for (let i = 0; i < n; i++) {
    let sum = x[at + i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * x[at + k]!;
    x[at + i] = sum / l[i * n + i]!;
  }
}

/** x := L⁻ᵀ·x in place, n entries; `l` as `choleskyInto` leaves it. */
export function backward(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * x[k]!;
    x[i] = sum / l[i * n + i]!;
  }
}
