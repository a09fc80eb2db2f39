import { formatAngle, formatValue, type Units } from '../../format/format.ts';
import { isOverLimit, type QuantityName, quantityOf, quantityValue } from '../../format/quantities.ts';
import { StandingText } from '../../parts/verdict-mark.tsx';
import type { ColumnName, Sort, TableRow } from './rows.ts';

interface HeadCellProps {
  readonly column: ColumnName;
  readonly text: string;
  readonly spoken: string;
  readonly sort: Sort;
  readonly shown?: boolean;
  readonly onSort: (column: ColumnName) => void;
}

/** A column's head: its name is the button that sorts by it. */
export function HeadCell({ column, text, spoken, sort, shown = false, onSort }: HeadCellProps) {
  const active = sort.column === column;
  return (
    <th
      scope="col"
      aria-sort={active ? sort.direction : 'none'}
      className={shown ? 'shown' : column === 'verdict' ? 'as-text' : undefined}
    >
      <button type="button" onClick={() => onSort(column)} aria-label={`Sort by ${spoken}`} title={spoken}>
        {text}
        <span className="arrow" aria-hidden="true">
          {active ? (sort.direction === 'ascending' ? '↑' : '↓') : ''}
        </span>
      </button>
    </th>
  );
}

interface StationRowProps {
  readonly row: TableRow;
  readonly columns: readonly QuantityName[];
  readonly units: Units;
  readonly selected: boolean;
  readonly reachable: boolean;
  readonly onSelect: (station: number) => void;
}

/** One station; over-limit values carry a sign as well as a colour. */
export function StationRow({ row, columns, units, selected, reachable, onSelect }: StationRowProps) {
  return (
    <tr
      data-station={row.station}
      aria-current={selected}
      tabIndex={reachable ? 0 : -1}
      onClick={() => onSelect(row.station)}
      onFocus={() => onSelect(row.station)}
    >
      <th scope="row">{row.station}</th>
      <td className="number">{formatAngle(row.angle)}</td>
      {row.result === null ? (
        <td colSpan={columns.length} className="reason">
          {row.missing.reason}
        </td>
      ) : (
        columns.map((name) => {
          const value = quantityValue(row.result, name);
          const over = isOverLimit(row.result, name);
          return (
            <td key={name} data-quantity={name} className={`number ${over ? 'over' : ''}`}>
              {value === null ? (
                <span
                  title={
                    row.result.unobservable.find((entry) => entry.freedom === name)?.reason ?? 'not observed'
                  }
                >
                  n/o
                </span>
              ) : (
                formatValue(value, quantityOf(name).kind, units)
              )}
              <span className="flag">
                {over && (
                  <>
                    <span aria-hidden="true">◆</span>
                    <span className="unseen">over the limit</span>
                  </>
                )}
              </span>
            </td>
          );
        })
      )}
      <td>
        <StandingText standing={row.standing} />
      </td>
    </tr>
  );
}
