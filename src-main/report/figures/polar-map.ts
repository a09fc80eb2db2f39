/** Position of every blade around the disc, as a share of its tolerance: the ring is the tolerance. */
import type { MissingStation, StationResult, Verdict } from '../../../shared-math/result.ts';
import { textWidth } from '../fonts/measure.ts';
import { ink, inkQuiet, line, lineFaint, sunken, toneInk } from '../palette.ts';
import { circle, type Drawing, label, rectangle, type Shape, segment } from './shapes.ts';
import { verdictMark } from './verdict-mark.ts';

export interface PolarMapWords {
  readonly title: string;
  /** What the ring stands for, e.g. `⌀ 50.0 µm`. */
  readonly tolerance: string;
  readonly verdicts: Readonly<Record<MapTone, string>>;
}

type MapTone = Verdict | 'missing';

const RADIANS = Math.PI / 180;
/** Of the size, to the outermost value. */
const REACH = 0.43;
/** From the centre to value zero, as a share of the reach: blades sit around a hub. */
const HUB = 0.3;
/** The scale holds at least this share of the tolerance. */
const LEAST_TOP = 1.2;
/** With more stations than this not every number is written. */
const ALL_NUMBERS = 40;

/** Seen from +Z, θ counted counterclockwise from the right. */
export function polarMap(
  stations: readonly StationResult[],
  missing: readonly MissingStation[],
  words: PolarMapWords,
  size: number,
): Drawing {
  const centre = size / 2;
  const ratios = stations.map(({ position }) => deciding(position.checkPoints));
  const top = Math.max(LEAST_TOP, ...ratios.map(({ value, upper }) => Math.max(value ?? 0, upper ?? 0)));
  const outer = size * REACH;
  const radius = (ratio: number) => outer * (HUB + ((1 - HUB) * ratio) / top);
  const at = (angle: number, r: number): [number, number] => [
    centre + r * Math.cos(angle * RADIANS),
    centre - r * Math.sin(angle * RADIANS),
  ];
  const spokes = [...stations, ...missing].map(({ angle }) => {
    const [x1, y1] = at(angle, radius(0));
    const [x2, y2] = at(angle, outer);
    return segment(x1, y1, x2, y2, { colour: lineFaint, width: 0.5 });
  });
  const shapes: Shape[] = [
    circle(centre, centre, outer, { stroke: { colour: line, width: 0.5 } }),
    circle(centre, centre, radius(1), { fill: sunken }),
    ...spokes,
    circle(centre, centre, radius(0.5), { stroke: { colour: line, width: 0.5, dash: [1.5, 2] } }),
    circle(centre, centre, radius(1), { stroke: { colour: inkQuiet, width: 1.1, dash: [5, 2.5] } }),
    circle(centre, centre, radius(0), { fill: '#ffffff', stroke: { colour: inkQuiet, width: 0.7 } }),
    ...axes(centre, radius(0)),
  ];
  const mark = Math.max(1.8, Math.min(3.2, 70 / Math.max(1, stations.length + missing.length)));
  stations.forEach(({ angle, verdict }, i) => {
    const { value, upper } = ratios[i]!;
    if (value === null) {
      const [x, y] = at(angle, radius(0.5));
      shapes.push(...verdictMark(x, y, mark, verdict));
      return;
    }
    const colour = toneInk[verdict];
    const [x0, y0] = at(angle, radius(0));
    const [x, y] = at(angle, radius(value));
    shapes.push(segment(x0, y0, x, y, { colour, width: 1.4 }));
    if (upper !== null) {
      const [xu, yu] = at(angle, radius(upper));
      shapes.push(segment(x, y, xu, yu, { colour, width: 0.6 }));
    }
    shapes.push(...verdictMark(x, y, mark, verdict));
  });
  for (const { angle } of missing) {
    const [x, y] = at(angle, radius(0.5));
    shapes.push(...verdictMark(x, y, mark, 'missing'));
  }
  shapes.push(...numbers([...stations, ...missing], at, outer + 9));
  const [xt, yt] = at(betweenStations([...stations, ...missing]), radius(1) + 6);
  // No line runs through the text.
  const plate = textWidth(words.tolerance, 6.8, true) + 3;
  shapes.push(
    rectangle(xt - plate / 2, yt - 4, plate, 8, { fill: '#ffffff' }),
    label(xt, yt + 2.4, words.tolerance, { colour: ink, size: 6.8, anchor: 'middle', bold: true }),
  );
  shapes.push(...legend(words, size));
  return { width: size, height: size + LEGEND, title: words.title, shapes };
}

const LEGEND = 24;

/** The four marks in two columns under the map. */
function legend({ verdicts }: PolarMapWords, size: number): Shape[] {
  const tones: readonly MapTone[] = ['conforming', 'nonconforming', 'unproven', 'missing'];
  return tones.flatMap((tone, i) => {
    const x = size * (i % 2 === 0 ? 0.14 : 0.54);
    const y = size + 4 + 12 * Math.floor(i / 2);
    return [
      ...verdictMark(x, y, 2.8, tone),
      label(x + 8, y + 2.5, verdicts[tone], { colour: ink, size: 7.4 }),
    ];
  });
}

/** The check point that uses most of its tolerance, as shares of it. */
function deciding(points: StationResult['position']['checkPoints']): {
  readonly value: number | null;
  readonly upper: number | null;
} {
  const shares = points.flatMap(({ value, expanded, tolerance }) =>
    value === null
      ? []
      : [
          {
            value: value / tolerance,
            upper: expanded === null ? null : (value + Math.max(0, expanded)) / tolerance,
          },
        ],
  );
  const first = shares[0];
  if (first === undefined) return { value: null, upper: null };
  return shares.reduce((worst, share) => (share.value > worst.value ? share : worst), first);
}

function axes(centre: number, r: number): Shape[] {
  const stroke = { colour: inkQuiet, width: 0.6 };
  const reach = r * 0.52;
  return [
    segment(centre, centre, centre + reach, centre, stroke),
    segment(centre, centre, centre, centre - reach, stroke),
    circle(centre, centre, 1.4, { fill: inkQuiet }),
    label(centre + reach + 2, centre + 2.2, 'X', { colour: inkQuiet, size: 6.5 }),
    label(centre, centre - reach - 2, 'Y', { colour: inkQuiet, size: 6.5, anchor: 'middle' }),
    label(centre - 3, centre + 8, 'Z', { colour: inkQuiet, size: 6.5, anchor: 'end' }),
  ];
}

function numbers(
  stations: readonly { readonly station: number; readonly angle: number }[],
  at: (angle: number, r: number) => [number, number],
  r: number,
): Shape[] {
  const every = Math.ceil(stations.length / ALL_NUMBERS);
  return stations
    .filter(({ station }) => (station - 1) % every === 0)
    .map(({ station, angle }) => {
      const [x, y] = at(angle, r);
      return label(x, y + 2.4, String(station), { colour: ink, size: 7, anchor: 'middle' });
    });
}

/** An angle near 60° in the middle of the widest gap there, so that the ring's label stands clear. */
function betweenStations(stations: readonly { readonly angle: number }[]): number {
  const wanted = 68;
  const sorted = stations.map(({ angle }) => ((angle % 360) + 360) % 360).sort((a, b) => a - b);
  const below = sorted.filter((angle) => angle <= wanted).at(-1) ?? (sorted.at(-1) ?? 0) - 360;
  const above = sorted.find((angle) => angle > wanted) ?? (sorted[0] ?? 0) + 360;
  return (below + above) / 2;
}
