/**
 * The measured pose of a blade as its error motion E = N⁻¹·M, by precedence of datums or by best fit.
 */

import { fitBody } from '../alignment/fit-body.ts';
import type { AssociationInput } from '../association/types.ts';
import type { Datum } from '../definition.ts';
import { type AssociatedFeature, associateDatum } from '../frame/associate-datum.ts';
import { BLADE_AXES } from '../frame/axis-names.ts';
import { datumInputs } from '../frame/datum-points.ts';
import { buildDatumFrame, type DatumStep } from '../frame/datum-system.ts';
import type { Freedom } from '../frame/freedoms.ts';
import { associatePattern, freeTask, targetsOf } from '../frame/pattern-fit.ts';
import { withoutExcluded } from '../frame/screen-datum.ts';
import { applyToDirections, applyToPoints, IDENTITY_MOTION } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { PointBlock } from '../points.ts';

export interface BladePose {
  /** E: carries the nominal blade onto the measured one, in nominal blade coordinates. */
  readonly error: RigidMotion;
  /** Associated features in nominal blade coordinates, in order of the datums. */
  readonly features: readonly AssociatedFeature[];
  readonly fixes: readonly (readonly string[])[];
  readonly freedoms: readonly (readonly Freedom[])[];
  /** Small motions that the pose cannot observe (best fit only). */
  readonly freeMotions: readonly RigidMotion[];
  /** How each datum fixed the pose; empty for a best fit. */
  readonly steps: readonly DatumStep[];
  /** The points of each datum, in order of the datums; those that a screen left out are still among them. */
  readonly inputs: readonly (readonly AssociationInput[])[];
  /** Residual scatter of the best fit as a whole; null for a pose by datums. */
  readonly fit: { readonly sumOfSquares: number; readonly degreesOfFreedom: number } | null;
}

/** The block with its points and normals carried by a motion. */
export function moveBlock(block: PointBlock, motion: RigidMotion): PointBlock {
  return {
    ...block,
    xyz: applyToPoints(motion, block.xyz),
    normals: block.normals === null ? null : applyToDirections(motion, block.normals),
  };
}

/**
 * Pose by precedence, as the drawing's datum list asks.
 *
 * @param blocksOf the blocks of a datum in nominal blade coordinates (mm).
 * @throws ReductionError of the associations and of the datum system.
 */
export function poseByDatums(
  datums: readonly Datum[],
  blocksOf: (datum: Datum) => readonly PointBlock[],
): BladePose {
  const inputs = new Map<Datum, readonly AssociationInput[]>(
    datums.map((datum) => [datum, datumInputs(datum, blocksOf(datum))]),
  );
  const frame = buildDatumFrame(
    datums,
    (datum, orientation) => associateDatum(datum, inputs.get(datum)!, orientation),
    IDENTITY_MOTION,
    BLADE_AXES,
    (pattern, task) => associatePattern(pattern, inputs.get(pattern)!, task),
  );
  return {
    error: frame.motion,
    features: frame.features,
    fixes: frame.fixes,
    freedoms: frame.freedoms,
    freeMotions: [],
    steps: frame.steps,
    inputs: [...inputs.values()],
    fit: null,
  };
}

/**
 * Pose by the best fit of all points to their nominal features at once. The features are associated as well, without
 * constraints, for their form and size and for the screen of their points.
 *
 * @param blocksOf the blocks of a datum in nominal blade coordinates (mm).
 * @throws ReductionError of the associations and of the fit.
 */
export function poseByBestFit(
  datums: readonly Datum[],
  blocksOf: (datum: Datum) => readonly PointBlock[],
): BladePose {
  const inputs = datums.map((datum) => datumInputs(datum, blocksOf(datum)));
  const features = datums.map(
    (datum, i): AssociatedFeature =>
      datum.type === 'pattern'
        ? associatePattern(datum, inputs[i]!, freeTask(datum, IDENTITY_MOTION))
        : associateDatum(datum, inputs[i]!, { kind: 'free', start: datum.nominal.direction }),
  );
  const targets = datums.flatMap((datum, i) =>
    targetsOf(datum, withoutExcluded(inputs[i]!, features[i]!.flagged)),
  );
  const fit = fitBody(targets, IDENTITY_MOTION);
  return {
    error: fit.motion,
    features,
    fixes: datums.map(() => []),
    freedoms: datums.map(() => []),
    freeMotions: fit.freeMotions,
    steps: [],
    inputs,
    fit: { sumOfSquares: fit.sumOfSquares, degreesOfFreedom: fit.degreesOfFreedom },
  };
}
