/** Small dense linear algebra in place, for systems solved thousands of times. Matrices row by row. */

/** A pivot below this fraction of the largest entry makes a matrix singular. */
const SINGULAR = 1e-15;

/** Replaces a square matrix by its inverse (Gauss–Jordan, row pivots); false, contents undefined, where singular. */
export function invertInPlace(a: Float64Array, n: number): boolean {
  let largest = 0;
  for (const value of a) largest = Math.max(largest, Math.abs(value));
  const from = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    from[k] = pivot;
    if (!(Math.abs(a[pivot * n + k]!) > SINGULAR * largest)) return false;
    if (pivot !== k) {
      for (let j = 0; j < n; j++) {
        const kept = a[k * n + j]!;
        a[k * n + j] = a[pivot * n + j]!;
        a[pivot * n + j] = kept;
      }
    }
    const factor = 1 / a[k * n + k]!;
    a[k * n + k] = 1;
    for (let j = 0; j < n; j++) a[k * n + j] = a[k * n + j]! * factor;
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const times = a[i * n + k]!;
      if (times === 0) continue;
      a[i * n + k] = 0;
      for (let j = 0; j < n; j++) a[i * n + j] = a[i * n + j]! - times * a[k * n + j]!;
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    const pivot = from[k]!;
    if (pivot === k) continue;
    for (let i = 0; i < n; i++) {
      const kept = a[i * n + k]!;
      a[i * n + k] = a[i * n + pivot]!;
      a[i * n + pivot] = kept;
    }
  }
  return true;
}

/** Solves a·x = b by Gaussian elimination with row pivots; a and b are used up; null where singular. */
export function solveInPlace(a: Float64Array, b: Float64Array): Float64Array | null {
  const n = b.length;
  let largest = 0;
  for (const value of a) largest = Math.max(largest, Math.abs(value));
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    if (!(Math.abs(a[pivot * n + k]!) > SINGULAR * largest)) return null;
    if (pivot !== k) {
      for (let j = k; j < n; j++) {
        const kept = a[k * n + j]!;
        a[k * n + j] = a[pivot * n + j]!;
        a[pivot * n + j] = kept;
      }
      const kept = b[k]!;
      b[k] = b[pivot]!;
      b[pivot] = kept;
    }
    for (let i = k + 1; i < n; i++) {
      const times = a[i * n + k]! / a[k * n + k]!;
      if (times === 0) continue;
      for (let j = k + 1; j < n; j++) a[i * n + j] = a[i * n + j]! - times * a[k * n + j]!;
      b[i] = b[i]! - times * b[k]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    let rest = b[i]!;
    for (let j = i + 1; j < n; j++) rest -= a[i * n + j]! * b[j]!;
    b[i] = rest / a[i * n + i]!;
  }
  return b;
}
