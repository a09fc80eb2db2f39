/**
 * Derivatives of the exponential map of rotations.
 *
 * exp(ρ + dρ) = exp(J(ρ)·dρ)·exp(ρ) to first order: J, the left Jacobian, turns a change of the rotation vector into the small
 * turn that it makes. J = I + (1 − cos θ)/θ²·[ρ]× + (θ − sin θ)/θ³·[ρ]×²,
 * J⁻¹ = I − ½·[ρ]× + (1/θ² − (1 + cos θ)/(2θ·sin θ))·[ρ]×², θ = |ρ| < π (rad).
 *
 * Source: Lynch & Park, Modern Robotics (2017), ch. 3.
 */
import { multiply, skew } from './matrix.ts';
import type { Mat3, Vec3 } from './types.ts';
import { norm } from './vector.ts';

/** Below this angle the series serve: their next terms are then under 1e-17, while the closed forms would cancel. */
const SMALL_ANGLE = 1e-4;

/** J(ρ). */
export function leftJacobian(rho: Vec3): Mat3 {
  const angle = norm(rho);
  const small = angle < SMALL_ANGLE;
  return secondOrder(
    rho,
    small ? 1 / 2 - angle ** 2 / 24 : (1 - Math.cos(angle)) / angle ** 2,
    small ? 1 / 6 - angle ** 2 / 120 : (angle - Math.sin(angle)) / angle ** 3,
  );
}

/** J(ρ)⁻¹. */
export function inverseLeftJacobian(rho: Vec3): Mat3 {
  const angle = norm(rho);
  const second =
    angle < SMALL_ANGLE
      ? 1 / 12 + (angle * angle) / 720
      : 1 / angle ** 2 - (1 + Math.cos(angle)) / (2 * angle * Math.sin(angle));
  return secondOrder(rho, -1 / 2, second);
}

/** I + first·[ρ]× + second·[ρ]×². */
function secondOrder(rho: Vec3, first: number, second: number): Mat3 {
  const s = skew(rho);
  const s2 = multiply(s, s);
  const row = (i: 0 | 1 | 2): Vec3 => {
    const of = (k: 0 | 1 | 2): number => (i === k ? 1 : 0) + first * s[i][k] + second * s2[i][k];
    return [of(0), of(1), of(2)];
  };
  return [row(0), row(1), row(2)];
}
