/**
 * The six errors of a blade and the same error seen in the disc frame.
 *
 * E = N⁻¹·M is the motion that carries the nominal blade onto the measured one, in nominal blade axes (o, l, u).
 * Translation t = E·0 (mm, at the blade origin); rotation vector ρ = log(R_E) (rad, right-hand about o, l, u).
 */
import type { BladeSeat, DiscErrorName, ErrorName } from '../definition.ts';
import { bladeDirections, cylindricalDirections } from '../frame/blade-frame.ts';
import { rotationVector, twistAbout } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { combine, dot } from '../geometry/vector.ts';

/** Translation (mm) and rotation vector (rad) of the error motion E, by name. */
export function sixErrors(error: RigidMotion): Record<ErrorName, number> {
  const [oscillation, lateral, upset] = error.translation;
  const [rotOscillation, rotLateral, rotUpset] = rotationVector(error.rotation);
  return { oscillation, lateral, upset, rotOscillation, rotLateral, rotUpset };
}

/**
 * The error E seen in the disc frame, at the blade origin.
 *
 * radial, tangential, axial (mm): displacement along e_r, e_t, e_z of the station. lean = atan2(u'·e_t, u'·u) and
 * sweep = atan2(u'·a, u'·u), with u' the measured stacking direction: tilts towards +e_t and towards a. stagger: measured
 * minus nominal stagger angle = −(twist of R_E about u in its swing–twist split), in (−π, π]; the sign is negative
 * because ξ turns o towards +e_t while a positive turn about u takes o towards l.
 */
export function discErrors(
  error: RigidMotion,
  angle: number,
  seat: BladeSeat,
): Record<DiscErrorName, number> {
  const { oscillation, lateral, upset, a, tangential } = bladeDirections(angle, seat);
  const { radial, axial } = cylindricalDirections(angle);
  const inDisc = (v: Vec3): Vec3 => combine(1, combine(v[0], oscillation, v[1], lateral), v[2], upset);
  const shift = inDisc(error.translation);
  const r = error.rotation;
  const stacking = inDisc([r[0][2], r[1][2], r[2][2]]);
  const along = dot(stacking, upset);
  return {
    radial: dot(shift, radial),
    tangential: dot(shift, tangential),
    axial: dot(shift, axial),
    lean: Math.atan2(dot(stacking, tangential), along),
    sweep: Math.atan2(dot(stacking, a), along),
    stagger: -twistAbout(r, [0, 0, 1]),
  };
}
