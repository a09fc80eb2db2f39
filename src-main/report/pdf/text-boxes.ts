/** Headings, paragraphs, lists, notices. */
import type { HeadingBlock, Inline, ListBlock, NoticeBlock, ParagraphBlock } from '../document.ts';
import { brass, ink, inkQuiet, line as lineColour, toneInk, toneTint } from '../palette.ts';
import type { Box, Setting } from './box.ts';
import { type Tag, tag } from './tag.ts';
import type { Line } from './typesetter.ts';

export const bodySize = 9;
export const noteSize = 7.8;
/** Of the size, from baseline to baseline. */
export const leading = 1.38;
/** Of the size, from the top of a line to its baseline. */
export const ascent = 1.02;

export function headingBoxes(
  { level, text }: HeadingBlock,
  { typesetter, width, parent }: Setting,
): readonly Box[] {
  const size = level === 1 ? 21 : level === 2 ? 12.5 : 10;
  const lines = typesetter.lines(text, size, width, { bold: true });
  const height = lines.length * size * 1.22 + (level === 2 ? 6 : level === 3 ? 2 : 4);
  const element = tag(`H${level}`, parent);
  return [
    {
      height,
      before: level === 1 ? 0 : level === 2 ? 20 : 12,
      keep: true,
      draw: (pen, x, y) => {
        pen.bookmark(text, level, y);
        pen.tagged(element, () =>
          lines.forEach((line, i) => {
            pen.line(line, size, x, y + size * (0.98 + 1.22 * i));
          }),
        );
        if (level !== 2) return;
        pen.rule(x, y + height - 2, x + width, y + height - 2, lineColour, 0.5);
        pen.rule(x, y + height - 2, x + 28, y + height - 2, brass, 1.5);
      },
    },
  ];
}

export function paragraphBoxes({ text, size }: ParagraphBlock, setting: Setting): readonly Box[] {
  const quiet = size === 'note';
  const points = quiet ? noteSize : bodySize;
  const lines = setting.typesetter.lines(text, points, setting.width, { colour: quiet ? inkQuiet : ink });
  return lineBoxes(lines, points, quiet ? 5 : 7, tag('P', setting.parent));
}

/** One box a line; a paragraph leaves no single line behind. */
function lineBoxes(
  lines: readonly Line[],
  size: number,
  before: number,
  element: Tag,
  indent = 0,
): readonly Box[] {
  return lines.map((line, i) => ({
    height: size * leading,
    before: i === 0 ? before : 0,
    keep: lines.length > 1 && (i === 0 || i === lines.length - 2),
    draw: (pen, x, y) => pen.tagged(element, () => pen.line(line, size, x + indent, y + size * ascent)),
  }));
}

const INDENT = 11;

export function listBoxes({ items }: ListBlock, { typesetter, width, parent }: Setting): readonly Box[] {
  const list = tag('L', parent);
  return items.flatMap((item: Inline) => {
    const lines = typesetter.lines(item, bodySize, width - INDENT);
    const dash = typesetter.lines('–', bodySize, INDENT)[0];
    const element = tag('LI', list);
    const mark = tag('Lbl', element);
    return lineBoxes(lines, bodySize, 3.5, tag('LBody', element), INDENT).map(
      (box, i): Box =>
        i > 0 || dash === undefined
          ? box
          : {
              ...box,
              draw: (pen, x, y) => {
                pen.tagged(mark, () => pen.line(dash, bodySize, x, y + bodySize * ascent));
                box.draw(pen, x, y);
              },
            },
    );
  });
}

const PAD = 9;
const BAR = 3.5;

export function noticeBoxes(
  { tone, title, text }: NoticeBlock,
  { typesetter, width, density, parent }: Setting,
): readonly Box[] {
  const pad = PAD * density;
  const whole = tag('Div', parent);
  const [first, second] = [tag('P', whole), tag('P', whole)];
  const titleSize = 11.5;
  const inner = width - 2 * PAD - BAR;
  const head = typesetter.lines(title, titleSize, inner, { bold: true, colour: toneInk[tone] });
  const lines = typesetter.lines(text, bodySize, inner);
  const headHeight = head.length * titleSize * 1.3;
  const height = 2 * pad + headHeight + 1 + lines.length * bodySize * leading;
  return [
    {
      height,
      before: 10,
      keep: false,
      draw: (pen, x, y) => {
        pen.area(x, y, width, height, toneTint[tone]);
        pen.area(x, y, BAR, height, toneInk[tone]);
        pen.tagged(first, () =>
          head.forEach((line, i) => {
            pen.line(line, titleSize, x + BAR + PAD, y + pad + titleSize * (1 + 1.3 * i));
          }),
        );
        pen.tagged(second, () =>
          lines.forEach((line, i) => {
            const top = y + pad + headHeight + 1 + i * bodySize * leading;
            pen.line(line, bodySize, x + BAR + PAD, top + bodySize * ascent);
          }),
        );
      },
    },
  ];
}
