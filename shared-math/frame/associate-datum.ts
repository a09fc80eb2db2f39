/** Which association serves which datum: by its type, its criterion and its screen. */

import { associateByCriterion, type CriterionFeature } from '../association/criteria/index.ts';
import { leastSquaresFeature } from '../association/criteria/least-squares.ts';
import { associateCone, associateMidplane, associatePoint } from '../association/index.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from '../association/types.ts';
import type { DatumDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { PatternFeature } from './pattern-fit.ts';
import { type FlaggedPoint, pooledInput, screenDatum, withoutExcluded } from './screen-datum.ts';

/** A substitute feature with the points that its screen flagged; `inputs` of the datum still hold them. */
export type AssociatedFeature = (SubstituteFeature | CriterionFeature | PatternFeature) & {
  readonly flagged?: readonly FlaggedPoint[];
};

/**
 * The substitute feature of a datum: all points of its features together, by the datum's criterion. A datum with a
 * screen is screened first, and flagged points are left out where it says so.
 *
 * @param inputs one for each feature name of the datum, as `datumInputs` gives them.
 * @param orientation what earlier datums leave of its direction, same coordinates as the points.
 * @throws ReductionError of the association, with the datum and its features named; `missing-side` where the criterion
 *   needs to know on which side of a round feature the material lies.
 */
export function associateDatum(
  datum: DatumDefinition,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
): AssociatedFeature {
  try {
    const flagged = screenDatum(datum, inputs, orientation);
    const feature = associate(datum, withoutExcluded(inputs, flagged), orientation);
    return flagged.length === 0 ? feature : { ...feature, flagged };
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    throw error.at({ datum: datum.label, feature: datum.features.join(', ') });
  }
}

function associate(
  datum: DatumDefinition,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
): SubstituteFeature | CriterionFeature {
  const input = datum.type === 'midplane' ? inputs[0]! : pooledInput(inputs);
  const { radius, halfAngle } = datum.nominal;
  if (datum.association !== 'gaussian')
    return associateByCriterion(datum.association, datum.type, input, orientation, {
      radius,
      outward: datum.association === 'gaussian-outer' ? outwardOf(datum) : null,
    });
  switch (datum.type) {
    case 'plane':
    case 'line':
    case 'circle':
    case 'sphere':
    case 'cylinder':
      return leastSquaresFeature(datum.type, input, orientation, radius);
    case 'cone':
      return associateCone(input, orientation, { halfAngle: halfAngle!, radius: radius! });
    case 'point':
      return associatePoint(input);
    case 'midplane':
      return associateMidplane(input, inputs[1]!, orientation);
  }
}

/** Sign of the surface's signed distance that points out of the material. */
function outwardOf({ type, label, material, side }: DatumDefinition): 1 | -1 {
  if (type === 'plane') return material === 'negative' ? 1 : -1;
  if (side !== null) return side === 'outside' ? 1 : -1;
  throw ReductionError.of('missing-side', { code: 'outer-side-unknown', values: { datum: label, type } });
}
