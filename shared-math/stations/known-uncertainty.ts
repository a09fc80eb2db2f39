/** What is known of a station's uncertainty, and small steps that every judgement shares. */
import type { CheckPoint, DecisionDefinition } from '../definition.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { Covariance6, UncertaintySource, Verdict } from '../result.ts';
import { studentTQuantile } from '../uncertainty/distributions.ts';
import { displacementJacobian, type ErrorGradient } from '../uncertainty/error-derivatives.ts';
import { zoneDirections } from '../uncertainty/position-distribution.ts';
import { findRoot } from '../uncertainty/root.ts';
import { type Contribution, sumCovariance } from '../uncertainty/station-covariance.ts';

/** Sources that a blade's own points bring in; the others are shared by all stations. */
export const OWN: ReadonlySet<UncertaintySource> = new Set(['probing', 'form']);

/** What is known of a station's uncertainty: the contributions and their sum. */
export interface Known {
  readonly contributions: readonly Contribution[];
  readonly total: Covariance6;
  readonly coverage: number;
}

/** The same knowledge with the standard uncertainties of its shared and own parts multiplied. */
export function scaled(known: Known, shared: number, own: number): Known {
  const contributions = known.contributions.map((c) => {
    const factor = (OWN.has(c.source) ? own : shared) ** 2;
    return { ...c, covariance: c.covariance.map((row) => row.map((x) => factor * x)) };
  });
  return { ...known, contributions, total: sumCovariance(contributions) };
}

/** Rows of the displacement at a check point along the directions that its zone measures. */
export function zoneRows(error: RigidMotion, checkPoint: CheckPoint): readonly ErrorGradient[] {
  const jacobian = displacementJacobian(error, checkPoint.at);
  return zoneDirections(checkPoint).map((d) =>
    [0, 1, 2, 3, 4, 5].map(
      (k) => d[0] * jacobian[0]![k]! + d[1] * jacobian[1]![k]! + d[2] * jacobian[2]![k]!,
    ),
  );
}

/** U/u of a two-sided interval: Student's t. @param coverage 0 … 1. @param degreesOfFreedom ∞: the normal distribution. */
export function coverageFactor(coverage: number, degreesOfFreedom: number): number {
  return studentTQuantile((1 + coverage) / 2, degreesOfFreedom);
}

/**
 * Degrees of freedom whose coverage factor is the given one: the other way round than `coverageFactor`.
 *
 * @returns ∞ for the factor of the normal distribution, and for less.
 */
export function degreesOfFactor(coverage: number, factor: number): number {
  // Over 1/ν the factor rises from that of the normal distribution; no evaluation has less than one degree of freedom.
  const excess = (reciprocal: number): number => coverageFactor(coverage, 1 / reciprocal) - factor;
  if (!(excess(FEWEST_RECIPROCAL) < 0)) return Number.POSITIVE_INFINITY;
  return excess(1) > 0 ? 1 / findRoot(excess, FEWEST_RECIPROCAL, 1, FACTOR_TOLERANCE) : 1;
}

/** 1/ν from which Student's distribution differs from the normal one by more than rounding makes of a factor. */
const FEWEST_RECIPROCAL = 1e-9;
/** Of 1/ν: its error then makes less of a factor than rounding does. */
const FACTOR_TOLERANCE = 1e-9;

/** Degrees of freedom as a result shows them: null where the normal distribution serves. */
export function limited(degreesOfFreedom: number): number | null {
  return Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null;
}

/** Without uncertainty only the simple rule can be answered; the guarded one proves nothing. */
export function withoutUncertainty(value: number, limit: number, { rule }: DecisionDefinition): Verdict {
  if (rule === 'guarded') return 'unproven';
  return Math.abs(value) <= limit ? 'conforming' : 'nonconforming';
}

/** Nonconforming if any is, else unproven if any is, else conforming. */
export function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  if (verdicts.includes('nonconforming')) return 'nonconforming';
  return verdicts.includes('unproven') ? 'unproven' : 'conforming';
}
