/**
 * The nominal blade frame at a station, from its compound angles.
 *
 * Disc frame: +Z along the disc axis, θ by the right-hand rule about +Z from +X. At θ the cylindrical directions are
 * e_r = (cos θ, sin θ, 0), e_t = e_z × e_r, e_z. With height angle φ and stagger angle ξ:
 *   upset        u = cos φ·e_r + sin φ·e_z        (the stacking axis)
 *   a            a = −sin φ·e_r + cos φ·e_z
 *   oscillation  o = cos ξ·a + sin ξ·e_t
 *   lateral      l = u × o
 * Blade axes (x, y, z) = (o, l, u), right-handed; the origin lies at radius·e_r + axial·e_z.
 */
import type { BladeSeat } from '../definition.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { combine, cross } from '../geometry/vector.ts';

export interface CylindricalDirections {
  readonly radial: Vec3;
  readonly tangential: Vec3;
  readonly axial: Vec3;
}

/** e_r, e_t, e_z at the station angle θ (rad). */
export function cylindricalDirections(angle: number): CylindricalDirections {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { radial: [c, s, 0], tangential: [-s, c, 0], axial: [0, 0, 1] };
}

export interface BladeDirections {
  readonly oscillation: Vec3;
  readonly lateral: Vec3;
  readonly upset: Vec3;
  /** The direction square to u in the axial plane of the station: a = −sin φ·e_r + cos φ·e_z. */
  readonly a: Vec3;
  readonly tangential: Vec3;
}

/** Unit directions of the nominal blade at station angle θ (rad), in the disc frame. */
export function bladeDirections(angle: number, seat: BladeSeat): BladeDirections {
  const { radial, tangential, axial } = cylindricalDirections(angle);
  const upset = combine(Math.cos(seat.heightAngle), radial, Math.sin(seat.heightAngle), axial);
  const a = combine(-Math.sin(seat.heightAngle), radial, Math.cos(seat.heightAngle), axial);
  const oscillation = combine(Math.cos(seat.staggerAngle), a, Math.sin(seat.staggerAngle), tangential);
  return { oscillation, lateral: cross(upset, oscillation), upset, a, tangential };
}

/**
 * The rigid motion N that carries blade coordinates into the disc frame at station angle θ (rad).
 * Its rotation has o, l, u as columns.
 */
export function nominalBladeFrame(angle: number, seat: BladeSeat): RigidMotion {
  const { radial, axial } = cylindricalDirections(angle);
  const { oscillation: o, lateral: l, upset: u } = bladeDirections(angle, seat);
  return {
    rotation: [
      [o[0], l[0], u[0]],
      [o[1], l[1], u[1]],
      [o[2], l[2], u[2]],
    ],
    translation: combine(seat.radius, radial, seat.axial, axial),
  };
}
