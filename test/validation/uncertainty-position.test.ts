/**
 * The distribution of position against SciPy's Rice and noncentral chi-squared distributions (isotropic cases) and against
 * integration of the density in polar and spherical coordinates (scripts/uncertainty-position.py).
 *
 * Bound on probabilities: the stated absolute error 1e-12, for SciPy's noncentral distributions too. Quantiles: relative 1e-9.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { positionCdf, positionQuantile } from '../../shared-math/uncertainty/position-distribution.ts';

interface General {
  readonly mean: number[];
  readonly covariance: number[][];
  readonly degreesOfFreedom: number | null;
  readonly radius: number;
  readonly probability: number;
}

const reference = JSON.parse(
  readFileSync(new URL('data/uncertainty-position.json', import.meta.url), 'utf8'),
) as { isotropic: number[][]; riceQuantiles: number[][]; general: General[] };

const PROBABILITY = 1e-12;
const QUANTILE = 1e-9;

/** Mean of this length in a direction that is no axis, and an isotropic covariance. */
function isotropic(components: number, deviation: number, length: number): [number[], number[][]] {
  const direction = [[1], [0.6, -0.8], [2 / 3, -1 / 3, 2 / 3]][components - 1]!;
  return [
    direction.map((d) => d * length),
    direction.map((_, i) => direction.map((_, j) => (i === j ? deviation * deviation : 0))),
  ];
}

describe('isotropic', () => {
  test('probability against Rice and noncentral chi-squared', () => {
    expect(reference.isotropic.length).toBeGreaterThan(100);
    for (const [components, deviation, length, radius, expected] of reference.isotropic) {
      const [mean, covariance] = isotropic(components!, deviation!, length!);
      const ours = positionCdf(2 * radius!, mean, covariance);
      expect(Math.abs(ours - expected!), `${components} ${deviation} ${length} ${radius}`).toBeLessThan(
        PROBABILITY,
      );
    }
  });

  test('quantile against Rice', () => {
    for (const [deviation, length, p, radius] of reference.riceQuantiles) {
      const [mean, covariance] = isotropic(2, deviation!, length!);
      const ours = positionQuantile(p!, mean, covariance);
      expect(Math.abs(ours / (2 * radius!) - 1), `${deviation} ${length} ${p}`).toBeLessThan(QUANTILE);
    }
  });
});

describe('any covariance, normal and t', () => {
  test('probability against integration of the density', () => {
    expect(reference.general.length).toBeGreaterThan(90);
    for (const { mean, covariance, degreesOfFreedom, radius, probability } of reference.general) {
      const ours = positionCdf(2 * radius, mean, covariance, degreesOfFreedom ?? Number.POSITIVE_INFINITY);
      expect(Math.abs(ours - probability), JSON.stringify({ mean, degreesOfFreedom, radius })).toBeLessThan(
        PROBABILITY,
      );
    }
  });
});
