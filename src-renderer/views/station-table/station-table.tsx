import { type KeyboardEvent, type MouseEvent, useEffect, useMemo, useRef, useState } from 'react';
import { neededProbability } from '../../../shared-math/display/decimals.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatChosenProbability, type Units, unitSymbol } from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import { levelNames } from '../../format/station-view.ts';
import { copyText, download, fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { useKept } from '../../state/kept.ts';
import { HeadCell, StationRow } from './cells.tsx';
import { columnLimits } from './column-limits.ts';
import { filterRows, noFilter } from './filter.ts';
import { FilterBar } from './filter-bar.tsx';
import { rangeBetween, toggled } from './marking.ts';
import {
  type ColumnName,
  exportTable,
  nextSort,
  type Sort,
  sortRows,
  tableRows,
  valueColumns,
} from './rows.ts';
import './station-table.css';

const byStation: Sort = { column: 'station', direction: 'ascending' };

interface StationTableProps {
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly frame: 'blade' | 'disc';
  readonly onFrame: (frame: 'blade' | 'disc') => void;
  readonly quantity: QuantityName;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly marked: readonly number[];
  readonly onMark: (stations: readonly number[]) => void;
}

export function StationTable({
  disc,
  units,
  frame,
  onFrame,
  quantity,
  selected,
  onSelect,
  marked,
  onMark,
}: StationTableProps) {
  const [sort, setSort] = useKept<Sort>(disc, 'table-sort', byStation);
  const [filter, setFilter] = useKept(disc, 'table-filter', noFilter);
  const [note, setNote] = useState('');
  /** Where a range begins. */
  const anchor = useRef<number | null>(null);
  /** Selected before the press that is under way: the focus it moves selects the row at once. */
  const selectedBefore = useRef<number | null>(null);
  const scroll = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLTableSectionElement>(null);
  const all = useMemo(() => tableRows(disc), [disc]);
  const rows = useMemo(() => sortRows(filterRows(all, filter), sort), [all, filter, sort]);
  const order = rows.map((row) => row.station);
  const reachable = selected !== null && order.includes(selected) ? selected : order[0];
  const columns = useMemo(() => valueColumns(frame), [frame]);
  const twoLevels = disc.result.pattern !== null;

  // Keeps the selected row in sight without moving the page.
  useEffect(() => {
    const row = body.current?.querySelector(`[data-station="${selected}"]`);
    const box = scroll.current;
    if (row == null || box === null) return;
    const { top, bottom } = row.getBoundingClientRect();
    const head = box.querySelector('thead')?.getBoundingClientRect().bottom ?? 0;
    const foot = box.getBoundingClientRect().top + box.clientHeight;
    box.scrollTop += Math.min(top - head, 0) + Math.max(bottom - foot, 0);
  }, [selected]);

  function select(station: number, event: MouseEvent) {
    if (event.shiftKey) {
      onMark(rangeBetween(order, anchor.current ?? selectedBefore.current, station));
    } else {
      onMark(event.ctrlKey || event.metaKey ? toggled(marked, selectedBefore.current, station) : []);
      anchor.current = station;
    }
    onSelect(station);
    focusRow(station);
  }

  function focusRow(station: number) {
    body.current?.querySelector<HTMLElement>(`[data-station="${station}"]`)?.focus({ preventScroll: true });
  }

  /** Space and Ctrl+A choose, Escape lets go. */
  function mark({ key, ctrlKey, metaKey }: KeyboardEvent): boolean {
    if (key === ' ' && selected !== null) onMark(toggled(marked, null, selected));
    else if (key.toLowerCase() === 'a' && (ctrlKey || metaKey)) onMark(order);
    else if (key === 'Escape' && marked.length > 0) onMark([]);
    else return false;
    return true;
  }

  function move(event: KeyboardEvent) {
    if (mark(event)) {
      event.preventDefault();
      return;
    }
    const now = rows.findIndex((row) => row.station === selected);
    const target = {
      ArrowDown: Math.min(now + 1, rows.length - 1),
      ArrowUp: Math.max(now - 1, 0),
      Home: 0,
      End: rows.length - 1,
      PageDown: Math.min(now + 10, rows.length - 1),
      PageUp: Math.max(now - 10, 0),
    }[event.key];
    const row = target === undefined ? undefined : rows[target];
    if (row === undefined) return;
    event.preventDefault();
    if (event.shiftKey) {
      anchor.current ??= selected;
      onMark(rangeBetween(order, anchor.current, row.station));
    } else {
      anchor.current = row.station;
      // With Ctrl the selection moves on and the chosen stations stay.
      if (!event.ctrlKey && !event.metaKey) onMark([]);
    }
    onSelect(row.station);
    focusRow(row.station);
  }

  async function copy() {
    const chosen = marked.length === 0 ? rows : rows.filter((row) => marked.includes(row.station));
    const copied = await copyText(exportTable(chosen, units, '\t'));
    setNote(
      copied ? `${chosen.length} rows copied` : 'The browser did not allow copying; save the CSV instead',
    );
  }

  const head = { sort, onSort: (column: ColumnName) => setSort(nextSort(sort, column)) };
  const coverage = formatChosenProbability(disc.result.decision.coverage);
  const length = unitSymbol('length', units);
  const rotation = unitSymbol('rotation', units);
  const needed = neededProbability(disc.result.decision);
  const limits = useMemo(() => columnLimits(disc, [...columns, 'relative'], units), [disc, columns, units]);

  return (
    <section className="station-table panel" aria-label="Stations">
      <header className="table-head">
        <h2>Stations</h2>
        <Segmented
          title="Six errors in"
          value={frame}
          onChange={onFrame}
          choices={[
            ['blade', 'Blade frame', 'Six errors in the blade frame'],
            ['disc', 'Disc frame', 'Six errors in the disc frame'],
          ]}
        />
        <span className="table-note" role="status">
          {note}
        </span>
        <button type="button" className="button quiet" onClick={() => void copy()}>
          {marked.length === 0 ? 'Copy table' : 'Copy selected'}
        </button>
        <button
          type="button"
          className="button quiet"
          onClick={() =>
            download(`${fileStem(disc.plan.title)}-stations.csv`, exportTable(rows, units, ','), 'text/csv')
          }
        >
          Save CSV
        </button>
      </header>
      <FilterBar
        rows={all}
        shown={rows.length}
        filter={filter}
        onFilter={setFilter}
        marked={marked}
        onClear={() => onMark([])}
      />
      <div ref={scroll} className={`table-scroll ${twoLevels || units.length === 'inch' ? 'tight' : ''}`}>
        <table>
          <thead>
            <tr className="units">
              <td colSpan={2} />
              <th colSpan={3} scope="colgroup">
                Displacement, {length}
              </th>
              <th colSpan={3} scope="colgroup">
                {frame === 'blade' ? 'Rotation about' : 'Rotation'}, {rotation}
              </th>
              <th colSpan={2} scope="colgroup">
                {length}
              </th>
              <th scope="colgroup">%</th>
              {twoLevels && <th scope="colgroup">{length}</th>}
              <td />
            </tr>
            <tr>
              <HeadCell {...head} column="station" text="St" spoken="Station" />
              <HeadCell {...head} column="angle" text="Angle" spoken="Angle" />
              {columns.map((name) => (
                <HeadCell
                  key={name}
                  {...head}
                  column={name}
                  text={quantityOf(name).short}
                  spoken={quantityOf(name).title}
                  shown={name === quantity}
                />
              ))}
              <HeadCell
                {...head}
                column="expanded"
                text="+ U"
                spoken="Expanded uncertainty of the position"
                hint={`Position + U is its upper bound, coverage ${coverage}`}
              />
              <HeadCell
                {...head}
                column="probability"
                text="P"
                spoken="Conformance probability of the position"
                hint="Probability that the true position keeps its tolerance"
              />
              {twoLevels && (
                <HeadCell
                  {...head}
                  column="relative"
                  text={quantityOf('relative').short}
                  spoken={levelNames.eachOther}
                  shown={quantity === 'relative'}
                />
              )}
              <HeadCell {...head} column="verdict" text="Verdict" spoken="Verdict" />
            </tr>
            <tr className="limit-row">
              <th colSpan={2} scope="row">
                limit
              </th>
              {columns.map((name) => (
                <td key={name} className="number">
                  {limits.text[name]}
                </td>
              ))}
              <td colSpan={twoLevels ? 2 : 3} />
              {twoLevels && (
                <>
                  <td className="number">{limits.text.relative}</td>
                  <td />
                </>
              )}
            </tr>
          </thead>
          <tbody
            ref={body}
            onKeyDown={move}
            onMouseDown={(event) => {
              selectedBefore.current = selected;
              // Choosing a range of rows must not choose their text as well.
              if (event.shiftKey) event.preventDefault();
            }}
          >
            {rows.map((row) => (
              <StationRow
                key={row.station}
                row={row}
                columns={columns}
                twoLevels={twoLevels}
                units={units}
                needed={needed}
                limitDecimals={limits.decimals}
                selected={row.station === selected}
                marked={marked.length === 0 ? null : marked.includes(row.station)}
                reachable={row.station === reachable}
                onSelect={onSelect}
                onPress={select}
              />
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
