/** The numerical parts under the uncertainty stage: generator, roots, integrals, factors, Monte Carlo bookkeeping. */
import { describe, expect, test } from 'vitest';
import { ReductionError } from '../../shared-math/errors.ts';
import { covarianceFactor } from '../../shared-math/uncertainty/covariance-factor.ts';
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  fDistribution,
  normalCdf,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
} from '../../shared-math/uncertainty/distributions.ts';
import { adaptiveMonteCarlo, numericalTolerance } from '../../shared-math/uncertainty/monte-carlo.ts';
import { integrate } from '../../shared-math/uncertainty/quadrature.ts';
import {
  generatorFromState,
  sampleChiSquared,
  sampleNormalVector,
  seededGenerator,
} from '../../shared-math/uncertainty/random.ts';
import { findRoot } from '../../shared-math/uncertainty/root.ts';

describe('random numbers', () => {
  test('xoshiro128++ from the state 1, 2, 3, 4', () => {
    // Output of the authors' reference implementation, as it stands in the tests of the rand_xoshiro crate.
    const reference = [
      641, 1573767, 3222811527, 3517856514, 836907274, 4247214768, 3867114732, 1355841295, 495546011,
      621204420,
    ];
    const { bits } = generatorFromState([1, 2, 3, 4]);
    expect(reference.map(bits)).toEqual(reference);
  });

  test('seeds give the same numbers again, and different ones differ', () => {
    const draw = (seed: number) => Array.from({ length: 5 }, seededGenerator(seed).uniform);
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
    for (const x of draw(0)) expect(x > 0 && x < 1).toBe(true);
  });

  test('moments of normal and chi-squared variates', () => {
    const generator = seededGenerator(1);
    const n = 40_000;
    for (const nu of [0.7, 5]) {
      let sum = 0;
      let squares = 0;
      for (let i = 0; i < n; i++) {
        const x = sampleChiSquared(generator, nu);
        sum += x;
        squares += x * x;
      }
      expect(Math.abs(sum / n - nu)).toBeLessThan(5 * Math.sqrt((2 * nu) / n));
      // E x² = ν² + 2ν; its variance 8ν(ν + 2)(ν + 3).
      expect(Math.abs(squares / n - nu * (nu + 2))).toBeLessThan(
        5 * Math.sqrt((8 * nu * (nu + 2) * (nu + 3)) / n),
      );
    }
    let cubes = 0;
    for (let i = 0; i < n; i++) cubes += generator.normal() ** 4;
    expect(Math.abs(cubes / n - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
  });

  test('vectors have the covariance they were asked for', () => {
    const covariance = [
      [4, 2, 0],
      [2, 1, 0],
      [0, 0, 9],
    ];
    const factor = covarianceFactor(covariance);
    expect(factor[0]).toHaveLength(2);
    const generator = seededGenerator(5);
    const sums = [0, 0, 0];
    const n = 20_000;
    for (let i = 0; i < n; i++) {
      const [x, y, z] = sampleNormalVector(generator, [1, 2, 3], factor);
      expect(Math.abs(x! - 1 - 2 * (y! - 2))).toBeLessThan(1e-9);
      sums[0]! += (x! - 1) ** 2;
      sums[1]! += (x! - 1) * (z! - 3);
      sums[2]! += (z! - 3) ** 2;
    }
    expect(Math.abs(sums[0]! / n - 4)).toBeLessThan(5 * 4 * Math.sqrt(2 / n));
    expect(Math.abs(sums[1]! / n)).toBeLessThan(5 * 6 * Math.sqrt(1 / n));
    expect(Math.abs(sums[2]! / n - 9)).toBeLessThan(5 * 9 * Math.sqrt(2 / n));
  });
});

describe('roots', () => {
  test('of smooth, steep and stepped functions', () => {
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(findRoot((x) => Math.exp(20 * x) - 1e-3, -3, 3)).toBeCloseTo(Math.log(1e-3) / 20, 14);
    expect(findRoot((x) => (x < 0.3 ? -1 : 1), 0, 1)).toBeCloseTo(0.3, 14);
    expect(findRoot((x) => x, 0, 5)).toBe(0);
    expect(findRoot((x) => (x === 0 ? Number.NEGATIVE_INFINITY : Math.log(x)), 0, 9)).toBeCloseTo(1, 14);
  });

  test('refused', () => {
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(ReductionError);
    expect(() => findRoot((x) => (x > 0.4 ? Number.NaN : -1) * (x - 0.9), 0, 0.5)).toThrow(ReductionError);
  });
});

describe('integrals', () => {
  test('closed forms', () => {
    expect(integrate(Math.sin, [0, Math.PI], 1e-13)).toBeCloseTo(2, 13);
    expect(integrate((x) => 1 / (1e-4 + x * x), [-1, 0, 1], 1e-9)).toBeCloseTo(200 * Math.atan(100), 9);
    expect(integrate(Math.exp, [1, 1], 1e-13)).toBe(0);
  });
  test('what cannot be had is refused', () => {
    expect(() => integrate((x) => 1 / x, [0, 1], 1e-10)).toThrow(ReductionError);
    expect(() => integrate(() => Number.NaN, [0, 1], 1e-10)).toThrow(ReductionError);
  });
});

describe('distributions at their ends', () => {
  test('limits, infinities and NaN', () => {
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalCdf(Number.NaN)).toBeNaN();
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(-0.1)).toBeNaN();
    expect(normalQuantile(1.1)).toBeNaN();
    expect(studentTCdf(Number.NEGATIVE_INFINITY, 3)).toBe(0);
    expect(studentTCdf(0, 3)).toBe(0.5);
    expect(studentTCdf(-1e200, 2)).toBeGreaterThanOrEqual(0);
    expect(studentTCdf(Number.NaN, 3)).toBeNaN();
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTQuantile(0.25, 3)).toBe(-studentTQuantile(0.75, 3));
    expect(chiSquaredQuantile(0, 3)).toBe(0);
    expect(chiSquaredQuantile(1, 3)).toBe(Number.POSITIVE_INFINITY);
    expect(chiSquaredQuantile(2, 3)).toBeNaN();
    expect(chiSquaredCdf(-1, 3)).toBe(0);
    expect(chiSquaredCdf(Number.POSITIVE_INFINITY, 3)).toBe(1);
    expect(fDistribution(0, 2, 3)).toEqual({ cdf: 0, survival: 1 });
    expect(fDistribution(Number.POSITIVE_INFINITY, 2, 3)).toEqual({ cdf: 1, survival: 0 });
  });

  test('infinite degrees of freedom are the normal distribution', () => {
    expect(studentTCdf(1.3, Number.POSITIVE_INFINITY)).toBe(normalCdf(1.3));
    expect(studentTQuantile(0.9, Number.POSITIVE_INFINITY)).toBe(normalQuantile(0.9));
  });

  test('degrees of freedom that are none are refused', () => {
    for (const nu of [0, -1, Number.NaN]) {
      expect(() => studentTCdf(1, nu)).toThrow(ReductionError);
      expect(() => studentTQuantile(0.9, nu)).toThrow(ReductionError);
      expect(() => chiSquaredQuantile(0.9, nu)).toThrow(ReductionError);
      expect(() => fDistribution(1, nu, 3)).toThrow(ReductionError);
    }
  });
});

describe('adaptive Monte Carlo', () => {
  test('numerical tolerance, after the examples of JCGM 101, 7.9.2 (values from memory)', () => {
    expect(numericalTolerance(0.00035, 2)).toBeCloseTo(0.000005, 15);
    expect(numericalTolerance(0.0004, 1)).toBeCloseTo(0.00005, 15);
    expect(numericalTolerance(2, 1)).toBeCloseTo(0.5, 15);
    expect(numericalTolerance(0.0996, 2)).toBeCloseTo(0.005, 15);
    expect(numericalTolerance(0, 2)).toBe(0);
  });

  test('stops when stable and says so when it is not', () => {
    const stable = adaptiveMonteCarlo((g) => g.normal(), { seed: 1, significantDigits: 1 });
    expect(stable.stable).toBe(true);
    for (const error of Object.values(stable.standardErrors))
      expect(2 * error).toBeLessThanOrEqual(stable.tolerance);
    const impatient = adaptiveMonteCarlo((g) => g.normal(), {
      seed: 1,
      significantDigits: 4,
      mostTrials: 30_000,
    });
    expect(impatient.stable).toBe(false);
    expect(impatient.trials).toBeLessThanOrEqual(30_000);
  });

  test('batches hold at least 100/(1 − p) trials', () => {
    const { trials } = adaptiveMonteCarlo((g) => g.uniform(), { seed: 1, coverage: 0.999, tolerance: 1 });
    expect(trials).toBe(200_000);
  });

  test('symmetric, upper and shortest intervals of an exponential quantity', () => {
    const model = (g: { uniform: () => number }) => -Math.log(g.uniform());
    const options = { seed: 6, tolerance: 0.02 } as const;
    const symmetric = adaptiveMonteCarlo(model, options);
    expect(Math.abs(symmetric.low + Math.log(0.975))).toBeLessThan(5 * symmetric.standardErrors.low);
    expect(Math.abs(symmetric.high + Math.log(0.025))).toBeLessThan(5 * symmetric.standardErrors.high);
    const upper = adaptiveMonteCarlo(model, { ...options, interval: 'upper' });
    expect(Math.abs(upper.high + Math.log(0.05))).toBeLessThan(5 * upper.standardErrors.high);
    const shortest = adaptiveMonteCarlo(model, { ...options, interval: 'shortest' });
    expect(shortest.low).toBeLessThan(0.01);
    expect(Math.abs(shortest.high + Math.log(0.05))).toBeLessThan(0.05);
  });

  test('a constant, a model that fails, and options without meaning', () => {
    const constant = adaptiveMonteCarlo(() => 3, { seed: 1 });
    expect(constant).toMatchObject({ estimate: 3, standardUncertainty: 0, low: 3, high: 3, stable: true });
    expect(() => adaptiveMonteCarlo(() => Number.NaN, { seed: 1 })).toThrow(ReductionError);
    expect(() => adaptiveMonteCarlo(() => 1, { seed: 1, coverage: 1 })).toThrow(ReductionError);
    expect(() => adaptiveMonteCarlo(() => 1, { seed: 1, significantDigits: 0 })).toThrow(ReductionError);
  });
});
