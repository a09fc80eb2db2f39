/** Several check points: conditioned sampling against plain Monte Carlo, against the exact route, and by hand. */
import { describe, expect, test } from 'vitest';
import { ReductionError } from '../../shared-math/errors.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import {
  displacementDistribution,
  type ZonePoint,
} from '../../shared-math/uncertainty/displacement-distribution.ts';
import {
  jointConformanceProbability,
  largestPositionQuantile,
} from '../../shared-math/uncertainty/joint-position.ts';
import { positionCdf, positionQuantile } from '../../shared-math/uncertainty/position-distribution.ts';
import {
  simulateConformance,
  simulateLargestPosition,
} from '../../shared-math/uncertainty/simulated-position.ts';

const motion = (translation: Vec3, rotation: Vec3): RigidMotion => ({
  translation,
  rotation: rotationFromVector(rotation),
});

/** Covariance with these standard deviations and one correlation between all. */
function correlated(deviations: readonly number[], correlation: number): number[][] {
  return deviations.map((a, i) => deviations.map((b, j) => (i === j ? a * b : correlation * a * b)));
}

const COVARIANCE = correlated([0.003, 0.003, 0.004, 2e-5, 2e-5, 4e-5], 0.3);

function twoPoints(zone: ZonePoint['zone'], root: number, tip: number): ZonePoint[] {
  const direction: Vec3 | null = zone === 'planar' ? [0.6, 0.8, 0] : null;
  return [
    { at: [0, 0, 0], zone, direction, tolerance: root },
    { at: [10, 0, 160], zone, direction, tolerance: tip },
  ];
}

const CASES: [string, ZonePoint[], RigidMotion][] = [
  ['cylindrical, far', twoPoints('cylindrical', 0.045, 0.05), motion([0.015, 0.01, 0], [2e-5, -3e-5, 1e-5])],
  ['cylindrical, zero', twoPoints('cylindrical', 0.017, 0.02), motion([0, 0, 0], [0, 0, 0])],
  ['spherical', twoPoints('spherical', 0.05, 0.05), motion([0.015, 0.01, 0.01], [0, 0, 0])],
  ['planar', twoPoints('planar', 0.04, 0.045), motion([0.01, 0.012, 0], [1e-5, 0, 0])],
];

describe.each(CASES)('%s', (_, points, error) => {
  test.each([Number.POSITIVE_INFINITY, 12])(
    'to a resolution: within half of it, ν = %d',
    (degreesOfFreedom) => {
      const blade = { error, covariance: COVARIANCE, degreesOfFreedom };
      for (const resolution of [1e-4, 1e-3]) {
        const fine = largestPositionQuantile(0.95, points, blade, { precision: 1e-4 });
        const rough = largestPositionQuantile(0.95, points, blade, { resolution });
        expect(Math.abs(rough.value - fine.value)).toBeLessThan(
          resolution / 2 + 4 * (fine.standardError + rough.standardError),
        );
        const probability = jointConformanceProbability(points, blade, { precision: 1e-4 });
        const near = jointConformanceProbability(points, blade, { resolution });
        expect(Math.abs(near.value - probability.value)).toBeLessThan(
          4 * (probability.standardError + near.standardError) + 1e-7,
        );
      }
    },
  );

  test.each([Number.POSITIVE_INFINITY, 12])('two routes agree, ν = %d', (degreesOfFreedom) => {
    const blade = { error, covariance: COVARIANCE, degreesOfFreedom };
    const options = { seed: 3, motion: 'linear', mostTrials: 40_000, tolerance: 1e-9 } as const;
    const ours = jointConformanceProbability(points, blade);
    const theirs = simulateConformance(points, blade, options);
    expect(ours.standardError).toBeLessThanOrEqual(5e-4);
    expect(Math.abs(ours.value - theirs.value)).toBeLessThan(
      5 * Math.hypot(ours.standardError, theirs.standardError),
    );
    const quantile = largestPositionQuantile(0.95, points, blade);
    const { values, trials } = simulateLargestPosition(points, blade, options);
    const below = values.filter((v) => v <= quantile.value).length / trials;
    // Five standard errors of the trials, and of the quantile where it was sampled (5e-4 in probability).
    expect(Math.abs(below - 0.95)).toBeLessThan(5 * Math.hypot(Math.sqrt((0.95 * 0.05) / trials), 5e-4));
  });
});

test('one check point takes the exact route', () => {
  const [, tip] = twoPoints('cylindrical', 0.05, 0.05);
  const blade = { error: motion([0.012, 0.01, 0], [1e-5, 2e-5, 0]), covariance: COVARIANCE };
  const { mean, covariance } = displacementDistribution(tip!, blade.error, blade.covariance);
  expect(jointConformanceProbability([tip!], blade)).toEqual({
    value: 1 - (1 - positionCdf(0.05, mean, covariance)),
    standardError: 0,
    trials: 0,
  });
  expect(largestPositionQuantile(0.95, [tip!], blade).value).toBe(positionQuantile(0.95, mean, covariance));
});

test('the conditioned sample of one point taken twice agrees with the exact route', () => {
  const [, tip] = twoPoints('cylindrical', 0.045, 0.045);
  const error = motion([0.012, 0.01, 0], [1e-5, 2e-5, 0]);
  for (const degreesOfFreedom of [Number.POSITIVE_INFINITY, 5]) {
    const blade = { error, covariance: COVARIANCE, degreesOfFreedom };
    const { mean, covariance } = displacementDistribution(tip!, error, COVARIANCE);
    const twice = jointConformanceProbability([tip!, tip!], blade, { precision: 5e-5 });
    expect(twice.trials).toBeGreaterThan(0);
    expect(Math.abs(twice.value - positionCdf(0.045, mean, covariance, degreesOfFreedom))).toBeLessThan(3e-4);
    const quantile = largestPositionQuantile(0.95, [tip!, tip!], blade, { precision: 5e-5 });
    const exact = positionQuantile(0.95, mean, covariance, degreesOfFreedom);
    expect(Math.abs(quantile.value / exact - 1)).toBeLessThan(1e-3);
  }
});

test('independent errors at two points: the product of the probabilities', () => {
  // Planar zones along x and y at the origin: two independent translations.
  const points: ZonePoint[] = [
    { at: [0, 0, 0], zone: 'planar', direction: [1, 0, 0], tolerance: 0.012 },
    { at: [0, 0, 0], zone: 'planar', direction: [0, 1, 0], tolerance: 0.01 },
  ];
  const covariance = correlated([0.003, 0.002, 0, 0, 0, 0], 0);
  const blade = { error: motion([0.002, 0.003, 0], [0, 0, 0]), covariance };
  const product = positionCdf(0.012, [0.002], [[9e-6]]) * positionCdf(0.01, [0.003], [[4e-6]]);
  const joint = jointConformanceProbability(points, blade, { precision: 1e-5 });
  expect(Math.abs(joint.value - product)).toBeLessThan(1e-4);
});

test('a check point that cannot fail leaves the other exact, and the same seed gives the same numbers', () => {
  const points = twoPoints('cylindrical', 5, 0.05);
  const blade = { error: motion([0.012, 0.01, 0], [1e-5, 2e-5, 0]), covariance: COVARIANCE };
  expect(jointConformanceProbability(points, blade).trials).toBe(0);
  const joint = twoPoints('cylindrical', 0.04, 0.05);
  expect(jointConformanceProbability(joint, blade)).toEqual(jointConformanceProbability(joint, blade));
  const seeds = [1, 2].map((seed) => jointConformanceProbability(joint, blade, { seed }).value);
  expect(seeds[0]).not.toBe(seeds[1]);
});

test('without uncertainty the answer is yes or no', () => {
  const covariance = correlated([0, 0, 0, 0, 0, 0], 0);
  const points = twoPoints('cylindrical', 0.05, 0.05);
  const inside = { error: motion([0.02, 0, 0], [0, 0, 0]), covariance };
  expect(jointConformanceProbability(points, inside).value).toBe(1);
  expect(largestPositionQuantile(0.95, points, inside).value).toBeCloseTo(0.04, 14);
  const outside = { error: motion([0.03, 0, 0], [0, 0, 0]), covariance };
  expect(jointConformanceProbability(points, outside).value).toBe(0);
});

test('large rotations are simulated exactly', () => {
  // Half a radian about the stacking axis moves a point 100 mm off it by a chord: with uncertain angle, no longer a line.
  const points: ZonePoint[] = [{ at: [100, 0, 0], zone: 'cylindrical', direction: null, tolerance: 1 }];
  const blade = {
    error: motion([0, 0, 0], [0, 0, 0.5]),
    covariance: correlated([0, 0, 0, 0, 0, 0.1], 0),
  };
  const options = { seed: 4, mostTrials: 20_000, tolerance: 1e-9 };
  const exact = simulateLargestPosition(points, blade, { ...options, motion: 'exact' });
  // The chord 2·100·2·sin(ρ/2) at the upper quantile of ρ.
  const upper = 1.6448536 * 0.1;
  const chord = 400 * Math.sin((0.5 + upper) / 2);
  expect(Math.abs(exact.high - chord)).toBeLessThan(5 * exact.standardErrors.high);
  // The linear motion goes on straight, square to the nominal arm. The same seed draws the same angles, so that the
  // difference of the two shows clearly in spite of the sampling error of each.
  const linear = simulateLargestPosition(points, blade, { ...options, motion: 'linear' });
  const straight = 200 * Math.hypot(1 - Math.cos(0.5), Math.sin(0.5) + upper);
  expect(Math.abs(linear.high - exact.high - (straight - chord))).toBeLessThan(0.02);
  expect(straight - chord).toBeGreaterThan(0.5);
});

test('no check point and a covariance that is none are refused', () => {
  const blade = { error: motion([0, 0, 0], [0, 0, 0]), covariance: COVARIANCE };
  expect(() => jointConformanceProbability([], blade)).toThrow(ReductionError);
  expect(() => largestPositionQuantile(0.95, [], blade)).toThrow(ReductionError);
  expect(() => simulateConformance([], blade, { seed: 1, motion: 'linear' })).toThrow(ReductionError);
  const points = twoPoints('cylindrical', 0.05, 0.05);
  const bad = { ...blade, covariance: correlated([0.003, 0.003, 0.004, 2e-5, 2e-5, 4e-5], 1.5) };
  expect(() => simulateConformance(points, bad, { seed: 1, motion: 'linear' })).toThrow(ReductionError);
});

describe('displacements far beyond their deviation', () => {
  const rotation = rotationFromVector([0, 0, 0]);
  const points = [0, 160].map((z) => ({
    at: [0, 0, z] as const,
    zone: 'cylindrical' as const,
    direction: null,
    tolerance: 0.05,
  }));
  // Symptom: exact measurements were refused with "no change of sign"; cause: squares in units of the deviation; 2026-11-25.
  test.each([1e-15, 1e-13, 1e-10, 1e-7])('have a quantile just above their value: u = %d mm', (u) => {
    const covariance = Array.from({ length: 6 }, (_, i) =>
      Array.from({ length: 6 }, (__, j) => (i === j ? (i < 3 ? u * u : (u / 100) ** 2) : 0)),
    );
    for (const degreesOfFreedom of [Number.POSITIVE_INFINITY, 6.3]) {
      const error: RigidMotion = { rotation, translation: [0.003, 0.02, 0] };
      const blade = { error, covariance, degreesOfFreedom };
      const value = 2 * Math.hypot(0.003, 0.02);
      const quantile = largestPositionQuantile(0.95, points, blade).value;
      expect(quantile).toBeGreaterThan(value);
      expect(quantile - value).toBeLessThan(20 * u);
      expect(jointConformanceProbability(points, blade).value).toBeCloseTo(1, 9);
    }
  });
});
