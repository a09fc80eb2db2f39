/**
 * Singular values and right singular vectors of a small matrix by one-sided Jacobi rotations.
 *
 * Columns are turned pairwise until they are square to each other; their lengths are then the singular values. For the few
 * columns of an association this is quicker than a general decomposition and gives small singular values to more digits.
 *
 * Source: J. Demmel, K. Veselić, "Jacobi's method is more accurate than QR", SIAM J. Matrix Anal. Appl. 13 (1992) 1204–1245.
 */

/** Cosine between two columns below which they count as square: a few roundings. */
const SQUARE = 4 * 2.220446049250313e-16;
/** Convergence is quadratic: five or six sweeps are usual. */
const MOST_SWEEPS = 60;

export interface SmallSpectrum {
  /** Largest first. */
  readonly singularValues: number[];
  /** rightVectors[k] belongs to singularValues[k]. */
  readonly rightVectors: number[][];
  /** A·v_k: the left singular vectors times their singular values. */
  readonly images: number[][];
}

/** @param columns of the matrix, all of one length; they are overwritten. */
export function smallSpectrum(columns: number[][]): SmallSpectrum {
  const p = columns.length;
  const right = columns.map((_, j) => columns.map((__, i) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let turned = false;
    for (let i = 0; i < p - 1; i++)
      for (let j = i + 1; j < p; j++)
        if (turnSquare(columns[i]!, columns[j]!, right[i]!, right[j]!)) turned = true;
    if (!turned) break;
  }
  const lengths = columns.map((column) => Math.sqrt(column.reduce((sum, x) => sum + x * x, 0)));
  const order = lengths.map((_, k) => k).sort((a, b) => lengths[b]! - lengths[a]!);
  return {
    singularValues: order.map((k) => lengths[k]!),
    rightVectors: order.map((k) => right[k]!),
    images: order.map((k) => columns[k]!),
  };
}

/** Turns columns a and b (and the same columns of V) so that they are square to each other; false where they are. */
function turnSquare(a: number[], b: number[], va: number[], vb: number[]): boolean {
  let [aa, bb, ab] = [0, 0, 0];
  for (let k = 0; k < a.length; k++) {
    aa += a[k]! * a[k]!;
    bb += b[k]! * b[k]!;
    ab += a[k]! * b[k]!;
  }
  if (Math.abs(ab) <= SQUARE * Math.sqrt(aa) * Math.sqrt(bb)) return false;
  const zeta = (bb - aa) / (2 * ab);
  const tangent = Math.sign(zeta || 1) / (Math.abs(zeta) + Math.sqrt(1 + zeta * zeta));
  const cosine = 1 / Math.sqrt(1 + tangent * tangent);
  const sine = cosine * tangent;
  rotate(a, b, cosine, sine);
  rotate(va, vb, cosine, sine);
  return true;
}

function rotate(a: number[], b: number[], cosine: number, sine: number): void {
  for (let k = 0; k < a.length; k++) {
    const x = a[k]!;
    const y = b[k]!;
    a[k] = cosine * x - sine * y;
    b[k] = sine * x + cosine * y;
  }
}
