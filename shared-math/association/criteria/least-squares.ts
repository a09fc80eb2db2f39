/** The least-squares association of the types that other criteria exist for. */
import { associateCircle } from '../circle.ts';
import { associateCylinder } from '../cylinder.ts';
import { associateLine } from '../line.ts';
import { associatePlane } from '../plane.ts';
import { associateSphere } from '../sphere.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from '../types.ts';
import type { CriterionFeatureType } from './types.ts';

/**
 * @param radius start of a cylinder's radius, mm, or null
 * @throws ReductionError as the association of the type
 */
export function leastSquaresFeature(
  type: CriterionFeatureType,
  input: AssociationInput,
  orientation: Orientation,
  radius: number | null,
): SubstituteFeature {
  switch (type) {
    case 'plane':
      return associatePlane(input, orientation);
    case 'line':
      return associateLine(input, orientation);
    case 'circle':
      return associateCircle(input, orientation);
    case 'sphere':
      return associateSphere(input);
    case 'cylinder':
      return associateCylinder(input, orientation, { radius });
  }
}
