/** Criteria against brute force over all contact sets, and their invariances. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type AssociationCriterion,
  associateByCriterion,
} from '../../shared-math/association/criteria/index.ts';
import {
  type AssociationInput,
  associateCircle,
  associateCylinder,
  associateSphere,
  type Orientation,
  residualDistances,
  tangentBasis,
} from '../../shared-math/association/index.ts';
import { applyToDirection, applyToPoint } from '../../shared-math/geometry/rigid-motion.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import {
  addScaled,
  angleBetween,
  cross,
  distance,
  dot,
  norm,
  normalize,
  subtract,
} from '../../shared-math/geometry/vector.ts';
import { expectOptimal } from '../support/criteria-check.ts';
import { type RandomSource, randomSource } from '../support/random.ts';

const ALONG_Z: Orientation = { kind: 'fixed', direction: [0, 0, 1] };
const FREE_Z: Orientation = { kind: 'free', start: [0, 0, 1] };
const SEED = { seed: 1_957, numRuns: 60 };

type Plane = readonly [number, number];

const inputOf = (points: readonly Vec3[]): AssociationInput => ({ xyz: Float64Array.from(points.flat()) });

function subsets<T>(items: readonly T[], size: number): T[][] {
  if (size === 0) return [[]];
  return items.flatMap((item, k) => subsets(items.slice(k + 1), size - 1).map((rest) => [item, ...rest]));
}

/** Centre equally far from three points; null for three on a line. */
function circumcentre([a, b, c]: readonly Plane[]): Plane | null {
  const [bx, by] = [b![0] - a![0], b![1] - a![1]];
  const [cx, cy] = [c![0] - a![0], c![1] - a![1]];
  const twice = 2 * (bx * cy - by * cx);
  if (Math.abs(twice) < 1e-9) return null;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  return [a![0] + (cy * bb - by * cc) / twice, a![1] + (bx * cc - cx * bb) / twice];
}

/** Centre on the perpendicular bisectors of two pairs. */
function pairCentre([a, b]: readonly Plane[], [c, d]: readonly Plane[]): Plane | null {
  const [p, q] = [b![0] - a![0], b![1] - a![1]];
  const [r, s] = [d![0] - c![0], d![1] - c![1]];
  const determinant = p * s - q * r;
  if (Math.abs(determinant) < 1e-9) return null;
  const u = (b![0] ** 2 + b![1] ** 2 - a![0] ** 2 - a![1] ** 2) / 2;
  const v = (d![0] ** 2 + d![1] ** 2 - c![0] ** 2 - c![1] ** 2) / 2;
  return [(u * s - q * v) / determinant, (p * v - u * r) / determinant];
}

/** A ring of about unit radius: distances of its points from a centre, and their extremes. */
function extremes(points: readonly Plane[], centre: Plane): readonly [number, number] {
  const all = points.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]));
  return [Math.min(...all), Math.max(...all)];
}

function ring(random: RandomSource, count: number, noise: number): Plane[] {
  return Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * (k + random.between(-0.3, 0.3))) / count;
    const radius = 1 + noise * random.normal();
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
}

const cases = (check: (random: RandomSource) => void, runs = SEED.numRuns): void => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1 << 30 }), (seed) => check(randomSource(seed))),
    { ...SEED, numRuns: runs },
  );
};

describe('brute force over contact sets', () => {
  test('minimum circumscribed circle: all pairs and triples of scattered points', () => {
    cases((random) => {
      const points = Array.from({ length: 8 }, (): Plane => [random.normal(), random.normal()]);
      const centres = [
        ...subsets(points, 2).map(([a, b]): Plane => [(a![0] + b![0]) / 2, (a![1] + b![1]) / 2]),
        ...subsets(points, 3)
          .map(circumcentre)
          .filter((c) => c !== null),
      ];
      const least = Math.min(...centres.map((c) => extremes(points, c)[1]));
      const input = inputOf(points.map(([x, y]) => [x, y, 0]));
      const circle = associateByCriterion('minimum-circumscribed', 'circle', input, ALONG_Z);
      expect(Math.abs(circle.radius! - least)).toBeLessThan(1e-12 * least);
      expectOptimal(circle, input, []);
    });
  });

  test('minimum circumscribed sphere: never larger than around any other centre', () => {
    cases((random) => {
      const points = Array.from(
        { length: 9 },
        (): Vec3 => [random.normal(), random.normal(), random.normal()],
      );
      const input = inputOf(points);
      const sphere = associateByCriterion('minimum-circumscribed', 'sphere', input, FREE_Z);
      expectOptimal(sphere, input, []);
      // Convex, so the optimality conditions are enough; a search around must agree.
      for (let k = 0; k < 50; k++) {
        const centre = addScaled(sphere.point, random.direction(), 10 ** random.between(-7, 0));
        expect(Math.max(...points.map((p) => distance(p, centre)))).toBeGreaterThan(sphere.radius! - 1e-13);
      }
    });
  });

  test('minimum-zone circle: all pairs of pairs', () => {
    cases((random) => {
      const points = ring(random, 7, 0.02);
      const pairs = subsets(points, 2);
      const centres = pairs
        .flatMap((outer) => pairs.map((inner) => pairCentre(outer, inner)))
        .filter((c) => c !== null)
        // A zone of parallel lines far away may be narrower; the search stays with the feature.
        .filter(([x, y]) => Math.hypot(x, y) < 0.3);
      const least = Math.min(
        ...centres.map((c) => {
          const [low, high] = extremes(points, c);
          return high - low;
        }),
      );
      const input = inputOf(points.map(([x, y]) => [x, y, 0]));
      const circle = associateByCriterion('minimax', 'circle', input, ALONG_Z);
      expect(Math.abs(circle.zoneWidth! - least)).toBeLessThan(1e-12);
      expectOptimal(circle, input, []);
    });
  });

  test('maximum inscribed circle: all triples', () => {
    cases((random) => {
      const points = ring(random, 12, 0.02);
      const centres = subsets(points, 3)
        .map(circumcentre)
        .filter((c) => c !== null)
        .filter(([x, y]) => Math.hypot(x, y) < 0.3);
      const most = Math.max(...centres.map((c) => extremes(points, c)[0]));
      const input = inputOf(points.map(([x, y]) => [x, y, 0]));
      const circle = associateByCriterion('maximum-inscribed', 'circle', input, ALONG_Z);
      expect(Math.abs(circle.radius! - most)).toBeLessThan(1e-12);
      expectOptimal(circle, input, []);
    });
  });

  test('minimum-zone plane: all faces and pairs of edges', () => {
    cases((random) => {
      const points = Array.from(
        { length: 7 },
        (): Vec3 => [random.between(-1, 1), random.between(-1, 1), 0.05 * random.normal()],
      );
      const edges = subsets(points, 2).map(([a, b]) => subtract(b!, a!));
      const least = Math.min(
        ...subsets(edges, 2)
          .map(([a, b]) => cross(a!, b!))
          .filter((n) => norm(n) > 1e-9)
          .map(normalize)
          .filter((n) => Math.abs(n[2]) > 0.8)
          .map((n) => {
            const heights = points.map((p) => dot(p, n));
            return Math.max(...heights) - Math.min(...heights);
          }),
      );
      const input = inputOf(points);
      const plane = associateByCriterion('minimax', 'plane', input, FREE_Z);
      expect(Math.abs(plane.zoneWidth! - least)).toBeLessThan(1e-12);
      expectOptimal(plane, input, tangentBasis(plane.direction!));
    });
  });
});

/** A cylinder, its points in a plane as a disc, and a sphere, with the same radial errors. */
function roundFeatures(random: RandomSource, count: number, noise: number) {
  const motion = random.motion(100);
  const radius = random.between(2, 50);
  const errors = Array.from({ length: count }, () => noise * radius * random.normal());
  const place = (p: Vec3): Vec3 => applyToPoint(motion, p);
  const cylinder = errors.map((e, k): Vec3 => {
    const angle = (2 * Math.PI * (k + random.between(-0.4, 0.4))) / count;
    return place([
      (radius + e) * Math.cos(angle),
      (radius + e) * Math.sin(angle),
      random.between(-1, 1) * radius,
    ]);
  });
  const sphere = errors.map((e, k): Vec3 => {
    const z = ((k + 0.5) * 2) / count - 1;
    const across = Math.sqrt(1 - z * z);
    const turn = k * Math.PI * (3 - Math.sqrt(5));
    return place([
      (radius + e) * across * Math.cos(turn),
      (radius + e) * across * Math.sin(turn),
      (radius + e) * z,
    ]);
  });
  const axis: Vec3 = [motion.rotation[0][2], motion.rotation[1][2], motion.rotation[2][2]];
  return { cylinder: inputOf(cylinder), sphere: inputOf(sphere), axis, radius };
}

const CRITERIA: readonly AssociationCriterion[] = ['minimax', 'minimum-circumscribed', 'maximum-inscribed'];

describe('criteria of round features', () => {
  test('certificates hold, and no criterion is beaten by the least-squares feature', () => {
    cases((random) => {
      const { cylinder, sphere, axis } = roundFeatures(random, 40, 1e-3);
      const free: Orientation = { kind: 'free', start: axis };
      const fits = [
        { type: 'cylinder', input: cylinder, fit: associateCylinder(cylinder, free) },
        {
          type: 'circle',
          input: cylinder,
          fit: associateCircle(cylinder, { kind: 'fixed', direction: axis }),
        },
        { type: 'sphere', input: sphere, fit: associateSphere(sphere) },
      ] as const;
      for (const { type, input, fit } of fits) {
        const residuals = residualDistances(fit, input);
        const orientation: Orientation = type === 'circle' ? { kind: 'fixed', direction: axis } : free;
        const [zone, around, within] = CRITERIA.map((criterion) => {
          const feature = associateByCriterion(criterion, type, input, orientation);
          expectOptimal(feature, input, type === 'cylinder' ? tangentBasis(feature.direction!) : []);
          return feature;
        });
        expect(zone!.zoneWidth!).toBeLessThan(Math.min(fit.form, around!.form, within!.form) + 1e-12);
        expect(around!.radius!).toBeLessThan(fit.radius! + Math.max(...residuals) + 1e-12);
        expect(within!.radius!).toBeGreaterThan(fit.radius! + Math.min(...residuals) - 1e-12);
        expect(within!.radius!).toBeLessThan(fit.radius!);
        expect(around!.radius!).toBeGreaterThan(fit.radius!);
      }
    }, 20);
  });

  test('rigid motion, scale and order of the points change nothing else', () => {
    cases((random) => {
      const { cylinder, axis } = roundFeatures(random, 30, 1e-3);
      const n = cylinder.xyz.length / 3;
      const order = Array.from({ length: n }, (_, i) => (7 * i + 3) % n);
      const motion = random.motion(50);
      const scale = 2.5;
      const moved = inputOf(
        order.map((i) => {
          const [x, y, z] = applyToPoint(motion, [
            ...cylinder.xyz.slice(3 * i, 3 * i + 3),
          ] as unknown as Vec3);
          return [scale * x, scale * y, scale * z];
        }),
      );
      const turned = applyToDirection(motion, axis);
      for (const criterion of CRITERIA) {
        const before = associateByCriterion(criterion, 'cylinder', cylinder, { kind: 'free', start: axis });
        const after = associateByCriterion(criterion, 'cylinder', moved, { kind: 'free', start: turned });
        const bound = 1e-11 * before.conditionNumber;
        expect(Math.abs(after.radius! - scale * before.radius!)).toBeLessThan(bound);
        expect(Math.abs(after.form - scale * before.form)).toBeLessThan(bound);
        expect(angleBetween(after.direction!, applyToDirection(motion, before.direction!))).toBeLessThan(
          bound,
        );
        const contacts = after.certificate.contacts.map((i) => order[i]!).sort((a, b) => a - b);
        expect(contacts).toEqual(before.certificate.contacts);
      }
    }, 15);
  });
});
