/** 3 × 3 matrices as three rows, acting on columns from the left. */
import type { Mat3, Vec3 } from './types.ts';
import { cross, dot } from './vector.ts';

export const IDENTITY_MATRIX: Mat3 = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** The matrix whose columns are a, b, c. */
export function fromColumns(a: Vec3, b: Vec3, c: Vec3): Mat3 {
  return [
    [a[0], b[0], c[0]],
    [a[1], b[1], c[1]],
    [a[2], b[2], c[2]],
  ];
}

/** Column `index` of m. */
export function column(m: Mat3, index: 0 | 1 | 2): Vec3 {
  return [m[0][index], m[1][index], m[2][index]];
}

/** mᵀ; for a rotation its inverse. */
export function transpose(m: Mat3): Mat3 {
  return fromColumns(m[0], m[1], m[2]);
}

/** m · v. */
export function apply(m: Mat3, v: Vec3): Vec3 {
  return [dot(m[0], v), dot(m[1], v), dot(m[2], v)];
}

/** mᵀ · v, without forming the transpose. */
export function applyTransposed(m: Mat3, v: Vec3): Vec3 {
  return [
    m[0][0] * v[0] + m[1][0] * v[1] + m[2][0] * v[2],
    m[0][1] * v[0] + m[1][1] * v[1] + m[2][1] * v[2],
    m[0][2] * v[0] + m[1][2] * v[1] + m[2][2] * v[2],
  ];
}

/** The product a · b (b acts first). */
export function multiply(a: Mat3, b: Mat3): Mat3 {
  return [applyTransposed(b, a[0]), applyTransposed(b, a[1]), applyTransposed(b, a[2])];
}

/** Determinant, the triple product of the rows. */
export function determinant(m: Mat3): number {
  return dot(m[0], cross(m[1], m[2]));
}

/** The skew-symmetric matrix [v]× with [v]× · u = v × u. */
export function skew(v: Vec3): Mat3 {
  return [
    [0, -v[2], v[1]],
    [v[2], 0, -v[0]],
    [-v[1], v[0], 0],
  ];
}
