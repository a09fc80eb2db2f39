/** Every check that a plan can go through before a point is read: text, schema, consistency, datum systems. */
import { ReductionError } from '../../shared-math/errors.ts';
import { checkDatumSystems } from '../../shared-math/frame/check-datum-systems.ts';
import type { Problem } from '../api.ts';
import { reductionProblem } from '../jobs/reduction-problem.ts';
import { RefusedInput } from '../problems.ts';
import { readJson } from './json-positions.ts';
import { checkPlan } from './read-plan.ts';
import { toDefinition } from './to-definition.ts';

/** Problems of the plan in a text, each with its path; none where a reduction would take it. */
export function planProblems(text: string, name: string): readonly Problem[] {
  try {
    const plan = checkPlan(text, name);
    try {
      checkDatumSystems(toDefinition(plan));
      return [];
    } catch (error) {
      if (!(error instanceof ReductionError)) throw error;
      const lineOf = (path: readonly PropertyKey[]) => readJson(text).positionOf(path)?.line;
      return [reductionProblem(error, { name, plan, lineOf }, { name, firstLineOf: () => undefined })];
    }
  } catch (error) {
    if (!(error instanceof RefusedInput)) throw error;
    return error.problems;
  }
}
