/** The whole job in one call: plan, points and welds in, the reduced disc out. */
import { basename } from 'node:path';
import { diagnose, whyNotDiagnosed } from '../../shared-math/diagnosis/diagnose.ts';
import type { Diagnosis } from '../../shared-math/diagnosis/findings.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note } from '../../shared-math/notes/notes.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { Reduction, ResultDocument, ScreenedPoint } from '../../shared-math/result.ts';
import { repeatPoses } from '../../shared-math/stations/repeat-poses.ts';
import type { Progress, ReducedDisc, WeldRow } from '../api.ts';
import { type ReadPlan, readPlan } from '../plan/read-plan.ts';
import { type Exclusions, excludeByHand } from '../points/exclude-by-hand.ts';
import { type ReadPoints, readPoints } from '../points/read-points.ts';
import { type Cancellation, RefusedInput, throwIfCancelled } from '../problems.ts';
import { softwareVersion } from '../software.ts';
import { type ReadWelds, readWelds } from '../welds/read-welds.ts';
import type { PointsReader } from './points-memory.ts';
import { reductionProblem } from './reduction-problem.ts';

export interface ReductionPaths {
  readonly pointsPath: string;
  readonly planPath: string;
  readonly weldsPath?: string;
}

/** Files and exclusions of one reduction. */
export interface ReductionInput extends ReductionPaths, Exclusions {
  /** False: causes and corrections are not looked for, which takes most of the time. */
  readonly diagnose?: boolean | undefined;
}

export interface RunOptions {
  /** Hears once of the disc as well: with everything but causes and corrections, which take the longest. */
  readonly onProgress?: (progress: Progress, disc?: ReducedDisc) => void;
  readonly signal?: Cancellation | undefined;
  /** Reads the point file; a worker gives one that remembers. */
  readonly read?: PointsReader;
  /** Hears of what the document was made from, before it is returned. */
  readonly onReduced?: (made: ReductionMade) => void;
}

/** A reduction with what it was made from. */
export interface ReductionMade {
  readonly plan: ReadPlan;
  /** As read, without the exclusions by hand. */
  readonly read: ReadPoints;
  /** As reduced. */
  readonly points: ReadPoints;
  readonly result: ResultDocument;
}

/** Where in the whole job the reading ends and the blades begin. */
const READ_UNTIL = 0.6;
const HUB_UNTIL = 0.65;
const DIAGNOSIS_FROM = 0.95;

/** Reduces a disc from its files. @throws RefusedInput @throws Cancelled */
export async function runReduction(paths: ReductionInput, options: RunOptions = {}): Promise<ReducedDisc> {
  const { signal } = options;
  const progress = options.onProgress ?? (() => {});
  progress({ stage: 'reading', fraction: 0, note: 'Reading the plan' });
  const plan = await readPlan(paths.planPath, { ...(signal === undefined ? {} : { signal }) });
  const welds = paths.weldsPath === undefined ? null : await readWelds(paths.weldsPath, plan.definition);
  const read = await (options.read ?? readPoints)(paths.pointsPath, {
    definition: plan.definition,
    planImport: plan.plan.import,
    partTemperatureKnown: plan.plan.temperature?.part !== undefined,
    signal,
    onProgress: (fraction) =>
      progress({
        stage: 'reading',
        fraction: READ_UNTIL * fraction,
        note: `Reading ${basename(paths.pointsPath)}`,
      }),
  });
  const points = excludeByHand(read, paths, plan.definition);
  const reduction = reducePoints(plan, points, progress, signal);
  const discWith = (diagnosis: Diagnosis | null, noDiagnosis: Note | null): ReducedDisc => {
    const notes = [...reduction.notes, ...(noDiagnosis === null ? [] : [noDiagnosis])];
    const warnings = notes.map(sentenceOf);
    return {
      result: resultDocument({ ...reduction, warnings, notes }, diagnosis, points, plan, welds),
      plan: plan.summary,
      definition: plan.definition,
      import: points.import,
      welds: welds?.rows ?? null,
      warnings: [...plan.warnings, ...points.warnings, ...warnings],
    };
  };
  let disc = discWith(null, null);
  if (paths.diagnose !== false) {
    const note = 'Finding causes and corrections';
    progress({ stage: 'blades', fraction: DIAGNOSIS_FROM, note }, disc);
    const { diagnosis, noDiagnosis } = diagnoseDisc(reduction, points, plan, welds?.rows ?? null, signal);
    disc = discWith(diagnosis, noDiagnosis);
  }
  options.onReduced?.({ plan, read, points, result: disc.result });
  progress({ stage: 'done', fraction: 1, note: 'Done' });
  return disc;
}

/** Causes and corrections, or why there are none. */
function diagnoseDisc(
  reduction: Reduction,
  points: ReadPoints,
  { definition }: ReadPlan,
  welds: readonly WeldRow[] | null,
  signal: Cancellation | undefined,
): { readonly diagnosis: Diagnosis | null; readonly noDiagnosis: Note | null } {
  const { stations, frame } = reduction;
  const repeats = repeatPoses(points.blocks, definition, frame);
  const onStep = (): void => throwIfCancelled(signal);
  const diagnosis = diagnose({ stations, definition, frame, welds, repeats, onStep });
  return { diagnosis, noDiagnosis: whyNotDiagnosed(stations, diagnosis) };
}

function reducePoints(
  plan: ReadPlan,
  points: ReadPoints,
  progress: (progress: Progress) => void,
  signal: Cancellation | undefined,
): Reduction {
  try {
    return reduce(
      { blocks: points.blocks, definition: plan.definition, gaps: points.gaps },
      ({ stage, done, of, station }) => {
        throwIfCancelled(signal);
        if (stage === 'hub') progress({ stage, fraction: READ_UNTIL, note: 'Building the disc frame' });
        // Verdicts take little time: their stations are steps for a cancel, and none that anybody could read.
        if (stage === 'blades')
          progress({
            stage,
            fraction: HUB_UNTIL + ((DIAGNOSIS_FROM - HUB_UNTIL) * done) / Math.max(1, of),
            note: station === null ? `${done} of ${of} stations` : `Station ${station} of ${of}`,
          });
      },
    );
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    throw new RefusedInput([reductionProblem(error, plan, points)], points.warnings);
  }
}

/** The result document, keys in the order in which people read it. */
function resultDocument(
  reduction: Reduction,
  diagnosis: Diagnosis | null,
  points: ReadPoints,
  plan: ReadPlan,
  welds: ReadWelds | null,
): ResultDocument {
  return {
    format: 'hubtrue-result/1',
    source: {
      points: {
        name: points.name,
        sha256: points.sha256,
        rows: points.rows,
        used: points.used,
        excluded: points.excluded,
        reasons: points.reasons,
      },
      plan: { name: plan.name, sha256: plan.sha256 },
      welds: welds && { name: welds.name, sha256: welds.sha256 },
      software: softwareVersion,
    },
    frame: reduction.frame,
    stations: reduction.stations,
    summary: reduction.summary,
    diagnosis,
    decision: reduction.decision,
    pattern: reduction.pattern,
    screened: reduction.screened.map((point) => withLine(point, points)),
    warnings: [...points.warnings, ...reduction.warnings],
    notes: [...points.notes, ...reduction.notes],
  };
}

function withLine(point: ScreenedPoint, { blocks, lines }: ReadPoints): ScreenedPoint {
  const at = blocks.findIndex(
    ({ station, feature }) => station === point.station && feature === point.feature,
  );
  const line = lines[at]?.[point.point - 1];
  return line === undefined ? point : { ...point, line };
}
