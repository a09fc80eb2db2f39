/** The second level of position in the plan file and in the result document. */
import { expect, test } from 'vitest';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import { checkPlan } from '../../src-main/plan/read-plan.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { conformingDisc } from '../support/disc-files.ts';

// biome-ignore lint/suspicious/noExplicitAny: tests change any value of the plan
function definitionOf(change: (plan: any) => void) {
  const { plan } = conformingDisc();
  change(plan);
  return toDefinition(checkPlan(JSON.stringify(plan), 'plan.json'));
}

test('without the key there is one level', () => {
  expect(definitionOf(() => {}).pattern).toBeNull();
});

test('tolerance and free motions; all six where none are listed', () => {
  const of = (featureRelating: object) =>
    definitionOf((plan) => {
      plan.blade.position.featureRelating = featureRelating;
    }).pattern;
  expect(of({ tolerance: 0.02 })).toEqual({ tolerance: 0.02, free: PATTERN_FREEDOMS });
  expect(of({ tolerance: 0.02, free: ['x', 'y', 'z'] })).toEqual({ tolerance: 0.02, free: ['x', 'y', 'z'] });
});

test.each([
  ['no tolerance', { free: ['x'] }],
  ['a tolerance of zero', { tolerance: 0 }],
  ['an unknown motion', { tolerance: 0.02, free: ['radial'] }],
  ['an empty list', { tolerance: 0.02, free: [] }],
  ['an unknown key', { tolerance: 0.02, zone: 'spherical' }],
])('refuses %s', (_, featureRelating) => {
  expect(() =>
    definitionOf((plan) => {
      plan.blade.position.featureRelating = featureRelating;
    }),
  ).toThrow();
});

test('it concerns all blades together: one station cannot override it', () => {
  expect(() =>
    definitionOf((plan) => {
      plan.overrides = { 3: { position: { featureRelating: { tolerance: 0.02 } } } };
    }),
  ).toThrow();
  const overridden = definitionOf((plan) => {
    plan.blade.position.featureRelating = { tolerance: 0.02 };
    plan.overrides = { 3: { position: { tolerance: 0.1 } } };
  });
  expect(overridden.pattern!.tolerance).toBe(0.02);
  expect(overridden.stations[2]!.requirement.checkPoints[0]!.tolerance).toBe(0.1);
});
