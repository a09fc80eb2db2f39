/**
 * What-if verdicts against a reduction of points that were really moved: blades carried along with their points by the motion that
 * the bench tries, and reduced again with the plan that the bench tries.
 */
import { describe, expect, it } from 'vitest';
import { scenarios } from '../../sample-data/files.ts';
import type { BladeRequirement, DecisionDefinition, PartDefinition } from '../../shared-math/definition.ts';
import { transpose } from '../../shared-math/geometry/matrix.ts';
import {
  applyToDirections,
  applyToPoints,
  compose,
  inverse,
} from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { Reduction } from '../../shared-math/result.ts';
import { applyWhatIf, type WhatIfResult } from '../../shared-math/what-if/apply.ts';
import { MEASURED_STATE, type WhatIfState } from '../../shared-math/what-if/state.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { measure, plant } from '../support/corrected-disc.ts';
import { samplePath } from '../support/disc-files.ts';

const scenario = scenarios.find(({ folder }) => folder === 'drifting')!;
const { definition: planned } = await readPlan(samplePath('drifting', 'plan.json'));
const points = measure(scenario, plant(scenario, 31), 32);
const gaps = scenario.measurement.notMeasured.map((station) => ({ station, reason: 'not measured' }));

/** The plan with limits of errors in both frames, others at every third station, and a decision rule. */
function limited(decision: DecisionDefinition): PartDefinition {
  const limits: BladeRequirement['limits'] = {
    lateral: 0.018,
    upset: 0.03,
    rotUpset: 1.5e-4,
    radial: 0.024,
    lean: 1e-4,
  };
  return {
    ...planned,
    decision,
    stations: planned.stations.map((station, k) => ({
      ...station,
      requirement: {
        checkPoints: station.requirement.checkPoints.map((point) => ({
          ...point,
          tolerance: (k % 3 === 0 ? 1.2 : 2) * point.tolerance,
        })),
        limits: k % 3 === 0 ? { ...limits, lateral: 0.012, axial: 0.02 } : limits,
      },
    })),
  };
}

const GUARDED: DecisionDefinition = { rule: 'guarded', probability: 0.95 };
const FACTOR: DecisionDefinition = { rule: 'guarded', factor: 1 };

/** The blades' points moved in the disc frame; those of the hub stay. */
function moved({ frame }: Reduction, motion: RigidMotion): readonly PointBlock[] {
  const disc: RigidMotion = { rotation: transpose(frame.rotation), translation: frame.origin };
  const inMachine = compose(compose(disc, motion), inverse(disc));
  return points.map((block) =>
    block.station === null
      ? block
      : {
          ...block,
          xyz: applyToPoints(inMachine, block.xyz),
          normals: block.normals && applyToDirections(inMachine, block.normals),
        },
  );
}

/**
 * mm. The measured points are brought to the reference temperature after they were moved: of a motion of 18 µm that leaves out
 * α·ΔT = 2e-5, and a position counts twice.
 */
const COMPENSATED = 8e-7;

function expectAlike(tried: WhatIfResult, reduced: Reduction): void {
  expect(tried.summary.stations).toBe(reduced.summary.stations);
  expect(tried.stations.map((s) => s.station)).toEqual(reduced.stations.map((s) => s.station));
  tried.stations.forEach((ours, k) => {
    const theirs = reduced.stations[k]!;
    const at = `station ${ours.station}`;
    expect(ours.verdict, at).toBe(theirs.verdict);
    expect(ours.position.verdict, at).toBe(theirs.position.verdict);
    expect(Math.abs(ours.position.value! - theirs.position.value!), at).toBeLessThan(COMPENSATED);
    expect(Math.abs(ours.position.probability! - theirs.position.probability!), at).toBeLessThan(2e-4);
    expect(ours.limits.map(({ name, limit }) => [name, limit])).toEqual(
      theirs.limits.map(({ name, limit }) => [name, limit]),
    );
    ours.limits.forEach((limit, i) => {
      const other = theirs.limits[i]!;
      const of = `${at}, ${limit.name}`;
      expect(limit.verdict, of).toBe(other.verdict);
      expect(Math.abs(limit.value! - other.value!), of).toBeLessThan(COMPENSATED);
      expect(Math.abs(limit.probability! - other.probability!), of).toBeLessThan(2e-4);
      expect(limit.expanded! / other.expanded!, of).toBeCloseTo(1, 3);
    });
  });
}

const six = [0.008, -0.012, 0.01, 5e-5, -4e-5, 6e-5] as const;
const [x, y, z, rotX, rotY, rotZ] = six;
const hub: WhatIfState['hub'] = { x, y, z, rotX, rotY, rotZ };
const motion: RigidMotion = { translation: [x, y, z], rotation: rotationFromVector([rotX, rotY, rotZ]) };

describe.each([
  ['simple', { rule: 'simple' } as DecisionDefinition],
  ['guarded by probability', GUARDED],
  ['guarded by a factor', FACTOR],
])('moved blades, limits of single stations, decided by the rule %s', (_, decision) => {
  const definition = limited(decision);
  const measured = reduce({ blocks: points, definition, gaps });
  const disc = { result: measured, definition, welds: null };

  it('are judged as a reduction of the moved points judges them', () => {
    const again = reduce({ blocks: moved(measured, motion), definition, gaps });
    const tried = applyWhatIf(disc, { ...MEASURED_STATE, hub });
    expectAlike(tried, again);
    // The plan's limits decide some of the verdicts.
    const byLimit = tried.stations.filter((s) => s.verdict !== s.position.verdict);
    expect(byLimit.length).toBeGreaterThan(2);
  });

  it('are judged against other limits as a plan with those limits judges them, planned ones or not', () => {
    const limits: WhatIfState['limits'] = { lateral: 0.022, upset: null, sweep: 2.5e-5, oscillation: 0.006 };
    const other: PartDefinition = {
      ...definition,
      stations: definition.stations.map((station) => {
        const { upset: _dropped, ...rest } = station.requirement.limits;
        return {
          ...station,
          requirement: {
            ...station.requirement,
            limits: { ...rest, lateral: 0.022, sweep: 2.5e-5, oscillation: 0.006 },
          },
        };
      }),
    };
    const again = reduce({ blocks: points, definition: other, gaps });
    const tried = applyWhatIf(disc, { ...MEASURED_STATE, limits });
    expectAlike(tried, again);
    const changed = tried.stations.filter((s, k) => s.verdict !== measured.stations[k]!.verdict);
    expect(changed.length).toBeGreaterThan(0);
  });
});
