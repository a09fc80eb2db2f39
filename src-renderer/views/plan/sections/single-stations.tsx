import { useId, useState } from 'react';
import { formatWritten } from '../../../format/format.ts';
import { isBlock, type Json, listAt, numberAt, pathText, valueAt, withValue } from '../draft.ts';
import { NumberInput } from '../fields/number-input.tsx';
import { stationAngles } from '../nominal.ts';
import { usePlanContext } from '../plan-context.tsx';
import { OneStation } from './one-station.tsx';
import { PasteTable } from './paste-table.tsx';

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

/** Of a nominal as it stands in a plan; more than any drawing states. */
const MOST_DECIMALS = 9;

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
                          value={valueAt(draft, ['disc', 'angles', station - 1])}
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
                        <span className="given">{formatWritten(angle, 4)}</span>
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

interface StationCellProps {
  readonly id: string;
  readonly label: string;
  readonly value: Json | undefined;
  readonly base: number | null;
  readonly onValue: (value: number | string | undefined) => void;
}

function StationCell({ id, label, value, base, onValue }: StationCellProps) {
  const otherwise = base === null ? '' : formatWritten(base, MOST_DECIMALS);
  return (
    <span className={value === undefined ? 'station-cell' : 'station-cell own'} data-base={otherwise}>
      <NumberInput
        id={id}
        label={`${label}${base === null ? '' : `, otherwise ${otherwise}`}`}
        value={value}
        onValue={onValue}
      />
    </span>
  );
}
