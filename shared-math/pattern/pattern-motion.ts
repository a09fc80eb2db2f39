/**
 * Motions of a pattern of zones, and the positions that they leave.
 *
 * The pattern moves by G: p ↦ R·p + t with R = exp(ρ), t and ρ in the disc frame. Seen from the moved zones a measured point m
 * lies at Rᵀ·(m − t), so its displacement from the centre c of its zone, along the zone's directions d, is
 * d·(Rᵀ·(m − t) − c). This is exact: zones turn with the pattern. Derivatives: by t_k, −d·Rᵀ·e_k; by ρ_k, −d·Rᵀ·(J·e_k × (m − t)),
 * J the left Jacobian of the exponential.
 *
 * Source: Lynch & Park, Modern Robotics (2017), 3.2.3 (exponential coordinates of rotation).
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { PatternFreedom } from '../definition.ts';
import { applyTransposed } from '../geometry/matrix.ts';
import { motionFromTwist } from '../geometry/rigid-motion.ts';
import { rotationFromVector } from '../geometry/rotation.ts';
import type { Vec3 } from '../geometry/types.ts';
import { cross, dot, norm, subtract } from '../geometry/vector.ts';
import type { PatternMotion } from '../result.ts';
import type { NormProblem } from './norm-problem.ts';
import type { ZonePoint } from './zone-points.ts';

export const PATTERN_FREEDOMS: readonly PatternFreedom[] = ['x', 'y', 'z', 'rotX', 'rotY', 'rotZ'];

export const NO_MOTION: PatternMotion = { x: 0, y: 0, z: 0, rotX: 0, rotY: 0, rotZ: 0 };

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Unknowns of a pattern: combinations of its free motions that its zones can see. */
export interface PatternUnknowns {
  /** Unit combinations in scaled freedoms, each six numbers in the order of PATTERN_FREEDOMS. */
  readonly basis: readonly (readonly number[])[];
  /** mm or rad that a scaled freedom of 1 stands for. */
  readonly scales: readonly number[];
  readonly undetermined: readonly PatternFreedom[];
}

/**
 * Singular values below this share of the largest belong to motions that no zone sees. Nominal directions and places of a plan
 * carry 6 digits or more; what a zone sees only through their rounding would have to move far for nothing.
 */
const UNSEEN = 1e-6;

/**
 * Which combinations of the free motions change a position, to first order about the nominal pattern.
 *
 * @param tolerance full zone size, mm: unknowns are scaled so that 1 moves the farthest point by about half of it.
 */
export function patternUnknowns(
  points: readonly ZonePoint[],
  free: readonly PatternFreedom[],
  tolerance: number,
): PatternUnknowns {
  const reach = Math.max(...points.map((p) => norm(p.centre))) || 1;
  const scales = PATTERN_FREEDOMS.map((_, k) => (k < 3 ? 0.5 * tolerance : (0.5 * tolerance) / reach));
  const nominal = points.map((p) => ({ ...p, measured: p.centre }));
  const freedoms = PATTERN_FREEDOMS.flatMap((name, k) => (free.includes(name) ? [k] : []));
  const unit = freedoms.map((k) => PATTERN_FREEDOMS.map((_, i) => (i === k ? 1 : 0)));
  const { rows } = normProblem(nominal, NO_MOTION, { basis: unit, scales, undetermined: [] }, tolerance);
  const n = freedoms.length;
  const gram = Matrix.zeros(n, n);
  for (let row = 0; row < rows.length; row += n)
    for (let p = 0; p < n; p++)
      for (let q = 0; q < n; q++) gram.set(p, q, gram.get(p, q) + rows[row + p]! * rows[row + q]!);
  const { realEigenvalues: values, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(gram, {
    assumeSymmetric: true,
  });
  // The Gram matrix squares the singular values: a share of 1e-12 is still well above its rounding.
  const floor = UNSEEN ** 2 * Math.max(...values);
  const combination = (c: number): number[] => {
    const full = new Array<number>(6).fill(0);
    freedoms.forEach((k, i) => {
      full[k] = vectors.get(i, c);
    });
    return full;
  };
  const seen = values.flatMap((value, c) => (value > floor ? [combination(c)] : []));
  const unseen = values.flatMap((value, c) => (value > floor ? [] : [combination(c)]));
  return {
    basis: seen,
    scales,
    undetermined: PATTERN_FREEDOMS.filter((_, k) => unseen.some((u) => Math.abs(u[k]!) > UNSEEN)),
  };
}

/**
 * The positions about a motion, as vectors a + B·x: |a_j| is the position of point j as a share of the tolerance, x the change
 * of the unknowns.
 */
export function normProblem(
  points: readonly ZonePoint[],
  motion: PatternMotion,
  { basis, scales }: PatternUnknowns,
  tolerance: number,
): NormProblem {
  const size = basis.length;
  const offsets = new Float64Array(3 * points.length);
  const rows = new Float64Array(3 * points.length * size);
  const rho: Vec3 = [motion.rotX, motion.rotY, motion.rotZ];
  const rotation = rotationFromVector(rho);
  const turns = AXES.map((axis) => motionFromTwist({ rotation: rho, translation: axis }).translation);
  const share = 2 / tolerance;
  points.forEach((point, j) => {
    const arm = subtract(point.measured, [motion.x, motion.y, motion.z]);
    const displacement = subtract(applyTransposed(rotation, arm), point.centre);
    const changes = [
      ...AXES.map((axis) => applyTransposed(rotation, axis)),
      ...turns.map((turn) => applyTransposed(rotation, cross(turn, arm))),
    ];
    point.directions.forEach((d, c) => {
      offsets[3 * j + c] = share * dot(d, displacement);
      const along = changes.map((change, k) => -share * scales[k]! * dot(d, change));
      basis.forEach((combination, p) => {
        rows[(3 * j + c) * size + p] = combination.reduce((sum, x, k) => sum + x * along[k]!, 0);
      });
    });
  });
  return { count: points.length, size, offsets, rows };
}

/** The motion changed by a step of the unknowns. */
export function changeMotion(
  motion: PatternMotion,
  { basis, scales }: PatternUnknowns,
  step: Float64Array,
): PatternMotion {
  const changed = PATTERN_FREEDOMS.map((name, k) => [
    name,
    motion[name] + scales[k]! * basis.reduce((sum, combination, p) => sum + combination[k]! * step[p]!, 0),
  ]);
  return Object.fromEntries(changed) as PatternMotion;
}

/** Position of every point (full zone size, mm) after a motion of the pattern. */
export function positionsAfter(points: readonly ZonePoint[], motion: PatternMotion): Float64Array {
  const rotation = rotationFromVector([motion.rotX, motion.rotY, motion.rotZ]);
  return Float64Array.from(points, ({ measured, centre, directions }) => {
    const arm = subtract(measured, [motion.x, motion.y, motion.z]);
    const displacement = subtract(applyTransposed(rotation, arm), centre);
    return 2 * Math.hypot(...directions.map((d) => dot(d, displacement)));
  });
}
