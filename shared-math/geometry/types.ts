/**
 * Plain geometric data shared by every module of this floor.
 *
 * Conventions, stated once: lengths in mm, angles in radians. Vectors are columns; matrices are stored as rows
 * and act from the left (active rotations): y = R·x + t. Arrays of points are interleaved, x0 y0 z0 x1 y1 z1 …
 */

/** A point (mm) or a direction (unit length unless said otherwise). */
export type Vec3 = readonly [number, number, number];

/** A 3 × 3 matrix as three rows. A rotation matrix is orthonormal with determinant +1. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

/** A rigid motion x ↦ rotation·x + translation. */
export interface RigidMotion {
  readonly rotation: Mat3;
  readonly translation: Vec3;
}
