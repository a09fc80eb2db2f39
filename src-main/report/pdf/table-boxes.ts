/** Tables: the head stands again on every page, a row is never divided, columns are as wide as their text where there is room. */
import { type Inline, plain, type TableBlock, type TableColumn, type TableRow } from '../document.ts';
import { ink, inkQuiet, lineFaint, sunken, toneTint } from '../palette.ts';
import type { Box, Pen, Setting } from './box.ts';
import { ascent } from './text-boxes.ts';
import type { Line, Typesetter } from './typesetter.ts';

/** Tried in turn until every column holds its text. */
const SIZES = [8, 7.6, 7.2, 6.8, 6.4, 6];
const LEADING = 1.26;
/** Rows of a table that is not divided. */
const SHORT = 9;
/** Between the text of two columns, half on each side. */
const GUTTER = 7;
const ROW_PAD = 2.1;
const CAPTION_SIZE = 8.4;

export function tableBoxes(table: TableBlock, setting: Setting): readonly Box[] {
  const { typesetter, width, continued } = setting;
  const { size, widths } = fitColumns(table, typesetter, width);
  const caption = (text: string): Box | null => (text === '' ? null : captionBox(text, setting));
  const head = headBox(table.columns, widths, size, typesetter);
  const again =
    table.caption === '' ? head : stacked(captionBox(`${table.caption} (${continued})`, setting), head);
  const first = caption(table.caption);
  const last = table.rows.length - 1;
  return [
    ...(first === null ? [] : [first]),
    { ...head, before: first === null ? 7 : 0, keep: last >= 0 },
    ...table.rows.flatMap((row, i): readonly Box[] => {
      const boxes = rowBoxes(row, table.columns, widths, size, typesetter, width);
      // A short table stands on one page; of a long one no single row at the foot or the head of a page.
      const keep = boxes.length === 1 && (last < SHORT ? i < last : i === 0 || i === last - 1);
      return boxes.map((box) => ({ ...box, head: again, keep }));
    }),
  ];
}

function captionBox(text: string, { typesetter, width }: Setting): Box {
  const lines = typesetter.lines(text, CAPTION_SIZE, width, { bold: true });
  return {
    height: lines.length * CAPTION_SIZE * LEADING + 3,
    before: 12,
    keep: true,
    draw: (pen, x, y) =>
      lines.forEach((line, i) => {
        pen.line(line, CAPTION_SIZE, x, y + CAPTION_SIZE * (ascent + LEADING * i));
      }),
  };
}

function stacked(upper: Box, lower: Box): Box {
  return {
    height: upper.height + lower.height,
    before: 0,
    keep: true,
    draw: (pen, x, y) => {
      upper.draw(pen, x, y);
      lower.draw(pen, x, y + upper.height);
    },
  };
}

/** The largest size at which no column is narrower than its widest word. */
function fitColumns(
  { columns, rows }: TableBlock,
  typesetter: Typesetter,
  width: number,
): { readonly size: number; readonly widths: readonly number[] } {
  for (const size of SIZES) {
    const wide = columns.map((column, i) => columnWidth('width', column, i, rows, size, typesetter));
    const narrow = columns.map((column, i) =>
      column.grow === undefined
        ? (wide[i] as number)
        : columnWidth('narrowest', column, i, rows, size, typesetter),
    );
    if (total(narrow) <= width) return { size, widths: share(columns, wide, narrow, width) };
  }
  // Even the smallest size does not fit: every column gives way in proportion, and words are cut.
  const size = SIZES.at(-1) as number;
  const wide = columns.map((column, i) => columnWidth('width', column, i, rows, size, typesetter));
  return { size, widths: wide.map((natural) => (natural * width) / total(wide)) };
}

/** What is left over goes to the columns that grow, first up to their natural width; without any, to all alike. */
function share(
  columns: readonly TableColumn[],
  wide: readonly number[],
  narrow: readonly number[],
  width: number,
): readonly number[] {
  const left = width - total(narrow);
  const wants = wide.map((natural, i) => Math.max(0, natural - (narrow[i] as number)));
  const wanted = total(wants);
  if (wanted > left) return narrow.map((least, i) => least + (left * (wants[i] as number)) / wanted);
  const grows = columns.map(({ grow }) => grow ?? 0);
  const weights = total(grows) > 0 ? grows : columns.map(() => 1);
  const rest = left - wanted;
  return wide.map((natural, i) => natural + (rest * (weights[i] as number)) / total(weights));
}

/** Width of a column by a measure of its texts: whole (`width`), or broken wherever they can be (`narrowest`). */
function columnWidth(
  measure: 'width' | 'narrowest',
  column: TableColumn,
  index: number,
  rows: readonly TableRow[],
  size: number,
  typesetter: Typesetter,
): number {
  const cells = rows.map(({ cells, apart }) =>
    typesetter[measure](cells[index] ?? '', size, { bold: apart === true }),
  );
  const head = [column.header, column.unit ?? ''].map((text) =>
    typesetter[measure](text, headSize(size), { bold: true }),
  );
  return Math.max(...cells, ...head, 0) + GUTTER;
}

function headSize(size: number): number {
  return size - 0.4;
}

function headBox(
  columns: readonly TableColumn[],
  widths: readonly number[],
  size: number,
  typesetter: Typesetter,
): Box {
  const points = headSize(size);
  const cells = columns.map(({ header, unit, align }, i) => ({
    align,
    lines: [
      ...typesetter.lines(header, points, inner(widths, i), { bold: true }),
      ...(unit === undefined ? [] : typesetter.lines(unit, points, inner(widths, i), { colour: inkQuiet })),
    ],
  }));
  const rows = Math.max(...cells.map(({ lines }) => lines.length));
  const height = rows * points * LEADING + 2 * ROW_PAD + 1;
  const width = total(widths);
  return {
    height,
    before: 0,
    keep: true,
    draw: (pen, x, y) => {
      pen.area(x, y, width, height, sunken);
      pen.rule(x, y, x + width, y, ink, 0.8);
      pen.rule(x, y + height, x + width, y + height, inkQuiet, 0.5);
      drawCells(pen, cells, widths, x, y + ROW_PAD, points);
    },
  };
}

/** A row is divided only where it has more lines than this: no page might hold it. */
const MOST_LINES = 40;

function rowBoxes(
  { cells, tone, apart = false }: TableRow,
  columns: readonly TableColumn[],
  widths: readonly number[],
  size: number,
  typesetter: Typesetter,
  width: number,
): readonly Box[] {
  const whole = columns.map(({ align }, i) => ({
    align,
    lines: empty(cells[i]) ? [] : typesetter.lines(cells[i] ?? '', size, inner(widths, i), { bold: apart }),
  }));
  const most = Math.max(1, ...whole.map(({ lines }) => lines.length));
  return Array.from({ length: Math.ceil(most / MOST_LINES) }, (_, part): Box => {
    const from = part * MOST_LINES;
    const set = whole.map(({ align, lines }) => ({ align, lines: lines.slice(from, from + MOST_LINES) }));
    const height = Math.min(MOST_LINES, most - from) * size * LEADING + 2 * ROW_PAD;
    return {
      height,
      before: 0,
      keep: false,
      draw: (pen, x, y) => {
        if (tone !== undefined && tone !== 'quiet') pen.area(x, y, width, height, toneTint[tone]);
        if (from + MOST_LINES >= most)
          pen.rule(x, y + height, x + width, y + height, apart ? inkQuiet : lineFaint, 0.5);
        drawCells(pen, set, widths, x, y + ROW_PAD, size);
      },
    };
  });
}

function empty(cell: Inline | undefined): boolean {
  return cell === undefined || plain(cell) === '';
}

function drawCells(
  pen: Pen,
  cells: readonly { readonly align: TableColumn['align']; readonly lines: readonly Line[] }[],
  widths: readonly number[],
  x: number,
  y: number,
  size: number,
): void {
  let left = x;
  cells.forEach(({ align, lines }, i) => {
    const right = left + (widths[i] as number);
    const at = align === 'right' ? right - GUTTER / 2 : left + GUTTER / 2;
    lines.forEach((line, k) => {
      pen.line(line, size, at, y + size * (ascent - 0.06 + LEADING * k), align);
    });
    left = right;
  });
}

function inner(widths: readonly number[], index: number): number {
  // Rounding in the sums must not break a line that was measured to fit.
  return (widths[index] as number) - GUTTER + 0.01;
}

function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
