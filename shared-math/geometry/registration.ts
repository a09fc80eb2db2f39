/**
 * Closed-form rigid registration of paired points: the rotation and translation that minimise Σ w |R·p + t − q|².
 *
 * Sources: Kabsch, Acta Cryst. A32 (1976) 922; Arun, Huang & Blostein, IEEE PAMI 9(5) (1987) 698–700;
 * Umeyama, IEEE PAMI 13(4) (1991) 376–380 (the guard that keeps det R = +1).
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { ReductionError } from '../errors.ts';
import { apply, column, fromColumns, multiply, transpose } from './matrix.ts';
import type { RigidMotion, Vec3 } from './types.ts';
import { cross, dot } from './vector.ts';

export interface Registration {
  /** Carries the source points onto the target points. */
  readonly motion: RigidMotion;
  /** √(Σ w|R·p + t − q|² / Σ w), mm. */
  readonly rms: number;
  /**
   * Singular values of the weighted mean cross-covariance of the centred points, mm², largest first; the third carries
   * the sign of the determinant. Points on a line have the second near zero against the first: the rotation about
   * that line is then arbitrary. The third near minus the second: the rotation is not unique either.
   */
  readonly singularValues: Vec3;
}

/**
 * Registers `source` onto `target`.
 * @param source interleaved points, length 3n, n ≥ 1
 * @param target their partners in the same order, length 3n
 * @param weights positive factors of the squared distances, length n; absent: 1
 * @throws ReductionError `invalid-argument` for lengths that differ, `too-few-points` for none, `not-finite`
 */
export function registerPoints(
  source: Float64Array,
  target: Float64Array,
  weights: Float64Array | null = null,
): Registration {
  const n = source.length / 3;
  check(source, target, weights);
  const w = (i: number): number => (weights ? weights[i]! : 1);

  let total = 0;
  const p0: [number, number, number] = [0, 0, 0];
  const q0: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    total += w(i);
    for (const axis of [0, 1, 2] as const) {
      p0[axis] += w(i) * source[3 * i + axis]!;
      q0[axis] += w(i) * target[3 * i + axis]!;
    }
  }
  for (const axis of [0, 1, 2] as const) {
    p0[axis] /= total;
    q0[axis] /= total;
  }

  const covariance = Matrix.zeros(3, 3);
  for (let i = 0; i < n; i++) {
    for (const row of [0, 1, 2] as const) {
      const q = (w(i) / total) * (target[3 * i + row]! - q0[row]);
      for (const col of [0, 1, 2] as const) {
        covariance.set(row, col, covariance.get(row, col) + q * (source[3 * i + col]! - p0[col]));
      }
    }
  }

  const svd = new SingularValueDecomposition(covariance);
  const u = svd.leftSingularVectors.to2DArray() as unknown as [Vec3, Vec3, Vec3];
  const v = svd.rightSingularVectors.to2DArray() as unknown as [Vec3, Vec3, Vec3];
  // Third directions as vector products: both bases are then right-handed and R is a proper rotation always.
  const u3 = cross(column(u, 0), column(u, 1));
  const v3 = cross(column(v, 0), column(v, 1));
  const sign = dot(u3, column(u, 2)) * dot(v3, column(v, 2)) < 0 ? -1 : 1;
  const rotation = multiply(
    fromColumns(column(u, 0), column(u, 1), u3),
    transpose(fromColumns(column(v, 0), column(v, 1), v3)),
  );
  const turned = apply(rotation, p0);
  const translation: Vec3 = [q0[0] - turned[0], q0[1] - turned[1], q0[2] - turned[2]];

  let sum = 0;
  for (let i = 0; i < n; i++) {
    const p = apply(rotation, [
      source[3 * i]! - p0[0],
      source[3 * i + 1]! - p0[1],
      source[3 * i + 2]! - p0[2],
    ]);
    for (const axis of [0, 1, 2] as const) sum += w(i) * (p[axis] - (target[3 * i + axis]! - q0[axis])) ** 2;
  }
  const [s1 = 0, s2 = 0, s3 = 0] = svd.diagonal;
  return {
    motion: { rotation, translation },
    rms: Math.sqrt(sum / total),
    singularValues: [s1, s2, sign * s3],
  };
}

function check(source: Float64Array, target: Float64Array, weights: Float64Array | null): void {
  const n = source.length / 3;
  if (!Number.isInteger(n) || target.length !== source.length || (weights && weights.length !== n)) {
    throw new ReductionError(
      'invalid-argument',
      `Registration needs pairs of points: got ${source.length} and ${target.length} coordinates${weights ? ` and ${weights.length} weights` : ''}.`,
      'Give each source point its target point.',
    );
  }
  if (n === 0) {
    throw new ReductionError('too-few-points', 'Registration got no points.', 'Give at least one pair.');
  }
  if (!source.every(Number.isFinite) || !target.every(Number.isFinite)) {
    throw new ReductionError(
      'not-finite',
      'A coordinate is not a finite number.',
      'Remove or correct the point.',
    );
  }
  if (weights && !weights.every((w) => w > 0 && Number.isFinite(w))) {
    throw new ReductionError(
      'invalid-argument',
      'A weight is not a positive number.',
      'Give positive weights.',
    );
  }
}
