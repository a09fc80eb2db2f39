/**
 * Derivatives of everything that is judged with respect to the six errors e = (t, ρ), t in mm, ρ the rotation vector in rad.
 *
 * A change dρ turns the measured blade by ω = J(ρ)·dρ, J the left Jacobian of the exponential map.
 */
import type { BladeSeat, DiscErrorName, ErrorName } from '../definition.ts';
import { bladeDirections, cylindricalDirections } from '../frame/blade-frame.ts';
import { apply, applyTransposed } from '../geometry/matrix.ts';
import { quaternionFromRotation, rotationVector } from '../geometry/rotation.ts';
import { leftJacobian } from '../geometry/rotation-jacobian.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { combine, cross, dot } from '../geometry/vector.ts';

/** Derivatives with respect to (t, ρ): six numbers. */
export type ErrorGradient = readonly number[];

/** Gradients of the six errors and of the six quantities of the disc view. */
export function errorGradients(
  error: RigidMotion,
  angle: number,
  seat: BladeSeat,
): Readonly<Record<ErrorName | DiscErrorName, ErrorGradient>> {
  const unit = (k: number): ErrorGradient => [0, 1, 2, 3, 4, 5].map((i) => (i === k ? 1 : 0));
  const { oscillation: o, lateral: l, upset: u, a, tangential: et } = bladeDirections(angle, seat);
  const { radial: er, axial: ez } = cylindricalDirections(angle);
  const inBlade = (d: Vec3): Vec3 => [dot(d, o), dot(d, l), dot(d, u)];
  const j = leftJacobian(rotationVector(error.rotation));
  const ofTurn = (byTurn: Vec3): ErrorGradient => [0, 0, 0, ...applyTransposed(j, byTurn)];
  const ofShift = (d: Vec3): ErrorGradient => [...inBlade(d), 0, 0, 0];
  return {
    oscillation: unit(0),
    lateral: unit(1),
    upset: unit(2),
    rotOscillation: unit(3),
    rotLateral: unit(4),
    rotUpset: unit(5),
    radial: ofShift(er),
    tangential: ofShift(et),
    axial: ofShift(ez),
    lean: ofTurn(tiltByTurn(error, inBlade(et))),
    sweep: ofTurn(tiltByTurn(error, inBlade(a))),
    stagger: ofTurn(staggerByTurn(error)),
  };
}

/** Rows of ∂δ/∂(t, ρ) of the displacement δ = E·p − p of a check point p: 3 × 6. */
export function displacementJacobian(error: RigidMotion, at: Vec3): readonly ErrorGradient[] {
  const arm = apply(error.rotation, at);
  const j = leftJacobian(rotationVector(error.rotation));
  // ω × arm along axis k is ω·(arm × e_k).
  return (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis) => [...axis, ...applyTransposed(j, cross(arm, axis))]);
}

/** Derivative by ω of atan2(u'·d, u'·u), u' the turned stacking axis, d square to it; blade axes. */
function tiltByTurn({ rotation: r }: RigidMotion, d: Vec3): Vec3 {
  const stacking: Vec3 = [r[0][2], r[1][2], r[2][2]];
  const across = dot(stacking, d);
  const along = stacking[2];
  const square = across * across + along * along;
  // d(u'·d) = ω·(u' × d), d(u'·u) = ω·(u' × u).
  return combine(along / square, cross(stacking, d), -across / square, cross(stacking, [0, 0, 1]));
}

/** Derivative by ω of −2·atan2(q_z, q_w), q the quaternion of the turn; dq = ½·(0, ω)·q. */
function staggerByTurn({ rotation }: RigidMotion): Vec3 {
  const [w, x, y, z] = quaternionFromRotation(rotation);
  const square = w * w + z * z;
  // dq_w = −½ ω·(x, y, z); dq_z = ½ (w·ω_z + ω_x·y − ω_y·x).
  return [-(w * y + z * x) / square, -(-w * x + z * y) / square, -(w * w + z * z) / square];
}
