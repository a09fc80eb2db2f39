/**
 * Intervals, tests and the control of false discoveries.
 *
 * Sources: A. H.-T. Fai, P. L. Cornelius, J. Statist. Comput. Simul. 54 (1996) 363–378 (F test of several linear functions,
 * denominator from their spectral decomposition); Y. Benjamini, Y. Hochberg, J. R. Statist. Soc. B 57 (1995) 289–300;
 * R. J. Simes, Biometrika 73 (1986) 751–754. From memory.
 */
import { fDistribution, studentTQuantile } from '../uncertainty/distributions.ts';
import type { Contrast } from './contrast.ts';
import type { Estimate, SignificanceTest } from './findings.ts';
import { dotProduct, eigen, type ReadonlyRows } from './symmetric.ts';

/** Degrees of freedom from which the normal distribution serves: Student's quantiles then differ by less than 1e-6. */
const AS_NORMAL = 1e6;

/** Degrees of freedom as a result states them: null where the normal distribution serves. */
export function finiteDegrees(degreesOfFreedom: number): number | null {
  return degreesOfFreedom < AS_NORMAL ? degreesOfFreedom : null;
}

/** Student's t of a two-sided interval. @param coverage 0 … 1. */
export function tFactor(coverage: number, degreesOfFreedom: number): number {
  return studentTQuantile(
    (1 + coverage) / 2,
    degreesOfFreedom < AS_NORMAL ? degreesOfFreedom : Number.POSITIVE_INFINITY,
  );
}

/** value ± t·u, times `scale` (> 0). */
export function estimate(
  { value, variance, degreesOfFreedom }: Contrast,
  coverage: number,
  scale = 1,
): Estimate {
  const standard = Math.sqrt(variance) * scale;
  const half = tFactor(coverage, degreesOfFreedom) * standard;
  return {
    value: value * scale,
    standard,
    low: value * scale - half,
    high: value * scale + half,
    degreesOfFreedom: finiteDegrees(degreesOfFreedom),
  };
}

/** P(F > x); the denominator may be unlimited. */
export function fSurvival(x: number, numerator: number, denominator: number): number {
  if (!(x > 0)) return 1;
  return fDistribution(x, numerator, Math.min(denominator, AS_NORMAL)).survival;
}

/** Eigenvalues below this share of the largest carry no test: the functions are dependent there. */
const DEPENDENT = 1e-10;

/**
 * F test of L·β = 0 for correlated functions with estimated variances.
 *
 * @param values L·β. @param covariance of them.
 * @param degreesOf Satterthwaite degrees of freedom of a combination vᵀ·L·β.
 */
export function jointTest(
  values: readonly number[],
  covariance: ReadonlyRows,
  degreesOf: (v: readonly number[]) => number,
): Omit<SignificanceTest, 'adjusted'> {
  const axes = eigen(covariance);
  const largest = Math.max(...axes.map((a) => a.value), 0);
  const kept = axes.filter((a) => a.value > DEPENDENT * largest);
  const q = kept.length;
  if (q === 0) return { statistic: 0, numerator: 0, denominator: null, probability: 1 };
  let sum = 0;
  let expected = 0;
  for (const { value, vector } of kept) {
    sum += dotProduct(vector, values) ** 2 / value;
    // A mean exists beyond two degrees of freedom only.
    const nu = Math.max(FEWEST, degreesOf(vector));
    expected += Number.isFinite(nu) ? nu / (nu - 2) : 1;
  }
  const denominator = expected > q * (1 + 1e-9) ? (2 * expected) / (expected - q) : Number.POSITIVE_INFINITY;
  const statistic = sum / q;
  return {
    statistic,
    numerator: q,
    denominator: finiteDegrees(denominator),
    probability: fSurvival(statistic, q, denominator),
  };
}

const FEWEST = 2.1;

/** Adjusted probabilities of Benjamini and Hochberg, in the order given. */
export function adjustForFalseDiscoveries(probabilities: readonly number[]): number[] {
  const n = probabilities.length;
  const order = probabilities.map((_, i) => i).sort((a, b) => probabilities[b]! - probabilities[a]!);
  const adjusted = new Array<number>(n).fill(1);
  let least = 1;
  order.forEach((i, fromLast) => {
    least = Math.min(least, (probabilities[i]! * n) / (n - fromLast));
    adjusted[i] = least;
  });
  return adjusted;
}

/** Probability of the intersection of several hypotheses: min over i of n·p_(i)/i. */
export function simes(probabilities: readonly number[]): number {
  return probabilities.length === 0 ? 1 : Math.min(...adjustForFalseDiscoveries(probabilities));
}
