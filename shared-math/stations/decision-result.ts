/** The decision rule of a report in words, and warnings about uncertainty that could not be evaluated as asked. */
import type { PartDefinition } from '../definition.ts';
import type { DecisionResult, StationResult } from '../result.ts';
import { ruleRisk } from '../uncertainty/decision.ts';

export function decisionResult({ decision, uncertainty }: PartDefinition): DecisionResult {
  const { coverage } = uncertainty;
  return {
    rule: decision.rule,
    probability: 'probability' in decision ? decision.probability : null,
    factor: 'factor' in decision ? decision.factor : null,
    coverage,
    risk: ruleRisk(decision, coverage),
  };
}

export function uncertaintyWarnings(
  stations: readonly StationResult[],
  { uncertainty }: PartDefinition,
  pointsStateSigma: boolean,
): readonly string[] {
  const unknown = stations.filter((s) => s.uncertainty === null).map((s) => s.station);
  if (unknown.length > 0)
    return [
      `No uncertainty for station ${unknown.join(', ')}: nothing is stated about the points and the fits leave no residuals to judge by. State "uncertainty": { "probing": … } in the plan.`,
    ];
  if (uncertainty.probing !== null || pointsStateSigma) return [];
  return [
    'The plan states no "uncertainty": { "probing": … } and the file no sigma: uncertainties come from the residuals of the fits alone and know nothing of the machine.',
  ];
}
