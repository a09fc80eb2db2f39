/**
 * Vectors of three components. Lengths in mm (or unit length for directions), angles in rad.
 * All functions are pure and return new tuples.
 */
import { ReductionError } from '../errors.ts';
import type { Vec3 } from './types.ts';

/** a + b. */
export function add(a: Vec3, b: Vec3): Vec3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** a − b. */
export function subtract(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** factor · a. */
export function scale(a: Vec3, factor: number): Vec3 {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

/** −a. */
export function negate(a: Vec3): Vec3 {
  return [-a[0], -a[1], -a[2]];
}

/** a + factor · b. */
export function addScaled(a: Vec3, b: Vec3, factor: number): Vec3 {
  return [a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]];
}

/** s · a + t · b. */
export function combine(s: number, a: Vec3, t: number, b: Vec3): Vec3 {
  return [s * a[0] + t * b[0], s * a[1] + t * b[1], s * a[2] + t * b[2]];
}

/** Scalar product a · b. */
export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** Vector product a × b, right-handed. */
export function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** Euclidean length; safe against overflow and underflow. */
export function norm(a: Vec3): number {
  const plain = dot(a, a);
  // Squares stay exact enough between these bounds; outside them Math.hypot scales first.
  if (plain > 1e-280 && plain < 1e280) return Math.sqrt(plain);
  return Math.hypot(a[0], a[1], a[2]);
}

/** |a − b|. */
export function distance(a: Vec3, b: Vec3): number {
  return norm(subtract(a, b));
}

/**
 * The unit vector along a.
 * @throws ReductionError `invalid-argument` where a has no direction (zero, NaN or infinite).
 */
export function normalize(a: Vec3): Vec3 {
  const length = norm(a);
  if (!(length > 0) || !Number.isFinite(length)) {
    throw new ReductionError(
      'invalid-argument',
      `A vector (${a.join(', ')}) has no direction.`,
      'Give a finite vector of a length above zero.',
    );
  }
  return [a[0] / length, a[1] / length, a[2] / length];
}

/**
 * A unit vector square to `a` (any length above zero). It is made with the coordinate axis that lies
 * furthest from `a`, so it is accurate for every direction; it jumps where another axis becomes the furthest.
 */
export function perpendicular(a: Vec3): Vec3 {
  const x = Math.abs(a[0]);
  const y = Math.abs(a[1]);
  const z = Math.abs(a[2]);
  if (x <= y && x <= z) return normalize([0, a[2], -a[1]]);
  if (y <= z) return normalize([-a[2], 0, a[0]]);
  return normalize([a[1], -a[0], 0]);
}

/** The part of `a` that is square to the unit vector `unit`. */
export function rejectFrom(a: Vec3, unit: Vec3): Vec3 {
  return addScaled(a, unit, -dot(a, unit));
}

/** Angle between two directions of any length, 0 … π; accurate for tiny angles and near π (atan2 form). */
export function angleBetween(a: Vec3, b: Vec3): number {
  return Math.atan2(norm(cross(a, b)), dot(a, b));
}
