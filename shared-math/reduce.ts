/**
 * The one way through: points and definition in, six errors, position and verdict of every blade out.
 *
 * points → rough alignment → hub features → disc frame → blade features → poses → six errors → verdicts.
 */

import { alignDisc } from './alignment/align-disc.ts';
import { formWarnings, hubPlaceWarnings, hubWildPoints, normalWarnings } from './alignment/plausibility.ts';
import type { StationTargets } from './alignment/rough-alignment.ts';
import { type FeatureTarget, thinBlock } from './alignment/targets.ts';
import type {
  DatumDefinition,
  DiscErrorName,
  ErrorName,
  PartDefinition,
  StationDefinition,
} from './definition.ts';
import { ReductionError } from './errors.ts';
import { nominalBladeFrame } from './frame/blade-frame.ts';
import { checkDatumSystems } from './frame/check-datum-systems.ts';
import { datumInputs } from './frame/datum-points.ts';
import { buildDiscFrame, type DiscFrame } from './frame/disc-frame.ts';
import { reportFeature } from './frame/feature-report.ts';
import { indexPoints, type PointIndex } from './frame/point-index.ts';
import { atReferenceTemperature, temperatureWarnings } from './frame/temperature.ts';
import { transpose } from './geometry/matrix.ts';
import { compose, IDENTITY_MOTION, inverse } from './geometry/rigid-motion.ts';
import type { RigidMotion } from './geometry/types.ts';
import type { PointBlock } from './points.ts';
import { discErrors, sixErrors } from './pose/blade-errors.ts';
import { moveBlock, poseByBestFit, poseByDatums } from './pose/blade-pose.ts';
import { judgeLimits, judgePosition, worstVerdict } from './pose/judgement.ts';
import { observabilityOf } from './pose/observability.ts';
import type { MissingStation, Reduction, StationResult, Summary } from './result.ts';

/** Points of one feature that the rough alignment looks at: it needs senses and starts, not precision. */
const POINTS_PER_TARGET = 12;

export interface ReductionInput {
  readonly blocks: readonly PointBlock[];
  readonly definition: PartDefinition;
  /** Stations that cannot be reduced, with the reason (for example an unreadable row). */
  readonly gaps: readonly { readonly station: number; readonly reason: string }[];
}

export interface StageReport {
  readonly stage: 'hub' | 'blades';
  readonly done: number;
  readonly of: number;
  readonly station: number | null;
}

/**
 * Reduces the points of a disc.
 *
 * @param input point blocks (mm, machine frame), definition (mm, rad) and known gaps.
 * @param onStage called before the hub and before each station; an exception that it throws stops the reduction.
 * @returns frame, stations in station order, summary and warnings. A station that cannot be reduced is listed in
 *   `summary.missing` with the reason; the others are reduced all the same.
 * @throws ReductionError where nothing can be reduced: alignment, hub features, hub datum system.
 */
export function reduce(input: ReductionInput, onStage: (report: StageReport) => void = () => {}): Reduction {
  const { definition, blocks } = input;
  checkDatumSystems(definition);
  const points = indexPoints(blocks);
  const gaps = new Map(input.gaps.map((g) => [g.station, g.reason]));
  const of = definition.stations.length;
  onStage({ stage: 'hub', done: 0, of, station: null });

  const measured = stationTargets(points, definition, gaps);
  if (measured.length === 0) throw nothingReduced(input.gaps);
  const disc = alignDisc(
    measured,
    hubTargets(points, definition),
    definition,
    (ring) => buildDiscFrame(points, definition, ring),
    (ring) => hubWildPoints(points, definition, ring),
  );

  const stations: StationResult[] = [];
  const missing: MissingStation[] = [];
  definition.stations.forEach((station, k) => {
    onStage({ stage: 'blades', done: k, of, station: station.station });
    const outcome = reduceStation(station, points, disc, definition, gaps.get(station.station));
    if ('reason' in outcome) missing.push(outcome);
    else stations.push(outcome);
  });
  if (stations.length === 0) throw nothingReduced(missing);

  const toDisc = inverse(disc.motion);
  const datums = definition.hubDatums.map((datum, i) =>
    reportFeature(datum, disc.features[i]!, toDisc, disc.fixes[i]!),
  );
  return {
    frame: { rotation: transpose(disc.motion.rotation), origin: disc.motion.translation, datums },
    stations,
    summary: summarise(stations, missing),
    warnings: [
      ...decisionWarnings(definition),
      ...temperatureWarnings(blocks, definition.temperature),
      ...formWarnings(points, definition, disc.motion, datums, stations),
      ...hubPlaceWarnings(disc, definition),
      ...normalWarnings(points, definition, disc.motion),
    ],
    decision: { requested: definition.decision.rule, applied: 'simple' },
  };
}

function hubTargets(points: PointIndex, definition: PartDefinition): readonly FeatureTarget[] {
  return definition.hubDatums.map((datum) => targetOf(datum, points, null));
}

/** The stations' features that can be looked at; what a station lacks is reported when it is reduced. */
function stationTargets(
  points: PointIndex,
  definition: PartDefinition,
  gaps: ReadonlyMap<number, string>,
): readonly StationTargets[] {
  return definition.stations.flatMap((station) => {
    if (gaps.has(station.station) || !points.hasStation(station.station)) return [];
    const targets = definition.bladeDatums.flatMap((datum) => {
      try {
        const target = targetOf(datum, points, station.station);
        return target.inputs.every(({ xyz }) => xyz.every(Number.isFinite)) ? [target] : [];
      } catch (error) {
        if (error instanceof ReductionError) return [];
        throw error;
      }
    });
    return targets.length > 0 ? [{ station, targets }] : [];
  });
}

function targetOf(datum: DatumDefinition, points: PointIndex, station: number | null): FeatureTarget {
  const thinned = points.blocksOf(station, datum).map((block) => thinBlock(block, POINTS_PER_TARGET));
  return { datum, nominal: datum.nominal, inputs: datumInputs(datum, thinned) };
}

function reduceStation(
  station: StationDefinition,
  points: PointIndex,
  disc: DiscFrame,
  definition: PartDefinition,
  gap: string | undefined,
): StationResult | MissingStation {
  const absent = (reason: string): MissingStation => ({
    station: station.station,
    angle: degrees(station.angle),
    reason,
  });
  if (gap !== undefined) return absent(gap);
  if (!points.hasStation(station.station)) return absent('The file has no points of this station.');
  try {
    return poseStation(station, points, disc, definition);
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    return absent(stationReason(error));
  }
}

function poseStation(
  station: StationDefinition,
  points: PointIndex,
  disc: DiscFrame,
  definition: PartDefinition,
): StationResult {
  const nominal = nominalBladeFrame(station.angle, station.seat);
  const toBlade: RigidMotion = compose(inverse(nominal), inverse(disc.motion));
  const blocksOf = (datum: DatumDefinition): readonly PointBlock[] =>
    points
      .blocksOf(station.station, datum)
      .map((b) => moveBlock(atReferenceTemperature(b, definition.temperature, disc.scalingCentre), toBlade));
  const pose =
    definition.pose === 'datum'
      ? poseByDatums(definition.bladeDatums, blocksOf)
      : poseByBestFit(definition.bladeDatums, blocksOf);

  const { observes, observesPosition, unobservable } = observabilityOf(pose.freeMotions, station);
  const error = onlyObserved(sixErrors(pose.error), observes);
  const discView = onlyObserved(discErrors(pose.error, station.angle, station.seat), observes);
  const position = judgePosition(pose.error, station.requirement, observesPosition);
  const limits = judgeLimits({ ...error, ...discView }, station.requirement);
  return {
    station: station.station,
    angle: degrees(station.angle),
    error,
    disc: discView,
    position,
    limits,
    verdict: worstVerdict([position.verdict, ...limits.map((l) => l.verdict)]),
    covariance: null,
    covarianceShared: null,
    covarianceOwn: null,
    features: definition.bladeDatums.map((datum, i) =>
      reportFeature(datum, pose.features[i]!, IDENTITY_MOTION, pose.fixes[i]!),
    ),
    unobservable,
    nominal: { origin: nominal.translation, axes: transpose(nominal.rotation) },
  };
}

function onlyObserved<K extends ErrorName | DiscErrorName>(
  values: Readonly<Record<K, number>>,
  observes: (name: ErrorName | DiscErrorName) => boolean,
): Record<K, number | null> {
  const entries = (Object.entries(values) as [K, number][]).map(([name, value]) => [
    name,
    observes(name) ? value : null,
  ]);
  return Object.fromEntries(entries) as Record<K, number | null>;
}

function summarise(stations: readonly StationResult[], missing: readonly MissingStation[]): Summary {
  const count = (verdict: StationResult['verdict']): number =>
    stations.filter((s) => s.verdict === verdict).length;
  const judged = stations.filter((s) => s.position.value !== null);
  const worst = judged.reduce<StationResult | null>(
    (a, b) => (a === null || b.position.value! > a.position.value! ? b : a),
    null,
  );
  return {
    stations: stations.length + missing.length,
    conforming: count('conforming'),
    nonconforming: count('nonconforming'),
    unproven: count('unproven'),
    missing,
    worst: worst === null ? null : { station: worst.station, position: worst.position.value! },
  };
}

function decisionWarnings({ decision }: PartDefinition): readonly string[] {
  if (decision.rule === 'simple') return [];
  return [
    'The plan asks for the decision rule "guarded", but this version does not evaluate uncertainty: every verdict compares the value with its limit ("simple").',
  ];
}

function stationReason({ message, remedy, place }: ReductionError): string {
  const where = place.feature !== undefined && !message.includes(place.feature) ? `${place.feature}: ` : '';
  return `${where}${message}${remedy ? ` ${remedy}` : ''}`;
}

function nothingReduced(
  missing: readonly { readonly station: number; readonly reason: string }[],
): ReductionError {
  const shown = missing.slice(0, 3).map((m) => `Station ${m.station}: ${m.reason}`);
  const more = missing.length > 3 ? [`(and ${missing.length - 3} stations more)`] : [];
  return new ReductionError(
    'missing-feature',
    ['No station could be reduced.', ...shown, ...more].join(' '),
    'Compare the station numbers and feature names of the file with the plan.',
  );
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
