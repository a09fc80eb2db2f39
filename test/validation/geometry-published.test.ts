/**
 * Geometry against published values.
 * - Umeyama, "Least-squares estimation of transformation parameters between two point patterns", IEEE PAMI 13(4) (1991)
 *   376–380: the worked example (points and three printed decimals: value from memory; digits recomputed).
 * - Lynch & Park, Modern Robotics (2017), ch. 3 and the docstrings of its code (MatrixLog3, MatrixExp3, MatrixLog6).
 * - SciPy, documentation of Rotation.align_vectors: three pairs, one weighted by repetition (value from memory).
 */
import { describe, expect, test } from 'vitest';
import {
  distance,
  type Mat3,
  motionFromTwist,
  registerPoints,
  rotationFromVector,
  rotationVector,
  twistOfMotion,
} from '../../shared-math/geometry/index.ts';

function expectMatrix(actual: Mat3, expected: Mat3, digits: number): void {
  for (const i of [0, 1, 2] as const) {
    for (const j of [0, 1, 2] as const) expect(actual[i][j]).toBeCloseTo(expected[i][j], digits);
  }
}

describe('registration', () => {
  test('Umeyama 1991: a plane pattern whose best fit without the guard is a reflection', () => {
    // The plane example, held in its plane by two far pairs on the normal through the centroids: in space the
    // reflection would otherwise be a half turn.
    const far = 1000;
    const source = Float64Array.of(0, 0, 0, 1, 0, 0, 0, 2, 0, 1 / 3, 2 / 3, far, 1 / 3, 2 / 3, -far);
    const target = Float64Array.of(0, 0, 0, -1, 0, 0, 0, 2, 0, -1 / 3, 2 / 3, far, -1 / 3, 2 / 3, -far);
    const { motion } = registerPoints(source, target);
    const [c, s] = [3 / Math.sqrt(13), 2 / Math.sqrt(13)];
    expectMatrix(
      motion.rotation,
      [
        [c, s, 0],
        [-s, c, 0],
        [0, 0, 1],
      ],
      10,
    );
    // Scale fixed at one, so the translation is the example's target centroid less the turned source centroid.
    expect(distance(motion.translation, [-0.980483562263, 0.29686653585, 0])).toBeLessThan(1e-10);
  });

  test('SciPy align_vectors example, as pairs about the origin', () => {
    const a = [0, 1, 0, 0, 1, 1, 0, 1, 1];
    const b = [1, 0, 0, 1, 1.1, 0, 1, 0.9, 0];
    // align_vectors turns about the origin; mirrored pairs put both centroids there.
    const both = (v: number[]): Float64Array => Float64Array.from([...v, ...v.map((c) => -c)]);
    const { motion, rms } = registerPoints(both(b), both(a));
    // The documentation turns b onto a.
    expectMatrix(
      motion.rotation,
      [
        [0, 0, 1],
        [1, 0, 0],
        [0, 1, 0],
      ],
      12,
    );
    expect(rms * Math.sqrt(3)).toBeCloseTo(0.141421356237, 12);
  });
});

describe('rotation vector', () => {
  test('exponential of (1, 2, 3)', () => {
    expectMatrix(
      rotationFromVector([1, 2, 3]),
      [
        [-0.69492056, 0.71352099, 0.08929286],
        [-0.19200697, -0.30378504, 0.93319235],
        [0.69297817, 0.6313497, 0.34810748],
      ],
      8,
    );
  });

  test('axis (0, √3/2, 1/2), 30°', () => {
    expectMatrix(
      rotationFromVector([0, (Math.PI / 6) * (Math.sqrt(3) / 2), Math.PI / 12]),
      [
        [0.866, -0.25, 0.433],
        [0.25, 0.967, 0.058],
        [-0.433, 0.058, 0.899],
      ],
      // The book rounds to three decimals, so the last may be off by half a unit and more.
      2.9,
    );
  });

  test('logarithm of the cyclic permutation', () => {
    const third = rotationVector([
      [0, 0, 1],
      [1, 0, 0],
      [0, 1, 0],
    ]);
    expect(distance(third, [1.20919958, 1.20919958, 1.20919958])).toBeLessThan(1e-8);
  });

  test('logarithm on SE(3) and back', () => {
    const motion = {
      rotation: [
        [1, 0, 0],
        [0, 0, -1],
        [0, 1, 0],
      ],
      translation: [0, 0, 3],
    } as const;
    const twist = twistOfMotion(motion);
    expect(distance(twist.rotation, [1.57079633, 0, 0])).toBeLessThan(1e-8);
    expect(distance(twist.translation, [0, 2.35619449, 2.35619449])).toBeLessThan(1e-8);
    expectMatrix(motionFromTwist(twist).rotation, motion.rotation, 14);
  });
});
