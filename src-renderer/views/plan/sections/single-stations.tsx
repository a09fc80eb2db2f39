import { useId, useState } from 'react';
import { isBlock, type Json, listAt, numberAt, pathText, valueAt, withValue } from '../draft.ts';
import { FieldGrid } from '../fields/field-view.tsx';
import { NumberInput } from '../fields/number-input.tsx';
import { parseNumber } from '../fields/number-text.ts';
import { type Field, limitFields, positionFields, seatFields } from '../fields.ts';
import { stationAngles } from '../nominal.ts';
import { applyTable, readTable, tableColumns } from '../nominal-table.ts';
import { usePlanContext } from '../plan-context.tsx';
import { CheckPoints } from './check-points.tsx';

const columns = [
  { key: 'radius', title: 'Radius', unit: 'mm', path: ['seat', 'radius'], base: ['blade', 'seat', 'radius'] },
  { key: 'axial', title: 'Axial', unit: 'mm', path: ['seat', 'axial'], base: ['blade', 'seat', 'axial'] },
  {
    key: 'height',
    title: 'Height φ',
    unit: '°',
    path: ['seat', 'heightAngle'],
    base: ['blade', 'seat', 'heightAngle'],
  },
  {
    key: 'stagger',
    title: 'Stagger ξ',
    unit: '°',
    path: ['seat', 'staggerAngle'],
    base: ['blade', 'seat', 'staggerAngle'],
  },
  {
    key: 'tolerance',
    title: 'Tolerance',
    unit: 'mm',
    path: ['position', 'tolerance'],
    base: ['blade', 'position', 'tolerance'],
  },
] as const;

/** Nominals that differ from station to station, one by one or pasted from a spreadsheet. */
export function SingleStations() {
  const { draft, put, change, problemsUnder } = usePlanContext();
  const id = useId();
  const angles = stationAngles(draft);
  const listed = listAt(draft, ['disc', 'angles']).length > 0;
  const overrides = valueAt(draft, ['overrides']);
  const special = isBlock(overrides) ? Object.keys(overrides) : [];
  const [showAll, setShowAll] = useState(false);
  if (angles === null)
    return <p className="block-hint">State the number of stations first (Disc and stations).</p>;
  const shown = angles
    .map((angle, index) => ({ angle, station: index + 1 }))
    .filter(({ station }) => showAll || listed || special.includes(String(station)));
  return (
    <>
      <PasteTable />
      <section className="block">
        <h3>Stations that differ</h3>
        <p className="block-hint">
          Empty cells take the value of the blade.{' '}
          {special.length === 0
            ? 'No station differs.'
            : `${special.length} of ${angles.length} stations differ.`}
        </p>
        <div className="row-buttons">
          <label className="check">
            <input type="checkbox" checked={showAll} onChange={(event) => setShowAll(event.target.checked)} />
            Show all {angles.length} stations
          </label>
          <label className="check">
            <input
              type="checkbox"
              checked={listed}
              onChange={(event) =>
                change(
                  withValue(
                    draft,
                    ['disc', 'angles'],
                    event.target.checked ? angles.map((angle) => +angle.toFixed(9)) : undefined,
                  ),
                  'list of angles',
                )
              }
            />
            List every angle
          </label>
        </div>
        {shown.length > 0 && (
          <div className="table-scroll">
            <table className="station-grid">
              <thead>
                <tr>
                  <th scope="col">Station</th>
                  <th scope="col">Angle °</th>
                  {columns.map(({ key, title, unit }) => (
                    <th key={key} scope="col">
                      {title} {unit}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {shown.map(({ station, angle }) => (
                  <tr
                    key={station}
                    className={problemsUnder(`overrides.${station}`).length > 0 ? 'faulty' : ''}
                  >
                    <th scope="row">{station}</th>
                    <td>
                      {listed ? (
                        <NumberInput
                          id={`${id}-${station}-a`}
                          label={`Angle of station ${station}`}
                          value={Number.isNaN(angle) ? undefined : angle}
                          onValue={(next) =>
                            put(
                              ['disc', 'angles'],
                              angles.map((old, k) =>
                                k === station - 1 ? (next ?? null) : Number.isNaN(old) ? null : old,
                              ),
                            )
                          }
                        />
                      ) : (
                        <span className="given">{+angle.toFixed(4)}</span>
                      )}
                    </td>
                    {columns.map(({ key, title, path, base }) => (
                      <td key={key}>
                        <StationCell
                          id={`${id}-${station}-${key}`}
                          label={`${title} of station ${station}`}
                          value={valueAt(draft, ['overrides', String(station), ...path])}
                          base={numberAt(draft, base)}
                          onValue={(next) => put(['overrides', String(station), ...path], next)}
                        />
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
        <OneStation count={angles.length} />
        {problemsUnder('overrides').map((problem) => (
          <p key={problem.message} className="field-fault">
            {problem.message}
          </p>
        ))}
        {problemsUnder(pathText(['disc', 'angles'])).map((problem) => (
          <p key={problem.message} className="field-fault">
            {problem.message}
          </p>
        ))}
      </section>
    </>
  );
}

/** Fields of the blade as fields of a station that differs. */
function ownFields(fields: readonly Field[], station: number): readonly Field[] {
  return fields.map((field) => ({ ...field, path: field.path.replace(/^blade\./, `overrides.${station}.`) }));
}

/** Chooses a station, and shows everything that it can have of its own. */
function OneStation({ count }: { readonly count: number }) {
  const id = useId();
  const [typed, setTyped] = useState('1');
  const number = parseNumber(typed);
  const station =
    typeof number === 'number' && Number.isInteger(number) && number >= 1 && number <= count ? number : null;
  return (
    <details className="one-station">
      <summary>Everything that a single station can have of its own</summary>
      <div className="row-buttons">
        <label htmlFor={id}>Station</label>
        <span className="with-unit">
          <input
            id={id}
            type="text"
            inputMode="numeric"
            value={typed}
            aria-invalid={station === null}
            onChange={(event) => setTyped(event.target.value)}
          />
          <span className="unit">of {count}</span>
        </span>
      </div>
      {station !== null && <OwnValues key={station} station={station} />}
    </details>
  );
}

function OwnValues({ station }: { readonly station: number }) {
  const { draft, put } = usePlanContext();
  const path = ['overrides', String(station)];
  const points = [...path, 'position', 'checkPoints'];
  return (
    <>
      {isBlock(valueAt(draft, path)) && (
        <button type="button" className="button" onClick={() => put(path, undefined)}>
          Make it as all others
        </button>
      )}
      <FieldGrid fields={ownFields([...seatFields, ...positionFields], station)} />
      {listAt(draft, points).length > 0 ? (
        <CheckPoints owner={[...path, 'position']} />
      ) : (
        <button
          type="button"
          className="button"
          onClick={() => put(points, listAt(draft, ['blade', 'position', 'checkPoints']))}
        >
          Own check points
        </button>
      )}
      <h3>Own limits (they replace all limits of the blade)</h3>
      <FieldGrid fields={ownFields(limitFields, station)} />
    </>
  );
}

interface StationCellProps {
  readonly id: string;
  readonly label: string;
  readonly value: Json | undefined;
  readonly base: number | null;
  readonly onValue: (value: number | undefined) => void;
}

function StationCell({ id, label, value, base, onValue }: StationCellProps) {
  return (
    <span className={value === undefined ? 'station-cell' : 'station-cell own'} data-base={base ?? ''}>
      <NumberInput
        id={id}
        label={`${label}${base === null ? '' : `, otherwise ${base}`}`}
        value={value}
        onValue={onValue}
      />
    </span>
  );
}

/** A table copied out of a spreadsheet: looked at before it changes anything. */
function PasteTable() {
  const { draft, change } = usePlanContext();
  const [text, setText] = useState('');
  const id = useId();
  const table = text.trim() === '' ? null : readTable(text);
  return (
    <section className="block paste">
      <h3>
        <label htmlFor={id}>Paste nominals from a spreadsheet</label>
      </h3>
      <p className="block-hint" id={`${id}-hint`}>
        Copy the cells there and paste them here:{' '}
        {tableColumns.map(({ title }) => title.toLowerCase()).join(', ')}; any order with a header row, this
        order without one. Decimal point or comma.
      </p>
      <textarea
        id={id}
        value={text}
        rows={text === '' ? 2 : 5}
        spellCheck={false}
        aria-describedby={`${id}-hint`}
        placeholder={'station\tradius\taxial\theight\tstagger\tangle\ttolerance'}
        onChange={(event) => setText(event.target.value)}
      />
      {table !== null && (
        <div className="paste-result" role="status">
          <p className={table.faults.length > 0 ? 'field-fault' : ''}>
            {table.rows.length} {table.rows.length === 1 ? 'station' : 'stations'} with{' '}
            {table.columns.length === 0 ? 'no value' : table.columns.join(', ')}.
            {table.faults.length > 0 && ` ${table.faults.slice(0, 3).join(' ')}`}
          </p>
          <button
            type="button"
            className="button strong"
            disabled={table.rows.length === 0 || table.faults.length > 0}
            onClick={() => {
              change(applyTable(draft, table), 'pasted table');
              setText('');
            }}
          >
            Take into the plan
          </button>
          <button type="button" className="button quiet" onClick={() => setText('')}>
            Discard
          </button>
        </div>
      )}
    </section>
  );
}
