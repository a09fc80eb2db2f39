/** A substitute feature as the result document shows it: moved into the frame that its nominal values are given in. */
import type { Datum } from '../definition.ts';
import { applyToDirection, applyToPoint } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { FeatureReport } from '../result.ts';
import type { AssociatedFeature } from './associate-datum.ts';
import type { Freedom } from './freedoms.ts';

/** @param toFrame carries the coordinates of the association into the frame of the report. */
export function reportFeature(
  datum: Datum,
  feature: AssociatedFeature,
  toFrame: RigidMotion,
  fixes: readonly string[],
  freedoms: readonly Freedom[],
): FeatureReport {
  return {
    label: datum.label,
    feature: datum.features.join(', '),
    type: datum.type,
    points: feature.points,
    rms: feature.rms,
    form: feature.form,
    point: applyToPoint(toFrame, feature.point),
    direction: feature.direction === null ? null : applyToDirection(toFrame, feature.direction),
    radius: feature.radius,
    halfAngle: feature.halfAngle,
    degreesOfFreedom: feature.degreesOfFreedom,
    conditionNumber: feature.conditionNumber,
    iterations: feature.iterations,
    fixes,
    freedoms,
  };
}
