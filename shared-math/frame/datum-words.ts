/** What a datum fixed, and the refusals of datum systems. */
import type { Datum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { Vec3 } from '../geometry/types.ts';
import { norm, normalize, rejectFrom } from '../geometry/vector.ts';
import type { FrameState } from './frame-state.ts';
import {
  type Freedom,
  freeTranslations,
  namedDirection,
  namedTranslations,
  STRUCTURAL_SINE,
} from './freedoms.ts';

/** The freedoms that were open before and are fixed after. */
export function fixedFreedoms(before: FrameState, after: FrameState): Freedom[] {
  const stillFree = freeTranslations(after.equations);
  const taken = freeTranslations(before.equations).length - stillFree.length;
  const fixed = taken === 0 ? [] : namedTranslations(takenTranslations(before, after), after.motion.rotation);
  if (before.rotation.kind === 'free' && after.rotation.kind === 'axis')
    fixed.push({ kind: 'tilt', along: [namedDirection(after.rotation.nominal)] });
  if (before.rotation.kind === 'free' && after.rotation.kind === 'fixed') fixed.push({ kind: 'rotations' });
  if (before.rotation.kind === 'axis' && after.rotation.kind === 'fixed')
    fixed.push({ kind: 'rotation', along: [namedDirection(before.rotation.nominal)] });
  return fixed;
}

/** Orthonormal basis of the translations that were free before and are fixed after. */
function takenTranslations(before: FrameState, after: FrameState): readonly Vec3[] {
  const stillFree = freeTranslations(after.equations);
  const basis: Vec3[] = [];
  for (const free of freeTranslations(before.equations)) {
    const rest = [...stillFree, ...basis].reduce((v, f) => rejectFrom(v, f), free);
    if (norm(rest) > STRUCTURAL_SINE) basis.push(normalize(rest));
  }
  return basis;
}

/** Refusal of a datum that adds nothing. */
export function redundant(datum: Datum): ReductionError {
  return new ReductionError(
    'redundant-datum',
    `Datum ${datum.label} (${datum.features.join(', ')}) fixes no freedom that the datums before it have left.`,
    'Remove it from the list, change its place in the order, or correct its nominal direction or point.',
    { datum: datum.label, feature: datum.features.join(', ') },
  );
}

/** Refusal of datums that leave something open. @param open the freedoms, in words. */
export function openFreedom(datums: readonly Datum[], open: readonly string[]): ReductionError {
  const letters = datums.map((d) => d.label).join(', ');
  const isClocking = open.length === 1 && open[0]!.startsWith('rotation about');
  return new ReductionError(
    'open-freedom',
    `The datum system ${letters} leaves open: ${open.join('; ')}.`,
    isClocking ? `Add a clocking datum that fixes the ${open[0]}.` : 'Add a datum that fixes what is open.',
  );
}
