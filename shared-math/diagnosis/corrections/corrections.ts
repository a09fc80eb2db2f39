/**
 * Corrections for the next disc: what to set differently, and what the blades of this disc would then have shown. Welded blades do
 * not move.
 *
 * A correction minimises the largest position of the stations it serves, over tool offsets (six freedoms in the nominal blade
 * frame, for each tool where welds tell several), the hub seating (six freedoms of the disc frame), index offsets (a turn of each
 * station about the disc axis), each alone and all together, within the limits and on the steps of the plan. Where tolerances
 * differ from check point to check point, the largest share of the tolerance is minimised, and `gap` is the share's gap times the
 * largest tolerance; all sizes stay mm of position. See setting-motion.ts for what settings do, best-settings.ts for the optimum and
 * for settings that do the same, round-settings.ts for steps, disturbances.ts for the interval, noise-gain.ts for the warning.
 */
import type { PartDefinition } from '../../definition.ts';
import type { Covariance6, StationResult } from '../../result.ts';
import type { Scatter, Vec6 } from '../findings.ts';
import { atLimit, type BestSettings, bestSettings, type SettingProblem } from './best-settings.ts';
import { type Blade, type BladePoint, bladesOf, pointsOf, toolsInOrder, type WeldOrder } from './blades.ts';
import { conformingAfter } from './conforming-after.ts';
import type { Correction, CorrectionKind, NextDisc, Setting } from './correction.ts';
import { type Disturbances, drawDisturbances } from './disturbances.ts';
import { nextDisc } from './next-disc.ts';
import { gainFromScatter } from './noise-gain.ts';
import { objectionsTo, surpassedBy } from './objections.ts';
import { predictedRow, predictStations } from './predict.ts';
import { intervalAgain } from './re-measured.ts';
import { roundedSettings } from './round-settings.ts';
import { sharesAfter } from './setting-motion.ts';
import { type Unknown, unknownsOf } from './settings.ts';
import { correctionWords, titleOf } from './words.ts';

export interface CorrectionInput {
  /** Reduced stations; those whose six errors were not all observed are left out of everything. */
  readonly stations: readonly StationResult[];
  readonly definition: PartDefinition;
  /** `frame.covariance` of the result: the hub frame's part of the uncertainty. */
  readonly frame: Covariance6 | null;
  /** Null: one tool made all welds, as far as anybody knows. */
  readonly welds: readonly WeldOrder[] | null;
  /** Stations that are outliers: no correction is made for them, they stay in the predicted tables. */
  readonly outliers: readonly number[];
  /** Scatter between stations; null: not known, then only the measurement scatters. */
  readonly scatter: Scatter | null;
  /** Six errors that the significant causes make at each station; absent: not separated, nothing is said of the next disc. */
  readonly causes?: ReadonlyMap<number, Vec6>;
  /** Called before each optimisation. */
  readonly onStep?: (() => void) | undefined;
}

const KINDS: readonly Setting['kind'][] = ['tool', 'hub', 'index'];

/**
 * One correction for each kind of setting that can be adjusted, and all together where there are several kinds.
 *
 * @returns none where no station has six observed errors with a known uncertainty, or nothing can be adjusted.
 */
export function corrections(input: CorrectionInput): readonly Correction[] {
  const { stations, definition, frame, welds, outliers, scatter, causes } = input;
  const blades = bladesOf(stations, definition, welds, outliers);
  const served = blades.filter((b) => b.served);
  if (served.length === 0) return [];
  const disc: Disc = {
    definition,
    stations,
    blades,
    served,
    points: pointsOf(served),
    tools: toolsInOrder(welds),
    disturbances: drawDisturbances(served, frame, scatter),
    causes: causes ?? null,
    onStep: input.onStep ?? (() => {}),
  };
  const single = KINDS.flatMap((kind) => correctionOf(disc, kind, []) ?? []);
  const together = single.length > 1 ? (correctionOf(disc, 'all', single) ?? []) : [];
  return single.concat(together);
}

interface Disc {
  readonly definition: PartDefinition;
  /** All that were measured; `blades` lacks those whose six errors were not all observed. */
  readonly stations: readonly StationResult[];
  readonly blades: readonly Blade[];
  readonly served: readonly Blade[];
  readonly points: readonly BladePoint[];
  readonly tools: readonly string[];
  readonly disturbances: Disturbances;
  readonly causes: ReadonlyMap<number, Vec6> | null;
  readonly onStep: () => void;
}

/** @param parts corrections of its kinds alone, which it should not be worse than. */
function correctionOf(disc: Disc, kind: CorrectionKind, parts: readonly Correction[]): Correction | null {
  const { definition, stations, blades, served, points, tools, disturbances, causes, onStep } = disc;
  const { coverage } = definition.uncertainty;
  const unknowns = unknownsOf(kind, definition.adjustments ?? null, tools, served, points);
  if (unknowns.length === 0) return null;
  const solved = blocksOf(kind, served, points, unknowns).map((block) => {
    onStep();
    const exact = bestSettings(block.problem);
    const known = parts.map((part) => valuesOf(part, block.problem.unknowns));
    return { ...block, exact, rounded: roundedSettings(block.problem, exact, known) };
  });
  const exact = merged(unknowns.length, solved, (b) => b.exact.values);
  const rounded = merged(unknowns.length, solved, (b) => b.rounded);
  const largest = (values: Float64Array): number =>
    sharesAfter(served, points, unknowns, values).reduce(
      (most, share, j) => Math.max(most, share * points[j]!.tolerance),
      0,
    );
  onStep();
  const before = largest(new Float64Array(unknowns.length));
  const after = largest(rounded);
  const noiseGain = gainFromScatter(solved.map(used), disturbances.scattered, coverage);
  const next =
    causes && nextDisc(served, points, unknowns, rounded, causes, disturbances.scattered, coverage);
  const settings = unknowns.map((u, p) => settingOf(u, exact[p]!, rounded[p]!));
  const predicted = predictStations(blades, definition, unknowns, rounded);
  const count = (verdict: StationResult['verdict']): number =>
    predicted.filter((s) => s.verdict === verdict).length;
  const correction = {
    kind,
    title: titleOf(kind, settings),
    settings,
    leftOut: blades.filter((b) => !b.served).map((b) => b.measured.station),
    before,
    optimum: largest(exact),
    after,
    gap: gapOf(solved.map((b) => b.exact)) * Math.max(...points.map((p) => p.tolerance)),
    interval: intervalAgain(served, points, unknowns, rounded, disturbances.again, coverage),
    predicted: predicted.map(predictedRow),
    conforming: count('conforming'),
    nonconforming: count('nonconforming'),
    unproven: count('unproven'),
    noiseGain,
    next,
    chasesNoise: rounded.some((x) => x !== 0) && chasesNoise(before - after, noiseGain, next, parts),
  };
  const conforming = {
    before: stations.filter(({ verdict }) => verdict === 'conforming').length,
    after: conformingAfter(correction, stations),
    planned: definition.stations.length,
  };
  const recommended = objectionsTo(correction, parts, stations).length === 0;
  const simpler = surpassedBy(next, parts);
  const { text: sentence, figures } = correctionWords(correction, conforming, simpler, recommended);
  return { ...correction, sentence, figures };
}

/** Less than this part of the gain coming back means that most of it was fitted to scatter. */
const RECURRING = 0.5;

/** @param parts what fewer settings would do; more settings that do no better on the next disc only fit the scatter of this one. */
function chasesNoise(
  gain: number,
  noiseGain: number,
  next: NextDisc | null,
  parts: readonly Correction[],
): boolean {
  if (gain <= noiseGain) return true;
  if (next === null) return false;
  const { unchanged, corrected } = next;
  return unchanged.expected - corrected.expected < RECURRING * gain || surpassedBy(next, parts) !== null;
}

function valuesOf({ settings }: Correction, unknowns: readonly Unknown[]): Float64Array {
  const keyOf = ({ kind, freedom, of }: Pick<Setting, 'kind' | 'freedom' | 'of'>) =>
    `${kind} ${freedom} ${of}`;
  const changes = new Map(settings.map((s) => [keyOf(s), s.change]));
  return Float64Array.from(unknowns, (u) => changes.get(keyOf(u)) ?? 0);
}

/** A part of the unknowns with the points that they move, and nothing else moves. */
interface Block {
  readonly problem: SettingProblem;
  /** Places of its unknowns among all. */
  readonly places: readonly number[];
}

/** Tools do not touch each other's blades, nor index offsets other stations: each is then as good as it can be by itself. */
function blocksOf(
  kind: CorrectionKind,
  blades: readonly Blade[],
  points: readonly BladePoint[],
  unknowns: readonly Unknown[],
): readonly Block[] {
  const everything = unknowns.map((_, p) => p);
  const separate = kind === 'tool' || kind === 'index';
  const owners = separate ? [...new Set(unknowns.map((u) => u.of))] : [null];
  return owners.flatMap((of) => {
    const places = separate ? everything.filter((p) => unknowns[p]!.of === of) : everything;
    const own = places.map((p) => unknowns[p]!);
    const moved = points.filter(({ blade }) => own.some((u) => u.moves(blades[blade]!)));
    return moved.length === 0 ? [] : [{ problem: { blades, points: moved, unknowns: own }, places }];
  });
}

function merged<B extends Block>(
  count: number,
  blocks: readonly B[],
  valuesOf: (block: B) => Float64Array,
): Float64Array {
  const all = new Float64Array(count);
  for (const block of blocks)
    block.places.forEach((p, q) => {
      all[p] = valuesOf(block)[q]!;
    });
  return all;
}

/** The largest share is that of the worst block, and no smaller than the largest lower bound of any. */
function gapOf(found: readonly BestSettings[]): number {
  return Math.max(...found.map((f) => f.share)) - Math.max(...found.map((f) => f.lower));
}

/** The problem with the settings that the correction makes use of. */
function used({ problem, exact }: { readonly problem: SettingProblem; readonly exact: BestSettings }) {
  return { ...problem, unknowns: problem.unknowns.filter((_, p) => exact.values[p] !== 0) };
}

function settingOf(unknown: Unknown, exact: number, change: number): Setting {
  const { kind, freedom, of, range } = unknown;
  return {
    kind,
    freedom,
    of,
    found: change === 0 ? 0 : -change,
    change: change === 0 ? 0 : change,
    exact: exact === 0 ? 0 : exact,
    step: range.step,
    limit: range.limit,
    atLimit: atLimit(unknown, change),
  };
}
