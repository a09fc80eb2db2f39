/** Key–value lists, figures, blocks side by side, lines to sign on. */
import type { ColumnsBlock, FigureBlock, KeyValuesBlock, SignaturesBlock } from '../document.ts';
import { ink, inkQuiet, lineFaint } from '../palette.ts';
import { blockBoxes } from './block-boxes.ts';
import type { Box, Pen, Setting } from './box.ts';
import { ascent, bodySize, leading, noteSize } from './text-boxes.ts';
import type { Line } from './typesetter.ts';

const COLUMN_GAP = 18;
const KEY_SIZE = 8;
const VALUE_SIZE = 8.6;
const PAD = 2.4;

interface SetPair {
  readonly key: readonly Line[];
  readonly value: readonly Line[];
  readonly height: number;
}

export function keyValueBoxes(
  { pairs, columns }: KeyValuesBlock,
  { typesetter, width }: Setting,
): readonly Box[] {
  const each = (width - (columns - 1) * COLUMN_GAP) / columns;
  // Keys take what they need, but leave the larger part to the values.
  const widest = Math.max(...pairs.map(({ key }) => typesetter.width(key, KEY_SIZE)));
  const keyWidth = Math.min(widest, each * 0.42) + 8;
  const set = pairs.map(({ key, value }): SetPair => {
    const keyLines = typesetter.lines(key, KEY_SIZE, keyWidth - 8, { colour: inkQuiet });
    const valueLines = typesetter.lines(value, VALUE_SIZE, each - keyWidth);
    const height =
      Math.max(keyLines.length * KEY_SIZE, valueLines.length * VALUE_SIZE) * (leading - 0.08) + 2 * PAD;
    return { key: keyLines, value: valueLines, height };
  });
  const rows = Math.ceil(set.length / columns);
  return Array.from({ length: rows }, (_, row) => row).flatMap((row): readonly Box[] => {
    const whole = Array.from({ length: columns }, (_, column) => set[column * rows + row]);
    const most = Math.max(...whole.map((cell) => cell?.value.length ?? 0), 1);
    const parts = Math.ceil(most / MOST_LINES);
    return Array.from({ length: parts }, (_, part): Box => partOfRow(whole, part, parts, row, rows));
  });

  function partOfRow(
    whole: readonly (SetPair | undefined)[],
    part: number,
    parts: number,
    row: number,
    rows: number,
  ): Box {
    const cells = whole.map((cell) => (parts === 1 || cell === undefined ? cell : partOf(cell, part)));
    const height = Math.max(...cells.map((cell) => cell?.height ?? 0));
    return {
      height,
      before: row === 0 && part === 0 ? 6 : 0,
      keep: parts === 1 && row < rows - 1,
      draw: (pen, x, y) =>
        cells.forEach((cell, column) => {
          const left = x + column * (each + COLUMN_GAP);
          if (cell === undefined) return;
          drawPair(pen, cell, left, y, keyWidth);
          pen.rule(left, y + height, left + each, y + height, lineFaint, 0.5);
        }),
    };
  }
}

/** A value with more lines than this is divided: no page might hold it. */
const MOST_LINES = 40;

function partOf({ key, value }: SetPair, part: number): SetPair {
  const lines = value.slice(part * MOST_LINES, (part + 1) * MOST_LINES);
  const keyLines = part === 0 ? key : [];
  const height = Math.max(keyLines.length * KEY_SIZE, lines.length * VALUE_SIZE) * (leading - 0.08) + 2 * PAD;
  return { key: keyLines, value: lines, height };
}

function drawPair(pen: Pen, { key, value }: SetPair, x: number, y: number, keyWidth: number): void {
  // Key and value stand on one baseline.
  const baseline = y + PAD + VALUE_SIZE * (ascent - 0.06);
  key.forEach((line, i) => {
    pen.line(line, KEY_SIZE, x, baseline + i * KEY_SIZE * (leading - 0.08));
  });
  value.forEach((line, i) => {
    pen.line(line, VALUE_SIZE, x + keyWidth, baseline + i * VALUE_SIZE * (leading - 0.08));
  });
}

export function figureBoxes(
  { drawing, caption }: FigureBlock,
  { typesetter, width }: Setting,
): readonly Box[] {
  const scale = Math.min(1, width / drawing.width);
  const lines = typesetter.lines(caption, noteSize, width, { colour: inkQuiet });
  const figureHeight = drawing.height * scale;
  return [
    {
      height: figureHeight + 5 + lines.length * noteSize * leading,
      before: 10,
      keep: false,
      draw: (pen, x, y) => {
        pen.drawing(drawing, x, y, scale);
        lines.forEach((line, i) => {
          pen.line(line, noteSize, x, y + figureHeight + 5 + noteSize * (ascent + leading * i));
        });
      },
    },
  ];
}

/** Blocks side by side make one box. */
export function columnsBoxes({ columns }: ColumnsBlock, setting: Setting): readonly Box[] {
  const room = setting.width - COLUMN_GAP * (columns.length - 1);
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  let left = 0;
  const set = columns.map(({ share, blocks }) => {
    const width = (room * share) / shares;
    const boxes = blocks.flatMap((block) => blockBoxes(block, { ...setting, width }));
    const at = left;
    left += width + COLUMN_GAP;
    return { at, boxes, height: stackHeight(boxes) };
  });
  return [
    {
      height: Math.max(...set.map(({ height }) => height)),
      before: 8,
      keep: false,
      draw: (pen, x, y) => {
        for (const { at, boxes } of set) {
          let top = y;
          boxes.forEach((box, i) => {
            top += i === 0 ? 0 : box.before;
            box.draw(pen, x + at, top);
            top += box.height;
          });
        }
      },
    },
  ];
}

function stackHeight(boxes: readonly Box[]): number {
  return boxes.reduce((sum, { height, before }, i) => sum + height + (i === 0 ? 0 : before), 0);
}

export function signatureBoxes(
  { roles, fields }: SignaturesBlock,
  { typesetter, width }: Setting,
): readonly Box[] {
  const roleWidth = Math.max(...roles.map((role) => typesetter.width(role, bodySize, { bold: true }))) + 14;
  const each = (width - roleWidth) / fields.length;
  return roles.map((role, index): Box => {
    const name = typesetter.lines(role, bodySize, roleWidth, { bold: true })[0];
    const under = fields.map((field) => typesetter.lines(field, noteSize, each, { colour: inkQuiet })[0]);
    return {
      height: 42,
      before: index === 0 ? 4 : 0,
      keep: index < roles.length - 1,
      draw: (pen, x, y) => {
        if (name !== undefined) pen.line(name, bodySize, x, y + 28);
        under.forEach((line, i) => {
          const left = x + roleWidth + i * each;
          pen.rule(left, y + 30, left + each - 12, y + 30, ink, 0.6);
          if (line !== undefined) pen.line(line, noteSize, left, y + 39);
        });
      },
    };
  });
}
