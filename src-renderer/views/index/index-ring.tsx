import type { Harmonic, IndexFinding } from '../../../shared-math/diagnosis/findings.ts';
import { Hit } from '../../chart/hit.tsx';
import { ticksBetween, tickText } from '../../chart/scale.ts';
import { formatWithUnit, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { isChosen } from '../../state/selection.ts';
import { harmonicAt } from './channels.ts';

export interface IndexChartProps {
  readonly index: IndexFinding;
  readonly harmonics: readonly Harmonic[];
  /** Outlying stations: they stand at the edge of the scale where they are beyond it. */
  readonly outliers: readonly number[];
  readonly units: Units;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly width: number;
  readonly height: number;
}

const turn = Math.PI / 180;

/** Half the range of the deviations with their intervals, rad; outlying stations would press the others flat. */
export function deviationReach({ stations }: IndexFinding, outliers: readonly number[]): number {
  return Math.max(
    1e-9,
    ...stations
      .filter(({ station }) => !outliers.includes(station))
      .flatMap(({ deviation }) => [Math.abs(deviation.low), Math.abs(deviation.high)]),
  );
}

/** Deviations around the disc, seen from +Z: outwards is ahead, counterclockwise. */
export function IndexRing(props: IndexChartProps) {
  const { index, harmonics, outliers, units, selected, marked, onSelect, width, height } = props;
  const [cx, cy] = [width / 2, height / 2 + 4];
  const rim = Math.min(width, height) / 2 - 30;
  const zero = 0.66 * rim;
  const reach = 1.1 * deviationReach(index, outliers);
  const radius = (value: number): number => zero + Math.max(-1, Math.min(1, value / reach)) * (rim - zero);
  const shownReach = toDisplay(reach, 'rotation', units);
  const at = (angle: number, r: number): [number, number] => [
    cx + r * Math.cos(angle * turn),
    cy - r * Math.sin(angle * turn),
  ];
  const line = (angle: number, from: number, to: number): string =>
    `M${at(angle, from).join(' ')}L${at(angle, to).join(' ')}`;
  const curve = Array.from({ length: 181 }, (_, i) =>
    at(2 * i, radius(harmonicAt(harmonics, 'index', 2 * i * turn))).join(' '),
  );
  const rings = ticksBetween(-shownReach, shownReach, 5)
    .filter((tick) => tick !== 0)
    .map((tick) => ({ tick, r: zero + (tick / shownReach) * (rim - zero) }));
  const chosen = index.stations.find((entry) => entry.station === selected);
  const pitch = 360 / Math.max(1, index.stations.length);
  return (
    <>
      <circle className="dial-ground" cx={cx} cy={cy} r={rim} />
      {chosen !== undefined && (
        <path className="chosen-ground" d={wedge(at, chosen.angle, 0.45 * pitch, zero * 0.4, rim)} />
      )}
      {rings.map(({ tick, r }) => (
        <circle key={tick} className="grid" cx={cx} cy={cy} r={r} />
      ))}
      <circle className="zero" cx={cx} cy={cy} r={zero} />
      {rings.map(({ tick, r }) => (
        <text key={tick} className="ring-figure" x={cx} y={cy + r + 4} textAnchor="middle">
          {tick > 0 ? '+' : ''}
          {tickText(tick)}
        </text>
      ))}
      {harmonics.some((entry) => entry.channel === 'index' && entry.significant) && (
        <path className="harmonic-curve" d={`M${curve.join('L')}`} />
      )}
      {index.stations.map((entry) => {
        const { deviation, angle, station } = entry;
        const [x, y] = at(angle, radius(deviation.value));
        const [tx, ty] = at(angle, rim + 14);
        return (
          <g key={station} data-station={station}>
            <path className="stem" d={line(angle, zero, radius(deviation.value))} />
            <path className="whisker" d={line(angle, radius(deviation.low), radius(deviation.high))} />
            <DeviationMark
              x={x}
              y={y}
              chosen={isChosen(station, selected, marked)}
              outlying={outliers.includes(station)}
            />
            <text className="station-number" x={tx} y={ty + 4} textAnchor="middle">
              {station}
            </text>
            <Hit
              x={x - 11}
              y={y - 11}
              width={22}
              height={22}
              title={deviationTitle(station, deviation.value, units)}
              onClick={() => onSelect(station)}
            />
          </g>
        );
      })}
      {chosen !== undefined && (
        <>
          <text className="faint" x={cx} y={cy - 16} textAnchor="middle">
            Station {chosen.station}
          </text>
          <text className="hub-figure" x={cx} y={cy + 6} textAnchor="middle">
            {formatWithUnit(chosen.deviation.value, 'rotation', units)}
          </text>
          <text className="faint" x={cx} y={cy + 23} textAnchor="middle">
            {formatWithUnit(chosen.arc, 'length', units)} of arc
          </text>
        </>
      )}
      <text className="faint" x={14} y={height - 8}>
        in {unitWord('rotation', units)}, outwards: ahead (counterclockwise)
      </text>
    </>
  );
}

interface DeviationMarkProps {
  readonly x: number;
  readonly y: number;
  readonly chosen: boolean;
  readonly outlying: boolean;
}

export function DeviationMark({ x, y, chosen, outlying }: DeviationMarkProps) {
  const size = chosen ? 6 : 4.2;
  if (!outlying) return <circle className={chosen ? 'dot chosen' : 'dot'} cx={x} cy={y} r={size} />;
  const s = size + 1.5;
  return <path className="outlying" d={`M${x} ${y - s}l${s} ${s}l${-s} ${s}l${-s} ${-s}Z`} />;
}

export function deviationTitle(station: number, value: number, units: Units): string {
  return `Station ${station}: ${formatWithUnit(value, 'rotation', units)}`;
}

function wedge(
  at: (angle: number, r: number) => [number, number],
  angle: number,
  half: number,
  from: number,
  to: number,
): string {
  const [a, b] = [at(angle - half, from), at(angle - half, to)];
  const [c, d] = [at(angle + half, to), at(angle + half, from)];
  return `M${a.join(' ')}L${b.join(' ')}A${to} ${to} 0 0 0 ${c.join(' ')}L${d.join(' ')}A${from} ${from} 0 0 1 ${a.join(' ')}Z`;
}
