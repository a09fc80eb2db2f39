/** Each of the six errors against the station number, with intervals and limits: six small panels of one frame. */
import type { Tone } from '../document.ts';
import { textWidth } from '../fonts/measure.ts';
import { ink, inkQuiet, line, sunken, toneInk } from '../palette.ts';
import { type Drawing, label, rectangle, type Shape, segment } from './shapes.ts';
import { verdictMark } from './verdict-mark.ts';

export interface StationPoint {
  readonly station: number;
  readonly value: number | null;
  readonly expanded: number | null;
  readonly tone: Tone;
}

export interface ErrorPanel {
  readonly title: string;
  /** Signed bound that the scale is labelled with, and its text. */
  readonly points: readonly StationPoint[];
  readonly limit: number | null;
  readonly text: (value: number) => string;
}

const HEIGHT = 78;
/** At least so much for the numbers of a scale. */
const LEFT = 34;
const SCALE_SIZE = 6.2;
/** Between the numbers and the frame. */
const SCALE_GAP = 3;
const TOP = 14;
const BOTTOM = 13;
const COLUMN_GAP = 14;

/** Panels in reading order, two in a row. */
export function stationErrors(
  panels: readonly ErrorPanel[],
  stations: number,
  title: string,
  width: number,
): Drawing {
  const each = (width - COLUMN_GAP) / 2;
  const scales = panels.map(scaleOf);
  const left = Math.max(
    LEFT,
    ...scales.flatMap(({ marks }) => marks.map(({ text }) => textWidth(text, SCALE_SIZE) + SCALE_GAP)),
  );
  const shapes = panels.flatMap((panel, i) =>
    drawPanel(panel, scales[i] as Scale, stations, {
      left: (i % 2) * (each + COLUMN_GAP),
      top: Math.floor(i / 2) * HEIGHT,
      width: each,
      scaleWidth: left,
    }),
  );
  return { width, height: Math.ceil(panels.length / 2) * HEIGHT, title, shapes };
}

interface Scale {
  /** Value at the upper edge. */
  readonly reach: number;
  readonly marks: readonly { readonly value: number; readonly text: string }[];
}

function scaleOf({ points, limit, text }: ErrorPanel): Scale {
  const reach =
    1.08 *
    Math.max(
      ...points.map(({ value, expanded }) => Math.abs(value ?? 0) + (expanded ?? 0)),
      limit ?? 0,
      Number.MIN_VALUE,
    );
  // Limits that lie close to zero on this scale would be written over each other: the ends of the scale are written instead.
  const bound = limit !== null && limit > 0.3 * reach ? limit : reach / 1.08;
  return { reach, marks: [bound, 0, -bound].map((value) => ({ value, text: text(value) })) };
}

interface Place {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  /** For the numbers of the scale. */
  readonly scaleWidth: number;
}

function drawPanel(
  { points, limit, title }: ErrorPanel,
  { reach, marks }: Scale,
  stations: number,
  { left, top, width, scaleWidth }: Place,
): Shape[] {
  const [x0, x1] = [left + scaleWidth, left + width];
  const [y0, y1] = [top + TOP, top + HEIGHT - BOTTOM];
  const middle = (y0 + y1) / 2;
  const y = (value: number) => middle - (value / reach) * ((y1 - y0) / 2);
  const mark = Math.max(1, Math.min(2, 60 / stations));
  /** The first and the last mark stay within the frame. */
  const inset = Math.max(0, mark + 0.5 - (x1 - x0) / (2 * stations));
  const x = (station: number) => x0 + inset + ((station - 0.5) / stations) * (x1 - x0 - 2 * inset);
  const small = { colour: inkQuiet, size: SCALE_SIZE };
  const shapes: Shape[] = [
    label(x0, top + 9, title, { colour: ink, size: 7.4, bold: true }),
    ...(limit === null ? [] : [rectangle(x0, y(limit), x1 - x0, y(-limit) - y(limit), { fill: sunken })]),
    rectangle(x0, y0, x1 - x0, y1 - y0, { stroke: { colour: line, width: 0.5 } }),
    segment(x0, middle, x1, middle, { colour: inkQuiet, width: 0.6 }),
    ...(limit === null
      ? []
      : [limit, -limit].map((at) =>
          segment(x0, y(at), x1, y(at), { colour: inkQuiet, width: 0.9, dash: [4, 2] }),
        )),
    ...marks.map(({ value, text }) =>
      label(x0 - SCALE_GAP, y(value) + 2.1, text, { ...small, anchor: 'end' }),
    ),
  ];
  const every = Math.max(1, Math.ceil(stations / 15));
  for (let station = 1; station <= stations; station += every)
    shapes.push(label(x(station), y1 + 8, String(station), { ...small, anchor: 'middle' }));
  for (const { station, value, expanded, tone } of points) {
    if (value === null) continue;
    if (expanded !== null)
      shapes.push(
        segment(x(station), y(value - expanded), x(station), y(value + expanded), {
          colour: toneInk[tone],
          width: 0.7,
        }),
      );
    shapes.push(...verdictMark(x(station), y(value), mark, tone));
  }
  return shapes;
}
