/** Position of a blade against its zones: value, upper bound, probability, verdict, and what would settle it. */
import type { CheckPoint, DecisionDefinition } from '../definition.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import type { Observability } from '../pose/observability.ts';
import { displacement, positionValue } from '../pose/position.ts';
import type { CheckPointResult, PositionResult, Verdict } from '../result.ts';
import { jointCovariance } from '../uncertainty/covariance-terms.ts';
import { decide, decideByProbability, withinReason } from '../uncertainty/decision.ts';
import { displacementJacobian } from '../uncertainty/error-derivatives.ts';
import { jointConformanceProbability, largestPositionQuantile } from '../uncertainty/joint-position.ts';
import { positionCdf, positionQuantile, zoneDirections } from '../uncertainty/position-distribution.ts';
import { NOTHING_TO_SETTLE, whatWouldSettle } from '../uncertainty/what-would-settle.ts';
import {
  type Known,
  limited,
  scaled,
  withoutUncertainty,
  worstVerdict,
  zoneRows,
} from './known-uncertainty.ts';

/**
 * @param error E, nominal blade axes.
 * @param known null where nothing is known of the points.
 */
export function judgePosition(
  error: RigidMotion,
  checkPoints: readonly CheckPoint[],
  observability: Observability,
  known: Known | null,
  decision: DecisionDefinition,
): PositionResult {
  const results = checkPoints.map((c) => judgeCheckPoint(error, c, observability, known, decision));
  const position = jointPosition(error, results, checkPoints, known, decision);
  const settle =
    known !== null && position.verdict === 'unproven' && results.every((r) => r.value !== null)
      ? settlePosition(error, position, checkPoints, known, decision)
      : NOTHING_TO_SETTLE;
  return { ...position, ...settle };
}

/**
 * The position of a blade from its check points, each judged already.
 *
 * @param bounds whether the upper bound is wanted; without it `expanded` is null and the verdict comes four times as fast.
 * @param resolution mm, see `SamplingOptions`.
 */
export function jointPosition(
  error: RigidMotion,
  results: readonly CheckPointResult[],
  checkPoints: readonly CheckPoint[],
  known: Known | null,
  decision: DecisionDefinition,
  bounds = true,
  resolution?: number,
): Omit<PositionResult, 'settle' | 'settlement'> {
  const largest = results.reduce((a, b) => ((b.value ?? -1) > (a.value ?? -1) ? b : a));
  const { value, name: at, tolerance } = largest;
  const base = { value, at, tolerance, checkPoints: results };
  const observed = results.every((r) => r.value !== null);
  if (value === null || known === null || !observed)
    return {
      ...base,
      expanded: null,
      probability: null,
      degreesOfFreedom: null,
      verdict: worstVerdict(results.map((r) => r.verdict)),
    };

  const single = results.length === 1;
  const spread = { error, ...jointOf(error, checkPoints, known) };
  const expanded = single
    ? largest.expanded
    : bounds
      ? largestPositionQuantile(known.coverage, checkPoints, spread, {
          single: quantilesOf(results, spread),
          resolution,
        }).value - value
      : null;
  const probability = single
    ? largest.probability!
    : jointConformanceProbability(checkPoints, spread, { resolution }).value;
  return {
    ...base,
    expanded,
    probability,
    degreesOfFreedom: limited(spread.degreesOfFreedom),
    verdict: positionVerdict(results, probability, decision),
  };
}

/** Upper quantiles of the check points, where they were found with the degrees of freedom of all together. */
function quantilesOf(
  results: readonly CheckPointResult[],
  joint: { readonly degreesOfFreedom: number },
): readonly number[] | undefined {
  const degreesOfFreedom = limited(joint.degreesOfFreedom);
  if (results.some((r) => r.expanded === null || r.degreesOfFreedom !== degreesOfFreedom)) return undefined;
  return results.map((r) => r.value! + r.expanded!);
}

/**
 * By the joint probability of all check points where the rule goes by probability, else by each check point.
 *
 * @param joint probability that all check points conform.
 */
function positionVerdict(
  results: readonly Pick<CheckPointResult, 'verdict' | 'value' | 'tolerance'>[],
  joint: number,
  decision: DecisionDefinition,
): Verdict {
  if (decision.rule === 'simple' || 'factor' in decision || results.length === 1)
    return worstVerdict(results.map((r) => r.verdict));
  return withinReason(
    decideByProbability(joint, decision.probability),
    results.some((r) => r.value !== null && r.value > r.tolerance),
  );
}

function settlePosition(
  error: RigidMotion,
  { at, checkPoints: measured }: Pick<PositionResult, 'at' | 'checkPoints'>,
  checkPoints: readonly CheckPoint[],
  known: Known,
  decision: DecisionDefinition,
): Pick<PositionResult, 'settle' | 'settlement'> {
  const everything: Pick<Observability, 'observesPosition'> = { observesPosition: () => true };
  const byEach = 'factor' in decision || checkPoints.length === 1;
  const verdictAt = (shared: number, own: number): Verdict => {
    const other = scaled(known, shared, own);
    if (byEach)
      return worstVerdict(
        checkPoints.map((c) => judgeCheckPoint(error, c, everything, other, decision).verdict),
      );
    const spread = { error, ...jointOf(error, checkPoints, other) };
    return positionVerdict(measured, jointConformanceProbability(checkPoints, spread).value, decision);
  };
  const deciding = checkPoints.find((c) => c.name === at)!;
  const { covariance } = jointCovariance(known.contributions, known.total, zoneRows(error, deciding));
  const standard = 2 * Math.sqrt(Math.max(...covariance.map((row, i) => row[i]!)));
  const { words, ...settlement } = whatWouldSettle({
    verdictAt,
    standardUncertainty: standard,
    unit: 'mm',
  });
  return { settle: words, settlement };
}

/** The total covariance, with degrees of freedom by the displacements of all check points. */
function jointOf(error: RigidMotion, checkPoints: readonly CheckPoint[], known: Known) {
  const rows = checkPoints.flatMap((c) => zoneRows(error, c));
  const { degreesOfFreedom } = jointCovariance(known.contributions, known.total, rows);
  return { covariance: known.total, degreesOfFreedom };
}

/**
 * One check point alone.
 *
 * @param bounds as in `jointPosition`; a guard band by factor needs them all the same.
 */
export function judgeCheckPoint(
  error: RigidMotion,
  checkPoint: CheckPoint,
  { observesPosition }: Pick<Observability, 'observesPosition'>,
  known: Known | null,
  decision: DecisionDefinition,
  bounds = true,
): CheckPointResult {
  const { name, at, zone, tolerance, direction } = checkPoint;
  const base = { name, at, zone, tolerance, direction };
  const nothing = { expanded: null, probability: null, covariance: null, degreesOfFreedom: null };
  if (!observesPosition(checkPoint))
    return { ...base, ...nothing, displacement: null, value: null, verdict: 'unproven' };
  const delta = displacement(error, at);
  const value = positionValue(delta, checkPoint);
  if (known === null)
    return {
      ...base,
      ...nothing,
      displacement: delta,
      value,
      verdict: withoutUncertainty(value, tolerance, decision),
    };
  const { covariance, degreesOfFreedom } = jointCovariance(
    known.contributions,
    known.total,
    zoneRows(error, checkPoint),
  );
  const mean = zoneDirections(checkPoint).map((d) => d[0] * delta[0] + d[1] * delta[1] + d[2] * delta[2]);
  const expanded =
    bounds || 'factor' in decision
      ? positionQuantile(known.coverage, mean, covariance, degreesOfFreedom) - value
      : null;
  const probability = positionCdf(tolerance, mean, covariance, degreesOfFreedom);
  const full = jointCovariance(known.contributions, known.total, displacementJacobian(error, at));
  return {
    ...base,
    displacement: delta,
    value,
    expanded,
    probability,
    covariance: full.covariance as unknown as readonly Vec3[],
    degreesOfFreedom: limited(degreesOfFreedom),
    verdict: decide(decision, { value, limit: tolerance, probability, expanded: expanded ?? Number.NaN }),
  };
}
