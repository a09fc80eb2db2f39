/**
 * A look through a point file that nobody has described yet: how it is cut, what its columns seem to hold, what its
 * first rows mean, and how many points each feature of each station has. Whatever is stated is taken; a fault of the
 * file is a finding here and no refusal, so that the person sees what a change of the mapping does.
 */
import { closeSync, readSync } from 'node:fs';
import type { ImportMapping, PointsPreview, PreviewRequest, PreviewRow, Problem } from '../api.ts';
import { openInput } from '../input-file.ts';
import type { PlanImport } from '../plan/plan-schema.ts';
import { type Cancellation, RefusedInput, refuse, throwIfCancelled } from '../problems.ts';
import { byteOrderMark, decoderLabel, detectEncoding, type Encoding, encodingOf } from '../text-encoding.ts';
import { Utf8Stream } from './byte-stream.ts';
import { detectDialect } from './dialect.ts';
import { type ColumnIndex, guessColumns } from './guess-columns.ts';
import { millimetresIn } from './length-unit.ts';
import { hasLoneReturns } from './line-ends.ts';
import { numberFrom } from './numbers.ts';
import { columnProblems, unitOfFile, wrongEncoding } from './preview-findings.ts';
import { type PreviewContext, PreviewTally } from './preview-tally.ts';
import { RowScanner } from './row-scanner.ts';
import { explained, labelPatterns } from './suggest-pattern.ts';

export interface PreviewOptions {
  readonly stated?: PlanImport | undefined;
  readonly plan?: PreviewRequest['plan'] | undefined;
  readonly signal?: Cancellation | undefined;
}

const PIECE = 64 * 1024;
/** Pieces between two looks at the world outside. */
const PIECES_PER_TURN = 16;
/** Rows that the person sees. */
const ROWS_SHOWN = 14;
/** A header is looked for in this many rows. */
const HEADER_WITHIN = 20;

/** @throws RefusedInput where the file is not text, is empty or cannot be opened @throws Cancelled */
export async function previewPoints(path: string, options: PreviewOptions = {}): Promise<PointsPreview> {
  const stated = options.stated ?? {};
  const { descriptor, name, bytes } = openInput(path, 'point file');
  try {
    const head = Buffer.alloc(PIECE);
    const length = fill(descriptor, head);
    const whole = length < PIECE;
    if (length === 0)
      refuse({
        code: 'empty-file',
        file: name,
        says: 'the point file is empty',
        expected: 'one row a point',
        remedy: 'export the points again',
      });
    const opening = head.subarray(0, length);
    const mark = byteOrderMark(opening);
    const wished = encodingOf(stated.encoding ?? '');
    const encoding =
      mark?.encoding ?? wished ?? detectEncoding(opening, whole, name, 'point file (CSV)').encoding;
    const body = opening.subarray(mark?.mark ?? 0);
    const text = new TextDecoder(decoderLabel(encoding), { ignoreBOM: true }).decode(body, {
      stream: !whole,
    });
    const end = whole ? text.length : Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r')) + 1;
    const context = understand(text.slice(0, end === 0 ? text.length : end), name, options);
    const tally = new PreviewTally(context, options.plan, ROWS_SHOWN);
    let taken = encoding;
    const scan = async (as: Encoding): Promise<void> => {
      taken = as;
      tally.restart();
      const stream = new Utf8Stream(as, hasLoneReturns(whole ? text : text.slice(0, -1)));
      const scanner = new RowScanner(context.delimiter, context.decimal, name, tally.row);
      let position = mark?.mark ?? 0;
      for (let turn = 1; ; turn += 1) {
        const piece = Buffer.alloc(PIECE);
        const read = fill(descriptor, piece, position);
        position += read;
        scanner.push(stream.next(piece.subarray(0, read), read < PIECE), read < PIECE);
        if (read < PIECE) return;
        if (turn % PIECES_PER_TURN !== 0) continue;
        await new Promise(setImmediate);
        throwIfCancelled(options.signal);
      }
    };
    const problems: Problem[] = [];
    try {
      await scan(encoding);
    } catch (error) {
      if (error instanceof RefusedInput) problems.push(...error.problems);
      else if (!(error instanceof TypeError)) throw error;
      else if (wished === null && mark === null) await scan('latin1');
      else problems.push(wrongEncoding(name, encoding));
    }
    return finish(context, tally, taken, { name, bytes, stated, plan: options.plan, problems });
  } finally {
    closeSync(descriptor);
  }
}

function understand(text: string, file: string, { stated, plan }: PreviewOptions): PreviewContext {
  const given = stated ?? {};
  const dialect = detectDialect(text, given);
  const { delimiter, decimal } = dialect;
  let { header, titleRows, sample } = dialect;
  const rows = header === null ? sample : [header, ...sample];
  const widths = rows.slice(0, 200).map((row) => row.length);
  const usual = mostCommon(widths);
  // A header in words that nobody knows, perhaps below title lines, shows by the numbers under it.
  if (given.header !== false && titleRows === 0 && (header === null || header.length < usual - 1)) {
    const at = rows.slice(0, HEADER_WITHIN).findIndex((row, index) => {
      const isNumber = (cell: string): boolean => !Number.isNaN(numberFrom(cell, decimal));
      const below = rows[index + 1] ?? [];
      return row.length >= usual - 1 && !row.some(isNumber) && below.filter(isNumber).length >= 3;
    });
    if (at >= 0) {
      header = rows[at] ?? null;
      titleRows = at;
      sample = rows.slice(at + 1);
    }
  }
  const width = Math.max(header?.length ?? 0, usual);
  const index = guessColumns({ header, sample, decimal, stated: given.columns, width });
  const labels =
    index.label === undefined
      ? []
      : [...new Set(sample.map((row) => (row[index.label ?? 0] ?? '').trim()).filter((cell) => cell !== ''))];
  const [suggested] = labelPatterns(withoutHub(labels, plan?.hub ?? []));
  return {
    file,
    delimiter,
    decimal,
    header,
    titleRows,
    width,
    index,
    pattern: given.label ?? (index.label === undefined ? null : (suggested?.pattern ?? null)),
  };
}

function withoutHub(labels: readonly string[], hub: readonly string[]): readonly string[] {
  return labels.filter((label) => !hub.includes(label));
}

interface Circumstances {
  readonly name: string;
  readonly bytes: number;
  readonly stated: PlanImport;
  readonly plan: PreviewRequest['plan'];
  readonly problems: readonly Problem[];
}

function finish(
  context: PreviewContext,
  tally: PreviewTally,
  encoding: Encoding,
  { name, bytes, stated, plan, problems }: Circumstances,
): PointsPreview {
  const { header, index, delimiter, decimal } = context;
  const ofStations = tally.stationPattern();
  const pattern = index.label === undefined ? (ofStations?.pattern ?? null) : context.pattern;
  const columnNames = Array.from({ length: context.width }, (_, column) => {
    return header?.[column]?.trim() || String(column + 1);
  });
  const { unit, because } = unitOfFile(context, tally.extent(), stated);
  const labels = withoutHub(tally.labels(), plan?.hub ?? []);
  const own = pattern === null ? null : explained(pattern, labels);
  const others = labelPatterns(labels).filter(
    (choice) =>
      choice.pattern !== pattern &&
      // What takes the labels apart in the same way is no other choice.
      (choice.matched !== own?.choice.matched ||
        JSON.stringify(choice.example) !== JSON.stringify(own.choice.example)),
  );
  const patterns = ofStations !== null ? [ofStations] : own === null ? others : [own.choice, ...others];
  return {
    name,
    bytes,
    rows: tally.rows,
    points: tally.points,
    taken: {
      encoding,
      delimiter,
      decimal,
      unit,
      header: header !== null,
      columns: columnReferences(index, header, stated),
      ...(pattern === null ? {} : { label: pattern }),
    },
    stated: [
      ...(['encoding', 'delimiter', 'decimal', 'unit', 'header', 'label'] as const).filter(
        (key) => stated[key] !== undefined,
      ),
      ...Object.keys(stated.columns ?? {}).map((role) => `columns.${role}`),
    ],
    unitBecause: because,
    columnNames,
    head: tally.head as readonly PreviewRow[],
    counts: tally.counts(),
    patterns,
    extent: tally.extent(),
    shapes: tally.shapes(millimetresIn[unit]),
    ring: tally.ring(millimetresIn[unit]),
    problems: [...problems, ...columnProblems(context, columnNames), ...tally.problems()],
  };
}

/** Columns by header where that is unmistakable, else by number; what the person took away stays away. */
function columnReferences(
  index: ColumnIndex,
  header: readonly string[] | null,
  stated: PlanImport,
): NonNullable<ImportMapping['columns']> {
  const texts = (header ?? []).map((cell) => cell.trim().toLowerCase());
  const reference = (column: number): string | number => {
    const text = header?.[column]?.trim() ?? '';
    const once = texts.filter((other) => other === text.toLowerCase()).length === 1;
    return text !== '' && once ? text : column + 1;
  };
  const absent = Object.entries(stated.columns ?? {}).flatMap(([role, column]) =>
    column === null ? [[role, null] as const] : [],
  );
  return Object.fromEntries([
    ...Object.entries(index)
      .sort(([, a], [, b]) => a - b)
      .map(([role, column]) => [role, reference(column)] as const),
    ...absent,
  ]);
}

function mostCommon(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 0;
}

/** Fills the buffer as far as the file goes. */
function fill(descriptor: number, buffer: Uint8Array, position = 0): number {
  let length = 0;
  while (length < buffer.length) {
    const count = readSync(descriptor, buffer, length, buffer.length - length, position + length);
    if (count === 0) break;
    length += count;
  }
  return length;
}
