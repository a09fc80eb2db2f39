/** Corrections on discs whose errors are known: what is found, bounds, steps, settings that do the same, outliers, scatter. */
import { describe, expect, test } from 'vitest';
import type { AdjustmentDefinition, PartDefinition } from '../../shared-math/definition.ts';
import type { Correction, CorrectionKind } from '../../shared-math/diagnosis/corrections/correction.ts';
import { type CorrectionInput, corrections } from '../../shared-math/diagnosis/corrections/corrections.ts';
import type { Scatter } from '../../shared-math/diagnosis/findings.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { compose, IDENTITY_MOTION, inverse } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import { ERRORS } from '../../shared-math/pose/error-names.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { randomSource } from '../support/random.ts';
import { discBlocks, discDefinition, REQUIREMENT, randomError } from '../support/synthetic-disc.ts';

const six = (values: readonly number[]): RigidMotion => ({
  translation: [values[0]!, values[1]!, values[2]!],
  rotation: rotationFromVector([values[3]!, values[4]!, values[5]!]),
});

/** Zones at three points off the stacking axis in all directions: every freedom of a blade shows. */
const ALL_FREEDOMS = {
  checkPoints: [
    { name: 'root', at: [20, 0, 0], zone: 'spherical', tolerance: 0.05, direction: null },
    { name: 'middle', at: [0, 15, 80], zone: 'spherical', tolerance: 0.05, direction: null },
    { name: 'tip', at: [-20, 0, 160], zone: 'cylindrical', tolerance: 0.05, direction: null },
  ],
  limits: {},
} as const;

function inputOf(
  errors: readonly RigidMotion[],
  requirement: PartDefinition['stations'][number]['requirement'] = ALL_FREEDOMS,
  adjustments: AdjustmentDefinition | null = null,
): CorrectionInput {
  const planned = discDefinition({ stations: errors.length, requirement });
  // Little uncertainty: the distributions of the predicted positions are then quick to find.
  const uncertainty = { ...planned.uncertainty, probing: 1e-5 };
  const definition = { ...planned, uncertainty, adjustments };
  const blocks = discBlocks(definition, errors, IDENTITY_MOTION, randomSource(7));
  const { stations, frame } = reduce({ blocks, definition, gaps: [] });
  return { stations, definition, frame: frame.covariance, welds: null, outliers: [], scatter: null };
}

const byKind = (found: readonly Correction[], kind: CorrectionKind): Correction =>
  found.find((c) => c.kind === kind)!;
const changeOf = (c: Correction, freedom: string, of: string | null = null): number =>
  c.settings.find((s) => s.freedom === freedom && s.of === of && s.kind !== 'index')!.change;
const nothing: AdjustmentDefinition = { tool: {}, hub: {}, index: null };
const free = { limit: null, step: null };
const toolAlone: AdjustmentDefinition = {
  ...nothing,
  tool: Object.fromEntries(ERRORS.map((name) => [name, free])),
};
const indexAlone: AdjustmentDefinition = { ...nothing, index: free };
const scatterOf = (mm: number, rad: number): Scatter => ({
  process: [mm, mm, mm, rad, rad, rad],
  measurement: [0, 0, 0, 0, 0, 0],
  index: 0,
  degreesOfFreedom: 60,
});

describe('a constant error of the tool', () => {
  const error = [0.01, -0.006, 0.008, 2e-5, -3e-5, 4e-5];
  const found = corrections(inputOf(Array.from({ length: 12 }, () => six(error))));
  const tool = byKind(found, 'tool');

  test('is found as it is, and set to its opposite', () => {
    expect(tool.settings.map((s) => s.freedom)).toEqual([
      'oscillation',
      'lateral',
      'upset',
      'rotOscillation',
      'rotLateral',
      'rotUpset',
    ]);
    tool.settings.forEach((s, i) => {
      expect(Math.abs(s.found - error[i]!)).toBeLessThan(i < 3 ? 2e-6 : 2e-8);
      expect(s.change).toBe(-s.found);
      expect(s.of).toBeNull();
    });
    expect(tool.after).toBeLessThan(1e-6);
    expect(tool.predicted.every((p) => p.position! < 1e-6)).toBe(true);
    expect(tool.before).toBeGreaterThan(0.02);
  });

  test('is left to the tool where tool, hub and index can all be set', () => {
    const all = byKind(found, 'all');
    expect(all.after).toBeLessThan(1e-6);
    for (const freedom of ['z', 'rotZ']) expect(changeOf(all, freedom)).toBe(0);
    const index = all.settings.filter((s) => s.kind === 'index');
    expect(index).toHaveLength(12);
    // They have nothing in common: that is in the tool.
    expect(Math.abs(index.reduce((sum, s) => sum + s.change, 0))).toBeLessThan(1e-12);
  });
});

test('a shift of the ring is found by the hub, and not by tool or index', () => {
  const definition = discDefinition({ stations: 12 });
  const ring = six([0.021, -0.008, 0, 0, 0, 0]);
  const errors = definition.stations.map(({ angle, seat }) => {
    const nominal = nominalBladeFrame(angle, seat);
    return compose(inverse(nominal), compose(ring, nominal));
  });
  const found = corrections(inputOf(errors));
  const hub = byKind(found, 'hub');
  expect(changeOf(hub, 'x')).toBeCloseTo(-0.021, 6);
  expect(changeOf(hub, 'y')).toBeCloseTo(0.008, 6);
  expect(hub.after).toBeLessThan(1e-6);
  // No constant offset brings any of a pure ring shift in.
  const tool = byKind(found, 'tool');
  expect(tool.before - tool.after).toBeLessThan(0.001);
  expect(hub.sentence).toContain('Moving the hub seating by −21.0 µm along x and +8.0 µm along y');
});

test('index offsets turn each station back by what it was turned', () => {
  const definition = discDefinition({ stations: 10 });
  const turns = definition.stations.map((_, k) => 2e-5 * Math.cos(k) + (k === 3 ? 5e-5 : 0));
  const errors = definition.stations.map(({ angle, seat }, k) => {
    const nominal = nominalBladeFrame(angle, seat);
    return compose(inverse(nominal), compose(six([0, 0, 0, 0, 0, turns[k]!]), nominal));
  });
  const index = byKind(corrections(inputOf(errors, ALL_FREEDOMS, indexAlone)), 'index');
  index.settings.forEach((s, k) => {
    expect(s.of).toBe(String(k + 1));
    expect(s.found).toBeCloseTo(turns[k]!, 8);
  });
  expect(index.after).toBeLessThan(1e-6);
});

describe('what can be set', () => {
  const random = randomSource(3);
  const errors = Array.from({ length: 12 }, () =>
    compose(six([0.02, 0.015, 0, 0, 0, 0]), randomError(random, 0.01, 1e-4)),
  );

  test('settings that cannot be adjusted are absent, and kinds without any', () => {
    const found = corrections(inputOf(errors, ALL_FREEDOMS, { ...nothing, tool: { lateral: free } }));
    expect(found.map((c) => c.kind)).toEqual(['tool']);
    expect(found[0]!.settings.map((s) => s.freedom)).toEqual(['lateral']);
    expect(corrections(inputOf(errors, ALL_FREEDOMS, nothing))).toEqual([]);
  });

  test('limits hold, and are said to', () => {
    const adjustments = { ...nothing, tool: { oscillation: { limit: 0.005, step: null }, lateral: free } };
    const [tool] = corrections(inputOf(errors, ALL_FREEDOMS, adjustments));
    const [oscillation, lateral] = tool!.settings;
    expect(oscillation!.atLimit).toBe(true);
    expect(Math.abs(oscillation!.change)).toBeGreaterThan(0.00499);
    expect(Math.abs(oscillation!.change)).toBeLessThanOrEqual(0.005);
    expect(lateral!.atLimit).toBe(false);
    expect(tool!.gap).toBeLessThan(1e-8);
    const [wide] = corrections(
      inputOf(errors, ALL_FREEDOMS, { ...nothing, tool: { oscillation: free, lateral: free } }),
    );
    expect(wide!.after).toBeLessThan(tool!.after);
  });

  test('a limit of nothing leaves a setting alone', () => {
    const adjustments = { ...nothing, tool: { oscillation: { limit: 0, step: null }, lateral: free } };
    const [tool] = corrections(inputOf(errors, ALL_FREEDOMS, adjustments));
    expect(tool!.settings[0]!.change).toBe(0);
    expect(tool!.settings[1]!.change).not.toBe(0);
  });

  test('steps: the best grid point of all, not the nearest', () => {
    const step = 0.012;
    const ranges = { limit: 0.06, step };
    const adjustments = {
      ...nothing,
      tool: { oscillation: ranges, lateral: ranges, upset: ranges },
    };
    const input = inputOf(errors, ALL_FREEDOMS, adjustments);
    const [tool] = corrections(input);
    for (const s of tool!.settings) {
      expect(Math.abs(s.change / step - Math.round(s.change / step))).toBeLessThan(1e-9);
      expect(Math.abs(s.exact - s.change)).toBeLessThan(3 * step);
    }
    expect(tool!.after).toBeGreaterThanOrEqual(tool!.optimum - tool!.gap);
    // Every grid point within the limits, one after the other.
    let best = Number.POSITIVE_INFINITY;
    const grid = [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5].map((n) => n * step);
    for (const a of grid)
      for (const b of grid)
        for (const c of grid) {
          const worst = Math.max(
            ...input.stations.flatMap(({ position }) =>
              position.checkPoints.map(
                ({ zone, displacement: d }) =>
                  2 * Math.hypot(d![0] + a, d![1] + b, zone === 'spherical' ? d![2] + c : 0),
              ),
            ),
          );
          best = Math.min(best, worst);
        }
    expect(tool!.after).toBeCloseTo(best, 9);
  });

  test('a setting without steps takes up what the steps of another leave', () => {
    const adjustments = {
      ...nothing,
      tool: { oscillation: { limit: null, step: 0.01 }, rotLateral: free },
    };
    const [tool] = corrections(inputOf(errors, ALL_FREEDOMS, adjustments));
    const [stepped, rest] = tool!.settings;
    expect(stepped!.change / 0.01).toBeCloseTo(Math.round(stepped!.change / 0.01), 9);
    expect(rest!.change).not.toBe(rest!.exact);
    expect(tool!.after).toBeGreaterThan(tool!.optimum);
  });
});

test('everything together on steps is no worse than any kind alone', () => {
  const random = randomSource(9);
  const errors = Array.from({ length: 8 }, () =>
    compose(six([0.01, 0, 0, 0, 0, 0]), randomError(random, 0.008, 6e-5)),
  );
  const coarse = { limit: 0.02, step: 0.005 };
  const found = corrections(
    inputOf(errors, ALL_FREEDOMS, {
      tool: { oscillation: coarse, lateral: coarse },
      hub: { x: coarse, y: { limit: 0.012, step: 0.005 } },
      index: { limit: 1e-4, step: 2e-5 },
    }),
  );
  const all = byKind(found, 'all');
  for (const { after, optimum } of found) {
    expect(all.after).toBeLessThanOrEqual(after + 1e-9);
    expect(all.optimum).toBeLessThanOrEqual(optimum + 1e-9);
  }
  expect(all.title).toBe('Tool offset, hub seating and index offsets together');
  for (const { settings } of found)
    for (const s of settings) {
      expect(Math.abs(s.change / s.step! - Math.round(s.change / s.step!))).toBeLessThan(1e-9);
      expect(Math.abs(s.change)).toBeLessThanOrEqual(s.limit! * (1 + 1e-9));
      // The last step before the limit counts as the limit.
      const most = Math.floor(s.limit! / s.step! + 1e-9) * s.step!;
      expect(s.atLimit).toBe(Math.abs(s.change) > most - 0.5 * s.step!);
    }
});

test('tools are set each for its own stations', () => {
  const [first, second] = [six([0.012, 0, 0, 0, 0, 0]), six([-0.007, 0.004, 0, 0, 0, 0])];
  const errors = Array.from({ length: 10 }, (_, k) => (k < 6 ? first : second));
  const welds = errors.map((_, k) => ({ station: k + 1, sequence: k + 1, tool: k < 6 ? 'T1' : 'T2' }));
  const tool = byKind(corrections({ ...inputOf(errors, ALL_FREEDOMS, toolAlone), welds }), 'tool');
  expect(changeOf(tool, 'oscillation', 'T1')).toBeCloseTo(-0.012, 6);
  expect(changeOf(tool, 'oscillation', 'T2')).toBeCloseTo(0.007, 6);
  expect(changeOf(tool, 'lateral', 'T2')).toBeCloseTo(-0.004, 6);
  expect(tool.after).toBeLessThan(1e-6);
  expect(tool.sentence).toContain('tool T1');
});

test('outliers do not drag the tool after them, and stay in the table', () => {
  const errors = Array.from({ length: 12 }, (_, k) => six([0.01 + (k === 4 ? 0.08 : 0), 0, 0, 0, 0, 0]));
  const input = inputOf(errors, ALL_FREEDOMS, toolAlone);
  const dragged = byKind(corrections(input), 'tool');
  const tool = byKind(corrections({ ...input, outliers: [5] }), 'tool');
  expect(changeOf(tool, 'oscillation')).toBeCloseTo(-0.01, 6);
  expect(changeOf(dragged, 'oscillation')).toBeCloseTo(-0.05, 5);
  expect(tool.leftOut).toEqual([5]);
  expect(tool.predicted).toHaveLength(12);
  expect(tool.predicted[4]!.position).toBeCloseTo(0.16, 5);
  expect(tool.nonconforming).toBe(1);
  expect(tool.conforming).toBe(11);
  expect(tool.sentence).toContain('Station 5 is left out');
});

test('the sentence counts stations against those of the plan, as measured where it says nothing of them', () => {
  const errors = Array.from({ length: 12 }, () => six([0.01, 0, 0, 0, 0, 0]));
  const input = inputOf(errors, ALL_FREEDOMS, toolAlone);
  const [lost, unseen, ...others] = input.stations;
  const partly = { ...unseen!, error: { ...unseen!.error, rotUpset: null } };
  expect([lost!, partly, ...others].every(({ verdict }) => verdict === 'conforming')).toBe(true);
  const tool = byKind(corrections({ ...input, stations: [partly, ...others] }), 'tool');
  expect(tool.predicted).toHaveLength(10);
  expect(tool.sentence).toContain('would leave 11 of 12 stations conforming as they are');
});

test('freedoms that no zone sees stay exactly 0', () => {
  // Round zones about the stacking axis do not see a turn about it, nor a shift along it.
  const errors = Array.from({ length: 12 }, () => six([0.01, 0, 0.02, 0, 0, 3e-4]));
  const tool = byKind(corrections(inputOf(errors, { ...REQUIREMENT, limits: {} }, toolAlone)), 'tool');
  expect(changeOf(tool, 'upset')).toBe(0);
  expect(changeOf(tool, 'rotUpset')).toBe(0);
  expect(changeOf(tool, 'oscillation')).toBeCloseTo(-0.01, 6);
});

test('where tolerances differ, the largest share of the tolerance is made small', () => {
  const requirement = {
    checkPoints: [
      { name: 'a', at: [0, 0, 0], zone: 'planar', tolerance: 0.02, direction: [1, 0, 0] },
      { name: 'b', at: [0, 0, 100], zone: 'planar', tolerance: 0.06, direction: [1, 0, 0] },
    ],
    limits: {},
  } as const;
  // Shift d at a, d + 0.02 at b: shares 2|d + x|/0.02 and 2|d + 0.02 + x|/0.06 are equal at d + x = −0.005.
  const errors = Array.from({ length: 6 }, () => six([0.03, 0, 0, 0, 2e-4, 0]));
  const adjustments = { ...nothing, tool: { oscillation: free } };
  const [tool] = corrections(inputOf(errors, requirement, adjustments));
  expect(tool!.settings[0]!.change).toBeCloseTo(-0.035, 5);
  expect(tool!.after).toBeCloseTo(0.03, 5);
});

describe('scatter', () => {
  const [mm, rad] = [0.004, 3e-5];
  const discOf = (seed: number, shift: number): readonly RigidMotion[] => {
    const random = randomSource(seed);
    const normal = (size: number): number => size * random.normal();
    return Array.from({ length: 10 }, () =>
      six([normal(mm) + shift, normal(mm), normal(mm), normal(rad), normal(rad), normal(rad)]),
    );
  };

  test('alone: a correction is said to chase noise, on nearly all discs', () => {
    const chases = [1, 2, 3, 4, 5, 6, 7, 8].map(
      (seed) =>
        byKind(
          corrections({ ...inputOf(discOf(seed, 0), ALL_FREEDOMS, toolAlone), scatter: scatterOf(mm, rad) }),
          'tool',
        ).chasesNoise,
    );
    // At 95 % each; two or more of eight are missed with a probability of 6 %.
    expect(chases.filter(Boolean).length).toBeGreaterThanOrEqual(7);
  });

  test('with a tool far off: it is not', () => {
    const tool = byKind(
      corrections({ ...inputOf(discOf(1, 0.03), ALL_FREEDOMS, toolAlone), scatter: scatterOf(mm, rad) }),
      'tool',
    );
    expect(tool.chasesNoise).toBe(false);
    expect(tool.before - tool.after).toBeGreaterThan(tool.noiseGain!);
    expect(tool.sentence).not.toContain('noise');
  });

  test('the gain from scatter grows with it', () => {
    const input = inputOf(discOf(2, 0.01), ALL_FREEDOMS, toolAlone);
    const gain = (by: number): number =>
      byKind(corrections({ ...input, scatter: scatterOf(by * mm, by * rad) }), 'tool').noiseGain!;
    expect(gain(2) / gain(1)).toBeGreaterThan(1.7);
    expect(gain(2) / gain(1)).toBeLessThan(2.1);
  });
});
