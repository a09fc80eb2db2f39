import type { PositionResult } from '../../../shared-math/result.ts';
import { formatJudged, formatProbability, type Units, unitSymbol } from '../../format/format.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { limitsNotKept } from './limits.ts';
import { type BenchRow, benchSheet } from './rows.ts';

interface WhatIfTableProps {
  readonly rows: readonly BenchRow[];
  readonly words: string;
  readonly units: Units;
  readonly fileName: string;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly onDrop: (station: number, dropped: boolean) => void;
}

/** Measured and tried positions and verdicts; the box takes a station out of the trial. */
export function WhatIfTable(props: WhatIfTableProps) {
  const { rows, words, units, fileName, selected, onSelect, onDrop } = props;
  const size = ({ value, tolerance }: PositionResult): string =>
    value === null ? '–' : formatJudged(value, 'size', units, tolerance);
  return (
    <section className="what-if-table panel" aria-label="Stations">
      <header className="chart-head">
        <div className="chart-title">
          <h2>Stations</h2>
          <p className="caption">position, {unitSymbol('size', units)}</p>
        </div>
        <div className="chart-tools">
          <SheetTools sheet={benchSheet(rows, words, units)} fileName={fileName} of="the tried stations" />
        </div>
      </header>
      <div className="sheet-scroll">
        <table className="plain-table predicted-table">
          <thead>
            <tr>
              <th scope="col">In</th>
              <th scope="col" className="number">
                St
              </th>
              <th scope="col" className="number">
                Measured
              </th>
              <th scope="col" className="number">
                What if
              </th>
              <th scope="col" className="number">
                P, %
              </th>
              <th scope="col">Verdict</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ station, measured, tried, absent }) => (
              <tr
                key={station}
                data-station={station}
                aria-current={station === selected}
                className={tried === null ? 'muted' : ''}
              >
                <td>
                  <input
                    type="checkbox"
                    checked={absent !== 'left out'}
                    aria-label={`Station ${station} takes part`}
                    onChange={(event) => onDrop(station, !event.target.checked)}
                  />
                </td>
                <th scope="row" className="number">
                  <button type="button" className="link" onClick={() => onSelect(station)}>
                    {station}
                  </button>
                </th>
                <td className="number">{size(measured.position)}</td>
                <td
                  className={`number change ${tried?.position.verdict === 'nonconforming' ? 'nonconforming' : ''}`}
                >
                  {tried === null ? '' : size(tried.position)}
                </td>
                <td className="number">
                  {tried?.position.probability == null ? '' : formatProbability(tried.position.probability)}
                </td>
                <td>
                  {tried === null ? (
                    absent
                  ) : (
                    <span className="standing">
                      {measured.verdict !== tried.verdict && (
                        <>
                          <VerdictMark standing={measured.verdict} />→
                        </>
                      )}
                      <VerdictMark standing={tried.verdict} />
                      {tried.verdict}
                      {limitsNotKept(tried).length > 0 && <small>{limitsNotKept(tried).join(', ')}</small>}
                    </span>
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
