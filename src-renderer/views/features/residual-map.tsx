import { useMemo } from 'react';
import type { FeaturePoints } from '../../../src-main/api.ts';
import { type Scale, scaleOf, tickText } from '../../chart/scale.ts';
import { placeUnits, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { type Dot, Dots, Pick } from './dots.tsx';
import type { AxisNames } from './feature-names.ts';
import { type PointView, placeColumns } from './points.ts';

interface ResidualMapProps extends ResidualChartProps {
  readonly axisNames: AxisNames;
}

export interface ResidualChartProps {
  readonly feature: FeaturePoints;
  readonly points: readonly PointView[];
  /** End of the colour scale, mm. */
  readonly range: number;
  readonly units: Units;
  readonly dark: boolean;
  /** Line of the chosen point. */
  readonly chosen: number | null;
  readonly onChoose: (line: number) => void;
  readonly width: number;
  readonly height: number;
}

const degrees = (radians: number): number => (radians * 180) / Math.PI;

interface Axis {
  readonly title: string;
  readonly of: (point: PointView) => number;
}

function axesOf({ type }: FeaturePoints, names: AxisNames, units: Units): readonly [Axis, Axis] {
  const place = placeUnits(units);
  const length = (value: number): number => toDisplay(value, 'length', place);
  const [first, second] = placeColumns(type, names).map(
    ({ title, angular }, i): Axis => ({
      title: `${title}, ${angular ? 'degrees' : unitWord('length', place)}`,
      of: (point) => (angular ? degrees : length)(point.place[i === 0 ? 0 : 1]),
    }),
  );
  const distance: Axis = {
    title: `distance, ${unitWord('length', units)}`,
    of: ({ residual }) => toDisplay(residual, 'length', units),
  };
  return [first ?? { title: '', of: () => 0 }, second ?? distance];
}

/** Axes and points of the map, in pixels. */
function placed(
  feature: FeaturePoints,
  points: readonly PointView[],
  axisNames: AxisNames,
  units: Units,
  width: number,
  height: number,
) {
  const [left, right, top, bottom] = [58, width - 18, 12, height - 36];
  const axes = axesOf(feature, axisNames, units);
  const flat = feature.type === 'plane';
  // A long plane lies along the long side of the drawing. Both axes then still grow to the right and upwards: it is seen from behind.
  const turn = flat && right - left > bottom - top && extent(points, 1) > TURN_FROM * extent(points, 0);
  const [across, upwards] = turn ? [axes[1], axes[0]] : axes;
  const xs = points.map(across.of);
  const ys = points.map(upwards.of);
  let [x, y] = [spread(xs, left, right, 7), spread(ys, bottom, top, 6)];
  if (flat) [x, y] = toOneScale(x, y, [left, right], [bottom, top]);
  const dots: Dot[] = points.map((point, i) => ({ point, x: x.at(xs[i] ?? 0), y: y.at(ys[i] ?? 0) }));
  return { left, right, top, bottom, across, upwards, x, y, dots };
}

/** Where the residuals lie on the feature: planes to scale, round features unrolled. */
export function ResidualMap(props: ResidualMapProps) {
  const { feature, points, axisNames, range, units, dark, chosen, onChoose, width, height } = props;
  // Choosing another point must not place them all anew.
  const { left, right, top, bottom, across, upwards, x, y, dots } = useMemo(
    () => placed(feature, points, axisNames, units, width, height),
    [feature, points, axisNames, units, width, height],
  );
  return (
    <>
      {x.ticks.map((tick) => (
        <g key={`x${tick}`}>
          <path className={tick === 0 ? 'zero' : 'grid'} d={`M${x.at(tick)} ${top}V${bottom}`} />
          <text className="faint" x={x.at(tick)} y={bottom + 15} textAnchor="middle">
            {tickText(tick)}
          </text>
        </g>
      ))}
      {y.ticks.map((tick) => (
        <g key={`y${tick}`}>
          <path className={tick === 0 ? 'zero' : 'grid'} d={`M${left} ${y.at(tick)}H${right}`} />
          <text className="faint" x={left - 6} y={y.at(tick) + 4} textAnchor="end">
            {tickText(tick)}
          </text>
        </g>
      ))}
      <text className="faint" x={(left + right) / 2} y={height - 5} textAnchor="middle">
        {across.title}
      </text>
      <text
        className="faint"
        transform={`translate(12 ${(top + bottom) / 2}) rotate(-90)`}
        textAnchor="middle"
      >
        {upwards.title}
      </text>
      <Dots dots={dots} range={range} dark={dark} chosen={chosen} />
      <Pick dots={dots} width={width} height={height} onChoose={onChoose} />
    </>
  );
}

/** A plane that is this many times as long along v as along u is drawn lying. */
const TURN_FROM = 1.3;

function extent(points: readonly PointView[], along: 0 | 1): number {
  const [low, high] = points.reduce(
    ([a, b], { place }) => [Math.min(a, place[along]), Math.max(b, place[along])],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
  return Math.max(0, high - low);
}

/** A scale over values with room at both ends. */
export function spread(values: readonly number[], start: number, end: number, count: number): Scale {
  const low = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  if (!(high >= low)) return scaleOf(-1, 1, start, end, count);
  const room = high > low ? 0.06 * (high - low) : 1;
  return scaleOf(low - room, high + room, start, end, count);
}

/** The same number of pixels a millimetre both ways, about the same middles. */
function toOneScale(
  x: Scale,
  y: Scale,
  [left, right]: readonly [number, number],
  [bottom, top]: readonly [number, number],
): [Scale, Scale] {
  const each = Math.max((x.to - x.from) / (right - left), (y.to - y.from) / (bottom - top));
  const about = (scale: Scale, start: number, end: number, count: number): Scale => {
    const middle = (scale.from + scale.to) / 2;
    const half = (each * Math.abs(end - start)) / 2;
    return scaleOf(middle - half, middle + half, start, end, count);
  };
  return [about(x, left, right, 7), about(y, bottom, top, 6)];
}
