/** Checks the datum systems of a part on their nominal features, before any point is read. */
import type { Datum, PartDefinition } from '../definition.ts';
import { IDENTITY_MOTION } from '../geometry/rigid-motion.ts';
import { BLADE_AXES, DISC_AXES } from './axis-names.ts';
import { buildDatumFrame } from './datum-system.ts';
import type { AxisNames } from './freedoms.ts';

/**
 * @throws ReductionError `open-freedom` or `redundant-datum`, naming the freedom or the datum. A best-fit pose takes
 *   all its features at once, so its list has no precedence to check.
 */
export function checkDatumSystems({ hubDatums, bladeDatums, pose }: PartDefinition): void {
  checkDatumSystem(hubDatums, DISC_AXES);
  if (pose === 'datum') checkDatumSystem(bladeDatums, BLADE_AXES);
}

function checkDatumSystem(datums: readonly Datum[], names: AxisNames): void {
  buildDatumFrame(
    datums,
    ({ nominal }) => nominal,
    IDENTITY_MOTION,
    names,
    ({ nominal }) => ({ ...nominal, pose: IDENTITY_MOTION }),
  );
}
