/** Where a normally distributed displacement lies with a given probability, for drawing. */
import type { Vec3 } from '../geometry/types.ts';
import { normalQuantile } from './distributions.ts';

export interface CoverageEllipse {
  /** Half-axes, mm. */
  readonly major: number;
  readonly minor: number;
  /** From the oscillation direction to the major axis, towards lateral, rad. */
  readonly angle: number;
}

/**
 * The ellipse in the plane of oscillation and lateral that holds a bivariate normal displacement with the stated
 * probability: half-axes √(−2 ln(1 − coverage)) times the standard deviations along the principal axes (JCGM 102:2011,
 * 6.5.2, k² being the quantile of χ² with two degrees of freedom).
 */
export function coverageEllipse(covariance: readonly Vec3[], coverage: number): CoverageEllipse {
  const [a, b, c] = [covariance[0]?.[0] ?? 0, covariance[0]?.[1] ?? 0, covariance[1]?.[1] ?? 0];
  const mean = (a + c) / 2;
  const radius = Math.hypot((a - c) / 2, b);
  const scale = Math.sqrt(-2 * Math.log1p(-coverage));
  return {
    major: scale * Math.sqrt(mean + radius),
    minor: scale * Math.sqrt(Math.max(0, mean - radius)),
    angle: 0.5 * Math.atan2(2 * b, a - c),
  };
}

/** Half-width of the interval along a unit direction that holds the displacement's component with the probability. */
export function coverageHalfWidth(covariance: readonly Vec3[], direction: Vec3, coverage: number): number {
  const variance = direction.reduce(
    (sum, d, i) => sum + d * direction.reduce<number>((row, e, j) => row + e * (covariance[i]?.[j] ?? 0), 0),
    0,
  );
  return normalQuantile((1 + coverage) / 2) * Math.sqrt(Math.max(0, variance));
}
