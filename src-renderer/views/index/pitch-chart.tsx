import { Hit } from '../../chart/hit.tsx';
import { scaleOf } from '../../chart/scale.ts';
import { LevelLines } from '../../chart/scale-lines.tsx';
import { formatWithUnit, toDisplay, unitWord } from '../../format/format.ts';
import type { IndexChartProps } from './index-ring.tsx';

/** Single pitch deviations as bars, each from its station to the next, and their running sum as a line. */
export function PitchChart(props: Omit<IndexChartProps, 'harmonics' | 'outliers' | 'marked'>) {
  const { index, units, selected, onSelect, width, height } = props;
  const { stations } = index;
  const [left, right, top, bottom] = [58, width - 26, 28, height - 40];
  const values = stations.flatMap((entry) => [entry.singlePitch ?? 0, entry.cumulativePitch ?? 0]);
  const show = (value: number): number => toDisplay(value, 'length', units);
  const y = scaleOf(
    show(1.12 * Math.min(0, ...values)),
    show(1.12 * Math.max(1e-9, ...values)),
    bottom,
    top,
    6,
  );
  const pitch = (right - left) / Math.max(1, stations.length);
  const every = Math.ceil(20 / pitch);
  const place = (value: number): number => y.at(show(value));
  const chosen = stations.findIndex((entry) => entry.station === selected);
  const line = stations.flatMap((entry, i) =>
    entry.cumulativePitch === null ? [] : [`${left + (i + 0.5) * pitch} ${place(entry.cumulativePitch)}`],
  );
  return (
    <>
      <text className="faint" x={left} y={15}>
        pitch deviation at the seat radius, {unitWord('length', units)}
      </text>
      <LevelLines scale={y} left={left} right={right} />
      {chosen >= 0 && (
        <rect
          className="chosen-ground"
          x={left + chosen * pitch}
          y={top}
          width={pitch}
          height={bottom - top + 20}
          rx={4}
        />
      )}
      {stations.map((entry, i) => {
        const x = left + (i + 0.5) * pitch;
        const single = entry.singlePitch;
        return (
          <g key={entry.station} data-station={entry.station}>
            {single !== null && (
              <rect
                className="bar"
                x={x + pitch * 0.24}
                y={Math.min(place(0), place(single))}
                width={pitch * 0.52}
                height={Math.abs(place(single) - place(0))}
              />
            )}
            {i % every === 0 && (
              <text className="station-number" x={x} y={bottom + 16} textAnchor="middle">
                {entry.station}
              </text>
            )}
          </g>
        );
      })}
      {line.length > 0 && <path className="pitch-sum" d={`M${line.join('L')}`} />}
      {stations.map((entry, i) =>
        entry.cumulativePitch === null ? null : (
          <rect
            key={entry.station}
            className="pitch-mark"
            x={left + (i + 0.5) * pitch - 3.5}
            y={place(entry.cumulativePitch) - 3.5}
            width={7}
            height={7}
          />
        ),
      )}
      {stations.map((entry, i) => (
        <Hit
          key={entry.station}
          x={left + i * pitch}
          y={top}
          width={pitch}
          height={bottom - top + 20}
          title={`Station ${entry.station}: to the next ${formatPitch(entry.singlePitch)}, sum ${formatPitch(entry.cumulativePitch)}`}
          onClick={() => onSelect(entry.station)}
        />
      ))}
      <text className="faint" x={(left + right) / 2} y={height - 6} textAnchor="middle">
        station
      </text>
    </>
  );

  function formatPitch(value: number | null): string {
    return value === null ? 'not known' : formatWithUnit(value, 'length', units);
  }
}
