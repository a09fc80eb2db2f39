/**
 * What an association may do to a direction: turn it freely, turn it about an axis, or nothing.
 *
 * Local parameters of a direction a, re-based at every step: in the basis (e1, e2) = tangentBasis(a)
 * free: a ← a + tilt1·e1 + tilt2·e2, normalised (rad); about: a ← rotation by `azimuth` about the axis (rad).
 */
import { apply } from '../geometry/matrix.ts';
import { rotationAbout } from '../geometry/rotation.ts';
import type { Vec3 } from '../geometry/types.ts';
import {
  addScaled,
  cross,
  dot,
  negate,
  norm,
  normalize,
  perpendicular,
  rejectFrom,
} from '../geometry/vector.ts';
import type { Orientation } from './types.ts';

export interface DirectionFreedom {
  readonly size: 0 | 1 | 2;
  readonly names: readonly string[];
  /** Unit start direction, null where unknown. */
  readonly start: Vec3 | null;
  /** Unit axis of `about`. */
  readonly axis: Vec3 | null;
}

/** Below this angle (rad) to the axis, turning about the axis moves a direction by no more than rounding. */
const PARALLEL = 1e-12;

/** (e1, e2) with e1 = perpendicular(a), e2 = a × e1; a, e1, e2 are right-handed in the order e1, e2, a. */
export function tangentBasis(direction: Vec3): readonly [Vec3, Vec3] {
  const e1 = perpendicular(direction);
  return [e1, cross(direction, e1)];
}

/** @throws ReductionError `invalid-argument` for a direction of no length */
export function freedomOf(orientation: Orientation): DirectionFreedom {
  if (orientation.kind === 'fixed') {
    return { size: 0, names: [], start: normalize(orientation.direction), axis: null };
  }
  if (orientation.kind === 'free') {
    const start = orientation.start && normalize(orientation.start);
    return { size: 2, names: ['tilt1', 'tilt2'], start, axis: null };
  }
  const start = normalize(orientation.start);
  const axis = normalize(orientation.axis);
  if (norm(cross(axis, start)) < PARALLEL) return { size: 0, names: [], start, axis: null };
  return { size: 1, names: ['azimuth'], start, axis };
}

/** The direction after a step of its local parameters, read from `step` at `at`. */
export function turn(freedom: DirectionFreedom, direction: Vec3, step: ArrayLike<number>, at: number): Vec3 {
  if (freedom.size === 0) return direction;
  if (freedom.axis) return normalize(apply(rotationAbout(freedom.axis, step[at]!), direction));
  const [e1, e2] = tangentBasis(direction);
  return normalize(addScaled(addScaled(direction, e1, step[at]!), e2, step[at + 1]!));
}

/**
 * Derivatives of the direction by its parameters, as components along (e1, e2): tilts[k] = [∂a·e1, ∂a·e2].
 */
export function tiltsOf(freedom: DirectionFreedom, direction: Vec3): readonly (readonly [number, number])[] {
  if (freedom.size === 0) return [];
  if (freedom.size === 2) {
    return [
      [1, 0],
      [0, 1],
    ];
  }
  const [e1, e2] = tangentBasis(direction);
  const moved = cross(freedom.axis!, direction);
  return [[dot(moved, e1), dot(moved, e2)]];
}

/** Directions reachable by turning about the axis, `count` of them, the start first; only those in its hemisphere. */
export function azimuthFan(freedom: DirectionFreedom, count: number): Vec3[] {
  const start = freedom.start!;
  return Array.from({ length: count }, (_, k) =>
    apply(rotationAbout(freedom.axis!, (2 * Math.PI * k) / count), start),
  ).filter((direction) => dot(direction, start) >= 0);
}

/**
 * The allowed direction closest to `direction`: itself when free, its azimuth about the axis at the fixed angle when
 * turning; null where it has no azimuth (it lies along the axis).
 */
export function allowedNear(freedom: DirectionFreedom, direction: Vec3): Vec3 | null {
  if (freedom.size === 0) return freedom.start;
  if (!freedom.axis) return direction;
  const flat = rejectFrom(direction, freedom.axis);
  if (norm(flat) < 1e-9) return null;
  const along = dot(freedom.start!, freedom.axis);
  const across = norm(cross(freedom.axis, freedom.start!));
  return normalize(addScaled(addScaled([0, 0, 0], freedom.axis, along), normalize(flat), across));
}

/**
 * The sense of an unsigned direction: the hemisphere of the start, or its largest component positive where no start is
 * known. A direction that may only turn about an axis is reversed only where the reverse is reachable too.
 */
export function isReversed(freedom: DirectionFreedom, direction: Vec3): boolean {
  if (freedom.start) {
    if (dot(direction, freedom.start) >= 0) return false;
    return !freedom.axis || Math.abs(dot(freedom.axis, freedom.start)) < 1e-9;
  }
  const largest = direction.reduce((most, c) => (Math.abs(c) > Math.abs(most) ? c : most), 0);
  return largest < 0;
}

/** `direction` in the sense of `isReversed`. */
export function oriented(freedom: DirectionFreedom, direction: Vec3): Vec3 {
  return isReversed(freedom, direction) ? negate(direction) : direction;
}
