import type { StationResult, Verdict } from '../../../shared-math/result.ts';
import {
  formatExpanded,
  formatJudged,
  formatLimit,
  formatProbability,
  type Units,
  unitSymbol,
} from '../../format/format.ts';
import {
  bladeErrors,
  discErrors,
  expandedOf,
  limitOf,
  probabilityOf,
  type QuantityName,
  quantityOf,
  quantityValue,
  verdictOf,
} from '../../format/quantities.ts';
import { errorScale } from './error-scale.ts';

interface ErrorBarsProps {
  readonly station: StationResult;
  readonly frame: 'blade' | 'disc';
  readonly units: Units;
  /** Probability that the decision rule asks for. */
  readonly needed: number | null;
  readonly quantity: QuantityName;
  readonly onQuantity: (name: QuantityName) => void;
}

/** Bars end at this many limits; longer ones are cut and say so with an open end. */
const reach = 1.6;

export function ErrorBars({ station, frame, units, needed, quantity, onQuantity }: ErrorBarsProps) {
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
            needed={needed}
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
  /** Probability that the decision rule asks for. */
  readonly needed: number | null;
  readonly shown: boolean;
  readonly onPick: (name: QuantityName) => void;
}

function ErrorBar({ station, name, units, needed, shown, onPick }: ErrorBarProps) {
  const { kind, title, label } = quantityOf(name);
  const value = quantityValue(station, name);
  const scale = errorScale(station, name);
  const expanded = expandedOf(station, name);
  const probability = probabilityOf(station, name);
  const verdict = verdictOf(station, name) ?? 'conforming';
  const limit = limitOf(station, name);
  const symbol = unitSymbol(kind, units);
  return (
    <tr className={verdict}>
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
          <Bar
            share={value / scale.size}
            doubt={expanded === null ? null : expanded / scale.size}
            verdict={verdict}
            budget={scale.against === 'budget'}
          />
        )}
      </td>
      <td className="value">
        {value === null ? 'not observed' : formatJudged(value, kind, units, limit)}
        {value !== null && expanded !== null && <small> {formatExpanded(expanded, kind, units)}</small>}
        <i>{value === null ? '' : symbol}</i>
      </td>
      <td
        className="against"
        title={probability === null ? undefined : `P(conform) ${formatProbability(probability, needed)} %`}
      >
        {scale === null
          ? 'no limit'
          : `${scale.against === 'budget' ? 'budget ' : '±'}${formatLimit(scale.size, kind, units, limit === null ? [] : [value])}`}
      </td>
    </tr>
  );
}

interface BarProps {
  /** The value and its U, as shares of what the bar is drawn against. */
  readonly share: number;
  readonly doubt: number | null;
  readonly verdict: Verdict;
  readonly budget: boolean;
}

function Bar({ share, doubt, verdict, budget }: BarProps) {
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
        className={`fill ${verdict}`}
      />
      {cut && <path d={`M${sign * 94} -9 l${sign * 3} 18`} className="cut" />}
      {doubt !== null && <path d={whiskerPath(share, doubt, at)} className="whisker" />}
      <path d="M0 -9 V9" className="zero" />
      <path d={`M${at(-1)} -9 V9 M${at(1)} -9 V9`} className={budget ? 'limit budget' : 'limit'} />
    </svg>
  );
}

/** From value − U to value + U, with strokes at the ends that lie on the scale. */
function whiskerPath(share: number, doubt: number, at: (value: number) => number): string {
  const ends = [share - doubt, share + doubt];
  const [from = 0, to = 0] = ends.map((end) => at(Math.max(-reach, Math.min(reach, end))));
  const strokes = ends.filter((end) => Math.abs(end) < reach).map((end) => `M${at(end)} -3.5 V3.5`);
  return [`M${from} 0 H${to}`, ...strokes].join(' ');
}
