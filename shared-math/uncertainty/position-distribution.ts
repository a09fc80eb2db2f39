/**
 * Distribution of the position 2·|δ| of one check point, δ normal with any mean and any covariance, singular ones included.
 *
 * δ has one, two or three components (planar, cylindrical, spherical zone; see `zoneComponents`). In one
 * dimension P(|δ| ≤ r) is a difference of two values of Φ (or of Student's distribution); in two and three it is the integral of
 * ball-probability.ts in principal axes.
 *
 * Degrees of freedom. Where ν is finite, δ has the multivariate t distribution: location `mean`, scale matrix `covariance`, as
 * for a covariance whose scale was estimated with ν degrees of freedom, (δ − mean) = √(ν/χ²_ν)·N(0, covariance). Then, with one
 * estimated scale, (δ̂ − δ)/s is exactly so distributed and coverage is exact in the sense below; where ν is an effective number
 * (Welch–Satterthwaite) it is as good as that approximation. In one dimension this is the interval with Student's t.
 *
 * Use. With mean = the measured δ̂ this is the distribution that JCGM 101 assigns to the position. It covers: a ball, or any
 * convex zone, that has the true δ on its surface lies on one side of its tangent plane there, so that a probability above p
 * within it forces the estimate more than z_p·u away from that plane, which happens with probability at most 1 − p. Hence the
 * upper quantile at p lies below the true position in at most 1 − p of all measurements, at every truth and covariance; near
 * zero it over-covers. For the same reason a part whose true position is at the limit or beyond is accepted with probability
 * at most 1 − p (our own argument; test/unit/uncertainty-coverage.test.ts holds the figures against it).
 *
 * Sources: JCGM 101:2008 (propagation of distributions), JCGM 102:2011 (multivariate t for an estimated covariance);
 * N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions 2, 2nd ed. (1995), ch. 29 (quadratic forms).
 */
import type { CheckPoint } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { Vec3 } from '../geometry/types.ts';
import { ballProbability, FULL_ACCURACY, type PrincipalDistribution } from './ball-probability.ts';
import { principalAxes } from './covariance-factor.ts';
import { normalQuantile, studentTCdf, studentTQuantile } from './distributions.ts';
import { findRoot } from './root.ts';

/** Relative width of the bracket of a quantile: fine enough for positions of many thousands of deviations. */
const QUANTILE_TOLERANCE = 1e-13;
/** Of a probability, where a quantile is not wanted to all its digits: less than any length of a part shows. */
export const ROUGH = 1e-8;
/** Lowers a lower bound of a quantile (in standard deviations) that rounding could put above it. */
const BOUND_SLACK = 1e-6;

/**
 * Directions (blade frame) along which a zone measures: δ in them has one component (planar), two (cylindrical, about the
 * stacking axis) or three (spherical). mean_i = direction_i·δ, covariance_ij = direction_i·C·direction_j.
 */
export function zoneDirections({ zone, direction }: Pick<CheckPoint, 'zone' | 'direction'>): readonly Vec3[] {
  switch (zone) {
    case 'planar':
      return [direction!];
    case 'cylindrical':
      return [
        [1, 0, 0],
        [0, 1, 0],
      ];
    case 'spherical':
      return [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ];
  }
}

/**
 * P(2·|δ| ≤ limit), absolute error below `accuracy`.
 *
 * @param limit full zone size, mm.
 * @param mean of δ, one to three components, mm.
 * @param covariance of δ, mm², symmetric positive semidefinite; where ν is finite, the scale matrix of the t distribution.
 * @param degreesOfFreedom ν of the covariance, ∞ where it is known.
 * @param accuracy default 1e-12.
 * @throws ReductionError `invalid-argument` for a covariance that is none, other sizes, or values that are not finite.
 */
export function positionCdf(
  limit: number,
  mean: readonly number[],
  covariance: readonly (readonly number[])[],
  degreesOfFreedom = Number.POSITIVE_INFINITY,
  accuracy = FULL_ACCURACY,
): number {
  return principalCdf(limit / 2, principal(mean, covariance), degreesOfFreedom, accuracy);
}

/**
 * The position v with P(2·|δ| ≤ v) = p, relative error below 1e-9: the upper bound of the position at coverage p.
 *
 * @param p in (0, 1). The other parameters as in `positionCdf`.
 * @param accuracy mm, where less will do than the relative error above.
 */
export function positionQuantile(
  p: number,
  mean: readonly number[],
  covariance: readonly (readonly number[])[],
  degreesOfFreedom = Number.POSITIVE_INFINITY,
  accuracy = 0,
): number {
  if (!(p > 0 && p < 1))
    throw new ReductionError('invalid-argument', `A quantile is asked for at ${p}, which is not in (0, 1).`);
  const axes = principal(mean, covariance);
  const distance = Math.hypot(...axes.means);
  const spread = axes.deviations.at(-1)!;
  if (spread === 0) return 2 * distance;
  // On the scale of normal scores the distribution function is nearly a straight line.
  const target = normalQuantile(p);
  const excess = (r: number): number => {
    const probability = principalCdf(r, axes, degreesOfFreedom, accuracy > 0 ? ROUGH : FULL_ACCURACY);
    return normalQuantile(Math.min(Math.max(probability, 1e-300), 1 - 1e-16)) - target;
  };
  // The ball lies on one side of its tangent plane, so the one-sided quantile along the mean is a lower bound.
  const along =
    distance > 0 ? Math.hypot(...axes.means.map((m, i) => (m / distance) * axes.deviations[i]!)) : 0;
  const bound = distance + studentTQuantile(p, degreesOfFreedom) * along;
  if (distance > FAR_FROM_ZERO * spread) return 2 * bound;
  let lower = Math.max(bound - BOUND_SLACK * spread, 0);
  const factor = studentTQuantile((1 + p) / 2, degreesOfFreedom);
  let upper = Math.max(distance, lower) + factor * spread;
  while (excess(upper) < 0) {
    lower = upper;
    upper += factor * spread;
  }
  return 2 * findRoot(excess, lower, upper, Math.max(QUANTILE_TOLERANCE, accuracy / (2 * upper)));
}

function principal(
  mean: readonly number[],
  covariance: readonly (readonly number[])[],
): PrincipalDistribution {
  if (mean.length < 1 || mean.length > 3 || covariance.length !== mean.length || !mean.every(Number.isFinite))
    throw new ReductionError(
      'invalid-argument',
      'A displacement has one to three finite components, and a covariance of that size.',
    );
  const { deviations, components } = principalAxes(covariance, mean);
  return { deviations, means: components };
}

function principalCdf(
  r: number,
  axes: PrincipalDistribution,
  degreesOfFreedom: number,
  accuracy: number,
): number {
  if (Number.isNaN(r) || !(degreesOfFreedom > 0))
    throw new ReductionError(
      'invalid-argument',
      `A position has no probability at the limit ${2 * r} with ${degreesOfFreedom} degrees of freedom.`,
    );
  const far = farCdf(r, axes, degreesOfFreedom);
  if (far !== null) return far;
  const deviation = axes.deviations[0]!;
  if (axes.means.length > 1 || deviation === 0 || r < 0)
    return ballProbability(r, axes, degreesOfFreedom, accuracy);
  const mean = Math.abs(axes.means[0]!);
  return (
    studentTCdf((r - mean) / deviation, degreesOfFreedom) -
    studentTCdf((-r - mean) / deviation, degreesOfFreedom)
  );
}

/**
 * Where the mean exceeds every deviation this many times, the ball is a half space to within 1e-6 of a deviation, and
 * squares in units of the deviation have no digits left.
 */
const FAR_FROM_ZERO = 1e6;

/** P(|δ| ≤ r) by the component along the mean, or null where the mean is not that far from zero. */
function farCdf(
  r: number,
  { deviations, means }: PrincipalDistribution,
  degreesOfFreedom: number,
): number | null {
  const distance = Math.hypot(...means);
  const widest = deviations.at(-1)!;
  if (widest === 0 || distance <= FAR_FROM_ZERO * widest) return null;
  const along = Math.hypot(...means.map((m, i) => (m / distance) * deviations[i]!));
  if (along === 0) return distance <= r ? 1 : 0;
  return studentTCdf((r - distance) / along, degreesOfFreedom);
}
