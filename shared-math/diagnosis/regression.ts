/**
 * Linear regression with intervals: y = X·b + noise of one unknown standard deviation.
 *
 * X is reduced to triangular form by Householder reflections together with y, so the normal equations are never formed (Golub &
 * Van Loan, Matrix Computations, 4th ed., ch. 5). Standard deviations and Student intervals as in JCGM 100:2008, H.3.
 */
import { TriangularFactor } from '../association/triangular-factor.ts';
import { ReductionError } from '../errors.ts';
import { studentTQuantile } from '../uncertainty/distributions.ts';
import type { Estimate } from './findings.ts';

export interface Regression {
  readonly coefficients: readonly number[];
  /** Covariance of the coefficients. */
  readonly covariance: readonly (readonly number[])[];
  /** Residual standard deviation, with `degreesOfFreedom`. */
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
}

/** A column that the columns before it leave less of than this share depends on them: rounding alone leaves 1e-15 or so. */
const DEPENDENT = 1e-12;

/**
 * Least squares of y on the columns of X.
 *
 * @param rows of X, n × p. @param y n values, n > p.
 * @throws ReductionError `too-few-points` where n ≤ p, `degenerate-points` where the columns of X depend on each other.
 */
export function linearRegression(rows: readonly (readonly number[])[], y: readonly number[]): Regression {
  const p = rows[0]?.length ?? 0;
  const degreesOfFreedom = rows.length - p;
  if (p === 0 || degreesOfFreedom < 1)
    throw new ReductionError(
      'too-few-points',
      `A regression with ${p} coefficients needs more values than ${rows.length}.`,
    );
  // Columns of like length, so that the test of dependence does not depend on units.
  const lengths = Array.from({ length: p }, (_, j) => Math.hypot(...rows.map((row) => row[j]!)) || 1);
  const factor = new TriangularFactor(p + 1, rows.length);
  rows.forEach((row, i) => {
    for (let j = 0; j < p; j++) factor.row[j] = row[j]! / lengths[j]!;
    factor.row[p] = y[i]!;
    factor.push();
  });
  factor.finish();
  for (let j = 0; j < p; j++)
    if (!(Math.abs(factor.at(j, j)) > DEPENDENT))
      throw new ReductionError('degenerate-points', 'The terms of a regression depend on each other.');
  const solve = (right: readonly number[]): number[] => backSubstitute(factor, right);
  const scaled = solve(Array.from({ length: p }, (_, j) => factor.at(j, p)));
  const standardDeviation = Math.abs(factor.at(p, p)) / Math.sqrt(degreesOfFreedom);
  // Rows of R⁻¹, scaled back: covariance = s²·R⁻¹·R⁻ᵀ.
  const columns = Array.from({ length: p }, (_, k) =>
    solve(Array.from({ length: p }, (__, j) => (j === k ? 1 : 0))).map((x, i) => x / lengths[i]!),
  );
  const covariance = scaled.map((_, i) =>
    scaled.map(
      (__, j) => standardDeviation ** 2 * columns.reduce((sum, column) => sum + column[i]! * column[j]!, 0),
    ),
  );
  return {
    coefficients: scaled.map((x, j) => x / lengths[j]!),
    covariance,
    standardDeviation,
    degreesOfFreedom,
  };
}

/**
 * Value of row·b with its Student interval: the fitted mean for a row of X, a coefficient for a unit row.
 *
 * @param coverage of the interval, 0 … 1.
 */
export function fittedMean(fit: Regression, row: readonly number[], coverage: number): Estimate {
  const value = row.reduce((sum, x, j) => sum + x * fit.coefficients[j]!, 0);
  const variance = row.reduce(
    (sum, x, i) => sum + row.reduce((inner, z, j) => inner + x * z * fit.covariance[i]![j]!, 0),
    0,
  );
  const standard = Math.sqrt(Math.max(0, variance));
  const half = studentTQuantile((1 + coverage) / 2, fit.degreesOfFreedom) * standard;
  return {
    value,
    standard,
    low: value - half,
    high: value + half,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
}

function backSubstitute(factor: TriangularFactor, right: readonly number[]): number[] {
  const x = [...right];
  for (let i = x.length - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let j = i + 1; j < x.length; j++) sum -= factor.at(i, j) * x[j]!;
    x[i] = sum / factor.at(i, i);
  }
  return x;
}
