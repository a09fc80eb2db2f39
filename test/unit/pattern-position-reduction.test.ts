/** Second-level position through the whole reduction: motions, verdicts, uncertainty, and the plan that asks for it. */
import { describe, expect, test } from 'vitest';
import type { BladeRequirement, PartDefinition, PatternRequirement } from '../../shared-math/definition.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import {
  compose,
  IDENTITY_MOTION,
  inverse,
  motionFromTwist,
} from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { PatternResult, Reduction } from '../../shared-math/result.ts';
import { randomSource } from '../support/random.ts';
import { type DiscOptions, discBlocks, discDefinition, randomError } from '../support/synthetic-disc.ts';

const ALL: PatternRequirement = { tolerance: 0.03, free: PATTERN_FREEDOMS };
const random = randomSource(5458);
const MACHINE = random.motion(400);

/** One planar zone across the tangential direction: with these angles the blade's lateral direction is −e_t. */
const TANGENTIAL: DiscOptions = {
  stations: 8,
  seat: { radius: 240, axial: 15, heightAngle: 0, staggerAngle: 0 },
  requirement: {
    checkPoints: [{ name: 'seat', at: [0, 0, 10], zone: 'planar', tolerance: 0.05, direction: [0, 1, 0] }],
    limits: {},
  },
};

function disc(options: DiscOptions, pattern: PatternRequirement | null): PartDefinition {
  return { ...discDefinition({ stations: 8, ...options }), pattern };
}

function reduced(
  definition: PartDefinition,
  errors: readonly RigidMotion[],
  change: (blocks: readonly PointBlock[]) => readonly PointBlock[] = (blocks) => blocks,
): Reduction {
  return reduce({
    blocks: change(discBlocks(definition, errors, MACHINE, randomSource(1))),
    definition,
    gaps: [],
  });
}

function patternOf(reduction: Reduction): PatternResult {
  return reduction.pattern!;
}

const errorsOf = (definition: PartDefinition, mm: number, rad: number): RigidMotion[] => {
  const source = randomSource(11);
  return definition.stations.map(() => randomError(source, mm, rad));
};

test('a plan with one level has no pattern in its result', () => {
  const definition = disc({}, null);
  expect(reduced(definition, errorsOf(definition, 0.01, 1e-5)).pattern).toBeNull();
});

test('a ring that sits beside and askew of the hub fails level one and is perfect at level two', () => {
  const definition = disc({}, ALL);
  const ring = motionFromTwist({ rotation: [4e-4, -3e-4, 2e-4], translation: [0.05, -0.08, 0.03] });
  const errors = definition.stations.map(({ angle, seat }) => {
    const nominal = nominalBladeFrame(angle, seat);
    return compose(inverse(nominal), compose(ring, nominal));
  });
  const result = reduced(definition, errors);
  expect(result.stations.every((s) => s.verdict === 'nonconforming')).toBe(true);
  const pattern = patternOf(result);
  expect(pattern.verdict).toBe('conforming');
  expect(pattern.value).toBeLessThan(1e-9);
  expect(pattern.stations.map((s) => s.verdict)).toEqual(definition.stations.map(() => 'conforming'));
  expect(pattern.motion.x).toBeCloseTo(ring.translation[0], 8);
  expect(pattern.motion.z).toBeCloseTo(ring.translation[2], 8);
  expect(pattern.motion.rotX).toBeCloseTo(4e-4, 10);
  expect(pattern.motion.rotZ).toBeCloseTo(2e-4, 10);
});

describe('verdicts', () => {
  const definition = disc({}, ALL);
  const errors = errorsOf(definition, 0.01, 1e-5);

  test('value against tolerance, as large as the largest of the blades', () => {
    const { value, stations, at, contacts } = patternOf(reduced(definition, errors));
    expect(Math.max(...stations.map((s) => s.value!))).toBeCloseTo(value!, 13);
    expect(at).toEqual({ station: contacts[0]!.station, checkPoint: contacts[0]!.checkPoint });
    expect(contacts.reduce((sum, c) => sum + c.share, 0)).toBeCloseTo(1, 12);
    for (const tolerance of [value! * 1.001, value! * 0.999]) {
      const again = patternOf(reduced(disc({}, { ...ALL, tolerance }), errors));
      expect(again.value).toBeCloseTo(value!, 10);
      expect(again.verdict).toBe(tolerance > value! ? 'conforming' : 'nonconforming');
    }
  });

  test('a missing blade leaves a good pattern unproven and a bad one nonconforming', () => {
    const without = (blocks: readonly PointBlock[]) => blocks.filter((b) => b.station !== 3);
    const good = patternOf(reduced(disc({}, { ...ALL, tolerance: 1 }), errors, without));
    expect(good.verdict).toBe('unproven');
    expect(good.stations).toHaveLength(7);
    const bad = patternOf(reduced(disc({}, { ...ALL, tolerance: 1e-3 }), errors, without));
    expect(bad.verdict).toBe('nonconforming');
  });

  test('guarded: proven far from the limit, unproven at it', () => {
    const value = patternOf(reduced(definition, errors)).value!;
    const verdictAt = (tolerance: number) =>
      patternOf(
        reduced(disc({ decision: { rule: 'guarded', probability: 0.95 } }, { ...ALL, tolerance }), errors),
      ).verdict;
    expect(verdictAt(4)).toBe('conforming');
    expect(verdictAt(value)).not.toBe('conforming');
    expect(verdictAt(value / 100)).toBe('nonconforming');
  });

  test('guarded proves nothing where nothing is known of the points', () => {
    const silent = disc({ decision: { rule: 'guarded', probability: 0.95 } }, { ...ALL, tolerance: 4 });
    // Three points a plane: no residuals; no stated uncertainty either.
    const three = (blocks: readonly PointBlock[]) =>
      blocks.map((b) => (b.station === null ? b : { ...b, xyz: b.xyz.slice(0, 9) }));
    const result = patternOf(
      reduced({ ...silent, uncertainty: { ...silent.uncertainty, probing: null } }, errors, three),
    );
    expect(result.verdict).toBe('unproven');
    expect(result.expanded).toBeNull();
    expect(result.stations.every((s) => s.verdict === 'unproven')).toBe(true);
  });
});

describe('uncertainty', () => {
  /** Hub points that are far less certain than those of the blades. */
  const stated = (hub: number, blade: number) => (blocks: readonly PointBlock[]) =>
    blocks.map((b) => ({
      ...b,
      sigma: new Float64Array(b.xyz.length / 3).fill(b.station === null ? hub : blade),
    }));

  // Across the tangential direction the hub's clocking shows, along the radial one the scale.
  test.each([
    ['tangential', [0, 1, 0]],
    ['radial', [0, 0, 1]],
  ] as const)('a pattern that cannot be moved has the uncertainty of level one: %s', (_, direction) => {
    const checkPoints = TANGENTIAL.requirement!.checkPoints.map((c) => ({ ...c, direction }));
    const options = { ...TANGENTIAL, requirement: { checkPoints, limits: {} } };
    const definition = {
      ...disc(options, { tolerance: 0.05, free: ['z'] }),
      uncertainty: { probing: null, scale: 2e-5, temperatureScale: 0, formCorrelation: 0, coverage: 0.95 },
    };
    const result = reduced(definition, errorsOf(definition, 0.02, 1e-5), stated(0.004, 0.0005));
    const pattern = patternOf(result);
    expect(pattern.undetermined).toEqual(['z']);
    pattern.stations.forEach(({ value, expanded, probability }, k) => {
      const one = result.stations[k]!.position;
      expect(value).toBeCloseTo(one.value!, 12);
      // A quantile of 1000 trials scatters by about 7 % of the standard uncertainty, a probability by up to 1.6 %.
      expect(Math.abs(expanded! / one.expanded! - 1)).toBeLessThan(0.25);
      expect(Math.abs(probability! - one.probability!)).toBeLessThan(0.065);
    });
  });

  test('what the hub does to all blades alike drops out as soon as the pattern may follow', () => {
    const of = (free: PatternRequirement['free']) => {
      const definition = disc(TANGENTIAL, { tolerance: 0.05, free });
      return patternOf(reduced(definition, errorsOf(definition, 0.02, 1e-5), stated(0.004, 0.0005)));
    };
    const all = of(PATTERN_FREEDOMS);
    const inPlane = of(['x', 'y', 'rotZ']);
    const held = of(['z']);
    // To first order the other three motions do nothing more.
    expect(inPlane.value).toBeCloseTo(all.value!, 7);
    // Sampled in the one case, left out in the other.
    expect(Math.abs(inPlane.expanded! / all.expanded! - 1)).toBeLessThan(0.25);
    expect(held.expanded).toBeGreaterThan(3 * all.expanded!);
  });

  test('the same input gives the same numbers', () => {
    const definition = disc({ stations: 5 }, ALL);
    const errors = errorsOf(definition, 0.02, 1e-5);
    expect(patternOf(reduced(definition, errors))).toEqual(patternOf(reduced(definition, errors)));
  });
});

test('check points that a best fit cannot observe are left out and leave the pattern unproven', () => {
  const requirement: BladeRequirement = {
    checkPoints: [
      { name: 'across', at: [0, 0, 0], zone: 'planar', tolerance: 0.05, direction: [0, 1, 0] },
      { name: 'all round', at: [0, 0, 0], zone: 'spherical', tolerance: 0.05, direction: null },
    ],
    limits: {},
  };
  const { bladeDatums } = discDefinition();
  // Without the end face nothing holds the blade along its first direction.
  const definition = disc(
    { requirement, pose: 'bestfit', bladeDatums: bladeDatums.slice(0, 2) },
    { ...ALL, tolerance: 1 },
  );
  const pattern = patternOf(
    reduced(
      definition,
      definition.stations.map(() => IDENTITY_MOTION),
    ),
  );
  expect(pattern.verdict).toBe('unproven');
  for (const { checkPoints } of pattern.stations) {
    expect(checkPoints[0]!.value).toBeLessThan(1e-9);
    expect(checkPoints[1]).toEqual({ name: 'all round', value: null });
  }
});
