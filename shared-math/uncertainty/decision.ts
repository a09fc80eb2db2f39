/**
 * Decision rules: from a value, its uncertainty and a limit to a verdict, and what the verdict risks.
 *
 * - `simple`: conforming while |value| ≤ limit (JCGM 106:2012, 8.2, simple acceptance).
 * - `guarded` by probability p: conforming if P(|true value| ≤ limit) ≥ p, nonconforming if P(|true value| > limit) ≥ p and the
 *   value itself exceeds the limit, else unproven (JCGM 106:2012, 7 and 8.3; ISO 14253-1:2017, where p is 95 % unless agreed otherwise).
 * - `guarded` by factor r: guard band g = r·U. Conforming if |value| ≤ limit − g, the acceptance limit; nonconforming if
 *   |value| ≥ limit + g; else unproven (JCGM 106:2012, 8.3.2: g = r·U; ISO 14253-1:2017: proof of conformity within, of
 *   non-conformity beyond the limit). U is the `expanded` of the result: for errors the half-width of the two-sided coverage
 *   interval, for position the one-sided upper quantile minus the value.
 */
import type { DecisionDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { Verdict } from '../result.ts';
import { normalCdf, normalQuantile, studentTCdf } from './distributions.ts';

export interface MeasuredAgainstLimit {
  /** Measured value; its modulus is held against the limit. */
  readonly value: number;
  /** Limit on the modulus, ≥ 0, in the unit of the value. */
  readonly limit: number;
  /** P(|true value| ≤ limit). */
  readonly probability: number;
  /** U, see above. */
  readonly expanded: number;
}

/** Verdict of the rule. */
export function decide(rule: DecisionDefinition, measured: MeasuredAgainstLimit): Verdict {
  const { value, limit, probability, expanded } = measured;
  if (rule.rule === 'simple') return Math.abs(value) <= limit ? 'conforming' : 'nonconforming';
  if ('probability' in rule)
    return withinReason(decideByProbability(probability, rule.probability), Math.abs(value) > limit);
  const guard = rule.factor * Math.max(0, expanded);
  if (Math.abs(value) <= limit - guard) return 'conforming';
  return Math.abs(value) >= limit + guard ? 'nonconforming' : 'unproven';
}

/**
 * A value inside its limit proves no non-conformity, however poor the measurement: where the uncertainty exceeds the zone,
 * the true value lies outside with any probability that is asked for, and only a better measurement can tell.
 */
export function withinReason(verdict: Verdict, exceeds: boolean): Verdict {
  return verdict === 'nonconforming' && !exceeds ? 'unproven' : verdict;
}

/**
 * Verdict from the probability of conformance alone.
 *
 * @param required p, above ½: otherwise both verdicts could hold at once.
 * @throws ReductionError `invalid-argument` otherwise.
 */
export function decideByProbability(probability: number, required: number): Verdict {
  if (!(required > 0.5 && required < 1))
    throw new ReductionError(
      'invalid-argument',
      `A conformance probability of ${required} cannot be asked for.`,
      'State a probability between 0.5 and 1, for example 0.95.',
    );
  if (probability >= required) return 'conforming';
  return 1 - probability >= required ? 'nonconforming' : 'unproven';
}

/**
 * P(lower ≤ X ≤ upper) for X = value + u·T, T normal or Student's t. One of the bounds may be infinite.
 *
 * @param standardUncertainty u ≥ 0; at 0 the value itself is compared.
 * @param degreesOfFreedom ν of u, default ∞.
 */
export function intervalProbability(
  lower: number,
  upper: number,
  value: number,
  standardUncertainty: number,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
): number {
  if (!(standardUncertainty >= 0) || !Number.isFinite(value) || !(lower <= upper))
    throw new ReductionError(
      'invalid-argument',
      `No probability for ${value} with the standard uncertainty ${standardUncertainty} between ${lower} and ${upper}.`,
    );
  if (standardUncertainty === 0) return lower <= value && value <= upper ? 1 : 0;
  const a = (lower - value) / standardUncertainty;
  const b = (upper - value) / standardUncertainty;
  // On the side of the tails that do not cancel.
  return a > 0
    ? studentTCdf(-a, degreesOfFreedom) - studentTCdf(-b, degreesOfFreedom)
    : studentTCdf(b, degreesOfFreedom) - studentTCdf(a, degreesOfFreedom);
}

/**
 * What producer and consumer risk under a rule, for a report.
 *
 * @param coverage of the expanded uncertainty, two-sided for errors and one-sided for position.
 */
export function ruleRisk(rule: DecisionDefinition, coverage: number): string {
  if (rule.rule === 'simple')
    return 'Value against limit, uncertainty not taken into account. The closer an accepted value lies to the limit, the closer the consumer’s risk comes to one half; the same holds for the producer’s risk and a rejected value.';
  if ('probability' in rule) {
    const most = percent(1 - rule.probability);
    return `Accepted where conformity is proven at ${percent(rule.probability)}: of no accepted item is the consumer’s risk above ${most}. Rejected where non-conformity is proven at ${percent(rule.probability)}: of no rejected item is the producer’s risk above ${most}. Otherwise nothing is proven.`;
  }
  const error = percent(normalCdf(-rule.factor * normalQuantile((1 + coverage) / 2)));
  const position = percent(normalCdf(-rule.factor * normalQuantile(coverage)));
  return `Accepted where the value lies ${rule.factor} expanded uncertainties or more within the limit, rejected where it lies as far beyond. At these bounds the consumer’s or producer’s risk is about ${error} for errors and ${position} for position (for uncertainties small against the limit). Otherwise nothing is proven.`;
}

/** A probability in words, without ever showing a small risk as none. */
function percent(probability: number): string {
  const value = 100 * probability;
  if (value > 0 && value < 0.01) return 'less than 0.01 %';
  if (value < 100 && value > 99.99) return 'more than 99.99 %';
  return `${Number(value.toPrecision(value > 99 ? 4 : 2))} %`;
}
