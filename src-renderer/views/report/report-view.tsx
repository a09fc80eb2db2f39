import { useEffect, useState } from 'react';
import type { HubtrueApi, OutputKind, PreviewReportRequest, Problem } from '../../../src-main/api.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { useLasting } from '../../state/kept.ts';
import { withRemedy } from '../problems/problems.tsx';
import { Preview } from './preview.tsx';
import { sectionsOf } from './read-report.ts';
import './report.css';

type Language = NonNullable<PreviewReportRequest['language']>;
type Paper = NonNullable<PreviewReportRequest['paper']>;
type Length = NonNullable<PreviewReportRequest['length']>;

const otherFiles: readonly (readonly [OutputKind, string, string])[] = [
  ['stations.csv', 'CSV', 'One row for each station, units in the column names'],
  ['stations.xlsx', 'Spreadsheet', 'The same as a workbook; every text is stored as text'],
  ['result.json', 'JSON', 'Everything that was worked out, at full precision'],
  ['result.qif', 'QIF', 'ISO 23952 results, written after the published schemas, not validated against them'],
];

/** What goes out: the conformance report and the result in the formats of other programs. */
export function ReportView({ api, disc, session, settings }: DiscWorkspaceProps) {
  const [language, setLanguage] = useLasting<Language>('report-language', 'en');
  const [paper, setPaper] = useLasting<Paper>('report-paper', 'a4');
  const [length, setLength] = useLasting<Length>('report-length', settings.length);
  const { job, exclusions, savedResults } = session;
  const preview = usePreview(api, job, { language, paper, length });
  const [outcome, setOutcome] = useState('');
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [making, setMaking] = useState<OutputKind | null>(null);

  async function save(kind: OutputKind): Promise<void> {
    if (job === null || making !== null) return;
    setMaking(kind);
    setProblems([]);
    setOutcome('Being made …');
    const answer = await api.saveOutput({ job, kind, language, paper, length });
    setMaking(null);
    if (!answer.ok) {
      setProblems(answer.problems);
      setOutcome('');
    } else setOutcome(answer.value === null ? 'Not saved.' : `Saved: ${answer.value.name}`);
  }

  const { present } = exclusions;
  const leftOut = present.points.length + present.features.length;
  const button = (kind: OutputKind, text: string, strong = false) => (
    <button
      type="button"
      className={`button ${strong ? 'strong' : ''}`}
      disabled={making !== null}
      onClick={() => void save(kind)}
    >
      {text}
    </button>
  );
  return (
    <main className="report-view">
      <section className="panel report-choices" aria-label="Report">
        <h2>Report</h2>
        <div className="report-options">
          <Segmented
            title="Language of the report"
            value={language}
            onChange={setLanguage}
            choices={[
              ['en', 'English'],
              ['de', 'Deutsch'],
              ['fr', 'Français'],
            ]}
          />
          <Segmented
            title="Paper"
            value={paper}
            onChange={setPaper}
            choices={[
              ['a4', 'A4'],
              ['letter', 'Letter'],
            ]}
          />
          <Segmented
            title="Unit of results in the report"
            value={length}
            onChange={setLength}
            choices={[
              ['mm', 'mm', 'Results in millimetres'],
              ['µm', 'µm', 'Results in micrometres'],
              ['inch', 'in', 'Results in inches'],
            ]}
          />
        </div>
        <div className="row-buttons">
          {button('report.pdf', 'Save PDF', true)}
          {button('report.html', 'Save HTML')}
        </div>
        <p className="outcome" role="status">
          {outcome}
        </p>
        {problems.length > 0 && (
          <ul className="report-problems" role="alert">
            {problems.map((problem) => (
              <li key={problem.message}>{withRemedy(problem)}</li>
            ))}
          </ul>
        )}
        <h3>What it holds</h3>
        <ul className="holds">
          {sectionsOf(preview.html).map((section) => (
            <li key={section}>{section}</li>
          ))}
        </ul>
        <ul className="plain-words">
          <li>
            {savedResults === null
              ? 'The result on view, as measured and reduced here.'
              : `The saved result of Hubtrue ${savedResults.software}, not reduced again here.`}
          </li>
          <li>
            {leftOut === 0
              ? 'Nothing was left out by hand.'
              : 'What was left out by hand stands in it with every reason.'}
          </li>
          <li>What was tried under What if, and notes, are never in it.</li>
        </ul>
        <h3>For other programs</h3>
        <ul className="other-files">
          {otherFiles.map(([kind, text, hint]) => (
            <li key={kind}>
              {button(kind, text)}
              <span>{hint}</span>
            </li>
          ))}
        </ul>
      </section>
      {preview.problems.length > 0 ? (
        <section className="panel report-none" role="alert" aria-label="Preview of the report">
          <ul>
            {preview.problems.map((problem) => (
              <li key={problem.message}>{withRemedy(problem)}</li>
            ))}
          </ul>
        </section>
      ) : preview.html === '' ? (
        <section className="panel report-none" role="status" aria-label="Preview of the report">
          The report is being laid out …
        </section>
      ) : (
        <Preview html={preview.html} label={`Preview of the report on ${disc.plan.title}`} />
      )}
    </main>
  );
}

interface PreviewState {
  readonly html: string;
  readonly problems: readonly Problem[];
}

/** The report as it would be saved; the last one stays in sight until the next is there. */
function usePreview(
  api: HubtrueApi,
  job: string | null,
  wishes: Omit<PreviewReportRequest, 'job'>,
): PreviewState {
  const [state, setState] = useState<PreviewState>({ html: '', problems: [] });
  const { language = 'en', paper = 'a4', length = 'mm' } = wishes;
  useEffect(() => {
    if (job === null) return setState({ html: '', problems: [] });
    let isCurrent = true;
    void api.previewReport({ job, language, paper, length }).then((outcome) => {
      if (!isCurrent) return;
      setState(
        outcome.ok ? { html: outcome.value.html, problems: [] } : { html: '', problems: outcome.problems },
      );
    });
    return () => {
      isCurrent = false;
    };
  }, [api, job, language, paper, length]);
  return state;
}
