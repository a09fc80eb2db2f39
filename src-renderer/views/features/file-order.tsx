import { useMemo } from 'react';
import { scaleOf, tickText } from '../../chart/scale.ts';
import { toDisplay, type Units, unitWord } from '../../format/format.ts';
import { type Dot, Dots, Pick } from './dots.tsx';
import type { PointView } from './points.ts';
import { type ResidualChartProps, spread } from './residual-map.tsx';

/** Residuals of points left out are drawn at most this far, as a multiple of the largest one used. */
const FARTHEST = 3;

/** Axes and points, in pixels. */
function placed(points: readonly PointView[], range: number, units: Units, width: number, height: number) {
  const [left, right, top, bottom] = [58, width - 14, 10, height - 34];
  const widest = points.reduce((most, { residual }) => Math.max(most, Math.abs(residual)), 0);
  const end = Math.min(widest, FARTHEST * range) * 1.1 || 1e-6;
  const show = (value: number): number => toDisplay(value, 'length', units);
  const unsigned = points.every(({ residual }) => residual >= 0);
  const x = spread(
    points.map(({ line }) => line),
    left,
    right,
    7,
  );
  const y = scaleOf(unsigned ? 0 : show(-end), show(end), bottom, top, 5);
  const kept = (value: number): number => Math.max(-end, Math.min(end, value));
  const dots: Dot[] = points.map((point) => ({
    point,
    x: x.at(point.line),
    y: y.at(show(kept(point.residual))),
  }));
  return { left, right, top, bottom, x, y, dots };
}

/** Residuals in the order in which the points stand in the file: drifts and steps of the machine show here. */
export function FileOrder(props: ResidualChartProps) {
  const { points, range, units, dark, chosen, onChoose, width, height } = props;
  // Choosing another point must not place them all anew.
  const { left, right, top, bottom, x, y, dots } = useMemo(
    () => placed(points, range, units, width, height),
    [points, range, units, width, height],
  );
  return (
    <>
      {y.ticks.map((tick) => (
        <g key={tick}>
          <path className={tick === 0 ? 'zero' : 'grid'} d={`M${left} ${y.at(tick)}H${right}`} />
          <text className="faint" x={left - 6} y={y.at(tick) + 4} textAnchor="end">
            {tickText(tick)}
          </text>
        </g>
      ))}
      <path className="axis" d={`M${left} ${bottom}H${right}`} />
      {x.ticks
        .filter((tick) => Number.isInteger(tick) && tick > 0)
        .map((tick) => (
          <text key={tick} className="faint" x={x.at(tick)} y={bottom + 14} textAnchor="middle">
            {tick}
          </text>
        ))}
      <text className="faint" x={(left + right) / 2} y={height - 4} textAnchor="middle">
        line of the file
      </text>
      <text
        className="faint"
        transform={`translate(12 ${(top + bottom) / 2}) rotate(-90)`}
        textAnchor="middle"
      >
        {unitWord('length', units)}
      </text>
      <Dots dots={dots} range={range} dark={dark} chosen={chosen} />
      <Pick dots={dots} width={width} height={height} onChoose={onChoose} />
    </>
  );
}
