/** Key–value lists, figures, blocks side by side, lines to sign on. */
import type { ColumnsBlock, FigureBlock, KeyValuesBlock, SignaturesBlock } from '../document.ts';
import { ink, inkQuiet, lineFaint } from '../palette.ts';
import { blockBoxes } from './block-boxes.ts';
import { type Box, figureScale, heightOf, type Pen, type Setting, togetherAtMost } from './box.ts';
import { type Tag, tag } from './tag.ts';
import { ascent, bodySize, leading, noteSize } from './text-boxes.ts';
import type { Line } from './typesetter.ts';

const COLUMN_GAP = 18;
const KEY_SIZE = 8;
const VALUE_SIZE = 8.6;
const PAD = 2.4;
const LEADING = leading - 0.08;

interface SetPair {
  readonly key: readonly Line[];
  readonly value: readonly Line[];
  readonly height: number;
  readonly keyTag: Tag;
  readonly valueTag: Tag;
}

export function keyValueBoxes({ pairs, columns }: KeyValuesBlock, setting: Setting): readonly Box[] {
  const { typesetter, width, density, parent } = setting;
  const pad = PAD * density;
  const list = tag('L', parent);
  const each = (width - (columns - 1) * COLUMN_GAP) / columns;
  // Keys take what they need, but leave the larger part to the values.
  const widest = Math.max(...pairs.map(({ key }) => typesetter.width(key, KEY_SIZE)));
  const keyWidth = Math.min(widest, each * 0.42) + 8;
  const pairHeight = (key: readonly Line[], value: readonly Line[]): number =>
    Math.max(key.length * KEY_SIZE, value.length * VALUE_SIZE) * LEADING + 2 * pad;
  const set = pairs.map(({ key, value }): SetPair => {
    const keyLines = typesetter.lines(key, KEY_SIZE, keyWidth - 8, { colour: inkQuiet });
    const valueLines = typesetter.lines(value, VALUE_SIZE, each - keyWidth);
    const item = tag('LI', list);
    return {
      key: keyLines,
      value: valueLines,
      height: pairHeight(keyLines, valueLines),
      keyTag: tag('Lbl', item),
      valueTag: tag('LBody', item),
    };
  });
  const rows = Math.ceil(set.length / columns);
  const boxes = Array.from({ length: rows }, (_, row) => row).flatMap((row): readonly Box[] => {
    const whole = Array.from({ length: columns }, (_, column) => set[column * rows + row]);
    const most = Math.max(...whole.map((cell) => cell?.value.length ?? 0), 1);
    const parts = Math.ceil(most / MOST_LINES);
    return Array.from({ length: parts }, (_, part): Box => partOfRow(whole, part, parts, row));
  });
  // A short list stands on one page; of a long one no single row at the foot or the head of a page.
  const last = boxes.length - 1;
  const together = heightOf(boxes) <= togetherAtMost(setting);
  return boxes.map((box, i) => ({ ...box, keep: together ? i < last : i === 0 || i === last - 1 }));

  function partOfRow(whole: readonly (SetPair | undefined)[], part: number, parts: number, row: number): Box {
    const cells = whole.map((cell) => (parts === 1 || cell === undefined ? cell : partOf(cell, part)));
    const height = Math.max(...cells.map((cell) => cell?.height ?? 0));
    return {
      height,
      before: row === 0 && part === 0 ? 6 : 0,
      keep: false,
      draw: (pen, x, y) =>
        cells.forEach((cell, column) => {
          const left = x + column * (each + COLUMN_GAP);
          if (cell === undefined) return;
          drawPair(pen, cell, left, y + pad, keyWidth);
          pen.rule(left, y + height, left + each, y + height, lineFaint, 0.5);
        }),
    };
  }

  function partOf(cell: SetPair, part: number): SetPair {
    const value = cell.value.slice(part * MOST_LINES, (part + 1) * MOST_LINES);
    const key = part === 0 ? cell.key : [];
    return { ...cell, key, value, height: pairHeight(key, value) };
  }
}

/** A value with more lines than this is divided: no page might hold it. */
const MOST_LINES = 40;

function drawPair(
  pen: Pen,
  { key, value, keyTag, valueTag }: SetPair,
  x: number,
  y: number,
  keyWidth: number,
): void {
  // Key and value stand on one baseline.
  const baseline = y + VALUE_SIZE * (ascent - 0.06);
  if (key.length > 0)
    pen.tagged(keyTag, () =>
      key.forEach((line, i) => {
        pen.line(line, KEY_SIZE, x, baseline + i * KEY_SIZE * LEADING);
      }),
    );
  if (value.length > 0)
    pen.tagged(valueTag, () =>
      value.forEach((line, i) => {
        pen.line(line, VALUE_SIZE, x + keyWidth, baseline + i * VALUE_SIZE * LEADING);
      }),
    );
}

export function figureBoxes(
  { drawing, caption }: FigureBlock,
  { typesetter, width, height, density, parent }: Setting,
): readonly Box[] {
  const lines = typesetter.lines(caption, noteSize, width, { colour: inkQuiet });
  const captionHeight = 5 + lines.length * noteSize * leading;
  const scale = Math.min(
    figureScale(density),
    width / drawing.width,
    (height - captionHeight) / drawing.height,
  );
  const whole = tag('Div', parent);
  const figure = tag('Figure', whole, { alt: drawing.title });
  const under = tag('Caption', whole);
  const figureHeight = drawing.height * scale;
  return [
    {
      height: figureHeight + captionHeight,
      before: 10,
      keep: false,
      draw: (pen, x, y) => {
        pen.tagged(figure, () => pen.drawing(drawing, x, y, scale), [
          x,
          y,
          x + drawing.width * scale,
          y + figureHeight,
        ]);
        pen.tagged(under, () =>
          lines.forEach((line, i) => {
            pen.line(line, noteSize, x, y + figureHeight + 5 + noteSize * (ascent + leading * i));
          }),
        );
      },
    },
  ];
}

/** Blocks side by side make one box; where no page holds that, they stand one below the other. */
export function columnsBoxes({ columns }: ColumnsBlock, setting: Setting): readonly Box[] {
  const room = setting.width - COLUMN_GAP * (columns.length - 1);
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  let left = 0;
  const set = columns.map(({ share, blocks }) => {
    const width = (room * share) / shares;
    const boxes = blocks.flatMap((block) => blockBoxes(block, { ...setting, width }));
    const at = left;
    left += width + COLUMN_GAP;
    return { at, boxes, height: heightOf(boxes) };
  });
  const height = Math.max(...set.map(({ height }) => height));
  if (height > setting.height)
    return columns.flatMap(({ blocks }) => blocks.flatMap((block) => blockBoxes(block, setting)));
  return [
    {
      height,
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

export function signatureBoxes(
  { roles, fields }: SignaturesBlock,
  { typesetter, width, parent }: Setting,
): readonly Box[] {
  const roleWidth = Math.max(...roles.map((role) => typesetter.width(role, bodySize, { bold: true }))) + 14;
  const each = (width - roleWidth) / fields.length;
  return roles.map((role, index): Box => {
    const name = typesetter.lines(role, bodySize, roleWidth, { bold: true })[0];
    const under = fields.map((field) => typesetter.lines(field, noteSize, each, { colour: inkQuiet })[0]);
    const element = tag('P', parent);
    return {
      height: 42,
      before: index === 0 ? 4 : 0,
      keep: index < roles.length - 1,
      draw: (pen, x, y) => {
        fields.forEach((_, i) => {
          const left = x + roleWidth + i * each;
          pen.rule(left, y + 30, left + each - 12, y + 30, ink, 0.6);
        });
        pen.tagged(element, () => {
          if (name !== undefined) pen.line(name, bodySize, x, y + 28);
          under.forEach((line, i) => {
            if (line !== undefined) pen.line(line, noteSize, x + roleWidth + i * each, y + 39);
          });
        });
      },
    };
  });
}
