/** After the last row: refuse or accept, choose the unit, set stations with unreadable rows aside, say what was taken. */
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note } from '../../shared-math/notes/notes.ts';
import type { ExcludedPoint } from '../../shared-math/result.ts';
import type { ImportSummary, Problem } from '../api.ts';
import { list } from '../nearest.ts';
import type { ColumnRole } from '../plan/plan-schema.ts';
import { describe, RefusedInput, shorten } from '../problems.ts';
import { encodingName } from '../text-encoding.ts';
import type { Dialect } from './dialect.ts';
import type { GrowingBlock } from './growing-block.ts';
import { type LengthUnit, millimetresIn, unitBySize, unitOf } from './length-unit.ts';
import { delimiterName, type ImportContext, type PreparedImport } from './prepare-import.ts';
import type { ReadPoints, ReadPointsOptions } from './read-points.ts';
import type { UnknownDirection } from './repeat-labels.ts';

/** Roles that are recognised so that nobody wonders, but that no stage uses yet. */
const NOT_USED_YET: readonly ColumnRole[] = ['seq', 'time'];

/** Lines shown of a group of excluded rows. */
const LINES_SHOWN = 3;

export function finishPoints(
  prepared: PreparedImport,
  context: ImportContext & ReadPointsOptions,
): Omit<ReadPoints, 'name' | 'sha256'> {
  const { collector, targets } = prepared;
  const { faults } = collector;
  if (faults.fatalCount > 0) throw new RefusedInput(withTotal(faults.fatal, faults.fatalCount));
  const kept: GrowingBlock[] = [];
  const excluded: ExcludedPoint[] = [...faults.excluded];
  const gaps: { station: number; reason: string; note: Note }[] = [];
  const reasons = new Map(faults.reasons);
  for (const block of targets.blocks) {
    const fault = block.station === null ? undefined : faults.unreadable.get(block.station);
    if (fault === undefined) {
      if (block.count > 0) kept.push(block);
      continue;
    }
    const { line: first } = fault.first.values;
    const note: Note = {
      code: 'station-set-aside',
      values: { station: block.station as number, line: first },
    };
    const reason = sentenceOf(note);
    reasons.set(reason, note);
    for (const line of block.lines()) excluded.push({ line, reason });
  }
  for (const [station, { first, count }] of faults.unreadable) {
    const note: Note = { code: 'station-unreadable', values: { row: first, more: count - 1 } };
    gaps.push({ station, reason: sentenceOf(note), note });
  }
  gaps.sort((a, b) => a.station - b.station);
  excluded.sort((a, b) => a.line - b.line);
  const used = kept.reduce((sum, block) => sum + block.count, 0);
  if (used === 0) refuseAll(prepared, context, excluded);
  if (
    context.definition.temperature?.applied === false &&
    context.partTemperatureKnown === false &&
    kept.some((block) => block.hasTemperature !== 'present')
  )
    throw new RefusedInput([
      describe({
        code: 'missing-temperature',
        file: context.file,
        column: 'temperature',
        says: 'the plan leaves the part temperature to the point file, which does not state it for all points',
        expected: 'a column temperature in °C, or temperature.part in the plan',
        remedy: 'add temperature.part to the plan',
      }),
    ]);

  const notes: Note[] = [];
  const { unit, because } = chooseUnit(prepared, context, kept, notes);
  notes.push(...exclusionWarnings(excluded, context.file, reasons));
  const { unknownDirection } = collector.repeats;
  if (unknownDirection !== null) notes.push(directionWarning(unknownDirection, context.file));
  return {
    blocks: kept.map((block) => block.finish(millimetresIn[unit])),
    lines: kept.map((block) => block.lines()),
    rows: collector.rows,
    used,
    excluded,
    gaps,
    firstLineOf: (station, feature) =>
      kept.find((block) => block.station === station && block.feature === feature)?.lines()[0],
    import: importSummary(prepared, context, unit, because),
    warnings: notes.map(sentenceOf),
    notes,
    reasons: [...reasons].map(([reason, note]) => ({ reason, note })),
  };
}

function chooseUnit(
  { columns }: PreparedImport,
  { planImport, definition, file }: ImportContext,
  blocks: readonly GrowingBlock[],
  notes: Note[],
): { unit: LengthUnit; because: string } {
  const fits = unitBySize(mergedClouds(blocks), definition);
  const planned = unitOf(planImport?.unit);
  const stated = planned ?? columns.headerUnit;
  if (stated !== null) {
    const source = planned !== null ? 'plan' : 'header';
    if (fits !== null && fits !== stated)
      notes.push({ code: 'unit-contradicts-size', values: { file, source, stated, fits } });
    if (planned !== null && columns.headerUnit !== null && planned !== columns.headerUnit)
      notes.push({ code: 'unit-of-plan-taken', values: { file, header: columns.headerUnit, planned } });
    return { unit: stated, because: source === 'plan' ? 'as the plan says' : 'as the header says' };
  }
  if (fits !== null) return { unit: fits, because: 'by the size of the coordinates against the plan' };
  notes.push({ code: 'unit-unknown', values: { file } });
  return { unit: 'mm', because: 'because nothing says otherwise' };
}

function mergedClouds(blocks: readonly GrowingBlock[]) {
  const byStation = new Map<number | null, ReturnType<GrowingBlock['cloud']>>();
  for (const block of blocks) {
    const cloud = block.cloud();
    const known = byStation.get(block.station);
    byStation.set(
      block.station,
      known === undefined
        ? cloud
        : {
            station: block.station,
            count: known.count + cloud.count,
            sum: three((axis) => known.sum[axis] + cloud.sum[axis]),
            low: three((axis) => Math.min(known.low[axis], cloud.low[axis])),
            high: three((axis) => Math.max(known.high[axis], cloud.high[axis])),
          },
    );
  }
  return [...byStation.values()];
}

function three(value: (axis: 0 | 1 | 2) => number): [number, number, number] {
  return [value(0), value(1), value(2)];
}

function directionWarning({ text, line, count }: Readonly<UnknownDirection>, file: string): Note {
  return { code: 'unknown-direction', values: { file, text: shorten(text), line, more: count - 1 } };
}

/** One warning for each reason, rows with a fault of their own counted together. */
function exclusionWarnings(
  excluded: readonly ExcludedPoint[],
  file: string,
  reasons: ReadonlyMap<string, Note>,
): Note[] {
  return excludedByReason(excluded, file).map(({ reason, count, lines }) => ({
    code: 'rows-left-out',
    values: { file, count, lines, reason: reasons.get(reason) ?? null },
  }));
}

/** Excluded rows counted by reason with the first of their lines, most first; faults of single rows count as `cannot be read`. */
export function excludedByReason(
  excluded: readonly ExcludedPoint[],
  file: string,
): { readonly reason: string; readonly count: number; readonly lines: readonly number[] }[] {
  const groups = new Map<string, number[]>();
  for (const { line, reason } of excluded) {
    const group = reason.startsWith(`${file}, line `) ? 'they cannot be read' : reason;
    const lines = groups.get(group);
    if (lines === undefined) groups.set(group, [line]);
    else lines.push(line);
  }
  return [...groups]
    .map(([reason, lines]) => ({
      reason,
      count: lines.length,
      lines: lines.slice(0, LINES_SHOWN),
    }))
    .sort((a, b) => b.count - a.count);
}

function refuseAll(
  prepared: PreparedImport,
  context: ImportContext,
  excluded: readonly ExcludedPoint[],
): never {
  const { faults } = prepared.collector;
  if (faults.count > 0) throw new RefusedInput(withTotal(faults.first, faults.count));
  const groups = excludedByReason(excluded, context.file);
  const first = excluded[0];
  throw new RefusedInput([
    describe({
      code: 'no-points',
      file: context.file,
      line: first?.line,
      says: 'no point of this file belongs to the plan',
      value: groups
        .slice(0, 3)
        .map(({ reason, count }) => `${count} × ${reason}`)
        .join('; '),
      expected: `stations 1 to ${context.definition.stations.length} with the features ${list(
        context.definition.bladeDatums.flatMap((datum) => datum.features),
      )}`,
      remedy: 'check that plan and point file belong together',
    }),
  ]);
}

/** The problems kept, with a last one that counts the rest. */
function withTotal(problems: readonly Problem[], total: number): Problem[] {
  if (total <= problems.length) return [...problems];
  return [
    ...problems,
    {
      code: 'more-problems',
      message: `… and ${total - problems.length} more rows with faults (${total} in all).`,
    },
  ];
}

function importSummary(
  { dialect, columns, targets }: PreparedImport,
  { encoding, planImport, definition }: ImportContext,
  unit: LengthUnit,
  because: string,
): ImportSummary {
  const named = Object.entries(columns.index)
    .sort(([, a], [, b]) => a - b)
    .map(([role, column]) => [role, columns.names[column] ?? String(column + 1)] as const);
  const isPacked = columns.index.label !== undefined;
  const pattern = isPacked ? targets.labelPattern : targets.stationPattern;
  const fromPlan = (['encoding', 'delimiter', 'decimal', 'unit', 'header', 'label'] as const).filter(
    (key) => planImport?.[key] !== undefined && (key !== 'label' || pattern !== null),
  );
  const idle = NOT_USED_YET.filter((role) => columns.index[role] !== undefined);
  const isScaled = definition.temperature?.applied === false;
  const unneeded = columns.index.temperature !== undefined && !isScaled;
  const mapping = named
    .map(([role, name]) => (name.toLowerCase() === role ? role : `${role} from ${name}`))
    .join(', ');
  const sentence =
    `Read as ${encodingName(encoding)} text, delimiter ${delimiterName(dialect.delimiter)}, ` +
    `decimal ${dialect.decimal === ',' ? 'comma' : 'point'}, ` +
    `${headerWords(dialect)}, lengths in ${unit} (${because}), columns ${mapping}` +
    (pattern === null ? '' : `, ${isPacked ? 'labels' : 'stations'} as ${pattern}`) +
    '.' +
    (idle.length === 0 ? '' : ` Not used yet: ${list(idle)}.`) +
    (unneeded ? ' The temperatures are not used: the plan does not ask for scaling to 20 °C.' : '');
  return {
    encoding,
    delimiter: dialect.delimiter,
    decimal: dialect.decimal,
    unit,
    header: dialect.header !== null,
    columns: Object.fromEntries(named),
    label: pattern,
    fromPlan: [...fromPlan, ...columns.fromPlan.map((role) => `columns.${role}`)],
    sentence,
  };
}

function headerWords({ header, titleRows }: Dialect): string {
  if (header === null) return 'no header';
  if (titleRows === 0) return 'a header';
  return `a header below ${titleRows} title ${titleRows === 1 ? 'line' : 'lines'}`;
}
