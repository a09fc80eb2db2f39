/**
 * Combination of independent contributions to a standard uncertainty.
 * Source: JCGM 100:2008 (GUM), 5.1.2 (combined standard uncertainty), G.4.1 (effective degrees of freedom after Welch and
 * Satterthwaite), 6.2 and G.6 (expanded uncertainty).
 */
import { ReductionError } from '../errors.ts';
import { studentTQuantile } from './distributions.ts';

export interface UncertaintyContribution {
  /** u of the input, ≥ 0, in its own unit. */
  readonly standardUncertainty: number;
  /** ∂output/∂input, default 1. */
  readonly sensitivity?: number;
  /** ν of the standard uncertainty, default ∞. */
  readonly degreesOfFreedom?: number;
}

export interface CombinedUncertainty {
  readonly standardUncertainty: number;
  /** ν_eff = u⁴ / Σ(u_i⁴/ν_i), not rounded; ∞ where every contribution has ν = ∞ or u is 0. */
  readonly degreesOfFreedom: number;
  /** |sensitivity|·u of each contribution, in the unit of the output. */
  readonly contributions: readonly number[];
}

/**
 * Root of the sum of squares of independent contributions, with effective degrees of freedom.
 *
 * @throws ReductionError `invalid-argument` for a negative or infinite uncertainty, or degrees of freedom that are not
 * positive.
 */
export function combineStandardUncertainties(
  contributions: readonly UncertaintyContribution[],
): CombinedUncertainty {
  const parts = contributions.map(
    ({ standardUncertainty, sensitivity = 1, degreesOfFreedom = Number.POSITIVE_INFINITY }) => {
      const size = Math.abs(sensitivity) * standardUncertainty;
      if (!(standardUncertainty >= 0 && Number.isFinite(size) && degreesOfFreedom > 0))
        throw new ReductionError(
          'invalid-argument',
          `A contribution has the standard uncertainty ${standardUncertainty}, sensitivity ${sensitivity} and ${degreesOfFreedom} degrees of freedom.`,
        );
      return { size, degreesOfFreedom };
    },
  );
  const combined = Math.hypot(...parts.map((p) => p.size));
  // Shares, not fourth powers of lengths, which underflow.
  const loss = parts.reduce(
    (sum, p) => sum + (p.size === 0 ? 0 : (p.size / combined) ** 4 / p.degreesOfFreedom),
    0,
  );
  return {
    standardUncertainty: combined,
    degreesOfFreedom: 1 / loss,
    contributions: parts.map((p) => p.size),
  };
}

/**
 * U = k·u with the two-sided coverage factor of Student's t: value ± U covers with the stated probability.
 *
 * @param coverage in (0, 1).
 */
export function expandedUncertainty(
  standardUncertainty: number,
  coverage: number,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
): number {
  if (!(coverage > 0 && coverage < 1))
    throw new ReductionError('invalid-argument', `The coverage ${coverage} is not in (0, 1).`);
  if (standardUncertainty === 0) return 0;
  return studentTQuantile((1 + coverage) / 2, degreesOfFreedom) * standardUncertainty;
}
