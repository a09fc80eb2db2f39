/** Which association serves which type of datum. */
import {
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associateMidplane,
  associatePlane,
  associatePoint,
  associateSphere,
} from '../association/index.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from '../association/types.ts';
import type { DatumDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';

/**
 * The least-squares substitute feature of a datum.
 *
 * @param inputs one for each feature name of the datum, as `datumInputs` gives them.
 * @param orientation what earlier datums leave of its direction, same coordinates as the points.
 * @throws ReductionError of the association, with the datum and its features named.
 */
export function associateDatum(
  datum: DatumDefinition,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
): SubstituteFeature {
  try {
    return associate(datum, inputs, orientation);
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    throw error.at({ datum: datum.label, feature: datum.features.join(', ') });
  }
}

function associate(
  datum: DatumDefinition,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
): SubstituteFeature {
  const input = inputs[0]!;
  const { radius, halfAngle } = datum.nominal;
  switch (datum.type) {
    case 'plane':
      return associatePlane(input, orientation);
    case 'line':
      return associateLine(input, orientation);
    case 'circle':
      return associateCircle(input, orientation);
    case 'sphere':
      return associateSphere(input);
    case 'cylinder':
      return associateCylinder(input, orientation, radius === null ? {} : { radius });
    case 'cone':
      return associateCone(input, orientation, { halfAngle: halfAngle!, radius: radius! });
    case 'point':
      return associatePoint(input);
    case 'midplane':
      return associateMidplane(input, inputs[1]!, orientation);
  }
}
