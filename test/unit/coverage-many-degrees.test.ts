/** Degrees of freedom so many that a distribution is nearly normal: a reduction meets all of them. */
import { describe, expect, it } from 'vitest';
import { normalQuantile, studentTQuantile } from '../../shared-math/uncertainty/distributions.ts';
import { positionQuantile } from '../../shared-math/uncertainty/position-distribution.ts';

const DEGREES = Array.from({ length: 241 }, (_, k) => 10 ** (3 + k / 15));

describe('many degrees of freedom', () => {
  it('lead Student’s quantile to the normal one as (z³ + z)/4ν', () => {
    const z = normalQuantile(0.975);
    for (const nu of DEGREES) {
      const excess = studentTQuantile(0.975, nu) - z;
      // The next term of the expansion in 1/ν is below 3/ν², rounding below 1e-14.
      expect(Math.abs(excess - (z ** 3 + z) / (4 * nu)), `ν = ${nu}`).toBeLessThan(3 / nu ** 2 + 1e-14);
    }
  });

  it('lead the upper bound of a position to that of a known covariance', () => {
    const mean = [0.016673085990844556, -0.03208008434512575];
    const covariance = [
      [0.0019926059815255403 ** 2, 0],
      [0, 0.015711713933163635 ** 2],
    ];
    const known = positionQuantile(0.95, mean, covariance);
    for (const nu of DEGREES) {
      const bound = positionQuantile(0.95, mean, covariance, nu);
      expect(bound, `ν = ${nu}`).toBeGreaterThan(known * (1 - 1e-9));
      expect(bound - known, `ν = ${nu}`).toBeLessThan((known * 2) / nu + 1e-9);
    }
  });
});
