/** Budgets of single quantities, as the GUM lists them, through the product's own combination of contributions. */
import { standardUncertainty } from '../../shared-math/uncertainty/covariance-terms.ts';
import type { Contribution } from '../../shared-math/uncertainty/station-covariance.ts';

export interface UncertaintyContribution {
  /** u of the input, in its own unit. */
  readonly standardUncertainty: number;
  /** ∂output/∂input, default 1. */
  readonly sensitivity?: number;
  /** Default: ∞. */
  readonly degreesOfFreedom?: number;
}

export interface CombinedUncertainty {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** What each contribution alone makes of the output. */
  readonly contributions: readonly number[];
}

/** Each contribution stands in the first of the six errors, and that error is what is asked for. */
export function combinedUncertainty(contributions: readonly UncertaintyContribution[]): CombinedUncertainty {
  const first = [1, 0, 0, 0, 0, 0] as const;
  const parts = contributions.map(
    ({
      standardUncertainty: u,
      sensitivity = 1,
      degreesOfFreedom = Number.POSITIVE_INFINITY,
    }): Contribution => ({
      source: 'probing',
      covariance: first.map((a) => first.map((b) => a * b * (sensitivity * u) ** 2)),
      degreesOfFreedom,
    }),
  );
  const { standard, degreesOfFreedom } = standardUncertainty(parts, first);
  return {
    standardUncertainty: standard,
    degreesOfFreedom,
    contributions: parts.map((part) => standardUncertainty([part], first).standard),
  };
}
