/** Tables: the head stands again on every page, a row is never divided, columns are as wide as their text where there is room. */
import {
  type Inline,
  isRowHead,
  plain,
  SHORT_TABLE,
  type TableBlock,
  type TableColumn,
  type TableRow,
} from '../document.ts';
import { ink, inkQuiet, lineFaint, sunken, toneTint } from '../palette.ts';
import { type Box, heightOf, type Pen, type Setting, togetherAtMost } from './box.ts';
import { fitColumns, GUTTER, headSize, total } from './column-widths.ts';
import { type Tag, tag } from './tag.ts';
import { ascent } from './text-boxes.ts';
import type { Line, Typesetter } from './typesetter.ts';

const LEADING = 1.26;
const ROW_PAD = 2.1;
const CAPTION_SIZE = 8.4;

export function tableBoxes(table: TableBlock, setting: Setting): readonly Box[] {
  const { typesetter, width, continued, density, parent } = setting;
  const { size, widths } = fitColumns(table, typesetter, width);
  const element = tag('Table', parent);
  const grid: Grid = { columns: table.columns, widths, size, pad: ROW_PAD * density, typesetter };
  const first = table.caption === '' ? null : captionBox(table.caption, setting, tag('Caption', element));
  const head = headBox(grid, tag('THead', element));
  const again =
    table.caption === ''
      ? head
      : stacked(captionBox(`${table.caption} (${continued})`, setting, tag('Caption', element)), head);
  const body = tag('TBody', element);
  const last = table.rows.length - 1;
  const rows = table.rows.map((row) => rowBoxes(row, grid, tag('TR', body)));
  const together =
    table.rows.length <= SHORT_TABLE && heightOf(rows.flat()) + head.height <= togetherAtMost(setting);
  return [
    ...(first === null ? [] : [first]),
    { ...head, before: first === null ? 7 : 0, keep: last >= 0 },
    ...rows.flatMap((boxes, i): readonly Box[] => {
      // A short table stands on one page; of a long one no single row at the foot or the head of a page.
      const keep = boxes.length === 1 && (together ? i < last : i === 0 || i === last - 1);
      return boxes.map((box) => ({ ...box, head: standingAgain(again), keep }));
    }),
  ];
}

/** What the rows of a table have in common. */
interface Grid {
  readonly columns: readonly TableColumn[];
  readonly widths: readonly number[];
  readonly size: number;
  /** Above and below the text of a row. */
  readonly pad: number;
  readonly typesetter: Typesetter;
}

function captionBox(text: string, { typesetter, width }: Setting, element: Tag): Box {
  const lines = typesetter.lines(text, CAPTION_SIZE, width, { bold: true });
  return {
    height: lines.length * CAPTION_SIZE * LEADING + 3,
    before: 12,
    keep: true,
    draw: (pen, x, y) =>
      pen.tagged(element, () =>
        lines.forEach((line, i) => {
          pen.line(line, CAPTION_SIZE, x, y + CAPTION_SIZE * (ascent + LEADING * i));
        }),
      ),
  };
}

/** The head of a page for the eye; the table has its head already. */
function standingAgain(box: Box): Box {
  return { ...box, draw: (pen, x, y) => pen.pagination(null, () => box.draw(pen, x, y)) };
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

function headBox({ columns, widths, size, pad, typesetter }: Grid, element: Tag): Box {
  const points = headSize(size);
  const row = tag('TR', element);
  const cells = columns.map(({ header, unit, align }, i) => ({
    align,
    lines: [
      ...typesetter.lines(header, points, inner(widths, i), { bold: true }),
      ...(unit === undefined ? [] : typesetter.lines(unit, points, inner(widths, i), { colour: inkQuiet })),
    ],
    element: tag('TH', row, { scope: 'Column' }),
  }));
  const rows = Math.max(...cells.map(({ lines }) => lines.length));
  const height = rows * points * LEADING + 2 * pad + 1;
  const width = total(widths);
  return {
    height,
    before: 0,
    keep: true,
    draw: (pen, x, y) => {
      pen.area(x, y, width, height, sunken);
      pen.rule(x, y, x + width, y, ink, 0.8);
      pen.rule(x, y + height, x + width, y + height, inkQuiet, 0.5);
      drawCells(pen, cells, widths, x, y + pad, points);
    },
  };
}

/** A row is divided only where it has more lines than this: no page might hold it. */
const MOST_LINES = 40;

function rowBoxes(
  { cells, tone, apart = false }: TableRow,
  { columns, widths, size, pad, typesetter }: Grid,
  element: Tag,
): readonly Box[] {
  const width = total(widths);
  const whole = columns.map(({ align }, i) => ({
    align,
    lines: empty(cells[i]) ? [] : typesetter.lines(cells[i] ?? '', size, inner(widths, i), { bold: apart }),
    element: isRowHead(i, cells[i] ?? '') ? tag('TH', element, { scope: 'Row' }) : tag('TD', element),
  }));
  const most = Math.max(1, ...whole.map(({ lines }) => lines.length));
  return Array.from({ length: Math.ceil(most / MOST_LINES) }, (_, part): Box => {
    const from = part * MOST_LINES;
    const set = whole.map((cell) => ({ ...cell, lines: cell.lines.slice(from, from + MOST_LINES) }));
    const height = Math.min(MOST_LINES, most - from) * size * LEADING + 2 * pad;
    return {
      height,
      before: 0,
      keep: false,
      draw: (pen, x, y) => {
        if (tone !== undefined && tone !== 'quiet') pen.area(x, y, width, height, toneTint[tone]);
        if (from + MOST_LINES >= most)
          pen.rule(x, y + height, x + width, y + height, apart ? inkQuiet : lineFaint, 0.5);
        drawCells(pen, set, widths, x, y + pad, size);
      },
    };
  });
}

function empty(cell: Inline | undefined): boolean {
  return cell === undefined || plain(cell) === '';
}

function drawCells(
  pen: Pen,
  cells: readonly {
    readonly align: TableColumn['align'];
    readonly lines: readonly Line[];
    readonly element: Tag;
  }[],
  widths: readonly number[],
  x: number,
  y: number,
  size: number,
): void {
  let left = x;
  cells.forEach(({ align, lines, element }, i) => {
    const right = left + (widths[i] as number);
    const at = align === 'right' ? right - GUTTER / 2 : left + GUTTER / 2;
    pen.tagged(element, () =>
      lines.forEach((line, k) => {
        pen.line(line, size, at, y + size * (ascent - 0.06 + LEADING * k), align);
      }),
    );
    left = right;
  });
}

function inner(widths: readonly number[], index: number): number {
  // Rounding in the sums must not break a line that was measured to fit.
  return (widths[index] as number) - GUTTER + 0.01;
}
