import type { Component } from '../../../shared-math/diagnosis/findings.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { Hit } from '../../chart/hit.tsx';
import { scaleOf } from '../../chart/scale.ts';
import { LevelLines } from '../../chart/scale-lines.tsx';
import { formatWithUnit, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { worstEffect } from './effects.ts';

interface StationEffectProps {
  readonly disc: ReducedDisc;
  readonly component: Component;
  readonly units: Units;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly width: number;
  readonly height: number;
}

/** What a component does alone, by station. */
export function StationEffect(props: StationEffectProps) {
  const { disc, units, selected, onSelect, width, height } = props;
  const bars = stationEffects(disc, props.component);
  const [left, bottom, top] = [46, height - 20, 18];
  const largest = Math.max(1e-9, ...bars.map((bar) => bar.size));
  const scale = scaleOf(0, toDisplay(largest * 1.05, 'size', units), bottom, top, 4);
  const pitch = (width - left - 12) / Math.max(1, bars.length);
  const every = Math.ceil(18 / pitch);
  return (
    <>
      <text className="faint" x={left} y={11}>
        2·|δ| caused alone, {unitWord('size', units)}
      </text>
      <LevelLines scale={scale} left={left} right={width - 12} />
      {bars.map((bar, index) => {
        const x = left + index * pitch;
        const y = scale.at(toDisplay(bar.size, 'size', units));
        return (
          <g key={bar.station} data-station={bar.station}>
            {bar.station === selected && (
              <rect className="chosen-ground" x={x} y={top} width={pitch} height={height - top} rx={3} />
            )}
            <rect
              className="effect-bar"
              x={x + pitch * 0.18}
              y={y}
              width={pitch * 0.64}
              height={bottom - y}
            />
            {index % every === 0 && (
              <text className="faint" x={x + pitch / 2} y={height - 6} textAnchor="middle">
                {bar.station}
              </text>
            )}
            <Hit
              x={x}
              y={top}
              width={pitch}
              height={height - top}
              title={`Station ${bar.station}: ${formatWithUnit(bar.size, 'size', units)} at ${bar.at}, of position ${formatWithUnit(bar.position, 'size', units)}`}
              onClick={() => onSelect(bar.station)}
            />
          </g>
        );
      })}
      <path className="axis" d={`M${left} ${bottom}H${width - 12}`} />
    </>
  );
}

export interface StationBar {
  readonly station: number;
  /** 2·|δ| at the check point that moves farthest, and the position there; mm. */
  readonly size: number;
  readonly position: number;
  readonly at: string;
}

export function stationEffects(disc: ReducedDisc, component: Component): readonly StationBar[] {
  const byNumber = new Map(disc.result.stations.map((station) => [station.station, station]));
  return component.stations.flatMap(({ station, error }) => {
    const result = byNumber.get(station);
    const worst = result === undefined ? null : worstEffect(error, result);
    return worst === null ? [] : [{ station, size: worst.size, position: worst.position, at: worst.name }];
  });
}
