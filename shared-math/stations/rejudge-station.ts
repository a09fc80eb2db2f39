/**
 * A measured station judged anew: its blade moved, or held against another requirement. Errors, positions, verdicts come
 * from the same functions as at first; the uncertainty is that of the measurement, carried along with the blade.
 */
import type { DecisionDefinition, LimitName, PartDefinition, StationDefinition } from '../definition.ts';
import { apply } from '../geometry/matrix.ts';
import { compose, IDENTITY_MOTION } from '../geometry/rigid-motion.ts';
import { rotationFromVector, rotationVector } from '../geometry/rotation.ts';
import { inverseLeftJacobian, leftJacobian } from '../geometry/rotation-jacobian.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { add, cross } from '../geometry/vector.ts';
import { discErrors, sixErrors } from '../pose/blade-errors.ts';
import type { Observability } from '../pose/observability.ts';
import type { Covariance6, SixErrors, StationResult } from '../result.ts';
import { errorGradients } from '../uncertainty/error-derivatives.ts';
import { NOTHING_TO_SETTLE } from '../uncertainty/what-would-settle.ts';
import { judgeLimit } from './judge-limit.ts';
import { jointPosition, judgeCheckPoint } from './judge-position.ts';
import { degreesOfFactor, type Known, worstVerdict } from './known-uncertainty.ts';

export interface Rejudging {
  readonly station: StationDefinition;
  readonly decision: DecisionDefinition;
  /** Coverage of the expanded uncertainties. */
  readonly coverage: number;
  /**
   * Of which positions the upper bound (`expanded`) is wanted: of the blade and each check point, of the blade alone, of none.
   * Verdicts alone come several times as fast. Default `all`.
   */
  readonly bounds?: 'all' | 'blade' | 'none';
  /** mm: bounds and probabilities need not be better than a table with this digit shows. Default: as good as they come. */
  readonly resolution?: number | undefined;
  /** On the left of E, in nominal blade axes: E_new = motion · E. Null: the blade stays. */
  readonly motion: RigidMotion | null;
}

/** By the plan's own requirement and rule. @param motion carries the measured blade on, nominal blade frame; null: it stays. */
export function rejudging(
  { decision, uncertainty }: PartDefinition,
  station: StationDefinition,
  motion: RigidMotion | null,
): Rejudging {
  return { station, decision, coverage: uncertainty.coverage, motion };
}

/** E of a station whose six errors were all observed, else null. */
export function errorMotion({
  oscillation,
  lateral,
  upset,
  rotOscillation,
  rotLateral,
  rotUpset,
}: SixErrors): RigidMotion | null {
  if (oscillation === null || lateral === null || upset === null) return null;
  if (rotOscillation === null || rotLateral === null || rotUpset === null) return null;
  return {
    rotation: rotationFromVector([rotOscillation, rotLateral, rotUpset]),
    translation: [oscillation, lateral, upset],
  };
}

/**
 * The station after the motion, against the requirement of `station`.
 *
 * Covariances: what the blade's own points contribute turns with the blade, what the hub frame contributes does not. Degrees of
 * freedom and the table of sources stay those of the measurement. `settle` is null: it is a question to a measurement.
 *
 * @returns null where not all six errors were observed: what is not known of a blade cannot be moved.
 */
export function rejudgeStation(measured: StationResult, rejudged: Rejudging): StationResult | null {
  const { station, motion, decision, coverage, bounds = 'all', resolution } = rejudged;
  const before = errorMotion(measured.error);
  if (before === null) return null;
  const error = motion === null ? before : compose(motion, before);
  const { covarianceOwn, covarianceShared, covariance } =
    motion === null ? measured : carriedCovariances(measured, before, motion, error);
  const knownWith = (degreesOfFreedom: number | null | undefined): Known | null =>
    covariance && knownBy(covariance, degreesOfFreedom ?? null, coverage);

  const { checkPoints, limits } = station.requirement;
  // The bound of a single check point is that of the blade.
  const each = bounds === 'all' || (bounds === 'blade' && checkPoints.length === 1);
  const points = new Map(measured.position.checkPoints.map((c) => [c.name, c.degreesOfFreedom]));
  const results = checkPoints.map((c) =>
    judgeCheckPoint(error, c, EVERYTHING, knownWith(points.get(c.name)), decision, each),
  );
  const known = knownWith(measured.position.degreesOfFreedom);
  const position = {
    ...jointPosition(error, results, checkPoints, known, decision, bounds !== 'none', resolution),
    ...NOTHING_TO_SETTLE,
  };

  const disc = discErrors(error, station.angle, station.seat);
  const values = { ...sixErrors(error), ...disc };
  const gradients = errorGradients(error, station.angle, station.seat);
  const judged = (Object.entries(limits) as [LimitName, number][]).map(([name, limit]) => ({
    ...judgeLimit(
      name,
      values[name],
      limit,
      gradients[name],
      knownWith(degreesOf(measured, name, coverage)),
      decision,
    ),
    ...NOTHING_TO_SETTLE,
  }));
  return {
    ...measured,
    error: sixErrors(error),
    disc,
    position,
    limits: judged,
    verdict: worstVerdict([position.verdict, ...judged.map((l) => l.verdict)]),
    covariance,
    covarianceOwn,
    covarianceShared,
  };
}

/** Degrees of freedom that the measurement found for an error, whether the plan limits it or not. */
function degreesOf({ limits, uncertainty }: StationResult, name: LimitName, coverage: number): number | null {
  const limit = limits.find((l) => l.name === name);
  if (limit !== undefined) return limit.degreesOfFreedom ?? null;
  const [expanded, standard] = [uncertainty?.expanded[name], uncertainty?.standard[name]];
  if (expanded == null || !standard) return null;
  return degreesOfFactor(coverage, expanded / standard);
}

const EVERYTHING: Pick<Observability, 'observesPosition'> = { observesPosition: () => true };

/** All uncertainty as one contribution with the degrees of freedom that the measurement found for the quantity judged. */
function knownBy(total: Covariance6, degreesOfFreedom: number | null, coverage: number): Known {
  const contribution = {
    source: 'probing' as const,
    covariance: total,
    degreesOfFreedom: degreesOfFreedom ?? Number.POSITIVE_INFINITY,
  };
  return { contributions: [contribution], total, coverage };
}

function carriedCovariances(
  { covarianceOwn: own, covarianceShared: shared }: StationResult,
  before: RigidMotion,
  motion: RigidMotion,
  after: RigidMotion,
): Pick<StationResult, 'covariance' | 'covarianceOwn' | 'covarianceShared'> {
  if (own === null || shared === null)
    return { covariance: null, covarianceOwn: null, covarianceShared: null };
  const covarianceOwn = congruent(carrying(before, motion, after), own);
  const covarianceShared = congruent(carrying(before, IDENTITY_MOTION, after), shared);
  const covariance = covarianceOwn.map((row, i) => row.map((x, j) => x + covarianceShared[i]![j]!));
  return { covariance, covarianceOwn, covarianceShared };
}

/**
 * How small changes (dt, dρ) of the six errors before become changes after, where the twist behind them is turned and shifted
 * by `motion`: v = dt − ω × t, ω = J(ρ)·dρ; ω' = R·ω, v' = R·v + s × ω'; back with t' and ρ'.
 *
 * @returns columns.
 */
function carrying(before: RigidMotion, motion: RigidMotion, after: RigidMotion): readonly number[][] {
  const j = leftJacobian(rotationVector(before.rotation));
  const back = inverseLeftJacobian(rotationVector(after.rotation));
  return [0, 1, 2, 3, 4, 5].map((k) => {
    const unit = (first: number): Vec3 => [
      first === k ? 1 : 0,
      first + 1 === k ? 1 : 0,
      first + 2 === k ? 1 : 0,
    ];
    const omega = apply(j, unit(3));
    const v = add(unit(0), cross(before.translation, omega));
    const turned = apply(motion.rotation, omega);
    const moved = add(apply(motion.rotation, v), cross(motion.translation, turned));
    return [...add(moved, cross(turned, after.translation)), ...apply(back, turned)];
  });
}

/** T·C·Tᵀ, T by columns. */
function congruent(columns: readonly number[][], c: Covariance6): Covariance6 {
  const half = columns[0]!.map((_, i) =>
    columns.map((_, l) => columns.reduce((sum, column, k) => sum + column[i]! * c[k]![l]!, 0)),
  );
  return half.map((row) => half.map((_, j) => row.reduce((sum, x, l) => sum + x * columns[l]![j]!, 0)));
}
