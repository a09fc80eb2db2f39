/** How wide the columns of a table are, and the size of its text: short cells whole, then words, before anything is cut. */
import type { TableBlock, TableColumn, TableRow } from '../document.ts';
import type { Typesetter } from './typesetter.ts';

/** Tried in turn until every column holds its text. */
const SIZES = [8, 7.6, 7.2, 6.8, 6.4, 6];
/** Between the text of two columns, half on each side. */
export const GUTTER = 7;

/** A text wider than this share of the table may be broken in any column, and a word wider than it is cut. */
const MOST_UNBROKEN = 0.3;
/** Cells no wider than this share stay whole in every column, where a size down to this is enough for that. */
const SHORT_CELL = 0.2;
const LEAST_FOR_WHOLE_CELLS = 6.8;

/** The largest size at which no short cell is broken; else, at which no column is narrower than its widest word. */
export function fitColumns(
  { columns, rows }: TableBlock,
  typesetter: Typesetter,
  width: number,
): { readonly size: number; readonly widths: readonly number[] } {
  const most = MOST_UNBROKEN * width;
  const wholes = columns.map((column, i) => columnMeasure('width', column, i, rows, typesetter));
  const parts = columns.map((column, i) => columnMeasure('narrowest', column, i, rows, typesetter));
  const measured = (size: number, wholeCells: boolean) => {
    const wide = wholes.map((measure) => columnWidth(measure, size));
    const narrow = columns.map(({ grow }, i) => {
      const natural = wide[i] as number;
      if (grow === undefined && natural <= most) return natural;
      const part = parts[i] as ColumnMeasure;
      const { cells } = wholes[i] as ColumnMeasure;
      const whole = wholeCells && cells * size <= SHORT_CELL * width ? { ...part, cells } : part;
      return Math.min(most, columnWidth(whole, size));
    });
    return { wide, narrow };
  };
  for (const wholeCells of [true, false])
    for (const size of SIZES) {
      if (wholeCells && size < LEAST_FOR_WHOLE_CELLS) continue;
      const { wide, narrow } = measured(size, wholeCells);
      if (total(narrow) <= width) return { size, widths: share(columns, wide, narrow, width) };
    }
  // Even the smallest size does not fit: the widest columns give way, and words in them are cut.
  const size = SIZES.at(-1) as number;
  return { size, widths: levelled(measured(size, false).narrow, width) };
}

/** The widest columns lowered to one width, so that all together are as wide as the table. */
function levelled(widths: readonly number[], width: number): readonly number[] {
  const sorted = [...widths].sort((a, b) => a - b);
  let left = width;
  for (const [i, own] of sorted.entries()) {
    const level = left / (sorted.length - i);
    if (own > level) return widths.map((each) => Math.min(each, level));
    left -= own;
  }
  return widths;
}

/**
 * What is left over goes to the columns that want more, the modest ones first, and what they all leave to those that grow;
 * without any, to all alike.
 */
function share(
  columns: readonly TableColumn[],
  wide: readonly number[],
  narrow: readonly number[],
  width: number,
): readonly number[] {
  const wants = wide.map((natural, i) => Math.max(0, natural - (narrow[i] as number)));
  const gets = satisfied(wants, width - total(narrow));
  const set = narrow.map((least, i) => least + (gets[i] as number));
  const rest = width - total(set);
  const grows = columns.map(({ grow }) => grow ?? 0);
  const weights = total(grows) > 0 ? grows : columns.map(() => 1);
  return set.map((own, i) => own + (rest * (weights[i] as number)) / total(weights));
}

/** Of an even share: wants up to this are met first, so that no short text is broken for the sake of a long one. */
const MODEST = 0.5;

/** Modest wants are met, smallest first; the others share what is left in proportion. */
function satisfied(wants: readonly number[], room: number): readonly number[] {
  const sorted = [...wants].sort((a, b) => a - b);
  let left = room;
  let met = 0;
  while (met < sorted.length && (sorted[met] as number) <= (MODEST * left) / (sorted.length - met)) {
    left -= sorted[met] as number;
    met += 1;
  }
  const most = met === 0 ? 0 : (sorted[met - 1] as number);
  const others = total(sorted.slice(met));
  return wants.map((want) => (want <= most || others === 0 ? want : (left * want) / others));
}

/** Widest text of a column at size 1. */
interface ColumnMeasure {
  readonly cells: number;
  readonly head: number;
}

/** By a measure of its texts: whole (`width`), or broken wherever they can be (`narrowest`). */
function columnMeasure(
  measure: 'width' | 'narrowest',
  column: TableColumn,
  index: number,
  rows: readonly TableRow[],
  typesetter: Typesetter,
): ColumnMeasure {
  return {
    // Not spread: a plan of many stations makes more rows than a call takes arguments.
    cells: rows.reduce(
      (most, { cells, apart }) =>
        Math.max(most, typesetter[measure](cells[index] ?? '', 1, { bold: apart === true })),
      0,
    ),
    head: Math.max(
      ...[column.header, column.unit ?? ''].map((text) => typesetter[measure](text, 1, { bold: true })),
    ),
  };
}

function columnWidth({ cells, head }: ColumnMeasure, size: number): number {
  return Math.max(cells * size, head * headSize(size)) + GUTTER;
}

/** Of the head of a table whose rows have this size. */
export function headSize(size: number): number {
  return size - 0.4;
}

export function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
