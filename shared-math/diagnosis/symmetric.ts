/**
 * Small dense linear algebra of the diagnosis: matrices as arrays of rows, a few dozen rows at most.
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. (2013), 4.2 (Cholesky factorisation).
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';

export type Rows = number[][];
export type ReadonlyRows = readonly (readonly number[])[];

/** rows × columns of zeros. */
export function zeros(rows: number, columns: number): Rows {
  return Array.from({ length: rows }, () => new Array<number>(columns).fill(0));
}

/**
 * Inverse of a symmetric positive definite matrix, and the logarithm of its determinant.
 *
 * @returns null where a pivot is not positive to rounding.
 */
export function inverseDefinite(
  a: ReadonlyRows,
): { readonly inverse: Rows; readonly logDeterminant: number } | null {
  const n = a.length;
  const l = zeros(n, n);
  let logDeterminant = 0;
  for (let j = 0; j < n; j++) {
    const lj = l[j]!;
    let pivot = a[j]![j]!;
    for (let k = 0; k < j; k++) pivot -= lj[k]! * lj[k]!;
    if (!(pivot > LOST_PIVOT * a[j]![j]!)) return null;
    const root = Math.sqrt(pivot);
    logDeterminant += 2 * Math.log(root);
    lj[j] = root;
    for (let i = j + 1; i < n; i++) {
      const li = l[i]!;
      let sum = a[i]![j]!;
      for (let k = 0; k < j; k++) sum -= li[k]! * lj[k]!;
      li[j] = sum / root;
    }
  }
  const inverse = zeros(n, n);
  const x = new Array<number>(n).fill(0);
  for (let c = 0; c < n; c++) {
    for (let i = c; i < n; i++) {
      let sum = i === c ? 1 : 0;
      for (let k = c; k < i; k++) sum -= l[i]![k]! * x[k]!;
      x[i] = sum / l[i]![i]!;
    }
    for (let i = n - 1; i >= c; i--) {
      let sum = x[i]!;
      for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * inverse[k]![c]!;
      inverse[i]![c] = sum / l[i]![i]!;
      inverse[c]![i] = inverse[i]![c]!;
    }
  }
  return { inverse, logDeterminant };
}

/** L⁻¹ of the Cholesky factor a = L·Lᵀ of a positive definite matrix, lower triangle: whitens what has the covariance a. */
export function whitener(a: ReadonlyRows): Rows {
  const n = a.length;
  const l = zeros(n, n);
  const w = zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i]![j]!;
      for (let k = 0; k < j; k++) sum -= l[i]![k]! * l[j]![k]!;
      l[i]![j] = i === j ? Math.sqrt(sum) : sum / l[j]![j]!;
    }
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? 1 : 0;
      for (let k = j; k < i; k++) sum -= l[i]![k]! * w[k]![j]!;
      w[i]![j] = sum / l[i]![i]!;
    }
  }
  return w;
}

/** A pivot that elimination has reduced to this share of its diagonal entry is rounding. */
const LOST_PIVOT = 1e-13;

/** A·B; zeros of A cost nothing. */
export function product(a: ReadonlyRows, b: ReadonlyRows): Rows {
  const columns = b[0]?.length ?? 0;
  return a.map((row) => {
    const out = new Array<number>(columns).fill(0);
    row.forEach((x, k) => {
      if (x === 0) return;
      const bk = b[k]!;
      for (let j = 0; j < columns; j++) out[j] = out[j]! + x * bk[j]!;
    });
    return out;
  });
}

/** A·x. */
export function times(a: ReadonlyRows, x: readonly number[]): number[] {
  return a.map((row) => dotProduct(row, x));
}

/** aᵀ·b over the length of a. */
export function dotProduct(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** aᵀ·M·b. */
export function form(a: readonly number[], m: ReadonlyRows, b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) if (a[i] !== 0) sum += a[i]! * dotProduct(m[i]!, b);
  return sum;
}

/** aᵀ·M·a of a symmetric M; only its lower triangle is read. */
export function quadratic(a: readonly number[], m: ReadonlyRows): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) {
    const x = a[i]!;
    if (x === 0) continue;
    const row = m[i]!;
    let below = 0;
    for (let j = 0; j < i; j++) below += row[j]! * a[j]!;
    sum += x * (row[i]! * x + 2 * below);
  }
  return sum;
}

/** target += factor·x·xᵀ. */
export function addOuter(target: Rows, x: readonly number[], factor: number): void {
  for (let i = 0; i < x.length; i++) {
    const fx = factor * x[i]!;
    if (fx === 0) continue;
    const row = target[i]!;
    for (let j = 0; j < x.length; j++) row[j] = row[j]! + fx * x[j]!;
  }
}

/** Eigenvalues and unit eigenvectors of a symmetric matrix, in no order. */
export function eigen(a: ReadonlyRows): readonly { readonly value: number; readonly vector: number[] }[] {
  if (a.length === 0) return [];
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(
    new Matrix(a.map((r) => [...r])),
    {
      assumeSymmetric: true,
    },
  );
  return realEigenvalues.map((value, k) => ({ value, vector: eigenvectorMatrix.getColumn(k) }));
}
