import type { StationResult } from '../../../shared-math/result.ts';
import { formatLimit, formatValue, type Units, unitSymbol } from '../../format/format.ts';
import {
  bladeErrors,
  discErrors,
  isOverLimit,
  type QuantityName,
  quantityOf,
  quantityValue,
} from '../../format/quantities.ts';
import { errorScale } from './error-scale.ts';

interface ErrorBarsProps {
  readonly station: StationResult;
  readonly frame: 'blade' | 'disc';
  readonly units: Units;
  readonly quantity: QuantityName;
  readonly onQuantity: (name: QuantityName) => void;
}

/** Bars end at this many limits; longer ones are cut and say so with an open end. */
const reach = 1.6;

export function ErrorBars({ station, frame, units, quantity, onQuantity }: ErrorBarsProps) {
  const names: readonly QuantityName[] = frame === 'blade' ? bladeErrors : discErrors;
  return (
    <table className="error-bars">
      <caption className="unseen">Six errors of station {station.station}</caption>
      <tbody>
        {names.map((name) => (
          <ErrorBar
            key={name}
            station={station}
            name={name}
            units={units}
            shown={name === quantity}
            onPick={onQuantity}
          />
        ))}
      </tbody>
    </table>
  );
}

interface ErrorBarProps {
  readonly station: StationResult;
  readonly name: QuantityName;
  readonly units: Units;
  readonly shown: boolean;
  readonly onPick: (name: QuantityName) => void;
}

function ErrorBar({ station, name, units, shown, onPick }: ErrorBarProps) {
  const { kind, title, label } = quantityOf(name);
  const value = quantityValue(station, name);
  const scale = errorScale(station, name);
  const over = isOverLimit(station, name);
  const symbol = unitSymbol(kind, units);
  return (
    <tr className={over ? 'over' : undefined}>
      <th scope="row">
        <button
          type="button"
          className="link"
          aria-pressed={shown}
          title={`Show ${title} on the map`}
          onClick={() => onPick(name)}
        >
          {label}
        </button>
      </th>
      <td className="track">
        {value !== null && scale !== null && (
          <Bar share={value / scale.size} over={over} budget={scale.against === 'budget'} />
        )}
      </td>
      <td className="value">
        {value === null ? 'not observed' : formatValue(value, kind, units)}
        <i>{value === null ? '' : symbol}</i>
      </td>
      <td className="against">
        {scale === null
          ? 'no limit'
          : `${scale.against === 'budget' ? 'budget ' : '±'}${formatLimit(scale.size, kind, units)}`}
      </td>
    </tr>
  );
}

function Bar({
  share,
  over,
  budget,
}: {
  readonly share: number;
  readonly over: boolean;
  readonly budget: boolean;
}) {
  const end = Math.max(-reach, Math.min(reach, share));
  const at = (value: number): number => (value / reach) * 100;
  const cut = Math.abs(share) > reach;
  const sign = Math.sign(end);
  return (
    <svg viewBox="-100 -9 200 18" preserveAspectRatio="none" aria-hidden="true">
      <rect x={at(-1)} y="-8" width={at(2)} height="16" className="within" />
      <rect
        x={Math.min(0, at(end))}
        y="-4.5"
        width={Math.abs(at(end))}
        height="9"
        className={over ? 'fill over' : 'fill'}
      />
      {cut && <path d={`M${sign * 94} -9 l${sign * 3} 18`} className="cut" />}
      <path d="M0 -9 V9" className="zero" />
      <path d={`M${at(-1)} -9 V9 M${at(1)} -9 V9`} className={budget ? 'limit budget' : 'limit'} />
    </svg>
  );
}
