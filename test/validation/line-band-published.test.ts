/** The band of a fitted line against lines with published uncertainties. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { combinations } from '../../shared-math/diagnosis/contrast.ts';
import { abscissaeOf, lineBand } from '../../shared-math/diagnosis/line-band.ts';
import { fitMixedModel } from '../../shared-math/diagnosis/mixed-model.ts';
import { linearRegression, type Regression } from '../../shared-math/diagnosis/regression.ts';
import { form, zeros } from '../../shared-math/diagnosis/symmetric.ts';

const sets = JSON.parse(readFileSync(new URL('data/nist-statistics.json', import.meta.url), 'utf8'))
  .linear as readonly { name: string; terms: [number, number][]; y: number[]; certified: number[] }[];

function bandOf(fit: Regression, abscissae: readonly number[]) {
  const combination = (v: readonly [number, number]) => ({
    value: v[0] * fit.coefficients[0]! + v[1] * fit.coefficients[1]!,
    variance: form(v, fit.covariance, v),
    degreesOfFreedom: fit.degreesOfFreedom,
  });
  return lineBand(combination, abscissae, 0.95);
}

describe('Norris (NIST StRD; certified coefficients and their standard deviations)', () => {
  const { terms, y, certified } = sets.find((set) => set.name === 'Norris')!;
  const deviations = [0.232818234301152, 0.429796848199937e-3] as const;
  // Student's t(0.975, 34), SciPy 1.17.1.
  const t = 2.0322445093177186;
  const mean = terms.reduce((sum, row) => sum + row[1], 0) / terms.length;
  const abscissae = [0, 200, mean, 750, 1000];
  const band = bandOf(linearRegression(terms, y), abscissae);

  it('has at zero the interval of the intercept', () => {
    expect(band[0]!.low).toBeCloseTo(certified[0]! - t * deviations[0], 10);
    expect(band[0]!.high).toBeCloseTo(certified[0]! + t * deviations[0], 10);
  });

  it('is the hyperbola that both standard deviations and the mean of the abscissae make', () => {
    // Intercept and slope of a line are correlated by the mean of the abscissae alone: cov = −mean·u²(slope).
    abscissae.forEach((x, i) => {
      const variance = deviations[0] ** 2 + (x * x - 2 * x * mean) * deviations[1] ** 2;
      const value = certified[0]! + certified[1]! * x;
      expect(band[i]!.value).toBeCloseTo(value, 9);
      expect(band[i]!.high - band[i]!.value).toBeCloseTo(t * Math.sqrt(variance), 9);
      expect(band[i]!.value - band[i]!.low).toBeCloseTo(t * Math.sqrt(variance), 9);
    });
  });

  it('is narrowest at the mean, where it is that of a mean of 36 values', () => {
    const widths = band.map(({ low, high }) => high - low);
    expect(Math.min(...widths)).toBe(widths[2]);
    // Certified residual standard deviation.
    expect(widths[2]! / 2).toBeCloseTo((t * 0.884796396144373) / 6, 9);
  });
});

it('has the printed uncertainty of a value off the data (JCGM 100:2008, H.3: 0.0041 °C at 30 °C, value from memory)', () => {
  const temperatures = [
    21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
  ];
  const corrections = [-171, -169, -166, -159, -164, -165, -156, -157, -159, -161, -160];
  const fit = linearRegression(
    temperatures.map((x) => [1, x - 20]),
    corrections.map((k) => k / 1000),
  );
  const [at30] = bandOf(fit, [10]);
  expect(Math.abs(at30!.value - -0.1494)).toBeLessThanOrEqual(5e-5);
  expect(Math.abs(at30!.standard - 0.0041)).toBeLessThanOrEqual(5e-5);
});

it('from the mixed model is that of ordinary least squares where every weld counts alike', () => {
  const count = 24;
  const noise = (k: number, i: number): number => Math.sin(12.9898 * (k + 1) + 78.233 * (i + 1)) * 3;
  const stations = Array.from({ length: count }, (_, k) => ({
    error: [0, 1, 2, 3, 4, 5].map((i) => 2 + 0.4 * k + noise(k, i)),
    own: zeros(6, 6),
    index: [0, 0, 0, 0, 0, 0],
    design: [0, 1, 2, 3, 4, 5].map((i) =>
      Array.from({ length: 12 }, (_, c) => (Math.floor(c / 2) === i ? [1, k][c % 2]! : 0)),
    ),
  }));
  const fit = fitMixedModel(stations)!;
  const rows = [0, 1].map((which) => Array.from({ length: 12 }, (_, c) => (c === 2 + which ? 1 : 0)));
  const ages = abscissaeOf(0, count - 1);
  const ours = lineBand(combinations(fit, zeros(12, 12), rows), ages, 0.95);
  const plain = linearRegression(
    stations.map((_, k) => [1, k]),
    stations.map(({ error }) => error[1]!),
  );
  const theirs = bandOf(plain, ages);
  ours.forEach((point, i) => {
    expect(point.value).toBeCloseTo(theirs[i]!.value, 7);
    expect(point.standard / theirs[i]!.standard).toBeCloseTo(1, 3);
    expect(point.degreesOfFreedom! / theirs[i]!.degreesOfFreedom!).toBeCloseTo(1, 2);
  });
});
