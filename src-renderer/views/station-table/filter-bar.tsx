import { countOf, formatCount, type Standing, standingText } from '../../format/format.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { noFilter, parseNumbers, type TableFilter } from './filter.ts';
import type { TableRow } from './rows.ts';

interface FilterBarProps {
  readonly rows: readonly TableRow[];
  readonly shown: number;
  readonly filter: TableFilter;
  readonly onFilter: (filter: TableFilter) => void;
  readonly marked: readonly number[];
  readonly onClear: () => void;
}

const standings: readonly Standing[] = ['conforming', 'nonconforming', 'unproven', 'missing'];

/** Which rows the table shows: by verdict and by station number. */
export function FilterBar({ rows, shown, filter, onFilter, marked, onClear }: FilterBarProps) {
  const understood = parseNumbers(filter.numbers) !== null;
  const filtered = filter.hidden.length > 0 || filter.numbers !== '';
  const toggle = (standing: Standing): readonly Standing[] =>
    filter.hidden.includes(standing)
      ? filter.hidden.filter((one) => one !== standing)
      : [...filter.hidden, standing];
  return (
    <div className="filter-bar">
      <input
        type="search"
        value={filter.numbers}
        placeholder="e.g. 3, 7-9"
        aria-label="Stations by number"
        aria-invalid={!understood}
        onChange={(event) => onFilter({ ...filter, numbers: event.target.value })}
      />
      <fieldset aria-label="Verdicts shown">
        {standings.map((standing) => {
          const count = rows.filter((row) => row.standing === standing).length;
          return (
            <button
              key={standing}
              type="button"
              className="verdict-filter"
              aria-pressed={!filter.hidden.includes(standing)}
              aria-label={`Show ${standingText[standing]}: ${countOf(count, 'station')}`}
              title={`${standingText[standing]}: ${countOf(count, 'station')}`}
              disabled={count === 0}
              onClick={() => onFilter({ ...filter, hidden: toggle(standing) })}
            >
              <VerdictMark standing={standing} />
              {formatCount(count)}
            </button>
          );
        })}
      </fieldset>
      <span className="filter-note" role="status">
        {!understood
          ? 'numbers and ranges, such as 3, 7-9'
          : filtered
            ? `${formatCount(shown)} of ${formatCount(rows.length)} shown`
            : ''}
        {marked.length > 0 && ` ${countOf(marked.length, 'station')} selected`}
      </span>
      {filtered && (
        <button type="button" className="button quiet tool" onClick={() => onFilter(noFilter)}>
          Show all
        </button>
      )}
      {marked.length > 0 && (
        <button type="button" className="button quiet tool" title="Escape" onClick={onClear}>
          Clear selection
        </button>
      )}
    </div>
  );
}
