import { useMemo } from 'react';
import type { FeaturePoints } from '../../../src-main/api.ts';
import { formatCount, formatWithUnit } from '../../format/format.ts';
import { type Dot, Dots, Pick } from './dots.tsx';
import { type PointView, roundDown, rounds } from './points.ts';
import type { ResidualChartProps } from './residual-map.tsx';

/** Share of the room that the least-squares circle takes; the rest is for the residuals. */
const CIRCLE_SHARE = 0.64;
/** Residuals of points left out are drawn at most this far, as a multiple of the largest one used. */
const FARTHEST = 1.35;

/** How many times the residuals are larger than the radius is drawn: a round number. */
export function traceMagnification(radius: number, range: number): number {
  if (!(range > 0) || !(radius > 0)) return 1;
  return roundDown((((1 - CIRCLE_SHARE) / FARTHEST) * radius) / (CIRCLE_SHARE * range));
}

/** Circles, traces and points of the drawing, in pixels. */
function drawn(
  feature: FeaturePoints,
  points: readonly PointView[],
  range: number,
  width: number,
  height: number,
) {
  const room = Math.max(20, Math.min(width, height) / 2 - 26);
  const [cx, cy] = [width / 2, height / 2];
  const circle = CIRCLE_SHARE * room;
  const radius = feature.surface.radius ?? 1;
  const magnification = traceMagnification(radius, range);
  const perMillimetre = (circle / radius) * magnification;
  const reach = (residual: number): number =>
    circle + perMillimetre * Math.max(-FARTHEST * range, Math.min(FARTHEST * range, residual));
  const at = (angle: number, r: number): readonly [number, number] => [
    cx + r * Math.cos(angle),
    cy - r * Math.sin(angle),
  ];
  const dots: Dot[] = points.map((point) => {
    const [x, y] = at(point.place[0], reach(point.residual));
    return { point, x, y };
  });
  const used = points.filter(({ reason }) => reason === null);
  const extremes =
    used.length === 0 ? [] : [least(used.map((p) => p.residual)), most(used.map((p) => p.residual))];
  const traces = rounds(used, feature.type).map((trace) => {
    const { points: inOrder, closed } = unbroken(trace);
    const places = inOrder.map(({ place, residual }) =>
      at(place[0], reach(residual))
        .map((value) => value.toFixed(1))
        .join(' '),
    );
    return { line: trace[0]?.line, path: `M${places.join('L')}${closed ? 'Z' : ''}` };
  });
  const formRadii = extremes.map((residual) => Math.max(1, reach(residual)));
  return { room, cx, cy, circle, magnification, at, dots, formRadii, traces };
}

/** Amplified residuals about the circle of the substitute feature; 0° is along u, seen against the axis. */
export function RoundTrace(props: ResidualChartProps) {
  const { feature, points, range, units, dark, chosen, onChoose, width, height } = props;
  // Choosing another point must not place them all anew.
  const { room, cx, cy, circle, magnification, at, dots, formRadii, traces } = useMemo(
    () => drawn(feature, points, range, width, height),
    [feature, points, range, width, height],
  );
  return (
    <>
      {Array.from({ length: 12 }, (_, i) => {
        const angle = (i * Math.PI) / 6;
        const [x1, y1] = at(angle, circle * 0.35);
        const [x2, y2] = at(angle, room);
        const [tx, ty] = at(angle, room + 13);
        return (
          <g key={angle}>
            <path className="grid" d={`M${x1} ${y1}L${x2} ${y2}`} />
            <text className="faint" x={tx} y={ty + 4} textAnchor="middle">
              {i * 30}°
            </text>
          </g>
        );
      })}
      {formRadii.map((r) => (
        <circle key={r} className="form-edge" cx={cx} cy={cy} r={r} />
      ))}
      <circle className="least-squares" cx={cx} cy={cy} r={circle} />
      {traces.map(({ line, path }) => (
        <path key={line} className="trace" d={path} />
      ))}
      <text className="trace-form" x={16} y={22}>
        {feature.form === null ? '' : formatWithUnit(feature.form, 'size', units)}
      </text>
      <text className="trace-note" x={16} y={40}>
        residuals ×{formatCount(magnification)}
      </text>
      {feature.surface.radius !== null && (
        <text className="trace-note" x={16} y={56}>
          radius {formatWithUnit(feature.surface.radius, 'size', units)}
        </text>
      )}
      <Dots dots={dots} range={range} dark={dark} chosen={chosen} />
      <Pick dots={dots} width={width} height={height} onChoose={onChoose} />
    </>
  );
}

/** Where points are farther apart than this, the trace says nothing of what lies between. */
const OPEN_FROM = Math.PI / 3;

/** The round begun behind its widest gap; closed where that gap is none to speak of. */
function unbroken(trace: readonly PointView[]): {
  readonly points: readonly PointView[];
  readonly closed: boolean;
} {
  const gaps = trace.map(({ place }, i) => {
    const next = trace[i + 1]?.place[0] ?? (trace[0]?.place[0] ?? 0) + 2 * Math.PI;
    return next - place[0];
  });
  const widest = most(gaps);
  const start = gaps.indexOf(widest) + 1;
  return { points: [...trace.slice(start), ...trace.slice(0, start)], closed: widest < OPEN_FROM };
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b));
