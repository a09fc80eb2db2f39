/** The tolerance zone of a station with the displacement of each check point and its coverage ellipse. */
import type { CheckPointResult } from '../../../shared-math/result.ts';
import { coverageEllipse, coverageHalfWidth } from '../../../shared-math/uncertainty/coverage-ellipse.ts';
import { fittedApart } from '../document.ts';
import { textWidth } from '../fonts/measure.ts';
import { ink, inkQuiet, line, sunken, toneInk, toneTint } from '../palette.ts';
import { circle, type Drawing, label, path, rectangle, type Shape, segment } from './shapes.ts';
import { verdictMark } from './verdict-mark.ts';
import { NAME, nameLabels, WIDEST_NAME } from './zone-names.ts';

export interface ZoneWords {
  readonly title: string;
  readonly oscillation: string;
  readonly lateral: string;
  readonly upset: string;
  /** A zone's size as on a drawing. */
  readonly size: (point: CheckPointResult) => string;
  /** A length with its unit, for the bar that shows the scale. */
  readonly length: (millimetres: number) => string;
}

/** The outermost thing drawn takes this share of half the size. */
const USED = 0.8;
/** Height of a strip for a zone between two planes. */
const STRIP = 64;

/** Round zones share one picture, seen along the stacking axis; each planar zone has a strip of its own below. */
export function zonePicture(
  points: readonly CheckPointResult[],
  coverage: number,
  words: ZoneWords,
  size: number,
): Drawing {
  const names = fittedApart(
    points.map(({ name }) => name),
    (name, i) => nameFits({ ...(points[i] as CheckPointResult), name }, words, size),
  );
  const named = points.map((point, i) => ({ ...point, name: names[i] ?? point.name }));
  const round = named.filter(({ zone }) => zone !== 'planar');
  const planar = named.filter(({ zone }) => zone === 'planar');
  const top = round.length > 0 ? size : 0;
  return {
    width: size,
    height: top + STRIP * planar.length,
    title: words.title,
    shapes: [
      ...(round.length > 0 ? roundZones(round, coverage, words, size) : []),
      ...planar.flatMap((point, i) => planarZone(point, coverage, words, size, top + STRIP * i)),
    ],
  };
}

function roundZones(
  points: readonly CheckPointResult[],
  coverage: number,
  words: ZoneWords,
  size: number,
): Shape[] {
  const half = size / 2;
  const radii = [...new Set(points.map(({ tolerance }) => tolerance / 2))].sort((a, b) => b - a);
  const ellipses = points.map(({ covariance }) =>
    covariance === null ? null : coverageEllipse(covariance, coverage),
  );
  const reach = Math.max(
    ...radii,
    ...points.map(({ displacement: d }, i) =>
      d === null ? 0 : Math.hypot(d[0], d[1]) + (ellipses[i]?.major ?? 0),
    ),
  );
  const scale = (half * USED) / reach;
  const shapes: Shape[] = [
    rectangle(0.25, 0.25, size - 0.5, size - 0.5, { fill: '#ffffff', stroke: { colour: line, width: 0.5 } }),
    ...radii.map((radius) =>
      circle(half, half, radius * scale, {
        fill: sunken,
        stroke: { colour: inkQuiet, width: 1.1, dash: [5, 2.5] },
      }),
    ),
    segment(half * 0.1, half, size - half * 0.1, half, { colour: line, width: 0.5 }),
    segment(half, half * 0.1, half, size - half * 0.1, { colour: line, width: 0.5 }),
    label(size - 5, 11, `${words.oscillation} →`, { colour: inkQuiet, size: 6.8, anchor: 'end' }),
    label(5, 11, `↑ ${words.lateral}`, { colour: inkQuiet, size: 6.8 }),
  ];
  const places = points.flatMap((point, i) => {
    const d = point.displacement;
    return d === null
      ? []
      : [{ point, ellipse: ellipses[i] ?? null, x: half + d[0] * scale, y: half - d[1] * scale }];
  });
  for (const { point, ellipse, x, y } of places)
    if (ellipse !== null)
      shapes.push({
        kind: 'ellipse',
        x,
        y,
        rx: Math.max(0.4, ellipse.major * scale),
        ry: Math.max(0.4, ellipse.minor * scale),
        turn: (-ellipse.angle * 180) / Math.PI,
        fill: toneTint[point.verdict],
        stroke: { colour: toneInk[point.verdict], width: 0.6 },
      });
  if (places.length > 1)
    shapes.push(
      path(
        places.map(({ x, y }) => [x, y] as const),
        { stroke: { colour: inkQuiet, width: 0.6, dash: [2, 1.6] } },
      ),
    );
  for (const { point, x, y } of places) {
    shapes.push(segment(half, half, x, y, { colour: toneInk[point.verdict], width: 1 }));
    shapes.push(...verdictMark(x, y, 2.6, point.verdict));
  }
  shapes.push(
    ...nameLabels(
      places,
      scale,
      size,
      radii.map((radius) => radius * scale),
    ),
  );
  radii.forEach((radius, i) => {
    const point = points.find(({ tolerance }) => tolerance / 2 === radius)!;
    shapes.push(label(5, size - 6 - 9 * i, words.size(point), { colour: ink, size: 7, bold: true }));
  });
  shapes.push(...scaleBar(size, scale, reach, words));
  return shapes;
}

/** In a strip for a zone between two planes. */
const STRIP_NAME = 7;
const STRIP_AXIS = 6.8;

function nameFits(point: CheckPointResult, words: ZoneWords, size: number): boolean {
  if (point.zone !== 'planar') return textWidth(point.name, NAME.size, NAME.bold) <= WIDEST_NAME * size;
  const { of, across } = stripWords(point, words);
  return textWidth(point.name + of, STRIP_NAME, true) + textWidth(across, STRIP_AXIS) + 8 <= size;
}

/** A bar of a round length, at the lower right. */
function scaleBar(size: number, scale: number, reach: number, words: ZoneWords): Shape[] {
  const length = roundLength(reach / 2.2);
  const width = length * scale;
  const [x, y] = [size - 6 - width, size - 6];
  const stroke = { colour: inkQuiet, width: 0.8 };
  return [
    segment(x, y, x + width, y, stroke),
    segment(x, y - 2, x, y + 2, stroke),
    segment(x + width, y - 2, x + width, y + 2, stroke),
    label(x + width, y - 4, words.length(length), { colour: inkQuiet, size: 6.5, anchor: 'end' }),
  ];
}

/** The largest of 1, 2, 5 times a power of ten that is not above. */
function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((digit) => digit * power).find((length) => length <= most) ?? power;
}

/** Behind the name of a zone between two planes, and at the other end of its strip. */
function stripWords(point: CheckPointResult, words: ZoneWords) {
  const { direction: n } = point;
  return { of: `: ${words.size(point)}`, across: n === null ? '' : axisName(n, words) };
}

function planarZone(
  point: CheckPointResult,
  coverage: number,
  words: ZoneWords,
  size: number,
  top: number,
): Shape[] {
  const { displacement: d, direction: n, covariance, tolerance, verdict } = point;
  const along = d === null || n === null ? null : d[0] * n[0] + d[1] * n[1] + d[2] * n[2];
  const doubt = covariance === null || n === null ? 0 : coverageHalfWidth(covariance, n, coverage);
  const reach = Math.max(tolerance / 2, Math.abs(along ?? 0) + doubt);
  const half = size / 2;
  const scale = (half * USED) / reach;
  const middle = top + STRIP * 0.58;
  const edge = (tolerance / 2) * scale;
  const limit = { colour: inkQuiet, width: 1.1, dash: [5, 2.5] as const };
  const { of, across } = stripWords(point, words);
  const shapes: Shape[] = [
    rectangle(half - edge, middle - 12, 2 * edge, 24, { fill: sunken }),
    segment(half - edge, middle - 15, half - edge, middle + 15, limit),
    segment(half + edge, middle - 15, half + edge, middle + 15, limit),
    segment(half, middle - 15, half, middle + 15, { colour: line, width: 0.5 }),
    label(0, top + 9, `${point.name}${of}`, { colour: ink, size: STRIP_NAME, bold: true }),
    label(size, top + 9, across, { colour: inkQuiet, size: STRIP_AXIS, anchor: 'end' }),
  ];
  if (along === null) return shapes;
  const x = half + along * scale;
  const colour = toneInk[verdict];
  if (doubt > 0)
    shapes.push(
      rectangle(x - doubt * scale, middle - 5, 2 * doubt * scale, 10, {
        fill: toneTint[verdict],
        stroke: { colour, width: 0.6 },
      }),
    );
  return [
    ...shapes,
    segment(half, middle, x, middle, { colour, width: 1 }),
    ...verdictMark(x, middle, 2.6, verdict),
  ];
}

/** The axis that a direction lies along, with its sign; none where it lies askew. */
function axisName(n: readonly [number, number, number], words: ZoneWords): string {
  const on = n.findIndex((component) => Math.abs(component) > 1 - 1e-9);
  const name = [words.oscillation, words.lateral, words.upset][on];
  return name === undefined ? '' : `${(n[on] ?? 0) < 0 ? '−' : ''}${name}`;
}
