import { describe, expect, test } from 'vitest';
import {
  apply,
  applyToDirection,
  applyToDirections,
  applyToPoint,
  applyToPoints,
  compose,
  determinant,
  distance,
  inverse,
  type Mat3,
  motionFromTwist,
  multiply,
  quaternionFromRotation,
  type RigidMotion,
  registerPoints,
  relativeMotion,
  rotationAbout,
  rotationBetween,
  rotationFromQuaternion,
  rotationFromVector,
  rotationVector,
  twistAbout,
  twistOfMotion,
  type Vec3,
  wrapAngle,
} from '../../shared-math/geometry/index.ts';

const quarter: Mat3 = [
  [0, -1, 0],
  [1, 0, 0],
  [0, 0, 1],
];

function largestDifference(a: Mat3, b: Mat3): number {
  return Math.max(...a.map((row, i) => distance(row, b[i]!)));
}

describe('rotations', () => {
  test('a quarter turn about z carries x onto y', () => {
    expect(largestDifference(rotationAbout([0, 0, 2], Math.PI / 2), quarter)).toBeLessThan(1e-15);
    expect(distance(rotationVector(quarter), [0, 0, Math.PI / 2])).toBeLessThan(1e-15);
  });

  test.each([0, 1e-300, 1e-12, 1e-5, 1, Math.PI - 1e-9, Math.PI - 1e-13])(
    'logarithm undoes exponential at angle %d, relative to the angle',
    (angle) => {
      const axis: Vec3 = [2 / 7, -3 / 7, 6 / 7];
      const vector: Vec3 = [axis[0] * angle, axis[1] * angle, axis[2] * angle];
      expect(distance(rotationVector(rotationFromVector(vector)), vector)).toBeLessThanOrEqual(4e-16 * angle);
    },
  );

  test('a half turn has a vector of length π along its axis, either sign', () => {
    const half = rotationVector([
      [-1, 0, 0],
      [0, 0.28, 0.96],
      [0, 0.96, -0.28],
    ]);
    const expected: Vec3 = [0, 0.8 * Math.PI, 0.6 * Math.PI];
    expect(distance(half, expected)).toBeLessThan(1e-15);
  });

  test('the smallest rotation between directions, opposite ones included', () => {
    expect(largestDifference(rotationBetween([1, 0, 0], [0, 5, 0]), quarter)).toBeLessThan(1e-15);
    for (const to of [
      [-1, 0, 0],
      [-1, 1e-17, 0],
      [-1, 0, 3e-9],
    ] as Vec3[]) {
      const turn = rotationBetween([1, 0, 0], to);
      expect(distance(apply(turn, [1, 0, 0]), to)).toBeLessThan(1e-15);
      expect(determinant(turn)).toBeCloseTo(1, 14);
    }
  });

  test('quaternions come back as the same rotation', () => {
    for (const vector of [
      [0.1, 0.2, 0.3],
      [3, 0, 0.1],
      [0, -3.1, 0.1],
      [0.1, 0.1, 3.1],
    ] as Vec3[]) {
      const rotation = rotationFromVector(vector);
      expect(
        largestDifference(rotationFromQuaternion(quaternionFromRotation(rotation)), rotation),
      ).toBeLessThan(1e-15);
    }
  });

  test('twist about an axis is what a swing square to it leaves', () => {
    const swing = rotationAbout([1, 2, 0], 0.7);
    for (const twist of [-3, -0.2, 0, 1.4, 3.1]) {
      expect(twistAbout(multiply(swing, rotationAbout([0, 0, 1], twist)), [0, 0, 4])).toBeCloseTo(twist, 14);
    }
    expect(twistAbout(rotationAbout([0, 0, 1], -Math.PI), [0, 0, 1])).toBe(Math.PI);
  });

  test('angles are wrapped into (−π, π]', () => {
    expect(wrapAngle(-Math.PI)).toBe(Math.PI);
    expect(wrapAngle(3 * Math.PI)).toBeCloseTo(Math.PI, 14);
    expect(wrapAngle(7)).toBeCloseTo(7 - 2 * Math.PI, 15);
  });
});

describe('rigid motions', () => {
  const move: RigidMotion = { rotation: quarter, translation: [10, 0, 0] };

  test('points move, directions only turn', () => {
    expect(applyToPoint(move, [1, 2, 3])).toEqual([8, 1, 3]);
    expect(applyToDirection(move, [1, 2, 3])).toEqual([-2, 1, 3]);
    expect([...applyToPoints(move, Float64Array.of(1, 2, 3, 0, 0, 0))]).toEqual([8, 1, 3, 10, 0, 0]);
    expect([...applyToDirections(move, Float64Array.of(1, 2, 3))]).toEqual([-2, 1, 3]);
  });

  test('compose applies the second motion first', () => {
    const shift: RigidMotion = { rotation: rotationFromVector([0, 0, 0]), translation: [0, 0, 5] };
    expect(applyToPoint(compose(move, shift), [1, 2, 3])).toEqual(applyToPoint(move, [1, 2, 8]));
    expect(distance(applyToPoint(compose(inverse(move), move), [1, 2, 3]), [1, 2, 3])).toBeLessThan(1e-15);
    expect(distance(relativeMotion(shift, move).translation, [10, 0, -5])).toBe(0);
  });

  test('the twist of a pure translation is that translation', () => {
    const twist = twistOfMotion({ rotation: rotationFromVector([0, 0, 0]), translation: [1, 2, 3] });
    expect(twist).toEqual({ rotation: [0, 0, 0], translation: [1, 2, 3] });
  });

  test.each([1e-9, 0.2999, 0.3001, 0.4999, 0.5001, 2, 3.1, Math.PI - 1e-9])(
    'twists come back at angle %d',
    (angle) => {
      const twist = {
        rotation: [0, 0.6 * angle, -0.8 * angle] as const,
        translation: [30, -20, 10] as const,
      };
      const back = twistOfMotion(motionFromTwist(twist));
      expect(distance(back.translation, twist.translation)).toBeLessThan(1e-13);
      expect(distance(back.rotation, twist.rotation)).toBeLessThan(1e-15);
    },
  );
});

describe('registration of point pairs', () => {
  const source = Float64Array.of(0, 0, 0, 10, 0, 0, 0, 5, 0, 0, 0, 2);
  const motion: RigidMotion = { rotation: rotationFromVector([0.3, -2, 1]), translation: [1000, -200, 50] };

  test('finds the motion of exact pairs', () => {
    const found = registerPoints(source, applyToPoints(motion, source));
    expect(largestDifference(found.motion.rotation, motion.rotation)).toBeLessThan(1e-13);
    expect(distance(found.motion.translation, motion.translation)).toBeLessThan(1e-12);
    expect(found.rms).toBeLessThan(1e-12);
    expect(found.singularValues[2]).toBeGreaterThan(0);
  });

  test('points in a plane are enough; points on a line show in the singular values', () => {
    const flat = source.slice(0, 9);
    const found = registerPoints(flat, applyToPoints(motion, flat));
    expect(largestDifference(found.motion.rotation, motion.rotation)).toBeLessThan(1e-13);
    const line = source.slice(0, 6);
    const singular = registerPoints(line, applyToPoints(motion, line)).singularValues;
    expect(singular[1]! / singular[0]!).toBeLessThan(1e-14);
  });

  test('a mirror image gets a rotation, never a reflection', () => {
    const mirrored = source.map((c, i) => (i % 3 === 2 ? -c : c));
    const found = registerPoints(source, mirrored);
    expect(determinant(found.motion.rotation)).toBeCloseTo(1, 14);
    expect(found.singularValues[2]).toBeLessThan(0);
    expect(found.rms).toBeGreaterThan(0.1);
  });

  test('weights: a heavy pair is met, a light one is not', () => {
    const target = source.slice();
    target[2] = 1;
    const found = registerPoints(source, target, Float64Array.of(1e-12, 1, 1, 1));
    expect(distance(applyToPoint(found.motion, [10, 0, 0]), [10, 0, 0])).toBeLessThan(1e-9);
  });

  test.each([
    ['not-finite', Float64Array.of(Number.NaN, 0, 0), Float64Array.of(0, 0, 0), null],
    ['too-few-points', new Float64Array(0), new Float64Array(0), null],
    ['invalid-argument', Float64Array.of(0, 0, 0), Float64Array.of(0, 0, 0, 1, 1, 1), null],
    ['invalid-argument', Float64Array.of(0, 0, 0), Float64Array.of(0, 0, 0), Float64Array.of(-1)],
  ] as const)('refuses %s', (failure, from, to, weights) => {
    expect(() => registerPoints(from, to, weights)).toThrow(expect.objectContaining({ failure }));
  });
});
