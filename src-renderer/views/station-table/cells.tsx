import type { MouseEvent } from 'react';
import {
  formatAngle,
  formatJudged,
  formatProbability,
  formatQuantity,
  formatValue,
  type Units,
} from '../../format/format.ts';
import {
  expandedOf,
  limitOf,
  probabilityOf,
  type QuantityName,
  quantityOf,
  quantityValue,
  verdictOf,
} from '../../format/quantities.ts';
import type { StationView } from '../../format/station-view.ts';
import { StandingText, VerdictMark } from '../../parts/verdict-mark.tsx';
import type { ColumnName, Sort, TableRow } from './rows.ts';

interface HeadCellProps {
  readonly column: ColumnName;
  readonly text: string;
  readonly spoken: string;
  /** Explains more than the name does. */
  readonly hint?: string;
  readonly sort: Sort;
  readonly shown?: boolean;
  readonly onSort: (column: ColumnName) => void;
}

/** A column's head: its name is the button that sorts by it. */
export function HeadCell({ column, text, spoken, hint, sort, shown = false, onSort }: HeadCellProps) {
  const active = sort.column === column;
  return (
    <th
      scope="col"
      aria-sort={active ? sort.direction : 'none'}
      className={shown ? 'shown' : column === 'verdict' ? 'as-text' : undefined}
    >
      <button
        type="button"
        onClick={() => onSort(column)}
        aria-label={spokenHead(text, spoken)}
        title={hint ?? spoken}
      >
        {text}
        <span className="arrow" aria-hidden="true">
          {active ? (sort.direction === 'ascending' ? '↑' : '↓') : ''}
        </span>
      </button>
    </th>
  );
}

/** Begins with the text as it stands where the spoken name does not hold it, for people who speak to the page. */
function spokenHead(text: string, spoken: string): string {
  const words = spoken.toLowerCase().split(' ');
  return words.includes(text.toLowerCase()) ? `Sort by ${spoken}` : `${text}: sort by ${spoken}`;
}

interface StationRowProps {
  readonly row: TableRow;
  readonly columns: readonly QuantityName[];
  /** Whether there is a column for the position relative to each other. */
  readonly twoLevels: boolean;
  readonly units: Units;
  /** Probability that the decision rule asks for. */
  readonly needed: number | null;
  /** Decimals of the limit at the head of a column. */
  readonly limitDecimals: Readonly<Partial<Record<QuantityName, number>>>;
  readonly selected: boolean;
  /** Whether it is one of several chosen stations; null: none are. */
  readonly marked: boolean | null;
  readonly reachable: boolean;
  readonly onSelect: (station: number) => void;
  readonly onPress: (station: number, event: MouseEvent) => void;
}

/** One station; values that do not conform carry the sign of their verdict as well as its colour. */
export function StationRow({
  row,
  columns,
  twoLevels,
  units,
  needed,
  limitDecimals,
  selected,
  marked,
  reachable,
  onSelect,
  onPress,
}: StationRowProps) {
  const shared = { units, needed, limitDecimals };
  return (
    <tr
      data-station={row.station}
      aria-current={selected}
      aria-selected={marked ?? undefined}
      tabIndex={reachable ? 0 : -1}
      onClick={(event) => onPress(row.station, event)}
      onFocus={() => onSelect(row.station)}
    >
      <th scope="row">{row.station}</th>
      <td className="number">{formatAngle(row.angle)}</td>
      {row.result === null ? (
        <td colSpan={columns.length + (twoLevels ? 3 : 2)} className="reason">
          {row.missing.reason}
        </td>
      ) : (
        <>
          {columns.map((name) => (
            <ValueCell key={name} station={row.result} name={name} {...shared} />
          ))}
          <PositionDoubt station={row.result} units={units} needed={needed} />
          {twoLevels && <ValueCell station={row.result} name="relative" {...shared} />}
        </>
      )}
      <td>
        <StandingText standing={row.standing} />
      </td>
    </tr>
  );
}

interface ValueProps {
  readonly station: StationView;
  readonly name: QuantityName;
  readonly units: Units;
  readonly needed: number | null;
}

function ValueCell({
  station,
  name,
  units,
  needed,
  limitDecimals,
}: ValueProps & Pick<StationRowProps, 'limitDecimals'>) {
  const value = quantityValue(station, name);
  const verdict = verdictOf(station, name);
  const flagged = verdict === 'nonconforming' || (verdict === 'unproven' && value !== null);
  return (
    <td
      data-quantity={name}
      className={`number ${flagged ? verdict : ''}`}
      title={value === null ? undefined : explain({ station, name, units, needed })}
    >
      {value === null ? (
        <span title={station.unobservable.find((entry) => entry.freedom === name)?.reason ?? 'not observed'}>
          n/o
        </span>
      ) : (
        formatJudged(value, quantityOf(name).kind, units, limitOf(station, name), limitDecimals[name])
      )}
      {flagged && (
        <span className="flag">
          <VerdictMark standing={verdict} />
          <span className="unseen">{verdict === 'unproven' ? 'not proven' : 'over the limit'}</span>
        </span>
      )}
    </td>
  );
}

/** The value with its U and, where it has a limit, the probability that it conforms. */
function explain({ station, name, units, needed }: ValueProps): string {
  const text = formatQuantity(
    quantityValue(station, name),
    name,
    units,
    expandedOf(station, name),
    limitOf(station, name),
  );
  const probability = probabilityOf(station, name);
  return probability === null ? text : `${text}, P(conform) ${formatProbability(probability, needed)} %`;
}

/** U and conformance probability of the position. */
function PositionDoubt({ station, units, needed }: Omit<ValueProps, 'name'>) {
  const { expanded, probability } = station.position;
  const missing = <span title="uncertainty not evaluated">–</span>;
  return (
    <>
      <td data-quantity="expanded" className="number">
        {expanded === null ? missing : formatValue(expanded, 'size', units)}
      </td>
      <td data-quantity="probability" className="number">
        {probability === null ? missing : formatProbability(probability, needed)}
      </td>
    </>
  );
}
