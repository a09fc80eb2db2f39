/**
 * The displacements of a blade's check points under an uncertain error motion.
 *
 * With E = (R, t), δ_i = R·p_i + t − p_i. About the estimate δ_i varies as dt + dρ × p_i, to first order in dρ and, for the
 * small rotations that blades have, to a relative |ρ| in the coefficients. The mean is taken exactly, from E itself.
 */
import type { CheckPoint } from '../definition.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { dot } from '../geometry/vector.ts';
import { displacement } from '../pose/position.ts';
import { zoneDirections } from './position-distribution.ts';

/** What of a check point enters its position. */
export type ZonePoint = Pick<CheckPoint, 'at' | 'zone' | 'direction' | 'tolerance'>;

export interface DisplacementDistribution {
  /** The measured δ in the directions of the zone, mm: one, two or three components. */
  readonly mean: readonly number[];
  /** Its coefficients with respect to the six errors: one row of six a component. */
  readonly coefficients: readonly (readonly number[])[];
  /** Its covariance, mm². */
  readonly covariance: readonly (readonly number[])[];
}

/**
 * Distribution of δ at a check point, in the directions of its zone.
 *
 * @param error E, in nominal blade axes.
 * @param covariance 6 × 6 of (oscillation, lateral, upset, rotOscillation, rotLateral, rotUpset), mm and rad.
 */
export function displacementDistribution(
  point: ZonePoint,
  error: RigidMotion,
  covariance: readonly (readonly number[])[],
): DisplacementDistribution {
  const directions = zoneDirections(point);
  const delta = displacement(error, point.at);
  const coefficients = directions.map((n) => errorCoefficients(n, point.at));
  return {
    mean: directions.map((n) => dot(n, delta)),
    coefficients,
    covariance: coefficients.map((a) => coefficients.map((b) => bilinear(a, covariance, b))),
  };
}

/** Coefficients of n·δ = n·t + n·(ρ × p) = n·t + (p × n)·ρ with respect to (t, ρ). */
function errorCoefficients(n: Vec3, p: Vec3): number[] {
  return [...n, p[1] * n[2] - p[2] * n[1], p[2] * n[0] - p[0] * n[2], p[0] * n[1] - p[1] * n[0]];
}

/** aᵀ·m·b. */
export function bilinear(
  a: readonly number[],
  m: readonly (readonly number[])[],
  b: readonly number[],
): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) sum += a[i]! * m[i]![j]! * b[j]!;
  return sum;
}
