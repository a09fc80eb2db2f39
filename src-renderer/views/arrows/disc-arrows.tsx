import { Hit } from '../../chart/hit.tsx';
import { formatWithUnit, type Units } from '../../format/format.ts';
import { isChosen } from '../../state/selection.ts';
import { ArrowMark } from './arrow-mark.tsx';
import { type BladeArrows, discRadius } from './arrows.ts';
import { ScaleBar } from './scale-bar.tsx';

export interface ArrowsProps {
  readonly blades: readonly BladeArrows[];
  readonly magnification: number;
  /** Radius of the hub's bore, mm; null: not known. */
  readonly bore: number | null;
  readonly units: Units;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly width: number;
  readonly height: number;
}

/** The disc seen from +Z, with X to the right and Y upwards. */
export function DiscArrows(props: ArrowsProps) {
  const { blades, magnification, bore, units, selected, marked, onSelect, width, height } = props;
  const radius = discRadius(blades);
  const scale = (Math.min(width, height) / 2 - 44) / (1.1 * radius);
  const [cx, cy] = [width / 2, height / 2];
  const at = ([x, y]: readonly number[]): [number, number] => [cx + scale * (x ?? 0), cy - scale * (y ?? 0)];
  const seats = blades.map(({ origin: [x, y] }) => Math.hypot(x, y));
  const seat = seats.length === 0 ? 0.6 * radius : Math.min(...seats);
  return (
    <>
      <circle className="rim" cx={cx} cy={cy} r={scale * seat} />
      {bore !== null && <circle className="bore" cx={cx} cy={cy} r={scale * bore} />}
      <path className="cross" d={`M${cx - 9} ${cy}h18M${cx} ${cy - 9}v18`} />
      <path className="axis-x" d={`M${cx} ${cy}H${cx + scale * seat * 0.5}m-5 -3l5 3l-5 3`} />
      <text className="axis-name" x={cx + scale * seat * 0.5 + 4} y={cy - 5}>
        +X
      </text>
      {[...blades]
        .sort(
          (a, b) =>
            Number(isChosen(a.station, selected, marked)) - Number(isChosen(b.station, selected, marked)),
        )
        .map((blade) => (
          <Blade
            key={blade.station}
            {...{ blade, at, magnification, radius }}
            chosen={isChosen(blade.station, selected, marked)}
          />
        ))}
      {blades.map(({ station, origin, arrows }) => {
        const [x, y] = at(arrows.at(-1)?.at ?? origin);
        const worst = Math.max(0, ...arrows.map((arrow) => arrow.position));
        return (
          <Hit
            key={station}
            x={x - 16}
            y={y - 16}
            width={32}
            height={32}
            title={`Station ${station}: position ${formatWithUnit(worst, 'size', units)}`}
            onClick={() => onSelect(station)}
          />
        );
      })}
      <text className="magnification" x={16} y={26}>
        ×{magnification}
      </text>
      <ScaleBar x={16} y={height - 16} pixels={scale * magnification} units={units} />
    </>
  );
}

interface BladeProps {
  readonly blade: BladeArrows;
  readonly at: (point: readonly number[]) => [number, number];
  readonly magnification: number;
  readonly radius: number;
  readonly chosen: boolean;
}

function Blade({ blade, at, magnification, radius, chosen }: BladeProps) {
  const { station, origin, arrows } = blade;
  const places = [origin, ...arrows.map((arrow) => arrow.at)];
  const moved = arrows.map(({ at: place, delta }) =>
    at(place.map((value, i) => value + magnification * (delta[i] ?? 0))),
  );
  const outer = places.reduce((a, b) => (Math.hypot(b[0], b[1]) > Math.hypot(a[0], a[1]) ? b : a));
  const reach = Math.hypot(outer[0], outer[1]) || 1;
  const label = at([outer[0] * (1 + (0.1 * radius) / reach), outer[1] * (1 + (0.1 * radius) / reach)]);
  return (
    <g data-station={station} className={chosen ? 'blade chosen' : 'blade'}>
      <path className="nominal" d={`M${places.map((place) => at(place).join(' ')).join('L')}`} />
      {moved.length > 1 && (
        <path className="moved" d={`M${moved.map((place) => place.join(' ')).join('L')}`} />
      )}
      {arrows.map((arrow, index) => (
        <ArrowMark
          key={arrow.name}
          from={at(arrow.at)}
          to={moved[index] ?? at(arrow.at)}
          outside={arrow.outside}
          chosen={chosen}
        />
      ))}
      <text className="station-number" x={label[0]} y={label[1] + 4} textAnchor="middle">
        {station}
      </text>
    </g>
  );
}
