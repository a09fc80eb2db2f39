import { useMemo } from 'react';
import type { DiscPoints, HubtrueApi, ReducedDisc } from '../../../src-main/api.ts';
import { countOf, formatCount } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { exclusionCount, type FeatureName, withoutFeature, withoutPoints } from '../../state/exclusions.ts';
import type { Session } from '../../state/session.ts';
import type { SessionActions } from '../../state/use-session.ts';
import { useDiscPoints } from '../features/use-feature-points.ts';
import { byReason } from './reasons.ts';

interface ExclusionListProps {
  readonly api: HubtrueApi;
  readonly disc: ReducedDisc;
  readonly session: Session;
  readonly actions: SessionActions;
  /** Shows a feature and, where it is a point that is left out, its line. */
  readonly onShow: (name: FeatureName, line: number | null) => void;
}

/** Points that are not used come along however few others are asked for. */
const FEW = 1;

function featuresByLine(points: DiscPoints | null): ReadonlyMap<number, FeatureName> {
  return new Map(
    points?.features.flatMap(({ station, feature, reasons }) =>
      reasons.map(({ line }) => [line, { station, feature }] as const),
    ),
  );
}

function PointPlace(props: {
  readonly line: number;
  readonly name: FeatureName | undefined;
  readonly onShow: ExclusionListProps['onShow'];
}) {
  const { line, name, onShow } = props;
  if (name === undefined) return `point on line ${line}`;
  return (
    <button type="button" className="link" onClick={() => onShow(name, line)}>
      point on line {line}, {name.feature}, {placeWords(name.station)}
    </button>
  );
}

function placeWords(station: number | null): string {
  return station === null ? 'hub' : `station ${station}`;
}

/** All that is not used and why: left out by hand, and by the reading of the file. */
export function ExclusionList({ api, disc, session, actions, onShow }: ExclusionListProps) {
  const asked = useDiscPoints(api, session.job, FEW);
  const featureOf = useMemo(() => featuresByLine(asked.value), [asked.value]);
  const { present } = session.exclusions;
  const { points: source } = disc.result.source;
  const byHand = new Set(present.points.map(({ line }) => line));
  const others = byReason(
    source.excluded.filter(({ line, reason }) => !byHand.has(line) && !reason.startsWith('excluded by hand')),
  );
  const sheet: Sheet = {
    head: ['what', 'station', 'feature', 'line', 'reason'],
    rows: [
      ...present.features.map(({ station, feature, reason }) => [
        'feature',
        station === null ? 'hub' : String(station),
        feature,
        '',
        reason,
      ]),
      ...present.points.map(({ line, reason }) => {
        const name = featureOf.get(line);
        const station = name === undefined ? '' : name.station === null ? 'hub' : String(name.station);
        return ['point', station, name?.feature ?? '', String(line), reason];
      }),
    ],
  };
  const count = exclusionCount(present);
  return (
    <div className="exclusion-page">
      <section className="panel exclusion-list" aria-label="Left out by hand">
        <header className="chart-head">
          <div className="chart-title">
            <h2>Left out by hand</h2>
            <p className="caption">
              {formatCount(source.used)} of {countOf(source.rows, 'point')} used
            </p>
          </div>
          {count > 0 && (
            <SheetTools
              sheet={sheet}
              fileName={`${fileStem(disc.plan.title)}-left-out`}
              of="the list of what is left out"
            />
          )}
        </header>
        {count === 0 ? (
          <p className="empty-note">
            Nothing. Choose a point in a residual plot and press Delete, or leave out a whole feature; each
            asks for a reason.
          </p>
        ) : (
          <table className="list-table">
            <thead>
              <tr>
                <th scope="col">left out</th>
                <th scope="col">reason</th>
                <th scope="col">
                  <span className="unseen">take back</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {present.features.map((entry) => (
                <tr key={`${entry.station} ${entry.feature}`}>
                  <th scope="row">
                    <button type="button" className="link" onClick={() => onShow(entry, null)}>
                      {entry.feature}, {placeWords(entry.station)}
                    </button>
                  </th>
                  <td>{entry.reason}</td>
                  <td className="act">
                    <button
                      type="button"
                      className="button quiet"
                      aria-label={`Take back ${entry.feature} of ${placeWords(entry.station)}`}
                      onClick={() => actions.exclude((now) => withoutFeature(now, entry))}
                    >
                      Take back
                    </button>
                  </td>
                </tr>
              ))}
              {present.points.map(({ line, reason }) => (
                <tr key={line}>
                  <th scope="row">
                    <PointPlace line={line} name={featureOf.get(line)} onShow={onShow} />
                  </th>
                  <td>{reason}</td>
                  <td className="act">
                    <button
                      type="button"
                      className="button quiet"
                      aria-label={`Take back the point on line ${line}`}
                      onClick={() => actions.exclude((now) => withoutPoints(now, [line]))}
                    >
                      Take back
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
      <section className="panel exclusion-list" aria-label="Not used for other reasons">
        <header className="chart-head">
          <div className="chart-title">
            <h2>Not used for other reasons</h2>
            <p className="caption">found when the file was read</p>
          </div>
          {others.length > 0 && (
            <SheetTools
              sheet={{
                head: ['points', 'reason', 'lines'],
                rows: others.map(({ reason, lines, words }) => [String(lines.length), reason, words]),
              }}
              fileName={`${fileStem(disc.plan.title)}-not-used`}
              of="the list of what is not used"
            />
          )}
        </header>
        {others.length === 0 ? (
          <p className="empty-note">None.</p>
        ) : (
          <table className="list-table">
            <thead>
              <tr>
                <th scope="col">points</th>
                <th scope="col">reason</th>
                <th scope="col">lines</th>
              </tr>
            </thead>
            <tbody>
              {others.map(({ reason, lines, words }) => (
                <tr key={reason}>
                  <td>{formatCount(lines.length)}</td>
                  <td>{reason}</td>
                  <td>{words}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
    </div>
  );
}
