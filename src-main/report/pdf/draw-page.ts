/** One page: running head, boxes, foot. */
import type { ReportDocument } from '../document.ts';
import { inkQuiet, line as lineColour } from '../palette.ts';
import type { Pen } from './box.ts';
import type { Page } from './paginate.ts';
import { margins, type Paper, sheets } from './paper.ts';
import type { Typesetter } from './typesetter.ts';

const HEAD_SIZE = 7.8;
const HEAD_BASE = 38;
const FOOT_BASE = 31;
/** Of the width, for the left side of head and foot. */
const LEFT_SHARE = 0.66;
/** Between the left and the right side. */
const GAP = 12;

export function drawPage(
  pen: Pen,
  typesetter: Typesetter,
  { head, foot }: Pick<ReportDocument, 'head' | 'foot'>,
  page: Page,
  paper: Paper,
  number: number,
  of: number,
): void {
  const { width, height } = sheets[paper];
  const [left, right] = [margins.left, width - margins.right];
  const room = (right - left) * LEFT_SHARE;
  const write = (texts: readonly [string, string], y: number) => {
    const [start, end] = texts.map((text, i) =>
      typesetter.shortenedLine(text, HEAD_SIZE, i === 0 ? room : right - left - room - GAP, {
        colour: inkQuiet,
      }),
    );
    if (start !== undefined) pen.line(start, HEAD_SIZE, left, y, 'left');
    if (end !== undefined) pen.line(end, HEAD_SIZE, right, y, 'right');
  };
  pen.pagination('Top', () => {
    write(head, HEAD_BASE);
    pen.rule(left, HEAD_BASE + 6, right, HEAD_BASE + 6, lineColour, 0.5);
  });
  for (const { box, y } of page) box.draw(pen, left, margins.top + y);
  pen.pagination('Bottom', () => {
    pen.rule(left, height - FOOT_BASE - 11, right, height - FOOT_BASE - 11, lineColour, 0.5);
    write([foot, `${number} / ${of}`], height - FOOT_BASE);
  });
}
