/** The decision rule of a report in words, and warnings about uncertainty that could not be evaluated as asked. */
import type { PartDefinition } from '../definition.ts';
import type { Note } from '../notes/notes.ts';
import type { DecisionResult, StationResult } from '../result.ts';
import { ruleRisk } from '../uncertainty/decision.ts';

/** The rule of the plan as the result states it. */
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

/** @param pointsStateSigma whether any point of the file states its own uncertainty. */
export function uncertaintyWarnings(
  stations: readonly StationResult[],
  { uncertainty }: PartDefinition,
  pointsStateSigma: boolean,
): readonly Note[] {
  const unknown = stations.filter((s) => s.uncertainty === null).map((s) => s.station);
  if (unknown.length > 0) return [{ code: 'no-uncertainty', values: { stations: unknown } }];
  if (uncertainty.probing !== null || pointsStateSigma) return [];
  return [{ code: 'no-probing', values: {} }];
}
