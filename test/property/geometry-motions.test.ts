import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  angleBetween,
  apply,
  applyToPoint,
  applyToPoints,
  compose,
  determinant,
  distance,
  inverse,
  motionFromTwist,
  multiply,
  norm,
  normalize,
  type RigidMotion,
  registerPoints,
  rotationBetween,
  rotationFromVector,
  rotationVector,
  scale,
  transpose,
  twistAbout,
  twistOfMotion,
} from '../../shared-math/geometry/index.ts';

const options = { seed: 20_261_125, numRuns: 300 };
const real = (limit: number) => fc.double({ min: -limit, max: limit, noNaN: true });
const vector = (limit: number) => fc.tuple(real(limit), real(limit), real(limit));
const direction = vector(1)
  .filter((v) => norm(v) > 1e-3)
  .map((v) => normalize(v));
/** Rotation vectors up to 1e-9 below a half turn (there the sign is free), small ones and ones near π as often as others. */
const turn = fc
  .tuple(
    direction,
    fc.oneof(
      real(3.14),
      fc.constantFrom(1e-12, 1e-8, 1e-4),
      real(1).map((d) => Math.PI - 1e-9 - 1e-6 * Math.abs(d)),
    ),
  )
  .map(([d, angle]) => scale(d, angle));
const motion = fc
  .tuple(turn, vector(10_000))
  .map(([rotation, translation]): RigidMotion => ({ rotation: rotationFromVector(rotation), translation }));

describe('motions', () => {
  test('a rotation is orthonormal with determinant one', () => {
    fc.assert(
      fc.property(turn, (v) => {
        const r = rotationFromVector(v);
        expect(Math.abs(determinant(r) - 1)).toBeLessThan(1e-14);
        const identity = multiply(r, transpose(r));
        expect(distance(identity[0], [1, 0, 0]) + distance(identity[1], [0, 1, 0])).toBeLessThan(1e-14);
      }),
      options,
    );
  });

  test('log and exp undo each other, relative to the angle', () => {
    fc.assert(
      fc.property(turn, (v) => {
        expect(distance(rotationVector(rotationFromVector(v)), v)).toBeLessThanOrEqual(
          2e-15 * norm(v) + 1e-300,
        );
      }),
      options,
    );
  });

  test('twists of motions undo each other', () => {
    fc.assert(
      fc.property(motion, (m) => {
        const back = motionFromTwist(twistOfMotion(m));
        expect(distance(back.translation, m.translation)).toBeLessThan(1e-10);
      }),
      options,
    );
  });

  test('composition is what points see', () => {
    fc.assert(
      fc.property(motion, motion, vector(1000), (a, b, p) => {
        expect(distance(applyToPoint(compose(a, b), p), applyToPoint(a, applyToPoint(b, p)))).toBeLessThan(
          1e-10,
        );
        expect(distance(applyToPoint(inverse(a), applyToPoint(a, p)), p)).toBeLessThan(1e-10);
      }),
      options,
    );
  });

  test('the rotation between two directions is the smallest that carries one onto the other', () => {
    fc.assert(
      fc.property(direction, direction, (from, to) => {
        const r = rotationBetween(from, to);
        expect(distance(apply(r, from), to)).toBeLessThan(1e-14);
        expect(Math.abs(norm(rotationVector(r)) - angleBetween(from, to))).toBeLessThan(1e-13);
        expect(Math.abs(twistAbout(r, from))).toBeLessThan(1e-7);
      }),
      options,
    );
  });

  test('registration finds any motion of points that are not on a line', () => {
    const points = Float64Array.of(0, 0, 0, 40, 0, 0, 0, 30, 0, 10, 5, 20, -8, 3, 7);
    fc.assert(
      fc.property(motion, (m) => {
        const found = registerPoints(points, applyToPoints(m, points));
        expect(found.rms).toBeLessThan(1e-11);
        expect(distance(found.motion.translation, m.translation)).toBeLessThan(1e-10);
      }),
      options,
    );
  });
});
