/**
 * Rigid motions x ↦ R·x + t (elements of SE(3)), active. compose(a, b) applies b first, like the matrix product.
 *
 * A twist of six numbers is [ρ, v]: rotation vector ρ (rad) first, then v (mm), with
 * exp([ρ, v]) = (exp ρ, V(ρ)·v), V(ρ) = I + (1 − cos θ)/θ²·[ρ]× + (θ − sin θ)/θ³·[ρ]×².
 * Source: Lynch & Park, Modern Robotics (2017), ch. 3.
 */
import { apply, applyTransposed, IDENTITY_MATRIX, multiply, transpose } from './matrix.ts';
import { rotationAbout, rotationFromVector, rotationVector, sinc } from './rotation.ts';
import type { RigidMotion, Vec3 } from './types.ts';
import { add, addScaled, cross, negate, norm, subtract } from './vector.ts';

export interface Twist {
  /** Rotation vector ρ, rad. */
  readonly rotation: Vec3;
  /** The translation part v, mm; equal to the translation only where ρ is zero. */
  readonly translation: Vec3;
}

export const IDENTITY_MOTION: RigidMotion = { rotation: IDENTITY_MATRIX, translation: [0, 0, 0] };

/** The product a ∘ b: b acts first, then a. */
export function compose(a: RigidMotion, b: RigidMotion): RigidMotion {
  return { rotation: multiply(a.rotation, b.rotation), translation: applyToPoint(a, b.translation) };
}

/** The inverse motion x ↦ Rᵀ·(x − t). */
export function inverse(motion: RigidMotion): RigidMotion {
  return {
    rotation: transpose(motion.rotation),
    translation: negate(applyTransposed(motion.rotation, motion.translation)),
  };
}

/** R·x + t. */
export function applyToPoint(motion: RigidMotion, point: Vec3): Vec3 {
  return add(apply(motion.rotation, point), motion.translation);
}

/** R·d: directions do not see the translation. */
export function applyToDirection(motion: RigidMotion, direction: Vec3): Vec3 {
  return apply(motion.rotation, direction);
}

/** R·x + t for interleaved points (length 3n), as a new array. */
export function applyToPoints(motion: RigidMotion, xyz: Float64Array): Float64Array {
  return transformInterleaved(motion.rotation, motion.translation, xyz);
}

/** R·d for interleaved directions (length 3n), as a new array. */
export function applyToDirections(motion: RigidMotion, ijk: Float64Array): Float64Array {
  return transformInterleaved(motion.rotation, [0, 0, 0], ijk);
}

function transformInterleaved(r: RigidMotion['rotation'], t: Vec3, xyz: Float64Array): Float64Array {
  const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = r;
  const [tx, ty, tz] = t;
  const moved = new Float64Array(xyz.length);
  for (let i = 0; i + 2 < xyz.length; i += 3) {
    const x = xyz[i]!;
    const y = xyz[i + 1]!;
    const z = xyz[i + 2]!;
    moved[i] = xx * x + xy * y + xz * z + tx;
    moved[i + 1] = yx * x + yy * y + yz * z + ty;
    moved[i + 2] = zx * x + zy * y + zz * z + tz;
  }
  return moved;
}

/** Exponential of se(3): the motion of a twist. */
export function motionFromTwist(twist: Twist): RigidMotion {
  const { rotation: rho, translation: v } = twist;
  const angle = norm(rho);
  const half = sinc(angle / 2);
  const once = cross(rho, v);
  const twice = cross(rho, once);
  const translation = addScaled(addScaled(v, once, 0.5 * half * half), twice, cubicFactor(angle));
  return { rotation: rotationFromVector(rho), translation };
}

/** Logarithm on SE(3): the twist of a motion, |ρ| ≤ π. Accurate for tiny angles and near π. */
export function twistOfMotion(motion: RigidMotion): Twist {
  const rho = rotationVector(motion.rotation);
  const t = motion.translation;
  const once = cross(rho, t);
  const twice = cross(rho, once);
  return { rotation: rho, translation: addScaled(addScaled(t, once, -0.5), twice, inverseFactor(norm(rho))) };
}

/** Difference of two motions as the motion that carries `from` onto `to`, seen in the frame of `from`: from⁻¹ ∘ to. */
export function relativeMotion(from: RigidMotion, to: RigidMotion): RigidMotion {
  return {
    rotation: multiply(transpose(from.rotation), to.rotation),
    translation: applyTransposed(from.rotation, subtract(to.translation, from.translation)),
  };
}

/** (θ − sin θ)/θ³. */
function cubicFactor(angle: number): number {
  const s = angle * angle;
  // Below 0.5 the series to θ¹⁰ is good to 1e-16; above it the quotient loses less than two digits.
  if (angle < 0.5) {
    return (
      1 / 6 - (s / 120) * (1 - (s / 42) * (1 - (s / 72) * (1 - (s / 110) * (1 - (s / 156) * (1 - s / 210)))))
    );
  }
  return (angle - Math.sin(angle)) / (angle * s);
}

/** (1 − (θ/2)·cot(θ/2))/θ². */
function inverseFactor(angle: number): number {
  const s = angle * angle;
  // Series of Bernoulli numbers; the first term left out is below 1e-17 for θ < 0.3.
  if (angle < 0.3) {
    return (
      1 / 12 +
      s * (1 / 720 + s * (1 / 30240 + s * (1 / 1209600 + s * (1 / 47900160 + s * (691 / 1307674368000)))))
    );
  }
  const half = angle / 2;
  return (1 - (half * Math.cos(half)) / Math.sin(half)) / s;
}

/** The motion that turns by `angle` (rad, right-hand) about the line through `centre` along the unit vector `axis`. */
export function rotationAboutLine(centre: Vec3, axis: Vec3, angle: number): RigidMotion {
  const rotation = rotationAbout(axis, angle);
  return { rotation, translation: subtract(centre, apply(rotation, centre)) };
}
