/**
 * Distributions of the uncertainty stage against mpmath at 60 digits (scripts/uncertainty-distributions.py).
 *
 * Bounds, relative: for the normal distribution function 1e-15 and the rounding of x/√2, which the tail magnifies by x²; for
 * its quantile 5e-15 (Wichura states 1e-16 of the approximation; a few roundings follow); for probabilities from the incomplete
 * functions, and their quantiles, 5e-13: probabilities down to 1e-290 are exponentials of numbers up to 667, so that each
 * rounding of the exponent costs 1.5e-13.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  chiSquaredSurvival,
  fDistribution,
  normalCdf,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
} from '../../shared-math/uncertainty/distributions.ts';

type Rows<N extends string> = Record<N, number[][]>;
const reference = JSON.parse(
  readFileSync(new URL('data/uncertainty-distributions.json', import.meta.url), 'utf8'),
) as Rows<'normal' | 'normalQuantile' | 't' | 'tQuantile' | 'chiSquared' | 'chiSquaredQuantile' | 'f'>;

const NORMAL_QUANTILE = 5e-15;
const INCOMPLETE = 5e-13;

/** Largest relative difference over all rows; `ours` gives the values that stand in the last columns. */
function worst(rows: readonly number[][], ours: (row: number[]) => number[]): number {
  expect(rows.length).toBeGreaterThan(0);
  let largest = 0;
  for (const row of rows) {
    const values = ours(row);
    for (const [i, value] of values.entries()) {
      const expected = row[row.length - values.length + i]!;
      const difference = expected === 0 ? Math.abs(value) : Math.abs(value / expected - 1);
      if (!(difference <= largest)) largest = difference;
    }
  }
  return largest;
}

describe('against mpmath', () => {
  test('normal distribution function', () => {
    for (const row of reference.normal) {
      const bound = 1e-15 + row[0]! ** 2 * Number.EPSILON;
      expect(
        worst([row], ([x]) => [normalCdf(x!)]),
        `x = ${row[0]}`,
      ).toBeLessThan(bound);
    }
  });
  test('normal quantile', () => {
    expect(worst(reference.normalQuantile, ([p]) => [normalQuantile(p!)])).toBeLessThan(NORMAL_QUANTILE);
  });
  test('Student t distribution function', () => {
    expect(worst(reference.t, ([t, nu]) => [studentTCdf(t!, nu!)])).toBeLessThan(INCOMPLETE);
  });
  test('Student t quantile', () => {
    expect(worst(reference.tQuantile, ([p, nu]) => [studentTQuantile(p!, nu!)])).toBeLessThan(INCOMPLETE);
  });
  test('chi-squared distribution function and its complement', () => {
    expect(
      worst(reference.chiSquared, ([x, nu]) => [chiSquaredCdf(x!, nu!), chiSquaredSurvival(x!, nu!)]),
    ).toBeLessThan(INCOMPLETE);
  });
  test('chi-squared quantile', () => {
    expect(worst(reference.chiSquaredQuantile, ([p, nu]) => [chiSquaredQuantile(p!, nu!)])).toBeLessThan(
      INCOMPLETE,
    );
  });
  test('F distribution function and its complement', () => {
    expect(
      worst(reference.f, ([x, n1, n2]) => {
        const { cdf, survival } = fDistribution(x!, n1!, n2!);
        return [cdf, survival];
      }),
    ).toBeLessThan(INCOMPLETE);
  });
});
