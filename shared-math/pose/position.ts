/**
 * Position of a check point in its zone.
 *
 * Sources: ISO 1101 (zones of position), ASME Y14.5.1 (position as the size of the smallest zone that holds the feature).
 */
import type { CheckPoint } from '../definition.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { dot, norm, subtract } from '../geometry/vector.ts';

/** δ = E·p − p of a check point p (nominal blade frame, mm). */
export function displacement(error: RigidMotion, at: Vec3): Vec3 {
  return subtract(applyToPoint(error, at), at);
}

/**
 * Full size (mm) of the smallest zone, centred on nominal, that holds the displaced point: `cylindrical` about the
 * stacking axis 2·√(δ_o² + δ_l²), `spherical` 2·|δ|, `planar` 2·|δ·n|.
 */
export function positionValue(
  delta: Vec3,
  { zone, direction }: Pick<CheckPoint, 'zone' | 'direction'>,
): number {
  switch (zone) {
    case 'cylindrical':
      return 2 * Math.hypot(delta[0], delta[1]);
    case 'spherical':
      return 2 * norm(delta);
    case 'planar':
      return 2 * Math.abs(dot(delta, direction!));
  }
}
