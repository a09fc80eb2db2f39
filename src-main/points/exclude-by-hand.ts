/** Points that a person leaves out, each with a written reason: counted, listed and said, never dropped silently. */
import type { Datum, PartDefinition } from '../../shared-math/definition.ts';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note, NoteOf } from '../../shared-math/notes/notes.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type { ExcludedPoint } from '../../shared-math/result.ts';
import type { FeatureExclusion, PointExclusion, Problem } from '../api.ts';
import { describe, RefusedInput } from '../problems.ts';
import { excludedByReason } from './finish-points.ts';
import { pickPoints } from './pick-points.ts';
import type { ReadPoints } from './read-points.ts';

/** A feature without a point left, with the first reason. */
interface Emptied {
  readonly block: PointBlock;
  readonly note: HandNote;
}

export interface Exclusions {
  readonly exclusions?: readonly PointExclusion[] | undefined;
  readonly excludedFeatures?: readonly FeatureExclusion[] | undefined;
}

type HandNote = NoteOf<'by-hand'>;

function handNote(reason: string): HandNote {
  return { code: 'by-hand', values: { reason: reason.trim() } };
}

/**
 * The points without those excluded by hand. A line that the reading has left out already stays with its own reason.
 *
 * @throws RefusedInput where a reason is missing, a line holds no point, or a datum of the hub would have no points left
 */
export function excludeByHand(
  points: ReadPoints,
  wanted: Exclusions,
  definition: PartDefinition,
): ReadPoints {
  const lines = wanted.exclusions ?? [];
  const features = wanted.excludedFeatures ?? [];
  if (lines.length === 0 && features.length === 0) return points;
  const problems: Problem[] = [...missingReasons(lines, features)];
  const noteOfLine = new Map(lines.map(({ line, reason }) => [line, handNote(reason)]));
  const noteOfFeature = new Map(
    features.map(({ station, feature, reason }) => [keyOf(station, feature), handNote(reason)]),
  );

  const excluded: ExcludedPoint[] = [];
  const reasons = new Map<string, HandNote>();
  const exclude = (line: number, note: HandNote): void => {
    const reason = sentenceOf(note);
    excluded.push({ line, reason });
    reasons.set(reason, note);
  };
  const found = new Set<number>();
  const blocks: PointBlock[] = [];
  const linesLeft: Uint32Array[] = [];
  const emptied: Emptied[] = [];
  points.blocks.forEach((block, b) => {
    const own = points.lines[b] as Uint32Array;
    const whole = noteOfFeature.get(keyOf(block.station, block.feature));
    const kept: number[] = [];
    const before = excluded.length;
    for (let i = 0; i < own.length; i += 1) {
      const line = own[i] as number;
      const single = noteOfLine.get(line);
      const note = single ?? whole;
      if (single !== undefined) found.add(line);
      if (note === undefined) kept.push(i);
      else exclude(line, note);
    }
    if (kept.length === own.length) {
      blocks.push(block);
      linesLeft.push(own);
    } else if (kept.length > 0) {
      blocks.push(pickPoints(block, kept));
      linesLeft.push(Uint32Array.from(kept, (i) => own[i] as number));
    } else emptied.push({ block, note: reasons.get((excluded[before] as ExcludedPoint).reason) as HandNote });
  });

  const leftOutBefore = new Set(points.excluded.map(({ line }) => line));
  for (const { line } of lines)
    if (!found.has(line) && !leftOutBefore.has(line)) problems.push(noPoint(points.name, line));
  for (const { block } of emptied)
    if (block.station === null) problems.push(...hubWithout(points.name, block, definition));
  if (problems.length > 0) throw new RefusedInput(problems, points.warnings);

  const notes: readonly Note[] = [
    ...points.notes,
    ...handWarnings(excluded, reasons, points.name),
    ...idleFeatures(features, points, definition),
  ];
  return {
    ...points,
    blocks,
    lines: linesLeft,
    used: points.used - excluded.length,
    excluded: [...points.excluded, ...excluded].sort((a, b) => a.line - b.line),
    gaps: withEmptied(points.gaps, emptied),
    firstLineOf: (station, feature) =>
      linesLeft[blocks.findIndex((block) => block.station === station && block.feature === feature)]?.[0],
    warnings: notes.map(sentenceOf),
    notes,
    reasons: [...points.reasons, ...[...reasons].map(([reason, note]) => ({ reason, note }))],
  };
}

function keyOf(station: number | null, feature: string): string {
  return `${station ?? ''}\n${feature}`;
}

/** A problem for each exclusion without words on why. */
export function missingReasons(
  lines: readonly PointExclusion[],
  features: readonly FeatureExclusion[],
): readonly Problem[] {
  const without = (what: string): Problem =>
    describe({
      code: 'missing-reason',
      says: `the exclusion of ${what} has no reason`,
      expected: 'a few words on why it is left out; they stand in the result and in the report',
      remedy: 'write the reason, or take the exclusion back',
    });
  return [
    ...lines.filter(({ reason }) => reason.trim() === '').map(({ line }) => without(`line ${line}`)),
    ...features
      .filter(({ reason }) => reason.trim() === '')
      .map(({ station, feature }) => without(`${feature} of ${placeOf(station)}`)),
  ];
}

function placeOf(station: number | null): string {
  return station === null ? 'the hub' : `station ${station}`;
}

function noPoint(file: string, line: number): Problem {
  return describe({
    code: 'unknown-line',
    file,
    line,
    says: 'a point is excluded there, but the line holds none',
    expected: 'the line of a point',
    remedy: 'take the exclusion back, and check that it was written for this file',
  });
}

/** The datums of the hub that need the feature. */
function hubWithout(
  file: string,
  { feature }: PointBlock,
  { hubDatums }: PartDefinition,
): readonly Problem[] {
  return hubDatums
    .filter(({ features }) => features.includes(feature))
    .map(({ label }) =>
      describe({
        code: 'excluded-datum',
        file,
        says: `all points of ${feature} are excluded by hand, and datum ${label} of the hub rests on them`,
        remedy: 'keep points of this feature, or give a plan that builds the disc frame without it',
      }),
    );
}

/** A blade without a datum feature cannot be posed; its station is listed as missing with this reason. */
function withEmptied(gaps: ReadPoints['gaps'], emptied: readonly Emptied[]): ReadPoints['gaps'] {
  const known = new Set(gaps.map(({ station }) => station));
  const added: { station: number; reason: string; note: Note }[] = [];
  for (const { block, note: by } of emptied) {
    if (block.station === null || known.has(block.station)) continue;
    known.add(block.station);
    const note: Note = {
      code: 'feature-excluded',
      values: { feature: block.feature, reason: by.values.reason },
    };
    added.push({ station: block.station, reason: sentenceOf(note), note });
  }
  return [...gaps, ...added].sort((a, b) => a.station - b.station);
}

function handWarnings(
  excluded: readonly ExcludedPoint[],
  reasons: ReadonlyMap<string, HandNote>,
  file: string,
): readonly Note[] {
  return excludedByReason(excluded, file).map(({ reason, count, lines }) => ({
    code: 'points-left-out',
    values: { file, count, lines, reason: reasons.get(reason) as HandNote },
  }));
}

/** Exclusions of features that change nothing, because the file has no such points or the plan does not use them. */
function idleFeatures(
  features: readonly FeatureExclusion[],
  points: ReadPoints,
  definition: PartDefinition,
): readonly Note[] {
  const uses = (datums: readonly Datum[], feature: string): boolean =>
    datums.some((datum) => datum.features.includes(feature));
  return features
    .filter(
      ({ station, feature }) =>
        !points.blocks.some((block) => block.station === station && block.feature === feature),
    )
    .map(({ station, feature }) => {
      const planned = uses(station === null ? definition.hubDatums : definition.bladeDatums, feature);
      return { code: 'idle-exclusion', values: { file: points.name, feature, station, planned } };
    });
}
