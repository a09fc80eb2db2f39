/** Rigid registration, rotation vectors and twists against published examples. */
import { registerPoints } from '../../../../shared-math/geometry/registration.ts';
import { twistOfMotion } from '../../../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector, rotationVector } from '../../../../shared-math/geometry/rotation.ts';
import type { Mat3, Vec3 } from '../../../../shared-math/geometry/types.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Registration and rotation';

export function geometry(): Chapter {
  return {
    group: GROUP,
    text: `Registration with scale fixed at one. Bounds 1e-12 where the digits were recomputed to that, half a unit of the last printed digit for
printed values.`,
    checks: [...umeyama(), ...alignVectors(), ...constructed(), ...lynchPark()],
  };
}

function matrix(checks: Checks, name: string, ours: Mat3, reference: Mat3, bound: number): void {
  for (const [i, row] of reference.entries()) {
    for (const [j, value] of row.entries()) checks.add(name, ours[i]![j]!, value, bound);
  }
}

function vector(
  checks: Checks,
  name: string,
  ours: Vec3,
  reference: Vec3,
  bound: number,
  unit: string,
): void {
  for (const [i, value] of reference.entries()) checks.add(name, ours[i]!, value, bound, unit);
}

function umeyama(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'Umeyama, IEEE PAMI 13(4) (1991) 376–380, worked example in the plane (points and three decimals: value from memory; digits recomputed), held in its plane by two far pairs; without the guard its best fit is a reflection',
  );
  const far = 1000;
  const source = Float64Array.of(0, 0, 0, 1, 0, 0, 0, 2, 0, 1 / 3, 2 / 3, far, 1 / 3, 2 / 3, -far);
  const target = Float64Array.of(0, 0, 0, -1, 0, 0, 0, 2, 0, -1 / 3, 2 / 3, far, -1 / 3, 2 / 3, -far);
  const { motion, rms } = registerPoints(source, target);
  checks.add('cos, printed', motion.rotation[0][0], 0.832, 5e-4);
  checks.add('sin, printed', motion.rotation[0][1], 0.555, 5e-4);
  const [c, s] = [3 / Math.sqrt(13), 2 / Math.sqrt(13)];
  const exact: Mat3 = [
    [c, s, 0],
    [-s, c, 0],
    [0, 0, 1],
  ];
  matrix(checks, 'rotation matrix', motion.rotation, exact, 1e-12);
  vector(checks, 'translation', motion.translation, [-0.980483562263, 0.29686653585, 0], 1e-12, '');
  checks.add('sum of squares', 5 * rms * rms, 1.859264966048, 1e-12);
  return checks.list;
}

function alignVectors(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'SciPy, documentation of Rotation.align_vectors: three pairs (value from memory, recomputed with SciPy 1.17.1), mirrored about the origin so that no translation is left',
  );
  const a = [0, 1, 0, 0, 1, 1, 0, 1, 1];
  const b = [1, 0, 0, 1, 1.1, 0, 1, 0.9, 0];
  const both = (v: readonly number[]): Float64Array => Float64Array.from([...v, ...v.map((x) => -x)]);
  const { motion, rms } = registerPoints(both(b), both(a));
  const cyclic: Mat3 = [
    [0, 0, 1],
    [1, 0, 0],
    [0, 1, 0],
  ];
  matrix(checks, 'rotation matrix, three pairs', motion.rotation, cyclic, 1e-12);
  checks.add('root sum of squares', rms * Math.sqrt(3), 0.141421356237, 1e-12);
  return checks.list;
}

function constructed(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'Regression values: six constructed pairs in space; SVD (Arun, Huang & Blostein 1987), unit quaternion (Horn 1987) and SciPy 1.17.1 align_vectors agree to 7e-16; data/constructed-registration.json',
  );
  const data = fixture<{ src: Vec3[]; dst: Vec3[]; rotvec: Vec3; matrix: Mat3; t: Vec3; rms: number }>(
    'constructed-registration.json',
  );
  const { motion, rms } = registerPoints(
    Float64Array.from(data.src.flat()),
    Float64Array.from(data.dst.flat()),
  );
  matrix(checks, 'rotation matrix, six pairs', motion.rotation, data.matrix, 1e-11);
  vector(checks, 'rotation vector', rotationVector(motion.rotation), data.rotvec, 1e-11, 'rad');
  vector(checks, 'translation, six pairs', motion.translation, data.t, 1e-9, 'mm');
  checks.add('r.m.s.', rms, data.rms, 1e-9, 'mm');
  return checks.list;
}

function lynchPark(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'Lynch & Park, Modern Robotics (2017), ch. 3 and the docstrings of its code (MatrixExp3, MatrixLog3, MatrixLog6), eight decimals; the turn by 30° three decimals (value from memory)',
  );
  const exponential: Mat3 = [
    [-0.69492056, 0.71352099, 0.08929286],
    [-0.19200697, -0.30378504, 0.93319235],
    [0.69297817, 0.6313497, 0.34810748],
  ];
  matrix(checks, 'exponential of (1, 2, 3)', rotationFromVector([1, 2, 3]), exponential, 5.1e-9);
  const turn: Mat3 = [
    [0.866, -0.25, 0.433],
    [0.25, 0.967, 0.058],
    [-0.433, 0.058, 0.9],
  ];
  const axis: Vec3 = [0, (Math.PI / 6) * (Math.sqrt(3) / 2), Math.PI / 12];
  matrix(checks, '30° about (0, √3/2, 1/2)', rotationFromVector(axis), turn, 5.1e-4);
  const cyclic: Mat3 = [
    [0, 0, 1],
    [1, 0, 0],
    [0, 1, 0],
  ];
  vector(
    checks,
    'logarithm of the cyclic permutation',
    rotationVector(cyclic),
    [1.20919958, 1.20919958, 1.20919958],
    5.1e-9,
    'rad',
  );
  const screw: Mat3 = [
    [1, 0, 0],
    [0, 0, -1],
    [0, 1, 0],
  ];
  const twist = twistOfMotion({ rotation: screw, translation: [0, 0, 3] });
  vector(checks, 'logarithm of a screw, rotation', twist.rotation, [1.57079633, 0, 0], 5.1e-9, 'rad');
  vector(
    checks,
    'logarithm of a screw, translation',
    twist.translation,
    [0, 2.35619449, 2.35619449],
    5.1e-9,
    '',
  );
  return checks.list;
}
