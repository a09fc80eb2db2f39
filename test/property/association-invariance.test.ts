/** What must not matter to a fit: where the part lies, the order of its points, the unit, the sense of the start. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associateMidplane,
  associatePlane,
  associatePoint,
  associateSphere,
  type Orientation,
  type SubstituteFeature,
} from '../../shared-math/association/index.ts';
import {
  add,
  angleBetween,
  applyToDirection,
  applyToPoint,
  applyToPoints,
  distance,
  negate,
  type RigidMotion,
  scale,
  type Vec3,
} from '../../shared-math/geometry/index.ts';
import { randomSource } from '../support/random.ts';

const random = randomSource(11);
const options = { seed: 20_261_125, numRuns: 40 };
const noise = (): number => 0.01 * random.normal();

function points(count: number, make: () => Vec3): Float64Array {
  return Float64Array.from(Array.from({ length: count }, make).flat());
}

function around(radius: number, taper: number, arc: number): Vec3 {
  const [t, z] = [arc * random.uniform(), random.between(-20, 20)];
  const r = radius + taper * z + noise();
  return [r * Math.cos(t), r * Math.sin(t), z];
}

type Fit = (xyz: Float64Array, orientation: Orientation, unit: number) => SubstituteFeature;
const features: Record<string, { readonly xyz: Float64Array; readonly associated: Fit }> = {
  plane: {
    xyz: points(20, () => [random.between(-30, 30), random.between(-10, 10), noise()]),
    associated: (xyz, o) => associatePlane({ xyz }, o),
  },
  line: {
    xyz: points(12, () => [noise(), noise(), random.between(-30, 30)]),
    associated: (xyz, o) => associateLine({ xyz }, o),
  },
  circle: {
    xyz: points(15, () => {
      const p = around(25, 0, 2);
      return [p[0], p[1], noise()];
    }),
    associated: (xyz, o) => associateCircle({ xyz }, o),
  },
  sphere: {
    xyz: points(25, () => scale(random.direction(), 15 + noise())),
    associated: (xyz) => associateSphere({ xyz }),
  },
  cylinder: {
    xyz: points(30, () => around(40, 0, 4)),
    associated: (xyz, o) => associateCylinder({ xyz }, o),
  },
  cone: {
    xyz: points(30, () => around(40, 0.5, 6)),
    associated: (xyz, o, unit) => associateCone({ xyz }, o, { halfAngle: 0.4, radius: 35 * unit }),
  },
  point: { xyz: points(9, () => [noise(), noise(), noise()]), associated: (xyz) => associatePoint({ xyz }) },
  midplane: {
    xyz: points(24, () => [random.between(-30, 30), random.between(-10, 10), noise()]).map((c, i) =>
      i % 3 === 2 ? c + (i < 36 ? 8 : -8) : c,
    ),
    associated: (xyz, o) => associateMidplane({ xyz: xyz.subarray(0, 36) }, { xyz: xyz.subarray(36) }, o),
  },
};

const start: Vec3 = [0.02, -0.03, 1];
/** The direction may turn about x only; the start is off by a degree. */
const kinds = (motion: RigidMotion, sense = 1): Orientation[] => [
  { kind: 'free', start: scale(applyToDirection(motion, start), sense) },
  {
    kind: 'about',
    axis: applyToDirection(motion, [1, 0, 0]),
    start: scale(applyToDirection(motion, [0, 0.02, 1]), sense),
  },
  { kind: 'fixed', direction: scale(applyToDirection(motion, [0.001, 0, 1]), sense) },
];
const still: RigidMotion = {
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  translation: [0, 0, 0],
};
const seeds = fc.integer({ min: 1, max: 1 << 30 });

function expectSame(
  actual: SubstituteFeature,
  expected: SubstituteFeature,
  length: number,
  angle: number,
): void {
  expect(distance(actual.point, expected.point)).toBeLessThan(length);
  if (expected.direction) expect(angleBetween(actual.direction!, expected.direction)).toBeLessThan(angle);
  if (expected.radius !== null) expect(Math.abs(actual.radius! - expected.radius)).toBeLessThan(length);
  if (expected.halfAngle !== null)
    expect(Math.abs(actual.halfAngle! - expected.halfAngle)).toBeLessThan(angle);
  expect(Math.abs(actual.form - expected.form)).toBeLessThan(length);
  expect(Math.abs(actual.rms - expected.rms)).toBeLessThan(length);
}

function repeated(xyz: Float64Array, times: number): Float64Array {
  const again = new Float64Array(times * xyz.length);
  for (let k = 0; k < times; k++) again.set(xyz, k * xyz.length);
  return again;
}

describe.each(Object.entries(features))('%s', (type, { xyz, associated }) => {
  test('moves with its points', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const motion = randomSource(seed).motion(10_000);
        const moved = applyToPoints(motion, xyz);
        kinds(still).forEach((orientation, k) => {
          const there = associated(moved, kinds(motion)[k]!, 1);
          const here = associated(xyz, orientation, 1);
          const carried = {
            ...here,
            point: applyToPoint(motion, here.point),
            direction: here.direction && applyToDirection(motion, here.direction),
          };
          // The moved points are rounded to 2e-12 mm; features here magnify that by at most a hundred.
          expectSame(there, carried, 1e-9, 1e-10);
        });
      }),
      options,
    );
  });

  test('does not see the order of its points', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const source = randomSource(seed);
        // The faces of a mid-plane are told apart by place in the array, so points stay on their face.
        const order = Array.from({ length: xyz.length / 3 }, (_, i) => ({
          i,
          face: type === 'midplane' && i >= 12 ? 1 : 0,
          key: source.uniform(),
        })).sort((a, b) => a.face - b.face || a.key - b.key);
        const shuffled = Float64Array.from(order.flatMap(({ i }) => [...xyz.subarray(3 * i, 3 * i + 3)]));
        for (const orientation of kinds(still)) {
          expectSame(associated(shuffled, orientation, 1), associated(xyz, orientation, 1), 1e-11, 1e-12);
        }
      }),
      options,
    );
  });

  test('scales with the unit', () => {
    for (const unit of [1 / 25.4, 1e-3, 1000]) {
      for (const orientation of kinds(still)) {
        const one = associated(xyz, orientation, 1);
        const other = associated(
          xyz.map((c) => c * unit),
          orientation,
          unit,
        );
        const back = {
          ...other,
          point: scale(other.point, 1 / unit),
          radius: other.radius === null ? null : other.radius / unit,
          form: other.form / unit,
          rms: other.rms / unit,
        };
        expectSame(back, one, 1e-11, 1e-12);
        expect(other.conditionNumber / one.conditionNumber).toBeLessThan(3);
      }
    }
  });

  test('turns round with its start', () => {
    kinds(still).forEach((orientation, k) => {
      const one = associated(xyz, orientation, 1);
      const other = associated(xyz, kinds(still, -1)[k]!, 1);
      const back = {
        ...other,
        direction: other.direction && negate(other.direction),
        halfAngle: other.halfAngle === null ? null : -other.halfAngle,
      };
      expectSame(back, one, 1e-11, 1e-12);
    });
  });
});

test.each(['plane', 'cylinder', 'cone', 'sphere'])(
  '%s of many points: those of a few, each ten thousand times',
  (type) => {
    const { xyz, associated } = features[type]!;
    const [orientation] = kinds(still) as [Orientation];
    const many = associated(repeated(xyz, 10_000), orientation, 1);
    const few = associated(xyz, orientation, 1);
    expect(many.points).toBe(10_000 * few.points);
    expectSame(many, few, 1e-11, 1e-12);
    few.parameters.forEach((_, j) => {
      expect((many.cofactor[j]![j]! / few.cofactor[j]![j]!) * 10_000).toBeCloseTo(1, 9);
    });
  },
);

test('points far from the origin lose no more than their own rounding', () => {
  const far: Vec3 = [8000, -5000, 3000];
  for (const { xyz, associated } of Object.values(features)) {
    const shifted = xyz.map((c, i) => c + far[i % 3]!);
    // Exactly what the shifted coordinates say, back at the origin: subtracting is exact.
    const rounded = shifted.map((c, i) => c - far[i % 3]!);
    const [orientation] = kinds(still) as [Orientation];
    const there = associated(shifted, orientation, 1);
    const here = associated(rounded, orientation, 1);
    expectSame(there, { ...here, point: add(here.point, far) }, 2e-11, 1e-12);
  }
});
