/**
 * The triangular factor R of a tall matrix A = Q·R whose rows arrive one by one.
 *
 * Everything that least squares needs of A sits in R: RᵀR = AᵀA, the same singular values and right singular vectors.
 * Householder reflections never form AᵀA, so no digits are lost to squaring, and a million rows need the
 * memory of one block. Source: Golub & Van Loan, Matrix Computations, 4th ed., ch. 5 (Householder QR, row updates).
 */
import { Matrix } from 'ml-matrix';
import { smallSpectrum } from './small-spectrum.ts';

/** Most rows gathered before a reflection sweep; enough to spread its overhead, few enough for the cache. */
const BLOCK_ROWS = 256;

export class TriangularFactor {
  readonly columns: number;
  /** Fill this row (length `columns`), then call `push`. */
  readonly row: Float64Array;
  /** R, upper triangular, row by row; valid after `finish`. */
  readonly entries: Float64Array;
  readonly #block: Float64Array;
  readonly #blockRows: number;
  readonly #active: number;
  #filled = 0;

  /**
   * @param rows number of rows to come, where it is known: a small factor then takes little memory.
   * @param active number of leading columns that the rows fill; the others stay zero and cost nothing.
   */
  constructor(columns: number, rows = BLOCK_ROWS, active = columns) {
    this.columns = columns;
    this.#active = active;
    this.#blockRows = Math.max(1, Math.min(rows, BLOCK_ROWS));
    this.row = new Float64Array(columns);
    this.entries = new Float64Array(columns * columns);
    this.#block = new Float64Array(active * this.#blockRows);
  }

  /** Forgets all rows. */
  reset(): void {
    this.entries.fill(0);
    this.#filled = 0;
  }

  /** Takes the values of `row` as the next row of the matrix. */
  push(): void {
    const { row } = this;
    const block = this.#block;
    const active = this.#active;
    const stride = this.#blockRows;
    let at = this.#filled;
    for (let j = 0; j < active; j++) {
      block[at] = row[j]!;
      at += stride;
    }
    this.#filled++;
    if (this.#filled === stride) this.#sweep();
  }

  /** Works in the rows still waiting; R is then complete. More rows may follow. */
  finish(): this {
    if (this.#filled > 0) this.#sweep();
    return this;
  }

  at(row: number, column: number): number {
    return this.entries[row * this.columns + column]!;
  }

  isFinite(): boolean {
    return this.entries.every(Number.isFinite);
  }

  /** The leading `size` × `size` part of R by its columns. */
  leadingColumns(size: number): number[][] {
    const columns: number[][] = [];
    for (let j = 0; j < size; j++) {
      const column = new Array<number>(size).fill(0);
      for (let i = 0; i <= j; i++) column[i] = this.at(i, j);
      columns.push(column);
    }
    return columns;
  }

  /** The leading `size` × `size` part of R as a matrix. */
  leading(size: number): Matrix {
    const matrix = Matrix.zeros(size, size);
    for (let i = 0; i < size; i++) for (let j = i; j < size; j++) matrix.set(i, j, this.at(i, j));
    return matrix;
  }

  /** One Householder reflection a column; rows of R above the diagonal are zero there and take no part. */
  #sweep(): void {
    const { columns, entries } = this;
    const block = this.#block;
    const stride = this.#blockRows;
    const active = this.#active;
    const rows = this.#filled;
    for (let k = 0; k < active; k++) {
      const first = k * stride;
      let squares = 0;
      for (let i = 0; i < rows; i++) {
        const value = block[first + i]!;
        squares += value * value;
      }
      if (squares === 0) continue;
      const diagonal = entries[k * columns + k]!;
      const length = Math.sqrt(diagonal * diagonal + squares);
      const pivot = diagonal > 0 ? diagonal + length : diagonal - length;
      entries[k * columns + k] = diagonal > 0 ? -length : length;
      const factor = 2 / (pivot * pivot + squares);
      for (let j = k + 1; j < active; j++) {
        const second = j * stride;
        const top = entries[k * columns + j]!;
        let sum = pivot * top;
        for (let i = 0; i < rows; i++) sum += block[first + i]! * block[second + i]!;
        sum *= factor;
        entries[k * columns + j] = top - sum * pivot;
        for (let i = 0; i < rows; i++) block[second + i] = block[second + i]! - sum * block[first + i]!;
      }
    }
    this.#filled = 0;
  }
}

/** Singular values (largest first), right singular vectors and what follows from them. */
export interface Spectrum {
  readonly singularValues: readonly number[];
  /** rightVectors[k] belongs to singularValues[k]. */
  readonly rightVectors: readonly (readonly number[])[];
  /** Singular values above the relative tolerance. */
  readonly rank: number;
  /** Largest over smallest singular value; Infinity where the smallest is zero. */
  readonly conditionNumber: number;
  /** Σ v vᵀ/s² over the singular values above the tolerance: (AᵀA)⁻¹ at full rank, else its pseudoinverse. */
  readonly cofactor: readonly (readonly number[])[];
}

/**
 * A singular value below this fraction of the largest counts as zero. Rounding of the rows leaves about
 * 1e-16·√n of the largest; two digits and more are kept between that and a direction that data can fix.
 */
export const RANK_TOLERANCE = 1e-13;

/** Spectrum of a small matrix with all entries finite. */
export function spectrumOf(matrix: Matrix, rankTolerance = RANK_TOLERANCE): Spectrum {
  return spectrumOfColumns(
    Array.from({ length: matrix.columns }, (_, j) => matrix.getColumn(j)),
    rankTolerance,
  );
}

/** The same of a matrix given by its columns, which are overwritten. */
export function spectrumOfColumns(columns: number[][], rankTolerance = RANK_TOLERANCE): Spectrum {
  const p = columns.length;
  const { singularValues: s, rightVectors } = smallSpectrum(columns);
  const largest = s[0] ?? 0;
  const rank = s.filter((value) => value > rankTolerance * largest).length;
  const cofactor = rightVectors.map(() => new Array<number>(p).fill(0));
  for (let k = 0; k < rank; k++) {
    const v = rightVectors[k]!;
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) cofactor[i]![j] = cofactor[i]![j]! + (v[i]! / s[k]!) * (v[j]! / s[k]!);
  }
  const smallest = s[p - 1] ?? 0;
  return {
    singularValues: s,
    rightVectors,
    rank,
    conditionNumber: smallest > 0 ? largest / smallest : Number.POSITIVE_INFINITY,
    cofactor,
  };
}
