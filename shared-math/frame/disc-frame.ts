/**
 * The disc frame from the hub datums.
 *
 * Where the points are not yet at 20 °C, a first frame gives the point about which every feature is scaled, and the
 * frame is then built again from the scaled points until that point stands still, so that hub features away from the
 * origin are scaled like the rest.
 */
import type { AssociationInput } from '../association/types.ts';
import type { Datum, PartDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { distance } from '../geometry/vector.ts';
import type { PointBlock } from '../points.ts';
import { type AssociatedFeature, associateDatum } from './associate-datum.ts';
import { DISC_AXES } from './axis-names.ts';
import { datumInputs } from './datum-points.ts';
import { buildDatumFrame, type DatumFrame } from './datum-system.ts';
import { associatePattern } from './pattern-fit.ts';
import type { PointIndex } from './point-index.ts';
import { atReferenceTemperature } from './temperature.ts';

/** The centre moves by the expansion (1e-4) of what it moved before, so three rounds settle it below 1e-12 of a metre. */
const MOST_ROUNDS = 4;
const SETTLED_CENTRE = 1e-10;

export interface DiscFrame extends DatumFrame<AssociatedFeature> {
  /** Blocks of each datum as they were associated (20 °C), machine coordinates. */
  readonly blocks: readonly (readonly PointBlock[])[];
  /** What each datum was associated from, in order of the datums. */
  readonly inputs: readonly (readonly AssociationInput[])[];
  /** The point, machine coordinates, about which every feature is scaled to 20 °C. */
  readonly scalingCentre: Vec3;
}

/**
 * @param ring the rough alignment: disc to machine coordinates.
 * @returns the motion that carries disc coordinates into machine coordinates, with the associated hub features.
 * @throws ReductionError of the associations and of the datum system, with the hub as their place.
 */
export function buildDiscFrame(points: PointIndex, definition: PartDefinition, ring: RigidMotion): DiscFrame {
  type Built = DatumFrame<AssociatedFeature> & Pick<DiscFrame, 'blocks' | 'inputs'>;
  const build = (prepare: (block: PointBlock) => PointBlock): Built => {
    const blocks = definition.hubDatums.map((datum) => points.blocksOf(null, datum).map(prepare));
    const inputs = new Map<Datum, readonly AssociationInput[]>();
    const inputsOf = (datum: Datum): readonly AssociationInput[] => {
      const made = datumInputs(datum, blocks[definition.hubDatums.indexOf(datum)]!);
      inputs.set(datum, made);
      return made;
    };
    const frame = buildDatumFrame(
      definition.hubDatums,
      (datum, orientation) => associateDatum(datum, inputsOf(datum), orientation),
      ring,
      DISC_AXES,
      (pattern, task) => associatePattern(pattern, inputsOf(pattern), task),
    );
    return { ...frame, blocks, inputs: definition.hubDatums.map((datum) => inputs.get(datum)!) };
  };
  try {
    let frame = build((block) => block);
    let scalingCentre = applyToPoint(frame.motion, [0, 0, 0]);
    const { temperature } = definition;
    if (temperature === null || temperature.applied) return { ...frame, scalingCentre };
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const centre = scalingCentre;
      frame = build((block) => atReferenceTemperature(block, temperature, centre));
      scalingCentre = applyToPoint(frame.motion, [0, 0, 0]);
      if (distance(scalingCentre, centre) < SETTLED_CENTRE) break;
    }
    return { ...frame, scalingCentre };
  } catch (error) {
    if (error instanceof ReductionError) throw error.at({ station: null });
    throw error;
  }
}
