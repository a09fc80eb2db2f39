/**
 * The one way through: points and definition in, six errors, position, uncertainty and verdict of every blade out.
 *
 * points → rough alignment → hub features → disc frame → blade features → poses → six errors → covariance → verdicts.
 */
import { alignDisc } from './alignment/align-disc.ts';
import { formWarnings, hubPlaceWarnings, hubWildPoints, normalWarnings } from './alignment/plausibility.ts';
import type { StationTargets } from './alignment/rough-alignment.ts';
import { type FeatureTarget, thinBlock } from './alignment/targets.ts';
import type { DatumDefinition, PartDefinition, StationDefinition } from './definition.ts';
import { ReductionError } from './errors.ts';
import { checkDatumSystems } from './frame/check-datum-systems.ts';
import { datumInputs } from './frame/datum-points.ts';
import { buildDiscFrame, type DiscFrame } from './frame/disc-frame.ts';
import { reportFeature } from './frame/feature-report.ts';
import { memberDatums } from './frame/pattern-fit.ts';
import { indexPoints, type PointIndex } from './frame/point-index.ts';
import { screenedPoints, screenWarnings } from './frame/screen-datum.ts';
import { temperatureWarnings } from './frame/temperature.ts';
import { inverse } from './geometry/rigid-motion.ts';
import { sentenceOf } from './notes/english.ts';
import type { Note } from './notes/notes.ts';
import { judgePattern } from './pattern/judge-pattern.ts';
import type { PointBlock } from './points.ts';
import type { MissingStation, Reduction } from './result.ts';
import { decisionResult, uncertaintyWarnings } from './stations/decision-result.ts';
import { judgeStation } from './stations/judge-station.ts';
import { type PosedStation, poseStation } from './stations/pose-station.ts';
import { summarise } from './stations/summary.ts';
import { statedVariances } from './uncertainty/feature-noise.ts';
import type { TwistForm } from './uncertainty/frame-sensitivity.ts';
import {
  type Disturbed,
  disturbFrame,
  poolGroups,
  twistCovariance,
} from './uncertainty/station-covariance.ts';

/** Points of one feature that the rough alignment looks at: it needs senses and starts, not precision. */
const POINTS_PER_TARGET = 12;

export interface ReductionInput {
  readonly blocks: readonly PointBlock[];
  readonly definition: PartDefinition;
  /** Stations that cannot be reduced, with the reason (for example an unreadable row). */
  readonly gaps: readonly { readonly station: number; readonly reason: string; readonly note?: Note }[];
}

type Gap = ReductionInput['gaps'][number];

export interface StageReport {
  readonly stage: 'hub' | 'blades' | 'verdicts';
  readonly done: number;
  readonly of: number;
  readonly station: number | null;
}

/**
 * Reduces the points of a disc.
 *
 * @param input point blocks (mm, machine frame), definition (mm, rad) and known gaps.
 * @param onStage called before the hub, before each station, and again before the verdict of each; an exception that it throws
 *   stops the reduction.
 * @returns frame, stations in station order, summary and warnings. A station that cannot be reduced is listed in
 *   `summary.missing` with the reason; the others are reduced all the same.
 * @throws ReductionError where nothing can be reduced: alignment, hub features, hub datum system.
 */
export function reduce(input: ReductionInput, onStage: (report: StageReport) => void = () => {}): Reduction {
  const { definition, blocks } = input;
  checkDatumSystems(definition);
  const points = indexPoints(blocks);
  const gaps = new Map(input.gaps.map((gap) => [gap.station, gap]));
  const of = definition.stations.length;
  onStage({ stage: 'hub', done: 0, of, station: null });

  const { measured, faults } = stationTargets(points, definition, gaps);
  if (measured.length === 0) throw nothingReduced([...input.gaps, ...faults]);
  const disc = alignDisc(
    measured,
    hubTargets(points, definition),
    definition,
    (ring) => buildDiscFrame(points, definition, ring),
    (ring) => hubWildPoints(points, definition, ring),
  );

  const posed: PosedStation[] = [];
  const missing: MissingStation[] = [];
  definition.stations.forEach((station, k) => {
    onStage({ stage: 'blades', done: k, of, station: station.station });
    const outcome = poseOrAbsent(station, points, disc, definition, gaps.get(station.station));
    if ('reason' in outcome) missing.push(outcome);
    else posed.push(outcome);
  });
  if (posed.length === 0) throw nothingReduced(missing);
  const hub = disturbDisc(disc, definition);
  const pooled = poolGroups(posed.map((p) => p.disturbed));
  const stations = posed.map((p, k) => {
    onStage({ stage: 'verdicts', done: k, of: posed.length, station: p.station.station });
    return judgeStation(p, hub, disc.motion, pooled, definition);
  });

  const toDisc = inverse(disc.motion);
  const datums = definition.hubDatums.map((datum, i) =>
    reportFeature(datum, disc.features[i]!, toDisc, disc.fixes[i]!, disc.freedoms[i]!),
  );
  const screened = [
    ...definition.hubDatums.flatMap((datum, i) => screenedPoints(datum, null, disc.features[i]!.flagged)),
    ...posed.flatMap((p) => p.screened),
  ];
  const notes: readonly Note[] = [
    ...uncertaintyWarnings(
      stations,
      definition,
      blocks.some((b) => b.sigma !== null),
    ),
    ...temperatureWarnings(blocks, definition.temperature),
    ...formWarnings(points, definition, disc.motion, datums, stations),
    ...hubPlaceWarnings(disc, definition),
    ...normalWarnings(points, definition, disc.motion),
    ...screenWarnings(screened),
  ];
  return {
    frame: {
      rotation: toDisc.rotation,
      origin: disc.motion.translation,
      datums,
      covariance: twistCovariance(hub, toDisc.rotation, definition.uncertainty),
    },
    stations,
    summary: summarise(stations, missing),
    warnings: notes.map(sentenceOf),
    notes,
    decision: decisionResult(definition),
    pattern: judgePattern(posed, hub, disc.motion, pooled, definition),
    screened,
  };
}

function hubTargets(points: PointIndex, definition: PartDefinition): readonly FeatureTarget[] {
  return definition.hubDatums.flatMap(memberDatums).map((datum) => targetOf(datum, points, null));
}

/** The stations' features that can be looked at; what a station lacks is reported when it is reduced. */
function stationTargets(
  points: PointIndex,
  definition: PartDefinition,
  gaps: ReadonlyMap<number, Gap>,
): { readonly measured: readonly StationTargets[]; readonly faults: readonly StationFault[] } {
  const faults: StationFault[] = [];
  const measured = definition.stations.flatMap((station) => {
    if (gaps.has(station.station) || !points.hasStation(station.station)) return [];
    const targets = definition.bladeDatums.flatMap(memberDatums).flatMap((datum) => {
      try {
        const target = targetOf(datum, points, station.station);
        return target.inputs.every(({ xyz }) => xyz.every(Number.isFinite)) ? [target] : [];
      } catch (error) {
        if (!(error instanceof ReductionError)) throw error;
        faults.push({ station: station.station, reason: sentenceOf(stationNote(error)) });
        return [];
      }
    });
    return targets.length > 0 ? [{ station, targets }] : [];
  });
  return { measured, faults };
}

function targetOf(datum: DatumDefinition, points: PointIndex, station: number | null): FeatureTarget {
  const thinned = points.blocksOf(station, datum).map((block) => thinBlock(block, POINTS_PER_TARGET));
  return { datum, nominal: datum.nominal, inputs: datumInputs(datum, thinned) };
}

function poseOrAbsent(
  station: StationDefinition,
  points: PointIndex,
  disc: DiscFrame,
  definition: PartDefinition,
  gap: Gap | undefined,
): PosedStation | MissingStation {
  const angle = (station.angle * 180) / Math.PI;
  const absent = (note: Note): MissingStation => ({
    station: station.station,
    angle,
    reason: sentenceOf(note),
    note,
  });
  if (gap !== undefined) return { ...gap, angle };
  if (!points.hasStation(station.station)) return absent({ code: 'no-points-of-station', values: {} });
  try {
    return poseStation(station, points, disc, definition);
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    return absent(stationNote(error));
  }
}

/** The disc frame's twist, machine coordinates, with what disturbs it. */
function disturbDisc(disc: DiscFrame, { hubDatums, uncertainty }: PartDefinition): Disturbed<TwistForm> {
  const record = {
    datums: hubDatums,
    features: disc.features,
    steps: disc.steps,
    inputs: disc.inputs,
    variances: disc.blocks.map((list) => statedVariances(list, uncertainty)),
  };
  return disturbFrame(record, disc.motion, disc.motion.translation, uncertainty);
}

function stationNote({ message, note, place }: ReductionError): Note {
  const feature = place.feature !== undefined && !message.includes(place.feature) ? place.feature : null;
  return { code: 'station-failed', values: { feature, failure: note } };
}

/** Why a station cannot be reduced. */
interface StationFault {
  readonly station: number;
  readonly reason: string;
}

function nothingReduced(missing: readonly StationFault[]): ReductionError {
  if (missing.length === 0)
    return new ReductionError(
      'missing-feature',
      'The file has no points of any planned station.',
      'Check that the file is complete, and compare its station numbers and feature names with the plan.',
    );
  const shown = missing.slice(0, 3).map((m) => `Station ${m.station}: ${m.reason}`);
  const more = missing.length > 3 ? [`(and ${missing.length - 3} stations more)`] : [];
  return new ReductionError(
    'missing-feature',
    ['No station could be reduced.', ...shown, ...more].join(' '),
    'Correct the file or the plan accordingly.',
  );
}
