/** Small dense systems as plain arrays. */
import { Matrix, solve } from 'ml-matrix';

/** Solves A·x = b for a small square matrix of full rank, rows of A. */
export function solveDense(a: readonly (readonly number[])[], b: readonly number[]): number[] {
  return solve(new Matrix(a.map((row) => [...row])), Matrix.columnVector([...b])).to1DArray();
}
