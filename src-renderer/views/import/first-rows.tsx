import type { PointsPreview } from '../../../src-main/api.ts';
import { formatCoordinate } from '../../format/format.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { placeKey } from '../plan/draft.ts';
import { roles, rolesByColumn, withRole } from './mapping.ts';

interface FirstRowsProps {
  readonly preview: PointsPreview;
  readonly onColumns: (columns: ReturnType<typeof withRole>) => void;
}

const millimetres = { mm: 1, inch: 25.4, µm: 0.001 } as const;

const tone: Readonly<Record<string, string>> = {
  station: 'name',
  feature: 'name',
  label: 'name',
  x: 'place',
  y: 'place',
  z: 'place',
  i: 'normal',
  j: 'normal',
  k: 'normal',
};

/** The first rows as they are cut, what each column holds, and what the rows are understood as. */
export function FirstRows({ preview, onColumns }: FirstRowsProps) {
  const byColumn = rolesByColumn(preview);
  const factor = millimetres[preview.taken.unit ?? 'mm'];
  return (
    <ScrollRegion className="first-rows" label="First rows of the file">
      <table>
        <thead>
          <tr className="role-row">
            <th scope="row">Holds</th>
            {preview.columnNames.map((name, column) => (
              <td key={placeKey(column)} className={tone[byColumn[column] ?? ''] ?? ''}>
                <select
                  aria-label={`Column ${name} holds`}
                  data-column={name}
                  value={byColumn[column]}
                  onChange={(event) => onColumns(withRole(preview, column, event.target.value))}
                >
                  {roles.map(([role, text]) => (
                    <option key={role} value={role}>
                      {text}
                    </option>
                  ))}
                </select>
              </td>
            ))}
            <td className="understood-head">
              <b>Understood as</b>, in mm
            </td>
          </tr>
        </thead>
        <tbody>
          {preview.head.map((row) => (
            <tr key={row.line} className={row.kind}>
              <th scope="row">{row.line}</th>
              {byColumn.map((role, column) => (
                <td key={placeKey(column)} className={role === '' ? 'idle' : (tone[role] ?? '')}>
                  {row.cells[column] ?? ''}
                </td>
              ))}
              <td className="understood">
                {row.kind === 'title' && 'a title line, left out'}
                {row.kind === 'header' && 'names of the columns'}
                {row.kind === 'unread' && <span className="fault">{row.fault}</span>}
                {row.kind === 'point' && (
                  <>
                    <b>{row.station === null ? 'hub' : `station ${row.station}`}</b> {row.feature}{' '}
                    <span className="numbers">
                      {(['x', 'y', 'z'] as const)
                        .map((axis) => formatCoordinate((row.values[axis] ?? 0) * factor, 3))
                        .join('  ')}
                    </span>
                  </>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
