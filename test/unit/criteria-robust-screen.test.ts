/** The screen of outliers: what it flags, what it must not, and where its limits lie. */
import { describe, expect, test } from 'vitest';
import { screenOutliers } from '../../shared-math/association/criteria/index.ts';
import {
  type AssociationInput,
  associatePlane,
  type Orientation,
} from '../../shared-math/association/index.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { angleBetween, distance } from '../../shared-math/geometry/vector.ts';
import { randomSource } from '../support/random.ts';

const UP: Orientation = { kind: 'free', start: [0, 0, 1] };
const inputOf = (points: readonly Vec3[]): AssociationInput => ({ xyz: Float64Array.from(points.flat()) });
const NOISE = 0.002;

function face(seed: number, count: number): Vec3[] {
  const random = randomSource(seed);
  return Array.from({ length: count }, () => [
    random.between(-20, 20),
    random.between(-20, 20),
    NOISE * random.normal(),
  ]);
}

describe('plane', () => {
  test.each(['huber', 'biweight'] as const)('%s flags lone points off the face and no others', (method) => {
    const points = face(3, 60);
    points[10] = [points[10]![0], points[10]![1], 0.05];
    points[41] = [points[41]![0], points[41]![1], -0.03];
    const input = inputOf(points);
    const screen = screenOutliers({ type: 'plane', orientation: UP }, input, { method, cutoff: 4.5 });
    expect(screen.flagged).toEqual([10, 41]);
    expect(screen.scale).toBeGreaterThan(0.6 * NOISE);
    expect(screen.scale).toBeLessThan(1.5 * NOISE);
    expect(screen.weights[10]!).toBeLessThan(0.2);
    const clean = associatePlane(inputOf(points.filter((_, i) => i !== 10 && i !== 41)), UP);
    expect(screen.feature).toEqual(clean);
  });

  test('biweight holds against 40 % outliers that agree on the rim, where least squares is pulled over', () => {
    const random = randomSource(9);
    const good = face(5, 60);
    const bad = Array.from(
      { length: 40 },
      (): Vec3 => [random.between(55, 60), random.between(-5, 5), random.between(2, 3)],
    );
    const input = inputOf([...good, ...bad]);
    const plain = associatePlane(input, UP);
    expect(angleBetween(plain.direction!, [0, 0, 1])).toBeGreaterThan(0.02);
    const screen = screenOutliers({ type: 'plane', orientation: UP }, input, {
      method: 'biweight',
      cutoff: 4.5,
    });
    expect(screen.start).toBe('least-median');
    expect(screen.flagged.filter((i) => i >= 60)).toHaveLength(40);
    expect(screen.flagged.filter((i) => i < 60).length).toBeLessThan(3);
    expect(angleBetween(screen.feature.direction!, [0, 0, 1])).toBeLessThan(1e-4);
  });

  test('huber is pulled over by the same points: its stated limit', () => {
    const random = randomSource(9);
    const bad = Array.from(
      { length: 40 },
      (): Vec3 => [random.between(55, 60), random.between(-5, 5), random.between(2, 3)],
    );
    const screen = screenOutliers({ type: 'plane', orientation: UP }, inputOf([...face(5, 60), ...bad]), {
      method: 'huber',
      cutoff: 4.5,
    });
    expect(screen.flagged.filter((i) => i >= 60).length).toBeLessThan(40);
  });

  test('normal noise alone is rarely flagged', () => {
    let flagged = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const screen = screenOutliers({ type: 'plane', orientation: UP }, inputOf(face(seed, 100)), {
        method: 'biweight',
        cutoff: 3.5,
      });
      flagged += screen.flagged.length;
    }
    // Of 2000 points 0.05 % lie beyond 3.5 standard deviations; the scale scatters by some 8 %.
    expect(flagged).toBeLessThan(8);
  });

  test('perfect points flag the one that is not, and nothing from rounding', () => {
    const points = Array.from({ length: 30 }, (_, k): Vec3 => [k % 6, Math.floor(k / 6), 0.1 * (k % 6)]);
    points[17] = [points[17]![0], points[17]![1], points[17]![2] + 1e-6];
    for (const method of ['huber', 'biweight'] as const) {
      const screen = screenOutliers({ type: 'plane', orientation: UP }, inputOf(points), {
        method,
        cutoff: 6,
      });
      expect(screen.flagged).toEqual([17]);
    }
  });

  test('a point of large stated uncertainty is judged by it', () => {
    const points = face(12, 50);
    points[7] = [points[7]![0], points[7]![1], 0.05];
    const weights = new Float64Array(50).fill(1 / NOISE ** 2);
    weights[7] = 1 / 0.05 ** 2;
    const input = { ...inputOf(points), weights };
    const screen = screenOutliers({ type: 'plane', orientation: UP }, input, {
      method: 'biweight',
      cutoff: 4,
    });
    expect(screen.flagged).not.toContain(7);
  });
});

describe('round features and lines', () => {
  const random = randomSource(77);
  const shaft = Array.from({ length: 80 }, (_, k): Vec3 => {
    const angle = 0.7 * k;
    const radius = 15 + NOISE * random.normal() + (k % 9 === 4 ? 0.08 : 0);
    return [radius * Math.cos(angle), radius * Math.sin(angle), random.between(-20, 20)];
  });
  const wrong = shaft.map((_, k) => k).filter((k) => k % 9 === 4);

  test.each([
    ['cylinder', UP, 'least-squares'],
    ['cylinder', { kind: 'fixed', direction: [0, 0, 1] }, 'least-median'],
    ['circle', { kind: 'fixed', direction: [0, 0, 1] }, 'least-median'],
  ] as const)('%s', (type, orientation, start) => {
    const screen = screenOutliers({ type, orientation }, inputOf(shaft), { method: 'biweight', cutoff: 6 });
    expect(screen.start).toBe(start);
    expect(screen.flagged).toEqual(wrong);
    expect(screen.feature.points).toBe(80 - wrong.length);
    expect(Math.abs(screen.feature.radius! - 15)).toBeLessThan(0.002);
  });

  test('sphere', () => {
    const points = Array.from({ length: 50 }, (_, k): Vec3 => {
      const radius = 8 + NOISE * random.normal() + (k === 20 || k === 33 ? -0.05 : 0);
      const [x, y, z] = random.direction();
      return [radius * x, radius * y, radius * z];
    });
    const screen = screenOutliers({ type: 'sphere', orientation: UP }, inputOf(points), {
      method: 'biweight',
      cutoff: 6,
    });
    expect(screen.flagged).toEqual([20, 33]);
    expect(distance(screen.feature.point, [0, 0, 0])).toBeLessThan(0.003);
  });

  test('line, whose distances have two components', () => {
    const points = Array.from(
      { length: 60 },
      (_, k): Vec3 => [NOISE * random.normal(), NOISE * random.normal() + (k === 59 ? 0.06 : 0), k],
    );
    const screen = screenOutliers({ type: 'line', orientation: UP }, inputOf(points), {
      method: 'biweight',
      cutoff: 5,
    });
    expect(screen.flagged).toEqual([59]);
    expect(screen.scale).toBeGreaterThan(0.7 * NOISE);
    expect(screen.scale).toBeLessThan(1.4 * NOISE);
  });
});

test('a cutoff that is not positive is refused', () => {
  const run = (cutoff: number) => () =>
    screenOutliers({ type: 'plane', orientation: UP }, inputOf(face(1, 10)), { method: 'huber', cutoff });
  expect(run(0)).toThrow(ReductionError);
  expect(run(Number.NaN)).toThrow(ReductionError);
});
