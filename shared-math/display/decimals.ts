/**
 * How many decimals a value, its limit and its probability need so that what is printed agrees with the verdict: a value that
 * exceeds its limit must be seen to exceed it, one that keeps it must not seem to exceed it, and a requirement is not rounded
 * unless it must be. The rule is our own.
 */
import type { DecisionResult } from '../result.ts';
import type { Scale } from './lengths.ts';

/** Decimals beyond the usual ones that a limit or a probability may take to be written as it was stated. */
const FURTHER_DECIMALS = 4;

/** Decimals beyond the usual ones that tell any two numbers apart which are not equal in double precision. */
const FURTHEST_DECIMALS = 16;

/** Of a share: what sums and products of decimal fractions leave behind. */
const ROUNDING = 1e-12;

/** Whether so many decimals hold a number to within what its conversion to another unit may have cost. */
function isWhole(value: number, decimals: number): boolean {
  return Math.abs(Number(value.toFixed(decimals)) - value) <= 1e-9 * Math.abs(value);
}

/**
 * Decimals that write a stated number as it was stated, where at most four beyond the usual ones do.
 *
 * @param value the number in the unit it is written in
 * @param usual decimals that are written at least
 * @returns null where no such number of decimals holds it, as with 0.05 mm in inches
 */
function decimalsThatHold(value: number, usual: number): number | null {
  for (let decimals = usual; decimals <= usual + FURTHER_DECIMALS; decimals++)
    if (isWhole(value, decimals)) return decimals;
  return null;
}

/**
 * Decimals of a limit: all that it has where these are few; otherwise so many that none of the values lies between the limit and
 * what is printed of it.
 *
 * @param limit of a position or of the size of an error, ≥ 0, in mm or rad
 * @param values what is held against it, in the same unit, of either sign; nulls are skipped
 * @param scale of the unit that is printed
 */
export function decimalsOfLimit(
  limit: number,
  values: readonly (number | null)[],
  { factor, decimals: usual }: Scale,
): number {
  const exact = limit * factor;
  const holding = decimalsThatHold(exact, usual);
  if (holding !== null) return holding;
  for (let decimals = usual; decimals <= usual + FURTHEST_DECIMALS; decimals++) {
    const shown = Number(exact.toFixed(decimals));
    const agrees = (value: number | null): boolean =>
      value === null || Math.abs(value) > limit === Math.abs(value * factor) > shown;
    if (values.every(agrees)) return decimals;
  }
  return usual;
}

/**
 * Decimals of a value beside its printed limit: the usual ones, or so many more that it is seen on the side of the limit that it
 * lies on. A value that keeps its limit may be printed equal to it.
 *
 * @param value in mm or rad, of either sign; its size is held against the limit
 * @param limit in the same unit; null where the value has none
 * @param scale of the unit that is printed
 * @param limitDecimals decimals that the limit is printed with, where it is printed for several values at once
 */
export function decimalsAgainst(
  value: number,
  limit: number | null,
  scale: Scale,
  limitDecimals: number = limit === null ? scale.decimals : decimalsOfLimit(limit, [value], scale),
): number {
  const { factor, decimals: usual } = scale;
  if (limit === null) return usual;
  const shown = Number((limit * factor).toFixed(limitDecimals));
  const size = Math.abs(value) * factor;
  const beyond = Math.abs(value) > limit;
  for (let decimals = usual; decimals <= usual + FURTHEST_DECIMALS; decimals++)
    if (Number(size.toFixed(decimals)) > shown === beyond) return decimals;
  return usual;
}

/**
 * Decimals of two values and of their difference that stand beside each other: as many as asked for, or so many more that the
 * difference is printed as nothing where the two are printed alike, and only there.
 *
 * @param before in mm or rad
 * @param after in the same unit; the difference is after − before
 * @param factor of the unit that is printed
 * @param least decimals that are printed at least
 */
export function decimalsOfChange(before: number, after: number, { factor }: Scale, least: number): number {
  for (let decimals = least; decimals <= least + FURTHEST_DECIMALS; decimals++) {
    const [was, is] = [before, after].map((value) => Number((value * factor).toFixed(decimals)));
    if ((was === is) === (Number(((after - before) * factor).toFixed(decimals)) === 0)) return decimals;
  }
  return least;
}

/** From here on the usual decimal would show certainty, which no model of a measurement can claim. */
const NEARLY_CERTAIN = 0.9995;
/** What is printed instead, as a bound; the probability that a rule asks for takes its place where it is higher. */
const USUAL_BOUND = 0.999;

/** A probability as it is printed: per cent with so many decimals, or a bound on it. */
export interface PrintedProbability {
  readonly bound: '>' | '<' | null;
  /** Per cent; the bound where it is one. */
  readonly percent: number;
  readonly decimals: number;
}

/**
 * How a conformance probability is printed: with one decimal, or so many more that it is seen on its side of what the decision
 * rule asks for; as a bound where it is nearly certain or nearly impossible.
 *
 * @param share the probability, 0 … 1
 * @param needed the rule accepts at this probability or more and rejects at one minus it or less; null where it asks for none
 */
export function printedProbability(share: number, needed: number | null): PrintedProbability {
  const strict = needed !== null && needed > USUAL_BOUND;
  const bound = strict ? needed : USUAL_BOUND;
  const boundDecimals = decimalsThatHold(100 * bound, 1) ?? 1 + FURTHER_DECIMALS;
  if (strict ? share > needed : share >= NEARLY_CERTAIN)
    return { bound: '>', percent: 100 * bound, decimals: boundDecimals };
  if (share < 1 - (strict ? needed : NEARLY_CERTAIN))
    return { bound: '<', percent: 100 * (1 - bound), decimals: boundDecimals };
  const side = (probability: number): number => {
    if (needed === null) return 0;
    return probability >= needed - ROUNDING ? 1 : probability <= 1 - needed + ROUNDING ? -1 : 0;
  };
  for (let decimals = 1; decimals <= 1 + FURTHER_DECIMALS; decimals++)
    if (side(Number((100 * share).toFixed(decimals)) / 100) === side(share))
      return { bound: null, percent: 100 * share, decimals };
  return { bound: null, percent: 100 * share, decimals: 1 };
}

/** The probability at which a decision rule accepts, null where it asks for none; what `printedProbability` is told. */
export function neededProbability({
  rule,
  probability,
}: Pick<DecisionResult, 'rule' | 'probability'>): number | null {
  return rule === 'guarded' ? probability : null;
}
