import { useMemo } from 'react';
import { scaleOf, tickText } from '../../chart/scale.ts';
import { countOf, formatValue, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { residualColour } from '../../plot/residual-colours.ts';
import { type PointView, residualBins } from './points.ts';

interface HistogramProps {
  readonly points: readonly PointView[];
  readonly range: number;
  readonly units: Units;
  readonly dark: boolean;
  readonly chosen: number | null;
  readonly width: number;
  readonly height: number;
}

/** How the residuals of the points used are spread. */
export function Histogram({ points, range, units, dark, chosen, width, height }: HistogramProps) {
  const bins = useMemo(() => residualBins(points), [points]);
  const [left, right, top, bottom] = [40, width - 14, 12, height - 34];
  const show = (value: number): number => toDisplay(value, 'length', units);
  const [first, last] = [bins[0], bins.at(-1)];
  if (first === undefined || last === undefined)
    return (
      <text className="faint" x={width / 2} y={height / 2} textAnchor="middle">
        no point is used
      </text>
    );
  const x = scaleOf(show(first.from), show(last.to), left, right, 6);
  const highest = bins.reduce((a, { count }) => Math.max(a, count), 1);
  const y = scaleOf(0, highest * 1.08, bottom, top, 4);
  const mark = points.find(({ line }) => line === chosen);
  return (
    <>
      {y.ticks
        .filter((tick) => Number.isInteger(tick))
        .map((tick) => (
          <g key={tick}>
            <path className="grid" d={`M${left} ${y.at(tick)}H${right}`} />
            <text className="faint" x={left - 6} y={y.at(tick) + 4} textAnchor="end">
              {tickText(tick)}
            </text>
          </g>
        ))}
      {bins.map(({ from, to, count }) => (
        <rect
          key={from}
          className="bin"
          x={x.at(show(from)) + 0.5}
          width={Math.max(1, x.at(show(to)) - x.at(show(from)) - 1)}
          y={y.at(count)}
          height={bottom - y.at(count)}
          fill={residualColour((from + to) / 2 / (range || 1), dark)}
        >
          <title>
            {countOf(count, 'point')} from {formatValue(from, 'length', units)} to{' '}
            {formatValue(to, 'length', units)}
          </title>
        </rect>
      ))}
      <path className="axis" d={`M${left} ${bottom}H${right}`} />
      {x.ticks.map((tick) => (
        <text key={tick} className="faint" x={x.at(tick)} y={bottom + 14} textAnchor="middle">
          {tickText(tick)}
        </text>
      ))}
      {mark !== undefined && (
        <path
          className="bin-mark"
          d={`M${Math.max(left, Math.min(right, x.at(show(mark.residual))))} ${bottom - 1}l-5 9h10Z`}
        />
      )}
      <text className="faint" x={(left + right) / 2} y={height - 4} textAnchor="middle">
        residual, {unitWord('length', units)}
      </text>
    </>
  );
}
