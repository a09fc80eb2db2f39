/**
 * The verdict of one station: errors, positions and limits with their uncertainty, judged by the plan's rule.
 */
import type { DiscErrorName, ErrorName, LimitName, PartDefinition } from '../definition.ts';
import { transpose } from '../geometry/matrix.ts';
import { compose } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { discErrors, sixErrors } from '../pose/blade-errors.ts';
import { DISC_ERRORS, ERRORS } from '../pose/error-names.ts';
import { type Observability, observabilityOf } from '../pose/observability.ts';
import type { StationResult } from '../result.ts';
import { errorGradients } from '../uncertainty/error-derivatives.ts';
import type { ResidualScatter } from '../uncertainty/feature-noise.ts';
import type { TwistForm } from '../uncertainty/frame-sensitivity.ts';
import {
  type Disturbed,
  scaleEffect,
  stationContributions,
  sumCovariance,
} from '../uncertainty/station-covariance.ts';
import { describeUncertainty } from './describe-uncertainty.ts';
import { judgeLimit } from './judge-limit.ts';
import { judgePosition } from './judge-position.ts';
import { OWN, worstVerdict } from './known-uncertainty.ts';
import type { PosedStation } from './pose-station.ts';

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
    disc: pick(values, DISC_ERRORS),
    position,
    limits,
    verdict: worstVerdict([position.verdict, ...limits.map((l) => l.verdict)]),
    covariance: whole?.total ?? null,
    covarianceShared: whole && sumCovariance(whole.contributions, (source) => !OWN.has(source)),
    covarianceOwn: whole && sumCovariance(whole.contributions, (source) => OWN.has(source)),
    uncertainty: known && {
      ...describeUncertainty(known, values, gradients, error, station.requirement.checkPoints, position),
      scaleEffect: scaleEffect(hub, disturbed, error, blade, uncertainty),
    },
    features: posed.features,
    unobservable: observability.unobservable,
    nominal: { origin: nominal.translation, axes: transpose(nominal.rotation) },
  };
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
