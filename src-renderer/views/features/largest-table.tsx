import { useMemo } from 'react';
import type { FeaturePoints } from '../../../src-main/api.ts';
import { formatValue, placeUnits, type Units, unitSymbol } from '../../format/format.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import type { AxisNames } from './feature-names.ts';
import { byResidual, type PointView, placeColumns } from './points.ts';

interface LargestTableProps {
  readonly feature: FeaturePoints;
  readonly points: readonly PointView[];
  readonly axisNames: AxisNames;
  readonly units: Units;
  readonly chosen: number | null;
  readonly byHand: (line: number) => boolean;
  readonly onChoose: (line: number) => void;
  readonly onLeave: (line: number) => void;
  readonly onTakeBack: (line: number) => void;
  readonly sheet: Sheet;
  readonly fileName: string;
}

/** Rows that the table shows; the copied table has all. */
const SHOWN = 40;

/** The points farthest from the feature. */
export function LargestTable(props: LargestTableProps) {
  const {
    feature,
    points,
    axisNames,
    units,
    chosen,
    byHand,
    onChoose,
    onLeave,
    onTakeBack,
    sheet,
    fileName,
  } = props;
  const inOrder = useMemo(() => byResidual(points), [points]);
  const first = inOrder.slice(0, SHOWN);
  const extra = inOrder.find(({ line }) => line === chosen);
  const rows = extra === undefined || first.includes(extra) ? first : [...first, extra];
  const length = unitSymbol('length', units);
  const ofPlaces = placeUnits(units);
  const places = placeColumns(feature.type, axisNames);
  const kind = feature.type === 'line' || feature.type === 'point' ? 'size' : 'length';
  const placeText = (value: number, angular: boolean): string =>
    angular ? ((value * 180) / Math.PI).toFixed(1).replace('-', '−') : formatValue(value, 'length', ofPlaces);
  return (
    <section className="largest panel" aria-label="Largest residuals">
      <header className="chart-head">
        <div className="chart-title">
          <h2>Largest residuals</h2>
        </div>
        <SheetTools sheet={sheet} fileName={fileName} of="the table of residuals" />
      </header>
      <div className="largest-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">line</th>
              <th scope="col">residual, {length}</th>
              {places.map(({ title, angular }) => (
                <th scope="col" key={title}>
                  {title.replace(/^along /, '')}, {angular ? '°' : unitSymbol('length', ofPlaces)}
                </th>
              ))}
              <th scope="col" className="as-text">
                state, reason
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ line, residual, place, reason }) => (
              <tr key={line} data-line={line} aria-current={line === chosen}>
                <th scope="row">
                  <button type="button" className="link" onClick={() => onChoose(line)}>
                    {line}
                  </button>
                </th>
                <td>{formatValue(residual, kind, units)}</td>
                {places.map(({ title, angular }, i) => (
                  <td key={title}>{placeText(place[i === 0 ? 0 : 1], angular)}</td>
                ))}
                <td className="as-text">
                  {reason === null ? (
                    <button
                      type="button"
                      className="button quiet row-act"
                      aria-label={`Leave out the point on line ${line}`}
                      onClick={() => onLeave(line)}
                    >
                      Leave out…
                    </button>
                  ) : (
                    <>
                      <span className="why">
                        <span className="hollow-mark" aria-hidden="true" />{' '}
                        {reason.replace(/^excluded by hand: /, '')}
                      </span>
                      {byHand(line) && (
                        <button
                          type="button"
                          className="button quiet row-act"
                          aria-label={`Take back the point on line ${line}`}
                          onClick={() => onTakeBack(line)}
                        >
                          Take back
                        </button>
                      )}
                    </>
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
