/** Budget and adjustments of a plan: names that are said once, steps that leave something to set. */
import type { PlanFile } from './plan-schema.ts';
import type { PlanFault } from './schema-faults.ts';

/** A further line needs a name of its own and at least one figure. */
export function budgetFaults({ budget }: PlanFile): PlanFault[] {
  const { others = [], ...lines } = budget ?? {};
  const taken = new Set(Object.keys(lines));
  return others.flatMap(({ name, allocated, found }, k): PlanFault[] => {
    const path = ['budget', 'others', k];
    if (taken.has(name))
      return [
        {
          code: 'duplicate-name',
          path: [...path, 'name'],
          says: 'another line of the budget has this name',
          value: name,
          expected: 'each name once',
          remedy: 'rename one of the two',
        },
      ];
    taken.add(name);
    if (allocated !== undefined || found !== undefined) return [];
    return [
      {
        code: 'missing-key',
        path: [...path, 'allocated'],
        says: `the line "${name}" has neither "allocated" nor "found"`,
        expected: 'one of them, or both, in mm of position',
        remedy: 'add one, or take the line out',
      },
    ];
  });
}

/** A step beyond the limit leaves nothing but zero to set. */
export function adjustmentFaults({ adjustments }: PlanFile): PlanFault[] {
  const { tool = {}, hub = {}, index } = adjustments ?? {};
  const ranges = [
    ...Object.entries(tool).map(([freedom, range]) => [['tool', freedom], range] as const),
    ...Object.entries(hub).map(([freedom, range]) => [['hub', freedom], range] as const),
    [['index'], index] as const,
  ];
  return ranges.flatMap(([path, range]): PlanFault[] => {
    const { limit, step } = range ?? {};
    if (limit === undefined || step === undefined || step <= limit) return [];
    return [
      {
        code: 'contradiction',
        path: ['adjustments', ...path, 'step'],
        says: 'one step goes beyond the limit, so nothing can be set',
        value: String(step),
        expected: `a step not above ${limit}`,
        remedy: 'correct "step" or "limit", or take the freedom out if it cannot be set',
      },
    ];
  });
}
