/**
 * Positions by plain Monte Carlo (JCGM 101:2008): the check of the exact and conditioned routes, and the route for rotations
 * so large that a displacement is not linear in them.
 */
import { ReductionError } from '../errors.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import { rotationFromVector, rotationVector } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { add, cross, subtract } from '../geometry/vector.ts';
import { displacement, positionValue } from '../pose/position.ts';
import { covarianceFactor } from './covariance-factor.ts';
import type { ZonePoint } from './displacement-distribution.ts';
import type { BladeUncertainty, JointEstimate } from './joint-position.ts';
import { adaptiveMonteCarlo, type MonteCarloOptions, type MonteCarloResult } from './monte-carlo.ts';
import { type RandomGenerator, sampleChiSquared, sampleNormalVector } from './random.ts';

export interface SimulationOptions extends Omit<MonteCarloOptions, 'interval'> {
  /** `linear`: δ_i moves by dt + dρ × p_i. `exact`: E is made anew from t + dt and the rotation vector ρ + dρ. */
  readonly motion: 'linear' | 'exact';
}

/** Distribution of the largest position max 2·|δ_i|, mm; `high` is its upper quantile at the coverage. */
export function simulateLargestPosition(
  points: readonly ZonePoint[],
  blade: BladeUncertainty,
  options: SimulationOptions,
): MonteCarloResult {
  const sample = displacementSampler(points, blade, options.motion);
  return adaptiveMonteCarlo(
    (generator) => Math.max(...sample(generator).map((delta, i) => positionValue(delta, points[i]!))),
    { ...options, interval: 'upper' },
  );
}

/** P(2·|δ_i| ≤ T_i for every check point), from trials of the largest ratio 2·|δ_i|/T_i. */
export function simulateConformance(
  points: readonly ZonePoint[],
  blade: BladeUncertainty,
  options: SimulationOptions,
): JointEstimate {
  const sample = displacementSampler(points, blade, options.motion);
  const { values, trials } = adaptiveMonteCarlo(
    (generator) =>
      Math.max(
        ...sample(generator).map((delta, i) => positionValue(delta, points[i]!) / points[i]!.tolerance),
      ),
    { ...options, interval: 'upper' },
  );
  const value = values.filter((ratio) => ratio <= 1).length / trials;
  return { value, standardError: Math.sqrt((value * (1 - value)) / trials), trials };
}

function displacementSampler(
  points: readonly ZonePoint[],
  { error, covariance, degreesOfFreedom = Number.POSITIVE_INFINITY }: BladeUncertainty,
  motion: SimulationOptions['motion'],
): (generator: RandomGenerator) => Vec3[] {
  if (points.length === 0)
    throw new ReductionError('invalid-argument', 'A position needs at least one check point.');
  const factor = covarianceFactor(covariance);
  const zero = [0, 0, 0, 0, 0, 0];
  const turn = rotationVector(error.rotation);
  const deltas = points.map((point) => displacement(error, point.at));
  return (generator) => {
    const scale = Number.isFinite(degreesOfFreedom)
      ? Math.sqrt(sampleChiSquared(generator, degreesOfFreedom) / degreesOfFreedom)
      : 1;
    const sample = sampleNormalVector(generator, zero, factor, scale);
    const dt: Vec3 = [sample[0]!, sample[1]!, sample[2]!];
    const dr: Vec3 = [sample[3]!, sample[4]!, sample[5]!];
    if (motion === 'linear') return points.map(({ at }, i) => add(deltas[i]!, add(dt, cross(dr, at))));
    const moved: RigidMotion = {
      rotation: rotationFromVector(add(turn, dr)),
      translation: add(error.translation, dt),
    };
    return points.map(({ at }) => subtract(applyToPoint(moved, at), at));
  };
}
