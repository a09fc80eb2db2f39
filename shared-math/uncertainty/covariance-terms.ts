/** Variances, degrees of freedom and small covariances of linear functions of the six errors, from their contributions. */

import type { Covariance6 } from '../result.ts';
import { bilinear } from './displacement-distribution.ts';
import type { ErrorGradient } from './error-derivatives.ts';
import type { Contribution } from './station-covariance.ts';

/** Standard uncertainty and effective degrees of freedom (Welch–Satterthwaite, JCGM 100:2008, G.4.1) of aᵀ·e. */
export function standardUncertainty(
  contributions: readonly Contribution[],
  a: ErrorGradient,
): { readonly standard: number; readonly degreesOfFreedom: number } {
  return combine(contributions.map((c) => [bilinear(a, c.covariance, a), c.degreesOfFreedom]));
}

/** Covariance of several functions, and degrees of freedom by its trace. */
export function jointCovariance(
  contributions: readonly Contribution[],
  total: Covariance6,
  rows: readonly ErrorGradient[],
): { readonly covariance: readonly (readonly number[])[]; readonly degreesOfFreedom: number } {
  const traces = contributions.map((c): [number, number] => [
    rows.reduce((sum, a) => sum + bilinear(a, c.covariance, a), 0),
    c.degreesOfFreedom,
  ]);
  return {
    covariance: rows.map((a) => rows.map((b) => bilinear(a, total, b))),
    degreesOfFreedom: combine(traces).degreesOfFreedom,
  };
}

/** More effective degrees of freedom than this are as good as known: Student's t then differs from normal by 1e-13. */
const MOST_DEGREES = 1e12;

function combine(parts: readonly (readonly [variance: number, degreesOfFreedom: number])[]) {
  const variance = parts.reduce((sum, [v]) => sum + v, 0);
  const spread = parts.reduce((sum, [v, nu]) => sum + (v * v) / nu, 0);
  return {
    standard: Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom:
      spread * MOST_DEGREES > variance * variance ? (variance * variance) / spread : Number.POSITIVE_INFINITY,
  };
}
