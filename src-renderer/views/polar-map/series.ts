/** What the polar map draws, as plain data: no number here is computed that the result does not hold, but for the scale. */
import type { Data } from 'plotly.js/lib/core';
import { formatAngle, formatJudged, type Standing, standingText, toDisplay } from '../../format/format.ts';
import { quantityOf } from '../../format/quantities.ts';
import type { LayoutOptions } from './layout.ts';
import { groundsOf, limitRings, type MapMark, type MapScale, placeOnScale, smallestPitch } from './marks.ts';

const symbols = {
  conforming: 'circle',
  nonconforming: 'diamond',
  unproven: 'square-open-dot',
  missing: 'x-thin-open',
} as const satisfies Record<Standing, string>;

/** Graduation of the dial's rim: a stroke every 5°, a longer one every 30°. */
function graduation(from: number, to: number, colour: string): Data {
  const span = to - from;
  const strokes = Array.from({ length: 72 }, (_, index) => index * 5);
  return {
    type: 'scatterpolar',
    mode: 'lines',
    r: strokes.flatMap((angle) => [to, to - span * (angle % 30 === 0 ? 0.045 : 0.022), null]),
    theta: strokes.flatMap((angle) => [angle, angle, null]),
    line: { color: colour, width: 1 },
    hoverinfo: 'skip',
  };
}

/** Where the name of 0° can stand beside the rim: how far above the direction (px), its text and its place there. */
const axisPlaces = [
  { above: 0, text: '\u00a0+X', position: 'middle right' },
  { above: -14, text: '\u00a0<br>\u00a0+X', position: 'bottom right' },
  { above: 14, text: '\u00a0+X<br>\u00a0', position: 'top right' },
] as const;
/** A dial of the smallest size, px: on larger ones the numbers of the stations stand further apart. */
const SMALLEST_DIAL = 130;

/** Names the direction of 0° outside the rim, where the numbers of the stations leave the most room. */
function axisName(marks: readonly MapMark[], to: number, colour: string): Data {
  const numbers = marks
    .map(({ angle }) => (angle * Math.PI) / 180)
    .filter((angle) => Math.cos(angle) > 0)
    .map((angle) => SMALLEST_DIAL * Math.sin(angle));
  const room = (above: number): number => Math.min(...numbers.map((number) => Math.abs(number - above)));
  const place = axisPlaces.reduce((best, other) => (room(other.above) > room(best.above) ? other : best));
  return {
    type: 'scatterpolar',
    mode: 'text',
    r: [to],
    theta: [0],
    text: [place.text],
    textposition: place.position,
    textfont: { size: 11, color: colour },
    cliponaxis: false,
    hoverinfo: 'skip',
  } as Data;
}

const ringAngles = Array.from({ length: 181 }, (_, index) => index * 2);

function ring(r: number, colour: string, dash: 'solid' | 'dash', width: number): Data {
  return {
    type: 'scatterpolar',
    mode: 'lines',
    r: ringAngles.map(() => r),
    theta: ringAngles,
    line: { color: colour, dash, width },
    hoverinfo: 'skip',
  };
}

/** Half the width of the stroke that ends a whisker, as a share of the pitch. */
const WHISKER_END = 0.07;

/** From the value to value + U for sizes, value ± U for the others; none for values beyond the scale. */
function whiskers(
  marks: readonly MapMark[],
  scale: MapScale,
  upwards: boolean,
  show: (value: number) => number,
  pitch: number,
  colour: string,
): Data {
  const lines = marks.flatMap(({ angle, value, expanded }) => {
    if (value === null || expanded === null || Math.abs(value) > scale.to) return [];
    const [low, high] = [upwards ? value : value - expanded, value + expanded];
    const end = (at: number): [number, number | null][] =>
      // An end beyond the rim is left open.
      Math.abs(at) > scale.to
        ? []
        : [at, at, null].map((r, i) => [angle + (i - 0.5) * 2 * WHISKER_END * pitch, r]);
    const kept = (at: number): number => Math.max(-scale.to, Math.min(scale.to, at));
    const stem: [number, number | null][] = [
      [angle, kept(low)],
      [angle, kept(high)],
      [angle, null],
    ];
    return [...stem, ...end(high), ...(upwards ? [] : end(low))];
  });
  return {
    type: 'scatterpolar',
    mode: 'lines',
    name: 'U',
    r: lines.map(([, r]) => (r === null ? null : show(r))),
    theta: lines.map(([theta, r]) => (r === null ? null : theta)),
    line: { color: colour, width: 1.5 },
    hoverinfo: 'skip',
  };
}

export interface MapOptions extends LayoutOptions {
  readonly selected: number | null;
  /** Stations chosen together; empty where only one is selected. */
  readonly marked: readonly number[];
}

export function mapData({ marks, name, units, scale, colours, selected, marked }: MapOptions): Data[] {
  const { kind } = quantityOf(name);
  const show = (value: number): number => toDisplay(value, kind, units);
  const onScale = (value: number): number => show(Math.max(scale.from, Math.min(scale.to, value)));
  const pitch = smallestPitch(marks.map((mark) => mark.angle));
  const from = show(scale.from);
  const to = show(scale.to);
  const data: Data[] = [];

  const grounds = groundsOf(marks, selected, marked);
  if (grounds.length > 0) {
    data.push({
      type: 'barpolar',
      base: grounds.map(() => from),
      r: grounds.map(() => to - from),
      theta: grounds.map(({ angle }) => angle),
      width: grounds.map(({ width }) => width),
      marker: { color: colours.select, line: { width: 0 } },
      hoverinfo: 'skip',
    });
  }

  data.push(graduation(from, to, colours.ink2), axisName(marks, to, colours.brass));
  const rings = limitRings(marks);
  const signs = kind === 'size' ? [1] : [1, -1];
  if (kind !== 'size') data.push(ring(0, colours.ink2, 'solid', 1.2));
  for (const sign of signs) {
    if (rings.common !== null) data.push(ring(show(sign * rings.common), colours.limit, 'dash', 1.8));
    for (const mark of rings.own) {
      const half = pitch / 2;
      data.push({
        type: 'scatterpolar',
        mode: 'lines',
        r: [0, 1, 2, 3, 4].map(() => show(sign * (mark.limit ?? 0))),
        theta: [-1, -0.5, 0, 0.5, 1].map((part) => mark.angle + part * half),
        line: { color: colours.limit, dash: 'solid', width: 2.4 },
        hoverinfo: 'skip',
      });
    }
  }

  // Spokes of the stations that were not reduced.
  for (const mark of marks.filter((entry) => entry.value === null)) {
    data.push({
      type: 'scatterpolar',
      mode: 'lines',
      r: [from, to],
      theta: [mark.angle, mark.angle],
      line: { color: colours[mark.standing], dash: 'dot', width: 1.4 },
      hoverinfo: 'skip',
    });
  }

  data.push(whiskers(marks, scale, kind === 'size', show, pitch, colours.ink2));

  for (const standing of Object.keys(symbols) as Standing[]) {
    const group = marks.filter((mark) => mark.standing === standing);
    if (group.length === 0) continue;
    const stems = group.filter((mark) => mark.value !== null);
    data.push({
      type: 'barpolar',
      r: stems.map((mark) => onScale(mark.value ?? 0)),
      theta: stems.map((mark) => mark.angle),
      width: stems.map(() => pitch * (standing === 'nonconforming' ? 0.42 : 0.26)),
      marker: { color: colours[standing], line: { width: 0 } },
      opacity: standing === 'nonconforming' ? 0.75 : 0.5,
      hoverinfo: 'skip',
    });
    data.push({
      type: 'scatterpolar',
      mode: 'markers',
      name: standingText[standing],
      r: group.map((mark) => show(placeOnScale(mark, scale))),
      theta: group.map((mark) => mark.angle),
      customdata: group.map((mark) => mark.station),
      hovertext: group.map(
        (mark) =>
          `Station ${mark.station} at ${formatAngle(mark.angle)}<br>${mark.text.replaceAll(/, (?=limit|no limit|P\()/g, '<br>')}<br>${standingText[standing]}`,
      ),
      hovertemplate: '%{hovertext}<extra></extra>',
      marker: {
        symbol: symbols[standing],
        size: group.map((mark) => (mark.station === selected ? 14 : standing === 'nonconforming' ? 11 : 9)),
        color: colours[standing],
        line: {
          color: group.map((mark) =>
            mark.station === selected
              ? colours.ink
              : standing === 'missing' || standing === 'unproven'
                ? colours[standing]
                : colours.dial,
          ),
          width: standing === 'missing' || standing === 'unproven' ? 2.2 : 1.4,
        },
      },
    });
  }
  const offScale = marks.filter((mark) => mark.value !== null && Math.abs(mark.value) > scale.to);
  data.push({
    type: 'scatterpolar',
    mode: 'text',
    r: offScale.map((mark) => onScale(mark.value ?? 0) - Math.sign(mark.value ?? 0) * (to - from) * 0.28),
    theta: offScale.map((mark) => mark.angle),
    text: offScale.map((mark) => formatJudged(mark.value ?? 0, kind, units, mark.limit)),
    // Wider than its bar where numbers are long: a halo parts it from whatever lies behind.
    textfont: { size: 11, weight: 600, color: colours.ink, shadow: halo(colours.dial) },
    hoverinfo: 'skip',
  });
  return data;
}

function halo(colour: string): string {
  return Array.from({ length: 4 }, () => `0 0 3px ${colour}`).join(', ');
}
