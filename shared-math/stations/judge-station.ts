/**
 * The verdict of one station: errors, positions and limits with their uncertainty, judged by the plan's rule.
 */
import type {
  CheckPoint,
  DecisionDefinition,
  DiscErrorName,
  ErrorName,
  LimitName,
  PartDefinition,
} from '../definition.ts';
import { transpose } from '../geometry/matrix.ts';
import { compose } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { discErrors, sixErrors } from '../pose/blade-errors.ts';
import { type Observability, observabilityOf } from '../pose/observability.ts';
import { displacement, positionValue } from '../pose/position.ts';
import type {
  CheckPointResult,
  LimitResult,
  PositionResult,
  StationResult,
  StationUncertainty,
  UncertaintyShare,
  UncertaintySource,
  Verdict,
} from '../result.ts';
import { bilinear, jointCovariance, standardUncertainty } from '../uncertainty/covariance-terms.ts';
import { decide, intervalProbability } from '../uncertainty/decision.ts';
import { studentTQuantile } from '../uncertainty/distributions.ts';
import {
  displacementJacobian,
  type ErrorGradient,
  errorGradients,
} from '../uncertainty/error-derivatives.ts';
import type { ResidualScatter } from '../uncertainty/feature-noise.ts';
import type { TwistForm } from '../uncertainty/frame-sensitivity.ts';
import { jointConformanceProbability, largestPositionQuantile } from '../uncertainty/joint-position.ts';
import { positionCdf, positionQuantile, zoneDirections } from '../uncertainty/position-distribution.ts';
import {
  type Contribution,
  type Covariance6,
  type Disturbed,
  stationContributions,
  sumCovariance,
} from '../uncertainty/station-covariance.ts';
import type { PosedStation } from './pose-station.ts';

const SOURCES: readonly UncertaintySource[] = ['probing', 'form', 'frame', 'scale', 'temperature'];
const OWN: ReadonlySet<UncertaintySource> = new Set(['probing', 'form']);
const ERRORS: readonly ErrorName[] = [
  'oscillation',
  'lateral',
  'upset',
  'rotOscillation',
  'rotLateral',
  'rotUpset',
];

/** What is known of a station's uncertainty: the contributions and their sum. */
interface Known {
  readonly contributions: readonly Contribution[];
  readonly total: Covariance6;
  readonly coverage: number;
}

/**
 * @param hub the disc frame's twist with what disturbs it; disc: the motion from disc to machine coordinates.
 * @param pooled scatter of the blade features over all stations.
 */
export function judgeStation(
  posed: PosedStation,
  hub: Disturbed<TwistForm>,
  disc: RigidMotion,
  pooled: ReadonlyMap<string, ResidualScatter>,
  definition: PartDefinition,
): StationResult {
  const { station, nominal, error, disturbed, freeMotions } = posed;
  const { uncertainty, decision } = definition;
  const blade = compose(disc, nominal);
  const contributions = stationContributions(hub, disturbed, error, blade, pooled, uncertainty);
  const known = contributions && {
    contributions,
    total: sumCovariance(contributions),
    coverage: uncertainty.coverage,
  };
  const observability = observabilityOf(freeMotions, station);
  const values = onlyObserved(
    { ...sixErrors(error), ...discErrors(error, station.angle, station.seat) },
    observability,
  );
  const gradients = errorGradients(error, station.angle, station.seat);

  const position = judgePosition(error, station.requirement.checkPoints, observability, known, decision);
  const limits = (Object.entries(station.requirement.limits) as [LimitName, number][]).map(([name, limit]) =>
    judgeLimit(name, values[name], limit, gradients[name], known, decision),
  );
  const whole = known !== null && observability.unobservable.length === 0 ? known : null;
  return {
    station: station.station,
    angle: (station.angle * 180) / Math.PI,
    error: pick(values, ERRORS),
    disc: pick(values, ['radial', 'tangential', 'axial', 'lean', 'sweep', 'stagger']),
    position,
    limits,
    verdict: worstVerdict([position.verdict, ...limits.map((l) => l.verdict)]),
    covariance: whole?.total ?? null,
    covarianceShared: whole && sumCovariance(whole.contributions, (source) => !OWN.has(source)),
    covarianceOwn: whole && sumCovariance(whole.contributions, (source) => OWN.has(source)),
    uncertainty:
      known &&
      describeUncertainty(known, values, gradients, error, station.requirement.checkPoints, position),
    features: posed.features,
    unobservable: observability.unobservable,
    nominal: { origin: nominal.translation, axes: transpose(nominal.rotation) },
  };
}

/** Nonconforming if any is, else unproven if any is, else conforming. */
export function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  if (verdicts.includes('nonconforming')) return 'nonconforming';
  return verdicts.includes('unproven') ? 'unproven' : 'conforming';
}

function judgePosition(
  error: RigidMotion,
  checkPoints: readonly CheckPoint[],
  observability: Observability,
  known: Known | null,
  decision: DecisionDefinition,
): PositionResult {
  const results = checkPoints.map((c) => judgeCheckPoint(error, c, observability, known, decision));
  const largest = results.reduce((a, b) => ((b.value ?? -1) > (a.value ?? -1) ? b : a));
  const { value, name: at, tolerance } = largest;
  const base = { value, at, tolerance, checkPoints: results, settle: null };
  const observed = results.every((r) => r.value !== null);
  if (value === null || known === null || !observed)
    return {
      ...base,
      expanded: null,
      probability: null,
      verdict: worstVerdict(results.map((r) => r.verdict)),
    };

  const { covariance, degreesOfFreedom } = jointOf(error, checkPoints, known);
  const spread = { error, covariance, degreesOfFreedom };
  const single = results.length === 1;
  const expanded = single
    ? largest.expanded!
    : largestPositionQuantile(known.coverage, checkPoints, spread).value - value;
  const probability = single ? largest.probability! : jointConformanceProbability(checkPoints, spread).value;
  const simple = worstVerdict(results.map((r) => r.verdict));
  const isByProbability = decision.rule === 'guarded' && 'probability' in decision;
  const verdict = isByProbability
    ? decide(decision, { value, limit: tolerance, probability, expanded })
    : simple;
  return { ...base, expanded, probability, verdict };
}

/** The total covariance, with degrees of freedom by the displacements of all check points. */
function jointOf(error: RigidMotion, checkPoints: readonly CheckPoint[], known: Known) {
  const rows = checkPoints.flatMap((c) => zoneRows(error, c));
  const { degreesOfFreedom } = jointCovariance(known.contributions, known.total, rows);
  return { covariance: known.total, degreesOfFreedom };
}

function judgeCheckPoint(
  error: RigidMotion,
  checkPoint: CheckPoint,
  { observesPosition }: Observability,
  known: Known | null,
  decision: DecisionDefinition,
): CheckPointResult {
  const { name, at, zone, tolerance, direction } = checkPoint;
  const base = { name, at, zone, tolerance, direction };
  const nothing = { expanded: null, probability: null, covariance: null };
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
  const expanded = positionQuantile(known.coverage, mean, covariance, degreesOfFreedom) - value;
  const probability = positionCdf(tolerance, mean, covariance, degreesOfFreedom);
  const full = jointCovariance(known.contributions, known.total, displacementJacobian(error, at));
  return {
    ...base,
    displacement: delta,
    value,
    expanded,
    probability,
    covariance: full.covariance as unknown as readonly Vec3[],
    verdict: decide(decision, { value, limit: tolerance, probability, expanded }),
  };
}

/** Rows of the displacement at a check point along the directions that its zone measures. */
function zoneRows(error: RigidMotion, checkPoint: CheckPoint): readonly ErrorGradient[] {
  const jacobian = displacementJacobian(error, checkPoint.at);
  return zoneDirections(checkPoint).map((d) =>
    [0, 1, 2, 3, 4, 5].map(
      (k) => d[0] * jacobian[0]![k]! + d[1] * jacobian[1]![k]! + d[2] * jacobian[2]![k]!,
    ),
  );
}

function judgeLimit(
  name: LimitName,
  value: number | null,
  limit: number,
  gradient: ErrorGradient,
  known: Known | null,
  decision: DecisionDefinition,
): LimitResult {
  const nothing = { expanded: null, probability: null, settle: null };
  if (value === null) return { name, value, limit, ...nothing, verdict: 'unproven' };
  if (known === null)
    return { name, value, limit, ...nothing, verdict: withoutUncertainty(value, limit, decision) };
  const { standard, degreesOfFreedom } = standardUncertainty(known.contributions, gradient);
  const expanded = coverageFactor(known.coverage, degreesOfFreedom) * standard;
  const probability = intervalProbability(-limit, limit, value, standard, degreesOfFreedom);
  const verdict = decide(decision, { value, limit, probability, expanded });
  return { name, value, limit, expanded, probability, verdict, settle: null };
}

/** Without uncertainty only the simple rule can be answered; the guarded one proves nothing. */
function withoutUncertainty(value: number, limit: number, { rule }: DecisionDefinition): Verdict {
  if (rule === 'guarded') return 'unproven';
  return Math.abs(value) <= limit ? 'conforming' : 'nonconforming';
}

function coverageFactor(coverage: number, degreesOfFreedom: number): number {
  return studentTQuantile((1 + coverage) / 2, degreesOfFreedom);
}

function describeUncertainty(
  known: Known,
  values: Readonly<Record<ErrorName | DiscErrorName, number | null>>,
  gradients: Readonly<Record<ErrorName | DiscErrorName, ErrorGradient>>,
  error: RigidMotion,
  checkPoints: readonly CheckPoint[],
  position: PositionResult,
): StationUncertainty {
  const names = Object.keys(values) as (ErrorName | DiscErrorName)[];
  const terms = names.map(
    (name) => [name, standardUncertainty(known.contributions, gradients[name])] as const,
  );
  const table = (of: (u: number, nu: number) => number) =>
    Object.fromEntries(
      terms.map(([name, u]) => [name, values[name] === null ? null : of(u.standard, u.degreesOfFreedom)]),
    ) as Record<ErrorName | DiscErrorName, number | null>;
  const deciding = checkPoints.find((c) => c.name === position.at)!;
  return {
    expanded: table((u, nu) => coverageFactor(known.coverage, nu) * u),
    standard: table((u) => u),
    sources: shares(known.contributions, zoneRows(error, deciding), position),
  };
}

/** Each source alone: its standard uncertainties, and its share of the variance along the deciding displacement. */
function shares(
  contributions: readonly Contribution[],
  rows: readonly ErrorGradient[],
  position: PositionResult,
): readonly UncertaintyShare[] {
  const delta = position.checkPoints.find((c) => c.name === position.at)?.displacement ?? null;
  const variance = (c: Covariance6): number =>
    delta === null || rows.length !== 2
      ? rows.reduce((sum, a) => sum + bilinear(c, a, a), 0)
      : alongVariance(c, rows, delta);
  const bySource = SOURCES.map((source) => sumCovariance(contributions, (s) => s === source));
  const variances = bySource.map(variance);
  const total = variances.reduce((a, b) => a + b, 0);
  return SOURCES.map((source, i) => ({
    source,
    standard: Object.fromEntries(ERRORS.map((name, k) => [name, Math.sqrt(bySource[i]![k]![k]!)])) as Record<
      ErrorName,
      number
    >,
    share: total > 0 ? variances[i]! / total : 0,
  }));
}

function alongVariance(c: Covariance6, rows: readonly ErrorGradient[], delta: Vec3): number {
  const length = Math.hypot(delta[0], delta[1]) || 1;
  const along = [0, 1, 2, 3, 4, 5].map((k) => (delta[0] * rows[0]![k]! + delta[1] * rows[1]![k]!) / length);
  return bilinear(c, along, along);
}

function onlyObserved(
  values: Readonly<Record<ErrorName | DiscErrorName, number>>,
  { observes }: Observability,
): Record<ErrorName | DiscErrorName, number | null> {
  const entries = (Object.entries(values) as [ErrorName | DiscErrorName, number][]).map(([name, value]) => [
    name,
    observes(name) ? value : null,
  ]);
  return Object.fromEntries(entries) as Record<ErrorName | DiscErrorName, number | null>;
}

function pick<K extends ErrorName | DiscErrorName>(
  values: Readonly<Record<ErrorName | DiscErrorName, number | null>>,
  names: readonly K[],
): Record<K, number | null> {
  return Object.fromEntries(names.map((name) => [name, values[name]])) as Record<K, number | null>;
}
