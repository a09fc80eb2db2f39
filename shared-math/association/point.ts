/** The point of least squares of repeated measurements: their weighted centroid. */
import { cloudOf } from './cloud.ts';
import { cofactorOf, refuseOffsets, substitute } from './substitute.ts';
import type { AssociationInput, SubstituteFeature } from './types.ts';

/**
 * The weighted centroid of the points. Residuals are distances from it; three components each, so
 * degreesOfFreedom = 3n − 3. Parameters of `cofactor`: `x`, `y`, `z` (mm).
 * @param input at least 1 point; no offsets
 * @throws ReductionError `too-few-points`, `not-finite`, `missing-normals` (offsets), `invalid-argument`
 */
export function associatePoint(input: AssociationInput): SubstituteFeature {
  refuseOffsets(input, 'point');
  const cloud = cloudOf(input, 1, 'point');
  const root = Math.sqrt(cloud.totalWeight);
  return substitute(
    { type: 'point', point: cloud.centroid, direction: null, radius: null, halfAngle: null },
    input,
    {
      parameters: ['x', 'y', 'z'],
      ...cofactorOf(
        [
          [root, 0, 0],
          [0, root, 0],
          [0, 0, root],
        ],
        [1, 1, 1],
      ),
      iterations: 0,
      stopReason: 'closed-form',
    },
    3,
  );
}
