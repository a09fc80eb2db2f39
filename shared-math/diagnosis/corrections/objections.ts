/** Why a correction is not recommended: the one rule of report, window and command line. */
import type { StationResult } from '../../result.ts';
import { conformingAfter } from './conforming-after.ts';
import type { Correction, NextDisc } from './correction.ts';

/**
 * `fewer`: fewer stations would conform than now. `simpler`: one of its kinds of setting alone does as well on the next disc.
 * `noise`: its gain is mostly fitted to the scatter of this disc.
 */
export type Objection = 'fewer' | 'simpler' | 'noise';

/** What `objectionsTo` reads of a correction. */
export type Proposed = Pick<
  Correction,
  'kind' | 'conforming' | 'predicted' | 'before' | 'after' | 'noiseGain' | 'next' | 'chasesNoise'
>;

/**
 * What speaks against a correction; none: it is recommended.
 *
 * @param corrections of the disc, or those of single kinds alone.
 * @param stations all measured stations of the disc.
 */
export function objectionsTo(
  correction: Proposed,
  corrections: readonly Correction[],
  stations: readonly StationResult[],
): readonly Objection[] {
  const now = stations.filter(({ verdict }) => verdict === 'conforming').length;
  const fewer = conformingAfter(correction, stations) < now;
  return [...(fewer ? (['fewer'] as const) : []), ...noiseIn(correction, corrections)];
}

function noiseIn(correction: Proposed, corrections: readonly Correction[]): readonly Objection[] {
  const { kind, before, after, noiseGain, next, chasesNoise } = correction;
  if (!chasesNoise) return [];
  const parts = kind === 'all' ? corrections.filter((other) => other.kind !== 'all') : [];
  const inScatter = noiseGain !== null && before - after <= noiseGain;
  return !inScatter && surpassedBy(next, parts) !== null ? ['simpler'] : ['noise'];
}

/**
 * The simpler correction that leaves no more on the next disc, if any.
 *
 * @param parts corrections of single kinds of setting.
 */
export function surpassedBy(next: NextDisc | null, parts: readonly Correction[]): Correction | null {
  if (next === null) return null;
  const best = parts.reduce<Correction | null>(
    (a, b) =>
      b.next !== null && b.next.corrected.expected < (a?.next?.corrected.expected ?? Infinity) ? b : a,
    null,
  );
  return best?.next && best.next.corrected.expected <= next.corrected.expected ? best : null;
}
