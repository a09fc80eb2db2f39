import { Hit } from '../../chart/hit.tsx';
import { scaleOf } from '../../chart/scale.ts';
import { LevelLines } from '../../chart/scale-lines.tsx';
import { toDisplay, unitWord, withinTurn } from '../../format/format.ts';
import { isChosen } from '../../state/selection.ts';
import { harmonicAt } from './channels.ts';
import { DeviationMark, deviationReach, deviationTitle, type IndexChartProps } from './index-ring.tsx';

/** Deviations by planned angle, with the significant harmonics as a curve. */
export function IndexUnrolled(props: IndexChartProps) {
  const { index, harmonics, outliers, units, selected, marked, onSelect, width, height } = props;
  const [left, right, top, bottom] = [58, width - 18, 28, height - 40];
  const reach = toDisplay(1.15 * deviationReach(index, outliers), 'rotation', units);
  const y = scaleOf(-reach, reach, bottom, top, 6);
  const x = scaleOf(0, 360, left, right, 8);
  const place = (value: number): number =>
    Math.max(top + 7, Math.min(bottom - 7, y.at(toDisplay(value, 'rotation', units))));
  const curve = Array.from(
    { length: 181 },
    (_, i) => `${x.at(2 * i)} ${place(harmonicAt(harmonics, 'index', (2 * i * Math.PI) / 180))}`,
  );
  return (
    <>
      <text className="faint" x={left} y={15}>
        index deviation, {unitWord('rotation', units)}
      </text>
      <LevelLines scale={y} left={left} right={right} />
      {[0, 45, 90, 135, 180, 225, 270, 315, 360].map((angle) => (
        <text key={angle} className="faint" x={x.at(angle)} y={bottom + 16} textAnchor="middle">
          {angle}°
        </text>
      ))}
      <text className="faint" x={(left + right) / 2} y={height - 7} textAnchor="middle">
        planned angle
      </text>
      {harmonics.some((entry) => entry.channel === 'index' && entry.significant) && (
        <path className="harmonic-curve" d={`M${curve.join('L')}`} />
      )}
      {index.stations.map(({ station, angle, deviation }) => {
        const px = x.at(withinTurn(angle));
        return (
          <g key={station} data-station={station}>
            {station === selected && (
              <rect className="chosen-ground" x={px - 9} y={top} width={18} height={bottom - top} rx={4} />
            )}
            <path
              className="whisker"
              d={`M${px} ${place(deviation.low)}V${place(deviation.high)}m-3 0h6M${px - 3} ${place(deviation.low)}h6`}
            />
            <DeviationMark
              x={px}
              y={place(deviation.value)}
              chosen={isChosen(station, selected, marked)}
              outlying={outliers.includes(station)}
            />
            <text
              className="station-number"
              x={px}
              y={
                place(deviation.value >= 0 ? deviation.high : deviation.low) +
                (deviation.value >= 0 ? -7 : 16)
              }
              textAnchor="middle"
            >
              {station}
            </text>
            <Hit
              x={px - 9}
              y={top}
              width={18}
              height={bottom - top}
              title={deviationTitle(station, deviation.value, units)}
              onClick={() => onSelect(station)}
            />
          </g>
        );
      })}
    </>
  );
}
