import { Hit } from '../../chart/hit.tsx';
import { ticksBetween, tickText } from '../../chart/scale.ts';
import { formatWithUnit, standingText, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { type BenchRow, notMeasured } from './rows.ts';

interface WhatIfMapProps {
  readonly rows: readonly BenchRow[];
  readonly conforming: number;
  /** Stations of the plan, whether measured or not. */
  readonly planned: number;
  readonly tolerance: number;
  readonly plannedTolerance: number;
  readonly tried: boolean;
  readonly units: Units;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly width: number;
  readonly height: number;
}

const turn = Math.PI / 180;

/** Positions around the disc: filled as tried, with a stroke where they were measured. */
export function WhatIfMap(props: WhatIfMapProps) {
  const { rows, tolerance, plannedTolerance, units, selected, onSelect, width, height } = props;
  const [cx, cy] = [width / 2, height / 2];
  const rim = Math.min(width, height) / 2 - 30;
  const hub = 0.36 * rim;
  // The same for every state, so that what moves on the map is the blades.
  const end = 1.9 * plannedTolerance;
  const radius = (value: number): number => hub + Math.min(1, value / end) * (rim - hub);
  const at = (angle: number, r: number): string =>
    `${(cx + r * Math.cos(angle * turn)).toFixed(2)} ${(cy - r * Math.sin(angle * turn)).toFixed(2)}`;
  const half = Math.min(9, (0.5 * 360) / Math.max(1, rows.length)) * 0.62;
  const sector = (angle: number, from: number, to: number, width: number): string =>
    `M${at(angle - width, from)}L${at(angle - width, to)}A${to} ${to} 0 0 0 ${at(angle + width, to)}L${at(angle + width, from)}A${from} ${from} 0 0 1 ${at(angle - width, from)}Z`;
  const shownEnd = toDisplay(end, 'size', units);
  return (
    <>
      <circle className="dial-ground" cx={cx} cy={cy} r={rim} />
      {ticksBetween(0, shownEnd, 4).map((tick) => (
        <circle key={tick} className="grid" cx={cx} cy={cy} r={hub + (tick / shownEnd) * (rim - hub)} />
      ))}
      {rows.map(({ station, angle, measured, tried }) => {
        const before = measured.position.value;
        const value = tried?.position.value ?? null;
        const standing = tried?.position.verdict ?? 'missing';
        const [tx, ty] = at(angle, rim + 15).split(' ');
        const [mx, my] = at(angle, radius(value ?? 0))
          .split(' ')
          .map(Number) as [number, number];
        return (
          <g key={station} data-station={station} className={`tried ${standing}`}>
            {station === selected && (
              <path className="chosen-ground" d={sector(angle, hub, rim, half * 1.5)} />
            )}
            {value !== null && <path className="wedge" d={sector(angle, hub, radius(value), half * 0.62)} />}
            {before !== null && (
              <path
                className="was"
                d={`M${at(angle - half, radius(before))}A${radius(before)} ${radius(before)} 0 0 0 ${at(angle + half, radius(before))}`}
              />
            )}
            {value !== null && <TriedMark x={mx} y={my} standing={standing} chosen={station === selected} />}
            {tried === null && <path className="left-out" d={`M${at(angle, hub)}L${at(angle, rim)}`} />}
            <text className="station-number" x={tx} y={Number(ty) + 4} textAnchor="middle">
              {station}
            </text>
          </g>
        );
      })}
      <circle className="tolerance" cx={cx} cy={cy} r={radius(tolerance)} />
      {tolerance !== plannedTolerance && (
        <circle className="planned" cx={cx} cy={cy} r={radius(plannedTolerance)} />
      )}
      {ticksBetween(0, shownEnd, 4)
        .filter((tick) => tick > 0)
        .map((tick) => (
          <text
            key={tick}
            className="ring-figure"
            x={cx}
            y={cy + hub + (tick / shownEnd) * (rim - hub) + 4}
            textAnchor="middle"
          >
            {tickText(tick)}
          </text>
        ))}
      <circle className="hub-ground" cx={cx} cy={cy} r={hub - 1} />
      <text className="hub-figure" x={cx} y={cy + 1} textAnchor="middle">
        {props.conforming} of {props.planned}
      </text>
      <text className="faint" x={cx} y={cy + 19} textAnchor="middle">
        conform
      </text>
      <text className="faint" x={14} y={height - 8}>
        position in {unitWord('size', units)}
      </text>
      {props.tried && (
        <text className="stamp" x={width - 14} y={height - 8} textAnchor="end">
          {notMeasured.toUpperCase()}
        </text>
      )}
      {rows.map(({ station, angle, measured, tried, absent }) => {
        const [x, y] = at(angle, rim - 8)
          .split(' ')
          .map(Number) as [number, number];
        return (
          <Hit
            key={station}
            x={x - 20}
            y={y - 20}
            width={40}
            height={40}
            title={`Station ${station}: measured ${position(measured.position.value, units)}, ${
              tried === null
                ? absent
                : `what if ${position(tried.position.value, units)}, ${standingText[tried.verdict]}`
            }`}
            onClick={() => onSelect(station)}
          />
        );
      })}
    </>
  );
}

function position(value: number | null, units: Units): string {
  return value === null ? 'not known' : formatWithUnit(value, 'size', units);
}

function TriedMark(props: {
  readonly x: number;
  readonly y: number;
  readonly standing: string;
  readonly chosen: boolean;
}) {
  const { x, y, standing, chosen } = props;
  const s = chosen ? 6.5 : 4.6;
  if (standing === 'conforming') return <circle className="tried-mark" cx={x} cy={y} r={s} />;
  if (standing === 'nonconforming')
    return (
      <path
        className="tried-mark"
        d={`M${x} ${y - s - 2}l${s + 2} ${s + 2}l${-s - 2} ${s + 2}l${-s - 2} ${-s - 2}Z`}
      />
    );
  return (
    <>
      <rect className="tried-mark open" x={x - s} y={y - s} width={2 * s} height={2 * s} />
      <circle className="tried-dot" cx={x} cy={y} r={1.8} />
    </>
  );
}
