/**
 * What would settle an unproven value: the uncertainty needed, or the number of points.
 *
 * Assumes that a new measurement gives the same value. The own part of the uncertainty (probing and form on this blade) falls
 * as 1/√n with the number of points n, as long as form error does not go along the surface; the shared part (hub frame, scale,
 * temperature) stays.
 */
import type { Verdict } from '../result.ts';

export interface UnprovenValue {
  /** Verdict if the shared part of the standard uncertainty were multiplied by the first, the own part by the second factor. */
  readonly verdictAt: (shared: number, own: number) => Verdict;
  /** Present standard uncertainty of the value, in `unit`. */
  readonly standardUncertainty: number;
  readonly unit: 'mm' | 'rad';
}

export interface Settlement {
  /** What a small enough uncertainty would prove; null where the value lies at its limit. */
  readonly towards: 'conforming' | 'nonconforming' | null;
  /** Largest standard uncertainty that proves it, shared and own part reduced alike; null where none does. */
  readonly standardUncertainty: number | null;
  /** By how much the points on this blade must grow in number; null where more points cannot settle it. */
  readonly pointsFactor: number | null;
  /** The standard uncertainty now. */
  readonly present: number;
}

/** Of a value about which nothing is to be settled. */
export const NOTHING_TO_SETTLE = { settle: null, settlement: null } as const;

/** Uncertainties below this share of the present one are out of reach: the value then lies at its limit. */
const SMALLEST_FACTOR = 1e-3;
/** A hundred times as many points: more is no practical advice. */
const SMALLEST_OWN_FACTOR = 0.1;
/** Halvings of the logarithmic bracket, to a relative 1e-3 or better. */
const HALVINGS = 14;

/** See the head of this file. The value is taken to be unproven now. */
export function whatWouldSettle({
  verdictAt,
  standardUncertainty,
  unit,
}: UnprovenValue): Settlement & { readonly words: string } {
  const towards = verdictAt(SMALLEST_FACTOR, SMALLEST_FACTOR);
  if (towards === 'unproven')
    return {
      towards: null,
      standardUncertainty: null,
      pointsFactor: null,
      present: standardUncertainty,
      words: 'The value lies at its limit: no smaller uncertainty would settle it.',
    };
  const needed = standardUncertainty * largestFactor(SMALLEST_FACTOR, (f) => verdictAt(f, f) !== 'unproven');
  const more = verdictAt(1, SMALLEST_OWN_FACTOR) !== 'unproven';
  const pointsFactor = more
    ? 1 / largestFactor(SMALLEST_OWN_FACTOR, (f) => verdictAt(1, f) !== 'unproven') ** 2
    : null;
  const proof = towards === 'conforming' ? 'Conformity' : 'Non-conformity';
  const points =
    pointsFactor === null
      ? 'more points on this blade cannot settle it, its hub frame, scale or temperature would have to be known better'
      : `about ${roundedUp(pointsFactor)} times as many points on this blade would do`;
  return {
    towards,
    standardUncertainty: needed,
    pointsFactor,
    present: standardUncertainty,
    words: `${proof} would be proven at the same value with a standard uncertainty of ${inWords(needed, unit)} instead of ${inWords(standardUncertainty, unit)}; ${points}.`,
  };
}

/** The largest factor in [smallest, 1] that settles, to within 0.1 %; `settles` holds at the smallest. */
function largestFactor(smallest: number, settles: (factor: number) => boolean): number {
  let low = Math.log(smallest);
  let high = 0;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = 0.5 * (low + high);
    if (settles(Math.exp(middle))) low = middle;
    else high = middle;
  }
  return Math.exp(low);
}

/** A factor of points as it is said: never fewer than are needed. */
export function roundedUp(factor: number): number {
  return factor < 10 ? Math.ceil(factor * 10) / 10 : Math.ceil(factor);
}

const ARCSECONDS = (180 * 3600) / Math.PI;

function inWords(uncertainty: number, unit: 'mm' | 'rad'): string {
  return unit === 'mm'
    ? `${Number((1000 * uncertainty).toPrecision(2))} µm`
    : `${Number((ARCSECONDS * uncertainty).toPrecision(2))}″`;
}
