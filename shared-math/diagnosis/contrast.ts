/** Linear functions of the fitted causes, their variances and degrees of freedom. */
import type { MixedFit } from './mixed-model.ts';
import { dotProduct, form, quadratic, type ReadonlyRows, times } from './symmetric.ts';

/** A linear function lᵀβ with its variance and what that variance owes to the variance components. */
export interface Contrast {
  readonly value: number;
  readonly variance: number;
  /** Satterthwaite: 2·variance²/(gᵀ·cov θ·g); ∞ where the variance does not hang on θ. */
  readonly degreesOfFreedom: number;
}

/**
 * @param shared covariance of β from disturbances common to all stations, p × p; taken as known.
 * @param extra a variance that is not of β (a new station's), and its derivatives by θ.
 */
export function contrast(
  fit: MixedFit,
  shared: ReadonlyRows,
  l: readonly number[],
  extra: { readonly variance: number; readonly gradient: readonly number[] } | null = null,
): Contrast {
  const y = times(fit.covariance, l);
  const variance = Math.max(0, quadratic(l, fit.adjusted) + quadratic(l, shared)) + (extra?.variance ?? 0);
  const gradient = fit.sensitivities.map((b, i) => quadratic(y, b) + (extra?.gradient[i] ?? 0));
  return {
    value: dotProduct(l, fit.beta),
    variance,
    degreesOfFreedom: satterthwaite(variance, gradient, fit),
  };
}

/**
 * Combinations vᵀ·L·β of some linear functions, each as `contrast` finds it: what they need of the fit is worked out once, so that many
 * combinations of few functions cost little.
 *
 * @param rows L, each over the coefficients.
 */
export function combinations(
  fit: MixedFit,
  shared: ReadonlyRows,
  rows: ReadonlyRows,
): (v: readonly number[]) => Contrast {
  const values = rows.map((l) => dotProduct(l, fit.beta));
  const among = (m: ReadonlyRows, of: ReadonlyRows) => of.map((a) => of.map((b) => form(a, m, b)));
  const weighted = rows.map((l) => times(fit.covariance, l));
  const variances = among(fit.adjusted, rows).map((row, i) =>
    row.map((x, j) => x + form(rows[i]!, shared, rows[j]!)),
  );
  const gradients = fit.sensitivities.map((b) => among(b, weighted));
  return (v) => {
    const variance = Math.max(0, quadratic(v, variances));
    const gradient = gradients.map((g) => quadratic(v, g));
    return {
      value: dotProduct(v, values),
      variance,
      degreesOfFreedom: satterthwaite(variance, gradient, fit),
    };
  };
}

/**
 * Degrees of freedom of an estimated variance: F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110–114, from memory.
 *
 * Where several errors share in a value, their variances pool and the degrees of freedom exceed those of one error, ν. That holds for
 * known weights; weights estimated with few degrees of freedom pool less well, so the excess counts by (ν − 2)/(ν + 2) only. With one
 * error and with many stations this is Satterthwaite's value (see test/coverage).
 */
export function satterthwaite(
  variance: number,
  gradient: readonly number[],
  {
    componentCovariance,
    errorVariances,
    errorDegrees,
  }: Pick<MixedFit, 'componentCovariance' | 'errorVariances' | 'errorDegrees'>,
): number {
  const spread = quadratic(gradient, componentCovariance);
  if (!(spread > 0 && variance > 0)) return Number.POSITIVE_INFINITY;
  const pooled = (2 * variance * variance) / spread;
  const one = degreesOfOneError(gradient, { errorVariances, errorDegrees });
  if (one === null) return Math.max(1, pooled);
  return Math.max(1, pooled <= one ? pooled : one + ((pooled - one) * (one - 2)) / (one + 2));
}

/** Degrees of freedom of a single error, mean over the errors by their part in a variance; null where none has part in it. */
export function degreesOfOneError(
  gradient: readonly number[],
  { errorVariances, errorDegrees }: Pick<MixedFit, 'errorVariances' | 'errorDegrees'>,
): number | null {
  const parts = errorVariances.map((v, i) => Math.max(0, gradient[i]! * v));
  const whole = parts.reduce((a, b) => a + b, 0);
  if (!(whole > 0)) return null;
  return parts.reduce((sum, part, i) => sum + (part / whole) * errorDegrees[i]!, 0);
}
