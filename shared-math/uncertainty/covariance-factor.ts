/**
 * Covariance matrices that may be singular: their factors and principal axes.
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. (2013), 8.3 (symmetric eigenvalue problem), 4.2.8
 * (semidefinite matrices).
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { ReductionError } from '../errors.ts';

/**
 * Eigenvalues below this share of the largest are zero. An n × n matrix (n ≤ 12 here) whose entries were rounded a few times
 * has eigenvalue errors of about n·4ε = 1e-14 of the largest; the factor 10 covers the rounding of what made it.
 */
const ZERO_EIGENVALUE = 1e-13;
/** Eigenvalues more negative than this share, or entries that differ so much from their mirror image, are no rounding. */
const NOT_ROUNDING = 1e-9;

/**
 * A with covariance = A·Aᵀ, one column for each independent source of variation (possibly none). The components may have
 * different units: the rank is judged on the correlation matrix.
 *
 * @param covariance symmetric n × n, rows of numbers.
 * @returns n rows of k entries, k ≤ n the rank; columns in order of falling eigenvalue of the correlation matrix.
 * @throws ReductionError `invalid-argument` where the matrix is not square, symmetric, finite and positive semidefinite.
 */
export function covarianceFactor(covariance: readonly (readonly number[])[]): number[][] {
  const deviations = checkedDeviations(covariance);
  const correlation = covariance.map((row, i) =>
    row.map((entry, j) => {
      const scale = deviations[i]! * deviations[j]!;
      return scale > 0 ? (0.5 * (entry + covariance[j]![i]!)) / scale : 0;
    }),
  );
  const { values, vectors } = eigenvalues(correlation);
  const kept = values
    .map((value, index) => ({ value, index }))
    .filter(({ value }) => value > 0)
    .reverse();
  return deviations.map((deviation, i) =>
    kept.map(({ value, index }) => deviation * Math.sqrt(value) * vectors.get(i, index)),
  );
}

/**
 * Standard deviations along the principal axes of a covariance, ascending, and a vector in these axes.
 *
 * @param covariance symmetric n × n, all components of the same unit.
 * @throws ReductionError `invalid-argument` as `covarianceFactor`.
 */
export function principalAxes(
  covariance: readonly (readonly number[])[],
  vector: readonly number[],
): { readonly deviations: number[]; readonly components: number[] } {
  checkedDeviations(covariance);
  const { values, vectors } = eigenvalues(covariance.map((row) => [...row]));
  return {
    deviations: values.map((value) => Math.sqrt(value)),
    components: values.map((_, axis) => vector.reduce((sum, v, i) => sum + v * vectors.get(i, axis), 0)),
  };
}

function eigenvalues(matrix: number[][]): { values: number[]; vectors: Matrix } {
  if (matrix.length === 0) return { values: [], vectors: Matrix.zeros(0, 0) };
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(new Matrix(matrix), {
    assumeSymmetric: true,
  });
  const order = realEigenvalues
    .map((_, index) => index)
    .sort((a, b) => realEigenvalues[a]! - realEigenvalues[b]!);
  const largest = realEigenvalues[order.at(-1)!]!;
  if (realEigenvalues[order[0]!]! < -NOT_ROUNDING * largest) throw refused();
  return {
    values: order.map((index) => {
      const value = realEigenvalues[index]!;
      return value > ZERO_EIGENVALUE * largest ? value : 0;
    }),
    vectors: eigenvectorMatrix.subMatrixColumn(order),
  };
}

function checkedDeviations(covariance: readonly (readonly number[])[]): number[] {
  const deviations = covariance.map((row, i) => Math.sqrt(row[i] ?? Number.NaN));
  for (const [i, row] of covariance.entries()) {
    if (row.length !== covariance.length) throw refused();
    for (const [j, entry] of row.entries()) {
      const allowed = NOT_ROUNDING * deviations[i]! * deviations[j]!;
      if (!Number.isFinite(entry) || !(Math.abs(entry - covariance[j]![i]!) <= allowed)) throw refused();
    }
  }
  return deviations;
}

function refused(): ReductionError {
  return new ReductionError(
    'invalid-argument',
    'A covariance matrix must be square, symmetric, finite and positive semidefinite.',
  );
}
