import type { HubtrueApi, ImportMapping, PointsPreview } from '../../../src-main/api.ts';
import { formatCount } from '../../format/format.ts';
import { type Draft, type Json, numberAt, textAt, withValue } from '../plan/draft.ts';
import { knownNames } from '../plan/nominal.ts';
import { type PlanState, planActions } from '../plan/plan-store.ts';
import { featuresSeen } from '../plan/starting-points.ts';
import { CountRing } from './count-ring.tsx';
import { FirstRows } from './first-rows.tsx';
import { LabelPattern } from './label-pattern.tsx';
import { importBlock, labelledStations } from './mapping.ts';
import { ReadingControls } from './reading-controls.tsx';
import { usePreview } from './use-preview.ts';
import './import.css';

interface ImportViewProps {
  readonly api: HubtrueApi;
  readonly plan: PlanState;
  readonly onChoosePoints: () => void;
}

/** How an unfamiliar point file is read: everything that was detected, on its first rows, and each of it to change. */
export function ImportView({ api, plan, onChoosePoints }: ImportViewProps) {
  usePreview(api, plan);
  const { points, preview: looked, previewProblems, stated, history } = plan;
  const draft = history.present;
  if (points === null)
    return (
      <section className="import-view empty">
        <div className="empty-note">
          <h2>Which points is the plan for?</h2>
          <p>
            With a point file at hand the number of stations, the names of the features and the way the file
            is written need not be typed. A plan can be written without one as well.
          </p>
          <p className="row-buttons">
            <button type="button" className="button strong" onClick={onChoosePoints}>
              Choose a point file
            </button>
            <button type="button" className="button" onClick={() => planActions.update({ step: 'plan' })}>
              Go on without
            </button>
          </p>
        </div>
      </section>
    );
  if (looked === null)
    return (
      <section className="import-view empty">
        <div className="empty-note" role="status">
          {previewProblems.length === 0 ? (
            <p>Looking through {points.name} …</p>
          ) : (
            previewProblems.map(({ message }) => (
              <p key={message} className="field-fault">
                {message}
              </p>
            ))
          )}
        </div>
      </section>
    );
  // What was just stated shows before its effect does.
  const preview = { ...looked, taken: { ...looked.taken, ...withoutGaps(stated) } };
  const state = (part: ImportMapping): void => planActions.update({ stated: { ...stated, ...part } });
  const labelled = labelledStations(preview);
  const problems = [...previewProblems, ...preview.problems].map(({ message }) => message);
  if (labelled !== null) problems.push(labelled);
  const seen = featuresSeen(preview);
  const isUsable =
    preview.points > 0 && ['x', 'y', 'z'].every((axis) => (preview.taken.columns?.[axis] ?? null) !== null);
  return (
    <div className="import-view">
      <section className="panel reading" aria-label="How the file is read">
        <header>
          <h2>{preview.name}</h2>
          <p>{detectedSentence(preview)}</p>
          {preview.stated.length > 0 && (
            <button type="button" className="button" onClick={() => planActions.update({ stated: {} })}>
              Detect everything again
            </button>
          )}
        </header>
        <ReadingControls preview={preview} onState={state} />
        <FirstRows preview={preview} onColumns={(columns) => state({ columns })} />
        {(preview.taken.columns?.['label'] ?? preview.taken.label ?? null) !== null && (
          <LabelPattern preview={preview} onPattern={(label) => state({ label })} />
        )}
        {problems.length > 0 && (
          <div className="reading-problems" role="status">
            <ul aria-label="What is wrong with the file">
              {problems.map((message) => (
                <li key={message}>{message}</li>
              ))}
            </ul>
          </div>
        )}
      </section>
      <aside className="panel ring-panel" aria-label="Points per station and feature">
        <CountRing
          preview={preview}
          stations={numberAt(draft, ['disc', 'stations'])}
          isClockwise={textAt(draft, ['disc', 'sense']) === 'clockwise'}
        />
        <footer>
          <button
            type="button"
            className="button strong large"
            disabled={!isUsable}
            onClick={() => {
              planActions.change(mapped(draft, preview, seen.stations), 'mapping of the points');
              onward(draft);
            }}
          >
            Use this reading
          </button>
          <p>It is kept in the plan: the next file of this kind needs no question.</p>
        </footer>
      </aside>
    </div>
  );
}

function withoutGaps(stated: ImportMapping): ImportMapping {
  return Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== undefined));
}

function mapped(draft: Draft, preview: PointsPreview, stations: number): Draft {
  const next = withValue(draft, ['import'], importBlock(preview) as Json);
  const isNew = numberAt(draft, ['disc', 'stations']) === null && stations > 0;
  return isNew ? withValue(next, ['disc', 'stations'], stations) : next;
}

/** To the starting points of a plan that has no datums yet, else to its datums. */
function onward(draft: Draft): void {
  const names = knownNames(draft);
  planActions.update({ step: 'plan', section: names === null ? 'start' : 'hub' });
}

function detectedSentence({ rows, taken, columnNames }: PointsPreview): string {
  const used = Object.values(taken.columns ?? {}).filter((column) => column !== null).length;
  return `${formatCount(rows)} rows, ${columnNames.length} columns, ${used} of them used. Change whatever is wrong; the rows and the ring follow at once.`;
}
