/** Second-level position on patterns that can be worked out by hand. */
import { describe, expect, test } from 'vitest';
import type { PatternFreedom } from '../../shared-math/definition.ts';
import { motionFromTwist } from '../../shared-math/geometry/rigid-motion.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { norm, subtract } from '../../shared-math/geometry/vector.ts';
import { bestMotion } from '../../shared-math/pattern/best-motion.ts';
import { normMinimax } from '../../shared-math/pattern/norm-minimax.ts';
import type { NormProblem } from '../../shared-math/pattern/norm-problem.ts';
import { patternDistribution } from '../../shared-math/pattern/pattern-distribution.ts';
import { PATTERN_FREEDOMS, positionsAfter } from '../../shared-math/pattern/pattern-motion.ts';
import { carried, ringPlaces, X, Y, Z, zonePoint } from '../support/pattern-points.ts';
import { type RandomSource, randomSource } from '../support/random.ts';

const ALL = PATTERN_FREEDOMS;
const PLANE: readonly PatternFreedom[] = ['x', 'y'];
const TOLERANCE = 0.03;

/** Blades on a ring with zones along z, displaced in the plane. */
function planar(displacements: readonly (readonly [number, number])[]) {
  const places = ringPlaces(displacements.length, 240);
  return displacements.map(([x, y], k) => zonePoint(k + 1, places[k]!, [x, y, 0], [X, Y]));
}

describe('shifting the pattern in a plane: the smallest circle around the displacements', () => {
  const root3 = Math.sqrt(3);
  // Name, displacements, centre and diameter of their smallest enclosing circle, how many of them hold it.
  const circles: [string, [number, number][], [number, number], number, number][] = [
    [
      'two points',
      [
        [0.01, 0.02],
        [0.05, -0.01],
      ],
      [0.03, 0.005],
      0.05,
      2,
    ],
    [
      'an equilateral triangle of side 0.06',
      [
        [0, 0],
        [0.06, 0],
        [0.03, 0.03 * root3],
      ],
      [0.03, 0.01 * root3],
      0.12 / root3,
      3,
    ],
    [
      'a right triangle 3-4-5',
      [
        [0, 0],
        [0.03, 0],
        [0, 0.04],
      ],
      [0.015, 0.02],
      0.05,
      2,
    ],
    [
      'an obtuse triangle',
      [
        [-0.05, 0],
        [0.05, 0],
        [0.01, 0.01],
      ],
      [0, 0],
      0.1,
      2,
    ],
    [
      'an acute triangle and points within it',
      [
        [0, 0],
        [0.04, 0.08],
        [0.08, 0],
        [0.04, 0.03],
        [0.03, 0.01],
      ],
      [0.04, 0.03],
      0.1,
      3,
    ],
    [
      'a square, its centre, and a double corner',
      [
        [1, 1],
        [1, -1],
        [-1, 1],
        [-1, -1],
        [0, 0],
        [1, 1],
      ],
      [0, 0],
      2 * Math.SQRT2,
      5,
    ],
    [
      'points on a line',
      [
        [0, 0],
        [0.01, 0.02],
        [0.03, 0.06],
        [-0.02, -0.04],
      ],
      [0.005, 0.01],
      0.05 * Math.sqrt(5),
      2,
    ],
  ];
  test.each(circles)('%s', (_, displacements, centre, diameter, most) => {
    const best = bestMotion(planar(displacements), PLANE, TOLERANCE);
    expect(best.value).toBeCloseTo(diameter, 12);
    expect(best.motion.x).toBeCloseTo(centre[0], 10);
    expect(best.motion.y).toBeCloseTo(centre[1], 10);
    expect(best.gap).toBeLessThan(1e-11);
    const contacts = best.proof.weights.filter(
      (_, i) => i % 3 === 0 && norm([best.proof.weights[i]!, best.proof.weights[i + 1]!, 0]) > 1e-9,
    );
    expect(contacts.length).toBeGreaterThanOrEqual(2);
    expect(contacts.length).toBeLessThanOrEqual(Math.max(most, 2));
  });

  test('least squares goes to the mean and leaves more', () => {
    const { leastSquares, value } = bestMotion(
      planar([
        [0, 0],
        [0, 0.001],
        [0.04, 0.0],
      ]),
      PLANE,
      TOLERANCE,
    );
    expect(leastSquares.motion.x).toBeCloseTo(0.04 / 3, 12);
    expect(leastSquares.motion.y).toBeCloseTo(0.001 / 3, 12);
    expect(leastSquares.value).toBeCloseTo(2 * Math.hypot((2 * 0.04) / 3, 0.001 / 3), 12);
    expect(value).toBeLessThan(leastSquares.value);
  });

  test('with the plane held nothing moves', () => {
    const best = bestMotion(
      planar([
        [0.01, 0],
        [0.03, 0.04],
      ]),
      ['z'],
      TOLERANCE,
    );
    expect(best.value).toBeCloseTo(0.1, 14);
    expect(best.motion).toEqual({ x: 0, y: 0, z: 0, rotX: 0, rotY: 0, rotZ: 0 });
    expect(best.unknowns.undetermined).toEqual(['z']);
    expect(best.gap).toBeLessThan(1e-15);
  });
});

describe('zones that see one direction', () => {
  const places = ringPlaces(6, 200);
  const heights = [0.01, -0.02, 0.015, 0.03, 0, -0.005];
  const points = places.map((p, k) => zonePoint(k + 1, p, [0.4, -0.3, heights[k]!], [Z]));

  test('a common height goes to the middle of the range, held by its two ends in equal shares', () => {
    const best = bestMotion(points, ['z'], TOLERANCE);
    expect(best.motion.z).toBeCloseTo(0.005, 14);
    expect(best.value).toBeCloseTo(0.05, 14);
    const shares = points.map((_, j) => Math.abs(best.proof.weights[3 * j]!));
    expect(shares[1]).toBeCloseTo(0.5, 10);
    expect(shares[3]).toBeCloseTo(0.5, 10);
    expect(shares.filter((s) => s > 1e-12)).toHaveLength(2);
  });

  test('motions that no zone sees are named and left at zero', () => {
    const best = bestMotion(points, ALL, TOLERANCE);
    expect(best.unknowns.undetermined).toEqual(['x', 'y', 'rotZ']);
    expect([best.motion.x, best.motion.y, best.motion.rotZ]).toEqual([0, 0, 0]);
    expect(best.value).toBeLessThan(0.05);
    expect(best.gap).toBeLessThan(1e-11);
  });

  test('heights of a tilted plane vanish by tilting: h = z + 200·(rotX·sin θ − rotY·cos θ)', () => {
    const tilted = places.map((p, k) => zonePoint(k + 1, p, [0, 0, 0.02 + 1e-4 * p[1] + 5e-5 * p[0]], [Z]));
    const best = bestMotion(tilted, ['z', 'rotX', 'rotY'], TOLERANCE);
    // The zones tilt with the pattern, which leaves h·(1 − cos tilt): nothing here.
    expect(best.value).toBeLessThan(1e-9);
    expect(best.motion.z).toBeCloseTo(0.02, 8);
    expect(best.motion.rotX).toBeCloseTo(1e-4, 10);
    expect(best.motion.rotY).toBeCloseTo(-5e-5, 10);
  });
});

test('a disc that is shifted and tilted as a whole, by any size, is perfect at the second level', () => {
  const places = ringPlaces(18, 240);
  const still = places.map((p, k) => zonePoint(k + 1, p, [0, 0, 0], k % 2 ? [X, Y, Z] : [Z, X]));
  for (const size of [1e-4, 1e-2, 0.3]) {
    const motion = motionFromTwist({
      rotation: [size, -size / 2, size / 3],
      translation: [30 * size, size, 5],
    });
    const best = bestMotion(carried(still, motion), ALL, TOLERANCE);
    expect(best.value).toBeLessThan(1e-11);
    const found: Vec3 = [best.motion.x, best.motion.y, best.motion.z];
    expect(norm(subtract(found, motion.translation))).toBeLessThan(1e-10);
  }
});

describe('the certificate of the convex problem', () => {
  const problem = (random: RandomSource, count: number, size: number, columns: number): NormProblem => {
    const take = (row: number): number => (row % 3 < columns ? random.normal() : 0);
    return {
      count,
      size,
      offsets: Float64Array.from({ length: 3 * count }, (_, row) => 0.3 * take(row)),
      rows: Float64Array.from({ length: 3 * count * size }, (_, i) => take(Math.floor(i / size))),
    };
  };
  const cases = Array.from(
    { length: 60 },
    (_, k) => [k + 1, [4, 9, 30, 150][k % 4]!, 1 + (k % 6), 1 + (k % 3)] as const,
  );

  test.each(cases)('seed %i: %i vectors, %i unknowns, %i components', (seed, count, size, columns) => {
    const random = randomSource(seed);
    const { offsets, rows, ...rest } = problem(random, count, size, columns);
    const { step, value, lower, weights } = normMinimax({ offsets, rows, ...rest });
    const length = (x: ArrayLike<number>): number => {
      let most = 0;
      for (let j = 0; j < count; j++) {
        const r = [0, 1, 2].map((c) => {
          let sum = offsets[3 * j + c]!;
          for (let p = 0; p < size; p++) sum += rows[(3 * j + c) * size + p]! * x[p]!;
          return sum;
        });
        most = Math.max(most, Math.hypot(...r));
      }
      return most;
    };
    expect(length(step)).toBeCloseTo(value, 13);
    // A problem that can be solved to zero needs no weights.
    if (value > 1e-10) {
      let [total, bound] = [0, 0];
      for (let j = 0; j < count; j++) total += Math.hypot(...weights.slice(3 * j, 3 * j + 3));
      offsets.forEach((a, row) => {
        bound += a * weights[row]!;
      });
      expect(total).toBeLessThan(1 + 1e-12);
      for (let p = 0; p < size; p++) {
        let balance = 0;
        for (let row = 0; row < 3 * count; row++) balance += rows[row * size + p]! * weights[row]!;
        expect(Math.abs(balance)).toBeLessThan(1e-12);
      }
      expect(bound).toBeCloseTo(lower, 11);
    }
    expect(value - lower).toBeLessThan(1e-11);
    for (let tries = 0; tries < 20; tries++) {
      const size_ = 10 ** random.between(-6, 0);
      expect(length(step.map((x) => x + size_ * random.normal()))).toBeGreaterThan(lower - 1e-13);
    }
  });

  test('more blades than the working set holds: all are below the value', () => {
    const random = randomSource(77);
    const places = ringPlaces(400, 240);
    const points = places.map((p, k) =>
      zonePoint(
        k + 1,
        p,
        [random.normal() * 0.01, random.normal() * 0.01, random.normal() * 0.01],
        [X, Y, Z],
      ),
    );
    const best = bestMotion(points, ALL, TOLERANCE);
    expect(Math.max(...positionsAfter(points, best.motion))).toBeCloseTo(best.value, 14);
    expect(best.gap).toBeLessThan(1e-11);
  });
});

test('the distribution of the largest position, two blades and one height: |difference| of two normal heights', () => {
  const points = [
    zonePoint(1, [200, 0, 0], [0, 0, 0.004], [Z]),
    zonePoint(2, [-200, 0, 0], [0, 0, -0.002], [Z]),
  ];
  const tolerance = 0.007;
  const best = bestMotion(points, ['z'], tolerance);
  const u = 0.001;
  const disturb = (generator: { readonly normal: () => number }, offsets: Float64Array): void => {
    for (const row of [0, 3]) offsets[row]! += (2 / tolerance) * u * generator.normal();
  };
  const { largest, blades } = patternDistribution(best, points, disturb, 2, 0.95);
  // 0.006 + 1.6449·√2·u and Φ((0.007 − 0.006)/(√2·u)), in 1000 trials.
  expect(Math.abs(largest.quantile - (0.006 + 1.6449 * Math.SQRT2 * u))).toBeLessThan(4 * 0.11 * u);
  expect(Math.abs(largest.probability - 0.7602)).toBeLessThan(4 * 0.0135);
  expect(blades[0]!.quantile).toBeCloseTo(blades[1]!.quantile, 5);
});
