import type { Harmonic } from '../../../shared-math/diagnosis/findings.ts';
import { scaleOf } from '../../chart/scale.ts';
import { LevelLines } from '../../chart/scale-lines.tsx';
import { formatWithUnit, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { channelKind } from './channels.ts';

interface HarmonicsChartProps {
  readonly harmonics: readonly Harmonic[];
  readonly units: Units;
  readonly width: number;
  readonly height: number;
}

/** Amplitudes of one channel by order, over the floor that scatter alone reaches. */
export function HarmonicsChart({ harmonics, units, width, height }: HarmonicsChartProps) {
  const [first] = harmonics;
  if (first === undefined) return null;
  const kind = channelKind(first.channel);
  const show = (value: number): number => toDisplay(value, kind, units);
  const [left, right, top, bottom] = [54, width - 16, 24, height - 36];
  const largest = Math.max(...harmonics.flatMap(({ amplitude, floor }) => [amplitude.high, floor]));
  const scale = scaleOf(0, show(1.08 * largest), bottom, top, 5);
  const pitch = (right - left) / harmonics.length;
  const place = (value: number): number => scale.at(show(Math.max(0, value)));
  return (
    <>
      <text className="faint" x={left} y={13}>
        amplitude, {unitWord(kind, units)}
      </text>
      <LevelLines scale={scale} left={left} right={right} />
      {harmonics.map((entry, index) => {
        const x = left + (index + 0.5) * pitch;
        const half = Math.min(22, pitch * 0.3);
        const { amplitude, floor, order, significant } = entry;
        return (
          <g key={order} className={`harmonic ${significant ? 'cause' : 'noise'}`}>
            <rect
              className="floor"
              x={left + index * pitch}
              y={place(floor)}
              width={pitch}
              height={bottom - place(floor)}
            />
            <rect
              className="bar"
              x={x - half}
              y={place(amplitude.value)}
              width={2 * half}
              height={bottom - place(amplitude.value)}
            />
            <path
              className="whisker"
              d={`M${x} ${place(amplitude.low)}V${place(amplitude.high)}m-4 0h8M${x - 4} ${place(amplitude.low)}h8`}
            />
            <path className="floor-edge" d={`M${left + index * pitch} ${place(floor)}h${pitch}`} />
            <text x={x} y={bottom + 15} textAnchor="middle" className={significant ? 'order' : 'faint'}>
              {order}
            </text>
            <title>
              {`Order ${order}: ${formatWithUnit(amplitude.value, kind, units)}, floor ${formatWithUnit(floor, kind, units)}${
                entry.aliases.length > 0 ? `, cannot be told from order ${entry.aliases.join(', ')}` : ''
              }`}
            </title>
          </g>
        );
      })}
      <path className="axis" d={`M${left} ${bottom}H${right}`} />
      <text className="faint" x={(left + right) / 2} y={height - 5} textAnchor="middle">
        order: waves around the disc
      </text>
    </>
  );
}
