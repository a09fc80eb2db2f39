/**
 * Worked examples of the GUM documents (data/uncertainty-published.json): the end gauge, effective degrees of freedom, Monte
 * Carlo, conformance probabilities and risks.
 *
 * Bounds: half a unit of the last printed digit for printed values that follow from unrounded inputs, the last digit given for
 * computed values; for Monte Carlo five standard errors of our run and the rounding (and own sampling error) of the printed
 * value, stated with each case.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { coverageFactor } from '../../shared-math/stations/known-uncertainty.ts';
import { decide, intervalProbability } from '../../shared-math/uncertainty/decision.ts';
import {
  normalDensity,
  normalQuantile,
  studentTQuantile,
} from '../../shared-math/uncertainty/distributions.ts';
import { adaptiveMonteCarlo, type MonteCarloOptions } from '../../shared-math/uncertainty/monte-carlo.ts';
import { integrate } from '../../shared-math/uncertainty/quadrature.ts';
import { type RandomGenerator, sampleChiSquared } from '../../shared-math/uncertainty/random.ts';
import { combinedUncertainty, type UncertaintyContribution } from '../support/uncertainty-budget.ts';

const published = JSON.parse(
  readFileSync(new URL('data/uncertainty-published.json', import.meta.url), 'utf8'),
);

function near(ours: number, expected: number, bound: number, what: string): void {
  expect(Math.abs(ours - expected), `${what}: ${ours} against ${expected}`).toBeLessThanOrEqual(bound);
}

describe('GUM', () => {
  test('H.1 end gauge: contributions, combined uncertainty, degrees of freedom, t', () => {
    const { difference, length, standard, expansionDifference, temperatureDifference, printed, exact } =
      published.endGauge;
    const d = combinedUncertainty(difference as UncertaintyContribution[]);
    near(d.degreesOfFreedom, exact.differenceDegreesOfFreedom, 5e-4, 'ν of the difference');
    const combined = combinedUncertainty([
      standard,
      d,
      {
        standardUncertainty: expansionDifference.halfWidth / Math.sqrt(3),
        sensitivity: length * expansionDifference.sensitivityTemperature,
        degreesOfFreedom: expansionDifference.degreesOfFreedom,
      },
      {
        standardUncertainty: temperatureDifference.halfWidth / Math.sqrt(3),
        sensitivity: length * temperatureDifference.expansion,
        degreesOfFreedom: temperatureDifference.degreesOfFreedom,
      },
    ]);
    for (const [i, ours] of combined.contributions.entries()) {
      near(ours, exact.contributions[i], 5e-9, `contribution ${i}`);
      near(ours, printed.contributions[i], 0.05, `printed contribution ${i}`);
    }
    near(combined.standardUncertainty, exact.combined, 5e-9, 'combined');
    near(combined.standardUncertainty, printed.combined, 0.5, 'printed combined');
    near(combined.degreesOfFreedom, exact.degreesOfFreedom, 5e-3, 'ν');
    expect(Math.floor(combined.degreesOfFreedom)).toBe(printed.degreesOfFreedom);
    near(studentTQuantile(0.995, printed.degreesOfFreedom), exact.t99, 5e-9, 't');
    near(studentTQuantile(0.995, printed.degreesOfFreedom), printed.t99, 5e-3, 'printed t');
  });

  test('G.4 effective degrees of freedom', () => {
    const { contributions, printed, exact } = published.welchSatterthwaite;
    const { standardUncertainty, degreesOfFreedom } = combinedUncertainty(contributions);
    near(standardUncertainty, exact.combined, 5e-10, 'combined');
    near(degreesOfFreedom, exact.degreesOfFreedom, 5e-7, 'ν');
    expect(Math.round(degreesOfFreedom)).toBe(printed.degreesOfFreedom);
    near(coverageFactor(0.95, printed.degreesOfFreedom), exact.t95, 5e-7, 't');
    const expanded = coverageFactor(0.95, printed.degreesOfFreedom) * standardUncertainty;
    near(expanded, exact.expanded, 5e-7, 'U');
    near(expanded, printed.expanded, 0.05, 'printed U');
  });
});

describe('JCGM 106', () => {
  test('one-sided guard factors', () => {
    for (const [p, printed, exact] of published.oneSided.rows) {
      near(normalQuantile(p), exact, 5e-7, `z(${p})`);
      near(normalQuantile(p), printed, 5e-3, `printed z(${p})`);
    }
  });

  test('probabilities of conformance', () => {
    for (const { name, value, u, lower, upper, printed, exact } of published.conformance.cases) {
      const ours = intervalProbability(
        lower ?? Number.NEGATIVE_INFINITY,
        upper ?? Number.POSITIVE_INFINITY,
        value,
        u,
      );
      near(ours, exact, 5e-10, name);
      near(ours, printed, 5e-3, `${name}, printed`);
    }
  });

  test('global risks of the resistors, from the verdicts of the rules over the process', () => {
    const { limit, process, measurement, nonconforming, simple, guarded } = published.resistors;
    // A guard band of 0.02 is a quarter of U = 2u = 0.08.
    const expanded = 2 * measurement;
    const rules = [
      { rule: { rule: 'simple' } as const, acceptance: limit, expected: simple },
      {
        rule: { rule: 'guarded', factor: 0.25 } as const,
        acceptance: guarded.acceptance,
        expected: guarded,
      },
    ];
    near(1 - intervalProbability(-limit, limit, 0, process), nonconforming, 5e-10, 'share of the process');
    for (const { rule, acceptance, expected } of rules) {
      const judged = (value: number) => decide(rule, { value, limit, probability: Number.NaN, expanded });
      expect(judged(acceptance)).toBe('conforming');
      expect(judged(acceptance + 1e-12)).not.toBe('conforming');
      const accepted = (truth: number) => intervalProbability(-acceptance, acceptance, truth, measurement);
      const density = (truth: number) => normalDensity(truth / process) / process;
      const consumer = 2 * integrate((t) => density(t) * accepted(t), [limit, 0.3, 0.5, 1.5], 1e-12);
      const producer = integrate((t) => density(t) * (1 - accepted(t)), [-limit, 0, limit], 1e-12);
      near(consumer, expected.consumer, 5e-10, 'consumer');
      near(producer, expected.producer, 5e-10, 'producer');
    }
  });
});

describe('JCGM 101, adaptive Monte Carlo', () => {
  const rectangular = (g: RandomGenerator, low: number, high: number): number =>
    low + (high - low) * g.uniform();
  const student = (g: RandomGenerator, nu: number): number =>
    g.normal() / Math.sqrt(sampleChiSquared(g, nu) / nu);
  const curvilinear = (g: RandomGenerator, a: number, b: number, d: number): number => {
    const from = a - d + 2 * d * g.uniform();
    return from + (a + b - 2 * from) * g.uniform();
  };
  const sum = (deviations: readonly number[]) => (g: RandomGenerator) =>
    deviations.reduce((total, s) => total + rectangular(g, -s * Math.sqrt(3), s * Math.sqrt(3)), 0);

  const models: Record<string, (g: RandomGenerator) => number> = {
    '9.2.2': (g) => g.normal() + g.normal() + g.normal() + g.normal(),
    '9.2.3': sum([1, 1, 1, 1]),
    '9.2.4': sum([1, 1, 1, 10]),
    '9.3': (g) => {
      const reference = 100_000 + 0.05 * g.normal() + 1.234 + 0.02 * g.normal();
      const air = rectangular(g, 1.1, 1.3);
      const weight = rectangular(g, 7000, 9000);
      const standard = rectangular(g, 7950, 8050);
      return reference * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000;
    },
    '9.4, x1 = 0': (g) => 1e6 * ((0.005 * g.normal()) ** 2 + (0.005 * g.normal()) ** 2),
    '9.4, x1 = 0.010': (g) => 1e6 * ((0.01 + 0.005 * g.normal()) ** 2 + (0.005 * g.normal()) ** 2),
    '9.4, x1 = 0.050': (g) => 1e6 * ((0.05 + 0.005 * g.normal()) ** 2 + (0.005 * g.normal()) ** 2),
    '9.5': (g) => {
      const standard = 50_000_623 + 25 * student(g, 18);
      const difference = 215 + 6 * student(g, 24) + 4 * student(g, 5) + 7 * student(g, 8);
      const expansion = rectangular(g, 9.5e-6, 13.5e-6);
      const temperature = -0.1 + 0.2 * g.normal() + 0.5 * Math.sin(2 * Math.PI * g.uniform());
      const expansionDifference = curvilinear(g, -1e-6, 1e-6, 0.1e-6);
      const temperatureDifference = curvilinear(g, -0.05, 0.05, 0.025);
      return (
        standard +
        difference -
        standard * (expansionDifference * temperature + expansion * temperatureDifference) -
        50_000_000
      );
    },
  };
  const options: Record<string, MonteCarloOptions> = {
    '9.2.2': { seed: 2, significantDigits: 2 },
    '9.2.3': { seed: 3, significantDigits: 2 },
    '9.2.4': { seed: 4, significantDigits: 2 },
    '9.3': { seed: 5, significantDigits: 2, interval: 'shortest', tolerance: 0.001 },
    '9.4, x1 = 0': { seed: 6, significantDigits: 2, interval: 'shortest' },
    '9.4, x1 = 0.010': { seed: 7, interval: 'shortest', tolerance: 1 },
    '9.4, x1 = 0.050': { seed: 8, interval: 'shortest', tolerance: 5 },
    '9.5': { seed: 9, significantDigits: 2, coverage: 0.99, interval: 'shortest' },
  };
  /** Rounding and sampling error of the printed values: half their last digit, more where the printed run was small. */
  const printedBounds: Record<string, readonly number[]> = {
    '9.2.2': [0.05, 0.05, 0.005, 0.005],
    '9.2.3': [0.05, 0.05, 0.005, 0.005],
    '9.2.4': [0.05, 0.05, 0.05, 0.05],
    // The shortest interval of a flat-topped distribution shifts easily along it.
    '9.3': [0.0005, 0.0005, 0.003, 0.003],
    '9.4, x1 = 0': [0.5, 0.5, 0.5, 0.5],
    '9.4, x1 = 0.010': [0.5, 0.5, 0.5, 1.5],
    '9.4, x1 = 0.050': [1.5, 1, 3, 3],
    '9.5': [0.5, 0.5, 1, 1],
  };
  /** The exact values of the table carry as many digits as these bounds. */
  const exactBounds: Record<string, number> = {
    '9.4, x1 = 0': 0.05,
    '9.4, x1 = 0.010': 0.05,
    '9.4, x1 = 0.050': 0.5,
    '9.2.4': 5e-4,
  };

  test.each(published.monteCarlo.rows as { case: string; printed: number[]; exact: number[] | null }[])(
    '$case',
    ({ case: name, printed, exact }) => {
      const result = adaptiveMonteCarlo(models[name]!, options[name]!);
      expect(result.stable).toBe(true);
      const { estimate, standardUncertainty, low, high, standardErrors: se } = result;
      const ours = [estimate, standardUncertainty, low, high];
      const errors = [se.estimate, se.standardUncertainty, se.low, se.high];
      for (const [i, value] of ours.entries()) {
        near(value, printed[i]!, printedBounds[name]![i]! + 5 * errors[i]!, `${name} printed [${i}]`);
        if (exact)
          near(value, exact[i]!, (exactBounds[name] ?? 1e-6) + 5 * errors[i]!, `${name} exact [${i}]`);
      }
    },
  );
});
