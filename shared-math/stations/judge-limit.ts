/** One error against its limit. */
import type { DecisionDefinition, LimitName } from '../definition.ts';
import type { LimitResult } from '../result.ts';
import { standardUncertainty } from '../uncertainty/covariance-terms.ts';
import { decide, intervalProbability } from '../uncertainty/decision.ts';
import type { ErrorGradient } from '../uncertainty/error-derivatives.ts';
import { NOTHING_TO_SETTLE, whatWouldSettle } from '../uncertainty/what-would-settle.ts';
import { coverageFactor, type Known, limited, scaled, withoutUncertainty } from './known-uncertainty.ts';

/**
 * @param value null where the pose does not observe it.
 * @param gradient of the value with respect to the six errors.
 */
export function judgeLimit(
  name: LimitName,
  value: number | null,
  limit: number,
  gradient: ErrorGradient,
  known: Known | null,
  decision: DecisionDefinition,
): LimitResult {
  const nothing = { expanded: null, probability: null, degreesOfFreedom: null, ...NOTHING_TO_SETTLE };
  if (value === null) return { name, value, limit, ...nothing, verdict: 'unproven' };
  if (known === null)
    return { name, value, limit, ...nothing, verdict: withoutUncertainty(value, limit, decision) };
  const judged = (by: Known): Omit<LimitResult, 'settle' | 'settlement'> => {
    const { standard, degreesOfFreedom } = standardUncertainty(by.contributions, gradient);
    const expanded = coverageFactor(by.coverage, degreesOfFreedom) * standard;
    const probability = intervalProbability(-limit, limit, value, standard, degreesOfFreedom);
    return {
      name,
      value,
      limit,
      expanded,
      probability,
      degreesOfFreedom: limited(degreesOfFreedom),
      verdict: decide(decision, { value, limit, probability, expanded }),
    };
  };
  const result = judged(known);
  if (result.verdict !== 'unproven') return { ...result, ...NOTHING_TO_SETTLE };
  const { words, ...settlement } = whatWouldSettle({
    verdictAt: (shared, own) => judged(scaled(known, shared, own)).verdict,
    standardUncertainty: standardUncertainty(known.contributions, gradient).standard,
    unit: name.startsWith('rot') || name === 'lean' || name === 'sweep' || name === 'stagger' ? 'rad' : 'mm',
  });
  return { ...result, settle: words, settlement };
}
