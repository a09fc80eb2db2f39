/** The six errors of one station as bars with their coverage intervals and limits. */

import type { Tone } from '../document.ts';
import { textWidth } from '../fonts/measure.ts';
import { ink, inkQuiet, line, sunken, toneInk } from '../palette.ts';
import { type Drawing, label, rectangle, type Shape, segment } from './shapes.ts';

export interface ErrorBar {
  readonly name: string;
  /** Value with its unit. */
  readonly text: string;
  /** mm or rad; all bars of a group share one scale. */
  readonly value: number | null;
  readonly expanded: number | null;
  readonly limit: number | null;
  readonly tone: Tone;
}

const ROW = 17;
const SIZE = 7.5;
/** At least so much for the names at the left and the values at the right. */
const NAMES = 40;
const VALUES = 46;
/** Between these and the bars. */
const CLEAR = 6;
/** Between displacements and rotations. */
const GAP = 8;

/** @param groups bars that share a unit and a scale. */
export function errorBars(groups: readonly (readonly ErrorBar[])[], title: string, width: number): Drawing {
  const widest = (texts: readonly string[], least: number): number =>
    Math.max(least, ...texts.map((text) => textWidth(text, SIZE) + CLEAR));
  const all = groups.flat();
  const names = widest(
    all.map(({ name }) => name),
    NAMES,
  );
  const values = widest(
    all.map(({ text }) => text),
    VALUES,
  );
  const middle = names + (width - names - values) / 2;
  const half = (width - names - values) / 2 - 4;
  const shapes: Shape[] = [];
  let y = 0;
  for (const [index, bars] of groups.entries()) {
    if (index > 0) y += GAP;
    const reach = Math.max(
      ...bars.map(({ value, expanded, limit }) =>
        Math.max(Math.abs(value ?? 0) + (expanded ?? 0), limit ?? 0),
      ),
      Number.MIN_VALUE,
    );
    const scale = half / (1.05 * reach);
    const first = y;
    for (const bar of bars) {
      shapes.push(...drawBar(bar, y, middle, scale));
      shapes.push(label(width, y + ROW / 2 + 2.6, bar.text, { colour: ink, size: SIZE, anchor: 'end' }));
      y += ROW;
    }
    shapes.push(segment(middle, first, middle, y, { colour: inkQuiet, width: 0.7 }));
  }
  return { width, height: y, title, shapes };
}

function drawBar(
  { name, value, expanded, limit, tone }: ErrorBar,
  y: number,
  middle: number,
  scale: number,
): Shape[] {
  const centre = y + ROW / 2;
  const shapes: Shape[] = [label(0, centre + 2.6, name, { colour: ink, size: SIZE })];
  if (limit !== null) {
    const reach = limit * scale;
    shapes.push(rectangle(middle - reach, y + 2.5, 2 * reach, ROW - 5, { fill: sunken }));
    for (const x of [middle - reach, middle + reach])
      shapes.push(segment(x, y + 1.5, x, y + ROW - 1.5, { colour: inkQuiet, width: 0.9, dash: [2.5, 1.5] }));
  } else shapes.push(segment(middle - 12, centre, middle + 12, centre, { colour: line, width: 0.5 }));
  if (value === null) return shapes;
  const colour = toneInk[tone];
  const x = middle + value * scale;
  shapes.push(rectangle(Math.min(middle, x), centre - 3, Math.abs(x - middle), 6, { fill: colour }));
  if (expanded !== null) {
    const [low, high] = [x - expanded * scale, x + expanded * scale];
    const stroke = { colour: ink, width: 0.7 };
    shapes.push(segment(low, centre, high, centre, stroke));
    for (const end of [low, high]) shapes.push(segment(end, centre - 2, end, centre + 2, stroke));
  }
  return shapes;
}
