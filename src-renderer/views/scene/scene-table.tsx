import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  exportNumber,
  formatJudged,
  formatValue,
  plainUnit,
  type Standing,
  standingText,
  type Units,
  unitSymbol,
} from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { StandingText } from '../../parts/verdict-mark.tsx';
import type { FeatureName } from '../../state/exclusions.ts';
import type { ScenePoint } from './scene-data.ts';

interface SceneTableProps {
  readonly disc: ReducedDisc;
  readonly points: readonly ScenePoint[];
  readonly units: Units;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly onPoint: (name: FeatureName, line: number) => void;
}

interface Row {
  /** Null: the hub. */
  readonly station: number | null;
  readonly standing: Standing | null;
  readonly position: number | null;
  readonly tolerance: number | null;
  readonly worst: ScenePoint | null;
}

function rowsOf({ result }: ReducedDisc, points: readonly ScenePoint[]): readonly Row[] {
  const worst = new Map<number | null, ScenePoint>();
  for (const point of points) {
    const now = worst.get(point.name.station);
    if (point.used && (now === undefined || Math.abs(point.residual) > Math.abs(now.residual)))
      worst.set(point.name.station, point);
  }
  const stations = [
    ...result.stations.map(({ station, verdict, position }) => ({
      station,
      standing: verdict as Standing,
      position: position.value,
      tolerance: position.tolerance,
    })),
    ...result.summary.missing.map(({ station }) => ({
      station,
      standing: 'missing' as const,
      position: null,
      tolerance: null,
    })),
  ].sort((a, b) => a.station - b.station);
  return [
    { station: null, standing: null, position: null, tolerance: null, worst: worst.get(null) ?? null },
    ...stations.map((row) => ({ ...row, worst: worst.get(row.station) ?? null })),
  ];
}

/** What the drawing shows, in figures: position and the point farthest from its feature, station by station. */
export function SceneTable(props: SceneTableProps) {
  const { disc, points, units, selected, marked, onSelect, onPoint } = props;
  const rows = rowsOf(disc, points);
  const length = plainUnit('length', units);
  const sheet: Sheet = {
    head: ['station', `position (${length})`, 'verdict', 'feature', 'line', `largest residual (${length})`],
    rows: rows.map(({ station, standing, position, worst }) => [
      station === null ? 'hub' : String(station),
      exportNumber(position, 'length', units),
      standing === null ? '' : standingText[standing],
      worst?.name.feature ?? '',
      worst === null ? '' : String(worst.line),
      exportNumber(worst?.residual ?? null, 'length', units),
    ]),
  };
  return (
    <section className="scene-table panel" aria-label="The same in figures">
      <header className="chart-head">
        <div className="chart-title">
          <h2>In figures</h2>
          <p className="caption">position and largest residual, {unitSymbol('length', units)}</p>
        </div>
        <SheetTools sheet={sheet} fileName={`${fileStem(disc.plan.title)}-3d`} of="the table of the view" />
      </header>
      <div className="largest-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">station</th>
              <th scope="col">position</th>
              <th scope="col" className="as-text">
                verdict
              </th>
              <th scope="col">residual</th>
              <th scope="col" className="as-text">
                at
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ station, standing, position, tolerance, worst }) => (
              <tr
                key={station ?? 'hub'}
                aria-current={station !== null && station === selected}
                className={station !== null && marked.includes(station) ? 'marked' : undefined}
              >
                <th scope="row">
                  {station === null ? (
                    'hub'
                  ) : (
                    <button type="button" className="link" onClick={() => onSelect(station)}>
                      {station}
                    </button>
                  )}
                </th>
                <td>{position === null ? '–' : formatJudged(position, 'size', units, tolerance)}</td>
                <td className="as-text">{standing === null ? '–' : <StandingText standing={standing} />}</td>
                <td>{worst === null ? '–' : formatValue(worst.residual, 'length', units)}</td>
                <td className="as-text">
                  {worst !== null && (
                    <button
                      type="button"
                      className="link"
                      title="Show its residuals"
                      onClick={() => onPoint(worst.name, worst.line)}
                    >
                      {worst.name.feature}, line {worst.line}
                    </button>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
