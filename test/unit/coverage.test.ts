/**
 * The coverage experiment on a few discs: stated intervals hold the truth about as often as they say. The whole experiment,
 * with tight bounds, is `npm run coverage`; here its bounds are widened by three standard errors of the shares counted.
 */
import { describe, expect, it } from 'vitest';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { applyToPoint } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { discErrors, sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { failures } from '../coverage/bounds.ts';
import { Counts, runVariant } from '../coverage/experiment.ts';
import { bladePlacement, moved, place, trueErrors } from '../coverage/forward-model.ts';
import { SIGMA, STATIONS, VARIANTS, type Variant } from '../coverage/variants.ts';
import { SEAT } from '../support/synthetic-disc.ts';

const SLACK = 3;
const DISCS = 12;
/** One check point: cheap enough for many discs. */
const cheap = VARIANTS.filter((v) => v.definition.stations[0]!.requirement.checkPoints.length === 1);
const costly = VARIANTS.filter((v) => !cheap.includes(v));

function counted(variants: readonly Variant[], discs: number): ReturnType<Counts['report']> {
  const counts = new Counts();
  variants.forEach((variant, i) => {
    runVariant(variant, discs, 71 + i, [counts]);
  });
  return counts.report();
}

describe('coverage of stated intervals', () => {
  it('is as stated for tasks with one check point', () => {
    const report = counted(cheap, DISCS);
    expect(report.stations).toBe(DISCS * STATIONS * cheap.length);
    expect(failures(report, SLACK)).toEqual([]);
  });

  it('is as stated for tasks with several check points, weights, tip centres and an uncertain scale', () => {
    expect(failures(counted(costly, 1), SLACK)).toEqual([]);
  });

  it('is found too high where twice the noise is stated', () => {
    const overstated = cheap.slice(0, 1).map(({ definition, ...rest }) => ({
      ...rest,
      definition: { ...definition, uncertainty: { ...definition.uncertainty, probing: 2 * SIGMA } },
    }));
    expect(failures(counted(overstated, 6), SLACK).length).toBeGreaterThan(6);
  });
});

describe('truth of the simulated discs', () => {
  const displacement: Vec3 = [0.3, -0.2, 0.1];
  const rotation: Vec3 = [0.02, -0.03, 0.05];
  const truth = { displacement, rotation };
  const error: RigidMotion = { rotation: rotationFromVector(rotation), translation: displacement };

  it('places blades and points as the frames of the reduction do', () => {
    const nominal = nominalBladeFrame(1.1, SEAT);
    const p: Vec3 = [3, -4, 50];
    const ours = place(bladePlacement(1.1, SEAT), moved(truth, p));
    const theirs = applyToPoint(nominal, applyToPoint(error, p));
    for (const k of [0, 1, 2] as const) expect(ours[k]).toBeCloseTo(theirs[k], 11);
  });

  it('has the errors that the reduction reads from the motion', () => {
    const expected = { ...sixErrors(error), ...discErrors(error, 1.1, SEAT) };
    const found = trueErrors(truth, 1.1, SEAT);
    for (const [name, value] of Object.entries(expected))
      expect(found[name as keyof typeof found], name).toBeCloseTo(value, 12);
  });
});
