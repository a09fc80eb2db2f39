import { formatCount, type Standing, standingText } from '../../format/format.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import type { ReductionRecord } from '../../state/session.ts';
import { exclusionChanges, inputDifferences } from './changes.ts';

interface DifferencesProps {
  readonly before: ReductionRecord;
  readonly after: ReductionRecord;
  readonly fileName: string;
}

const standings: readonly Standing[] = ['conforming', 'nonconforming', 'unproven', 'missing'];

function countsOf({ disc }: ReductionRecord): Readonly<Record<Standing, number>> {
  const { conforming, nonconforming, unproven, missing } = disc.result.summary;
  return { conforming, nonconforming, unproven, missing: missing.length };
}

/** What went in differently, and what that did to the verdicts. */
export function Differences({ before, after, fileName }: DifferencesProps) {
  const inputs = inputDifferences(before, after);
  const exclusions = exclusionChanges(before, after);
  const [was, is] = [countsOf(before), countsOf(after)];
  const sheet = {
    head: ['what', 'before', 'after'],
    rows: [
      ...standings.map((standing) => [
        `stations ${standingText[standing]}`,
        String(was[standing]),
        String(is[standing]),
      ]),
      ...inputs.map((row) => [row.what, row.before, row.after]),
      ...exclusions.map(({ kind, what, reason }) =>
        kind === 'left out' ? [what, 'used', `left out: ${reason}`] : [what, `left out: ${reason}`, 'used'],
      ),
    ],
  };
  return (
    <section className="differences panel" aria-label="What changed">
      <header className="chart-head">
        <div className="chart-title">
          <h2>What changed</h2>
        </div>
        <SheetTools sheet={sheet} fileName={fileName} of="the list of what changed" />
      </header>
      <div className="largest-scroll">
        <table className="counts">
          <thead>
            <tr>
              <th scope="col" className="as-text">
                stations
              </th>
              <th scope="col">before</th>
              <th scope="col">after</th>
            </tr>
          </thead>
          <tbody>
            {standings.map((standing) => (
              <tr
                key={standing}
                data-standing={standing}
                className={was[standing] === is[standing] ? 'same' : undefined}
              >
                <th scope="row" className="as-text">
                  <VerdictMark standing={standing} /> {standingText[standing]}
                </th>
                <td>{formatCount(was[standing])}</td>
                <td>{formatCount(is[standing])}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {exclusions.length > 0 && (
          <ul className="exclusion-changes">
            {exclusions.map(({ kind, what, reason }) => (
              <li key={`${kind} ${what}`}>
                <b>{kind}:</b> {what} <span className="caption">{reason}</span>
              </li>
            ))}
          </ul>
        )}
        {inputs.length === 0 ? (
          <p className="empty-note">Files, plan and points used are the same.</p>
        ) : (
          <dl className="inputs">
            {inputs.map(({ what, before: old, after: fresh }) => (
              <div key={what}>
                <dt className="caption">{what}</dt>
                <dd>
                  <span className="was">{old}</span> → <span>{fresh}</span>
                </dd>
              </div>
            ))}
          </dl>
        )}
      </div>
    </section>
  );
}
