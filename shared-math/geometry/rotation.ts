/**
 * Rotations about the origin. A rotation is active (it turns points; axes stay), right-handed, stored as an
 * orthonormal Mat3 with determinant +1. Angles in rad.
 *
 * A rotation vector is axis times angle. Quaternions are unit, scalar first: [w, x, y, z] with
 * w = cos(angle/2), (x, y, z) = axis · sin(angle/2); q and −q are the same rotation.
 *
 * Sources: Lynch & Park, Modern Robotics (2017), ch. 3 (exponential and logarithm); Shepperd, "Quaternion from
 * rotation matrix", J. Guidance and Control 1 (1978) 223–224 (stable choice of the divisor).
 */
import { fromColumns } from './matrix.ts';
import type { Mat3, Vec3 } from './types.ts';
import { add, addScaled, cross, dot, norm, normalize, perpendicular, rejectFrom, scale } from './vector.ts';

export type Quaternion = readonly [number, number, number, number];

/** sin(x)/x, 1 at zero. */
export function sinc(x: number): number {
  // Below 1e-4 the first term left out, x⁶/5040, is under 1e-27.
  if (Math.abs(x) < 1e-4) return 1 - (x * x) / 6 + x ** 4 / 120;
  return Math.sin(x) / x;
}

/** The angle carried into (−π, π]. */
export function wrapAngle(angle: number): number {
  const turn = 2 * Math.PI;
  let wrapped = angle - turn * Math.round(angle / turn);
  if (wrapped <= -Math.PI) wrapped += turn;
  if (wrapped > Math.PI) wrapped -= turn;
  return wrapped;
}

/**
 * Rotation matrix of a rotation vector, the exponential of so(3) (Rodrigues' formula):
 * I + sin θ/θ · [ρ]× + (1 − cos θ)/θ² · [ρ]×². Accurate to rounding for every angle: the second factor is
 * taken as ½·sinc²(θ/2), which does not cancel for small angles.
 */
export function rotationFromVector(vector: Vec3): Mat3 {
  const [x, y, z] = vector;
  const angle = norm(vector);
  const a = sinc(angle);
  const half = sinc(angle / 2);
  const b = 0.5 * half * half;
  return [
    [1 - b * (y * y + z * z), b * x * y - a * z, b * x * z + a * y],
    [b * x * y + a * z, 1 - b * (x * x + z * z), b * y * z - a * x],
    [b * x * z - a * y, b * y * z + a * x, 1 - b * (x * x + y * y)],
  ];
}

/** Rotation by `angle` about the direction `axis` (any length above zero), right-handed. */
export function rotationAbout(axis: Vec3, angle: number): Mat3 {
  return rotationFromVector(scale(normalize(axis), angle));
}

/** Unit quaternion of a rotation, w ≥ 0, the divisor chosen as large as possible (Shepperd). */
export function quaternionFromRotation(r: Mat3): Quaternion {
  const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = r;
  const trace = xx + yy + zz;
  const largest = Math.max(trace, xx, yy, zz);
  let q: [number, number, number, number];
  if (largest === trace) q = [1 + trace, zy - yz, xz - zx, yx - xy];
  else if (largest === xx) q = [zy - yz, 1 + xx - yy - zz, xy + yx, xz + zx];
  else if (largest === yy) q = [xz - zx, xy + yx, 1 - xx + yy - zz, yz + zy];
  else q = [yx - xy, xz + zx, yz + zy, 1 - xx - yy + zz];
  const length = Math.hypot(...q) * (q[0] < 0 ? -1 : 1);
  return [q[0] / length, q[1] / length, q[2] / length, q[3] / length];
}

/** Rotation matrix of a quaternion of any length above zero. */
export function rotationFromQuaternion(quaternion: Quaternion): Mat3 {
  const length = Math.hypot(...quaternion);
  const [w, x, y, z] = quaternion.map((c) => c / length) as [number, number, number, number];
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  ];
}

/**
 * Rotation vector of a rotation matrix, the logarithm, of length 0 … π. Relative accuracy is kept down to the
 * smallest angles, and near π, where the trace formula fails, it goes through the quaternion. At exactly π both
 * signs are right; the one returned has its largest component positive.
 */
export function rotationVector(r: Mat3): Vec3 {
  const [w, x, y, z] = quaternionFromRotation(r);
  const sine = norm([x, y, z]);
  if (sine === 0) return [0, 0, 0];
  const factor = (2 * Math.atan2(sine, w)) / sine;
  return [factor * x, factor * y, factor * z];
}

/**
 * The smallest rotation that carries direction `from` onto direction `to` (any lengths above zero). For opposite
 * directions the axis is not unique; a fixed one square to `from` is taken.
 */
export function rotationBetween(from: Vec3, to: Vec3): Mat3 {
  const f = normalize(from);
  const t = normalize(to);
  const c = dot(f, t);
  if (c >= 0) {
    const [x, y, z] = cross(f, t);
    const b = 1 / (1 + c);
    return [
      [1 - b * (y * y + z * z), b * x * y - z, b * x * z + y],
      [b * x * y + z, 1 - b * (x * x + z * z), b * y * z - x],
      [b * x * z - y, b * y * z + x, 1 - b * (x * x + y * y)],
    ];
  }
  // Beyond a right angle 1 + c cancels. Two reflections do not: first in the plane square to f, then in the plane
  // square to the bisector h. Near 180° rounding pollutes h along f − t, so that part is taken off, twice.
  const g = normalize(addScaled(f, t, -1));
  let h: Vec3 = rejectFrom(rejectFrom(add(f, t), g), g);
  h = norm(h) > 1e-15 ? normalize(h) : perpendicular(g);
  const reflect = (v: Vec3, square: Vec3): Vec3 => addScaled(v, square, -2 * dot(v, square));
  const image = (v: Vec3): Vec3 => reflect(reflect(v, f), h);
  return fromColumns(image([1, 0, 0]), image([0, 1, 0]), image([0, 0, 1]));
}

/**
 * Twist angle of a rotation about `axis` (any length above zero) in its swing–twist split R = swing · twist, where
 * the axis of the swing is square to `axis`; in (−π, π]. Where the swing is a half turn the twist is not
 * defined and 0 is returned.
 */
export function twistAbout(r: Mat3, axis: Vec3): number {
  const [w, x, y, z] = quaternionFromRotation(r);
  const along = dot([x, y, z], normalize(axis));
  return wrapAngle(2 * Math.atan2(along, w));
}
