import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatChosenProbability, formatLimit, type Units, unitSymbol } from '../../format/format.ts';
import { limitOf, type QuantityName, quantityOf } from '../../format/quantities.ts';
import { levelNames, stationViews } from '../../format/station-view.ts';
import { copyText, download, fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { HeadCell, StationRow } from './cells.tsx';
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

interface StationTableProps {
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly frame: 'blade' | 'disc';
  readonly onFrame: (frame: 'blade' | 'disc') => void;
  readonly quantity: QuantityName;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
}

export function StationTable({
  disc,
  units,
  frame,
  onFrame,
  quantity,
  selected,
  onSelect,
}: StationTableProps) {
  const [sort, setSort] = useState<Sort>({ column: 'station', direction: 'ascending' });
  const [note, setNote] = useState('');
  const scroll = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLTableSectionElement>(null);
  const rows = useMemo(() => sortRows(tableRows(disc), sort), [disc, sort]);
  const columns = valueColumns(frame);
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

  function move(event: KeyboardEvent) {
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
    onSelect(row.station);
    body.current
      ?.querySelector<HTMLElement>(`[data-station="${row.station}"]`)
      ?.focus({ preventScroll: true });
  }

  async function copy() {
    const copied = await copyText(exportTable(rows, units, '\t'));
    setNote(
      copied ? `${rows.length} rows copied` : 'The browser did not allow copying; save the CSV instead',
    );
  }

  const head = { sort, onSort: (column: ColumnName) => setSort(nextSort(sort, column)) };
  const coverage = formatChosenProbability(disc.result.decision.coverage);
  const length = unitSymbol('length', units);
  const rotation = unitSymbol('rotation', units);
  const limitText = (name: QuantityName): string => {
    const limits = new Set(stationViews(disc.result).map((station) => limitOf(station, name)));
    const [limit] = limits;
    if (limits.size !== 1) return limits.size > 1 ? 'varies' : '';
    if (limit == null) return '–';
    return (quantityOf(name).kind === 'size' ? '≤ ' : '±') + formatLimit(limit, quantityOf(name).kind, units);
  };

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
          Copy table
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
      <div ref={scroll} className={`table-scroll ${twoLevels ? 'two-levels' : ''}`}>
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
                  {limitText(name)}
                </td>
              ))}
              <td colSpan={twoLevels ? 2 : 3} />
              {twoLevels && (
                <>
                  <td className="number">{limitText('relative')}</td>
                  <td />
                </>
              )}
            </tr>
          </thead>
          <tbody ref={body} onKeyDown={move}>
            {rows.map((row, index) => (
              <StationRow
                key={row.station}
                row={row}
                columns={columns}
                twoLevels={twoLevels}
                units={units}
                selected={row.station === selected}
                reachable={row.station === selected || (selected === null && index === 0)}
                onSelect={onSelect}
              />
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
