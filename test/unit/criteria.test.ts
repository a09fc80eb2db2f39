/** Criteria other than least squares on points that a reader can check by hand. */
import { describe, expect, test } from 'vitest';
import { associateByCriterion } from '../../shared-math/association/criteria/index.ts';
import {
  type AssociationInput,
  type Orientation,
  residualDistances,
} from '../../shared-math/association/index.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { angleBetween, dot, normalize } from '../../shared-math/geometry/vector.ts';
import { expectOptimal } from '../support/criteria-check.ts';
import { randomSource } from '../support/random.ts';

const FREE: Orientation = { kind: 'free', start: null };
const ALONG_Z: Orientation = { kind: 'fixed', direction: [0, 0, 1] };

function inputOf(points: readonly (readonly number[])[]): AssociationInput {
  return { xyz: Float64Array.from(points.flatMap(([x = 0, y = 0, z = 0]) => [x, y, z])) };
}

function expectPoint(actual: Vec3, expected: Vec3, digits = 12): void {
  expected.forEach((value, d) => {
    expect(actual[d]).toBeCloseTo(value, digits);
  });
}

function failureOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    if (error instanceof ReductionError) return error.failure;
    throw error;
  }
  return 'none';
}

describe('minimum circumscribed', () => {
  test('an obtuse triangle hangs on its longest side', () => {
    const input = inputOf([
      [0, 0],
      [4, 0],
      [2, 0.5],
    ]);
    const circle = associateByCriterion('minimum-circumscribed', 'circle', input, ALONG_Z);
    expectPoint(circle.point, [2, 0, 0]);
    expect(circle.radius).toBeCloseTo(2, 12);
    expect(circle.certificate.contacts).toEqual([0, 1]);
    expect(circle.certificate.multipliers).toEqual([0.5, 0.5]);
  });

  test('a right-angled triangle has its hypotenuse as diameter', () => {
    const circle = associateByCriterion(
      'minimum-circumscribed',
      'circle',
      inputOf([
        [0, 0],
        [6, 0],
        [0, 8],
      ]),
      ALONG_Z,
    );
    expectPoint(circle.point, [3, 4, 0]);
    expect(circle.radius).toBeCloseTo(5, 12);
  });

  test('a regular tetrahedron and a sphere held by two points', () => {
    const corners = [
      [1, 1, 1],
      [1, -1, -1],
      [-1, 1, -1],
      [-1, -1, 1],
    ];
    const around = associateByCriterion('minimum-circumscribed', 'sphere', inputOf(corners), FREE);
    expectPoint(around.point, [0, 0, 0]);
    expect(around.radius).toBeCloseTo(Math.sqrt(3), 12);
    const held = inputOf([...corners, [0, 0, 5], [0, 0, -5]]);
    const sphere = associateByCriterion('minimum-circumscribed', 'sphere', held, FREE);
    expect(sphere.radius).toBeCloseTo(5, 12);
    expect(sphere.certificate.contacts).toEqual([4, 5]);
    expectOptimal(sphere, held, []);
  });

  test('a cylinder of given direction is the circle of its projection', () => {
    const points = [
      [0, 0, 1],
      [6, 0, -7],
      [0, 8, 3],
    ];
    const cylinder = associateByCriterion('minimum-circumscribed', 'cylinder', inputOf(points), ALONG_Z);
    expectPoint(cylinder.point, [3, 4, -1]);
    expect(cylinder.radius).toBeCloseTo(5, 12);
  });
});

describe('maximum inscribed', () => {
  // From the middle, which is a saddle, the circle grows along x until √(1 + h²) = 1.5 − h: h = 5/12, r = 13/12.
  const points = [
    [1.5, 0],
    [-1.5, 0],
    [0, 1],
    [0, -1],
  ];

  test('leaves the saddle in the middle and names the mirror image', () => {
    const input = inputOf(points);
    const circle = associateByCriterion('maximum-inscribed', 'circle', input, ALONG_Z);
    expect(circle.radius).toBeCloseTo(13 / 12, 12);
    expect(Math.abs(circle.point[0])).toBeCloseTo(5 / 12, 12);
    expect(circle.certificate.contacts).toHaveLength(3);
    expectOptimal(circle, input, []);
    const mirrored = circle.alternatives.find(({ point }) => point[0] * circle.point[0] < 0);
    expect(mirrored?.point[0]).toBeCloseTo(-circle.point[0], 10);
    expect(mirrored?.size).toBeCloseTo(13 / 12, 10);
  });

  test('refuses half a turn, out of which the circle slips', () => {
    const arc = Array.from({ length: 20 }, (_, k) => {
      const angle = (0.9 * Math.PI * k) / 19;
      const radius = 10 + 0.01 * Math.sin(7 * k);
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    const run = () => associateByCriterion('maximum-inscribed', 'circle', inputOf(arc), ALONG_Z);
    expect(failureOf(run)).toBe('degenerate-points');
  });
});

describe('minimum zone', () => {
  test('a plane touched by three points below and one above', () => {
    const input = inputOf([
      [-10, -10, 0],
      [10, -10, 0],
      [0, 10, 0],
      [0, 0, 1],
    ]);
    const plane = associateByCriterion('minimax', 'plane', input, { kind: 'free', start: [0, 0, 1] });
    expect(plane.zoneWidth).toBeCloseTo(1, 12);
    expect(plane.form).toBeCloseTo(1, 12);
    expect(plane.point[2]).toBeCloseTo(0.5, 12);
    expectPoint(plane.direction!, [0, 0, 1]);
    // Barycentric coordinates of the upper point over the triangle, halved: 1/4, 1/4, 1/2.
    const { contacts, multipliers } = plane.certificate;
    expect(contacts).toEqual([0, 1, 2, 3]);
    expectPoint(multipliers.slice(0, 3) as unknown as Vec3, [0.125, 0.125, 0.25]);
    expect(multipliers[3]).toBeCloseTo(0.5, 12);
    expectOptimal(plane, input, [
      [1, 0, 0],
      [0, 1, 0],
    ]);
  });

  test('a plane that may only turn about an axis, and one of given direction', () => {
    // In the section x–z: (−10, 0), (10, 0), (0, 1). The upper point lies over the side below, so level is best.
    const points = [
      [-10, 3, 0],
      [10, -2, 0],
      [0, 7, 1],
    ];
    const about: Orientation = { kind: 'about', axis: [0, 1, 0], start: normalize([0.1, 0, 1]) };
    const plane = associateByCriterion('minimax', 'plane', inputOf(points), about);
    expect(plane.zoneWidth).toBeCloseTo(1, 12);
    expectPoint(plane.direction!, [0, 0, 1]);
    expect(plane.certificate.multipliers[2]).toBeCloseTo(0.5, 12);
    const fixed = associateByCriterion('minimax', 'plane', inputOf(points), {
      kind: 'fixed',
      direction: [0.6, 0, 0.8],
    });
    expect(fixed.zoneWidth).toBeCloseTo(12, 12);
    expect(fixed.certificate.contacts).toEqual([0, 1]);
  });

  test('a line in the smallest cylinder around its points', () => {
    const input = inputOf([
      [0, 0, -10],
      [0.2, 0, 0],
      [0, 0, 10],
    ]);
    const line = associateByCriterion('minimax', 'line', input, { kind: 'free', start: [0, 0, 1] });
    expect(line.zoneWidth).toBeCloseTo(0.2, 12);
    expect(line.form).toBeCloseTo(0.1, 12);
    expectPoint(line.point, [0.1, 0, 0]);
    expectOptimal(line, input, [
      [1, 0, 0],
      [0, 1, 0],
    ]);
  });

  test('a circle between two pairs of opposite points', () => {
    const circle = associateByCriterion(
      'minimax',
      'circle',
      inputOf([
        [1, 0],
        [0, 1.2],
        [-1, 0],
        [0, -1.2],
      ]),
      ALONG_Z,
    );
    expect(circle.zoneWidth).toBeCloseTo(0.2, 12);
    expect(circle.radius).toBeCloseTo(1.1, 12);
    expectPoint(circle.point, [0, 0, 0]);
    expect(circle.certificate.contacts).toEqual([0, 1, 2, 3]);
  });

  test('a sphere between an inner ring and two poles', () => {
    const input = inputOf([
      [1, 0, 0],
      [-1, 0, 0],
      [0, 1, 0],
      [0, -1, 0],
      [0, 0, 1.2],
      [0, 0, -1.2],
    ]);
    const sphere = associateByCriterion('minimax', 'sphere', input, FREE);
    expect(sphere.zoneWidth).toBeCloseTo(0.2, 12);
    expect(sphere.radius).toBeCloseTo(1.1, 12);
    expectOptimal(sphere, input, []);
  });

  test('perfect points have a zone of no width', () => {
    const ring = Array.from({ length: 24 }, (_, k) => [
      7 * Math.cos((k * Math.PI) / 12),
      7 * Math.sin((k * Math.PI) / 12),
      k % 5,
    ]);
    const cylinder = associateByCriterion('minimax', 'cylinder', inputOf(ring), FREE);
    expect(cylinder.radius).toBeCloseTo(7, 12);
    expect(cylinder.zoneWidth).toBeLessThan(1e-13);
    expect(cylinder.certificate.gap).toBeLessThan(1e-13);
  });
});

describe('gaussian-outer', () => {
  test('moves the least-squares plane to the outermost point, either way', () => {
    const input = inputOf([
      [-1, -1, 0.1],
      [1, -1, -0.1],
      [1, 1, 0.1],
      [-1, 1, -0.1],
      [0, 0, 0.5],
      [0, 0, -0.5],
    ]);
    const start: Orientation = { kind: 'free', start: [0, 0, 1] };
    const above = associateByCriterion('gaussian-outer', 'plane', input, start, { outward: 1 });
    const below = associateByCriterion('gaussian-outer', 'plane', input, start, { outward: -1 });
    expectPoint(above.point, [0, 0, 0.5]);
    expectPoint(below.point, [0, 0, -0.5]);
    expect(above.certificate).toEqual({ contacts: [4], multipliers: [1], gap: 0 });
    expect(below.certificate.contacts).toEqual([5]);
    expect(above.form).toBeCloseTo(1, 12);
  });

  test('a bore takes its smallest, a shaft its largest radius about the least-squares axis', () => {
    const ring = [0, 1, 2, 3].map((k) => {
      const radius = k % 2 === 0 ? 10.1 : 9.9;
      return [radius * Math.cos((k * Math.PI) / 2), radius * Math.sin((k * Math.PI) / 2)];
    });
    const bore = associateByCriterion('gaussian-outer', 'circle', inputOf(ring), ALONG_Z, { outward: -1 });
    const shaft = associateByCriterion('gaussian-outer', 'circle', inputOf(ring), ALONG_Z, { outward: 1 });
    expect(bore.radius).toBeCloseTo(9.9, 12);
    expect(shaft.radius).toBeCloseTo(10.1, 12);
    expectPoint(bore.point, [0, 0, 0]);
  });
});

describe('tip radii', () => {
  const random = randomSource(31);
  const bore = Array.from({ length: 40 }, (_, k) => {
    const radius = 20 + random.between(-0.02, 0.02);
    return { angle: k * 0.9, radius, s: random.between(-10, 10), tip: k % 2 === 0 ? 1 : 2.5 };
  });
  const at = (radius: number, angle: number, s: number): number[] => [
    radius * Math.cos(angle),
    radius * Math.sin(angle),
    s,
  ];
  const surface = inputOf(bore.map(({ angle, radius, s }) => at(radius, angle, s)));
  const centres: AssociationInput = {
    ...inputOf(bore.map(({ angle, radius, s, tip }) => at(radius - tip, angle, s))),
    offsets: Float64Array.from(bore, ({ tip }) => -tip),
  };

  test.each(['minimax', 'minimum-circumscribed', 'maximum-inscribed'] as const)(
    '%s of a bore',
    (criterion) => {
      const fromSurface = associateByCriterion(criterion, 'cylinder', surface, ALONG_Z);
      const fromTips = associateByCriterion(criterion, 'cylinder', centres, ALONG_Z);
      // The tip centres lie on the same radii, so only second-order terms of the eccentricity tell them apart.
      expect(Math.abs(fromTips.radius! - fromSurface.radius!)).toBeLessThan(2e-5);
      expect(fromTips.radius).not.toBe(fromSurface.radius);
      expectOptimal(fromTips, centres, []);
      const distances = residualDistances(fromTips, centres);
      if (criterion === 'maximum-inscribed') expect(Math.min(...distances)).toBeCloseTo(0, 12);
    },
  );

  test('a plane of tip centres lies on the surface', () => {
    const heights = [0, 0.1, -0.1, 0.05, -0.02, 0.08, -0.06];
    const places = heights.map((_, k) => [30 * Math.cos(k * 0.9), 30 * Math.sin(k * 0.9)] as const);
    const start: Orientation = { kind: 'free', start: [0, 0, 1] };
    const flat = inputOf(places.map(([x, y], k) => [x, y, heights[k]!]));
    const tips: AssociationInput = {
      ...inputOf(places.map(([x, y], k) => [x, y, heights[k]! + 1 + (k % 3)])),
      offsets: Float64Array.from(heights, (_, k) => 1 + (k % 3)),
    };
    const fromSurface = associateByCriterion('minimax', 'plane', flat, start);
    const fromTips = associateByCriterion('minimax', 'plane', tips, start);
    expect(fromTips.certificate.contacts).toEqual(fromSurface.certificate.contacts);
    expect(Math.abs(fromTips.zoneWidth! - fromSurface.zoneWidth!)).toBeLessThan(1e-4);
  });

  test('a line refuses them', () => {
    const run = () => associateByCriterion('minimax', 'line', centres, FREE);
    expect(failureOf(run)).toBe('missing-normals');
  });
});

describe('directions', () => {
  test('turning about an axis keeps the angle to it', () => {
    const random = randomSource(8);
    const axis = normalize([0.3, 0, 1]);
    const start: Vec3 = [0, 0, 1];
    const points = Array.from({ length: 30 }, () => {
      const angle = random.between(0, 2 * Math.PI);
      const radius = 8 + random.between(-0.05, 0.05);
      return [radius * Math.cos(angle), radius * Math.sin(angle), random.between(-12, 12)];
    });
    const input = inputOf(points);
    const held = associateByCriterion('minimax', 'cylinder', input, { kind: 'about', axis, start });
    const loose = associateByCriterion('minimax', 'cylinder', input, { kind: 'free', start });
    const stiff = associateByCriterion('minimax', 'cylinder', input, ALONG_Z);
    expect(angleBetween(held.direction!, axis)).toBeCloseTo(angleBetween(start, axis), 12);
    expect(dot(held.direction!, start)).toBeLessThan(1);
    expect(loose.zoneWidth!).toBeLessThan(held.zoneWidth!);
    expect(held.zoneWidth!).toBeLessThan(stiff.zoneWidth!);
    const sideways = normalize([
      axis[1] * held.direction![2] - axis[2] * held.direction![1],
      axis[2] * held.direction![0] - axis[0] * held.direction![2],
      axis[0] * held.direction![1] - axis[1] * held.direction![0],
    ]);
    expectOptimal(held, input, [sideways]);
  });
});

describe('what does not exist', () => {
  const ring = inputOf([
    [1, 0],
    [0, 1],
    [-1, 0],
    [0, -1],
  ]);

  test.each([
    ['maximum-inscribed', 'plane'],
    ['minimum-circumscribed', 'line'],
    ['minimax', 'cone'],
    ['minimax', 'midplane'],
    ['gaussian-outer', 'line'],
    ['gaussian-outer', 'point'],
  ] as const)('%s %s', (criterion, type) => {
    expect(failureOf(() => associateByCriterion(criterion, type, ring, ALONG_Z))).toBe('invalid-argument');
  });

  test('gaussian-outer without a material side', () => {
    expect(failureOf(() => associateByCriterion('gaussian-outer', 'circle', ring, ALONG_Z))).toBe(
      'invalid-argument',
    );
  });

  test('coincident, collinear and too few points', () => {
    const line = inputOf([
      [0, 0, 0],
      [1, 1, 1],
      [2, 2, 2],
      [3, 3, 3],
    ]);
    expect(failureOf(() => associateByCriterion('minimax', 'plane', line, FREE))).toBe('degenerate-points');
    expect(failureOf(() => associateByCriterion('minimum-circumscribed', 'sphere', line, FREE))).toBe(
      'degenerate-points',
    );
    expect(failureOf(() => associateByCriterion('minimum-circumscribed', 'sphere', ring, FREE))).toBe(
      'degenerate-points',
    );
  });
});
