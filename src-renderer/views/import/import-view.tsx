import { useEffect, useId, useState } from 'react';
import type { HubtrueApi, ImportMapping, PointsPreview } from '../../../src-main/api.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { type Draft, type Json, numberAt, textAt, withValue } from '../plan/draft.ts';
import { knownNames } from '../plan/nominal.ts';
import { type PlanState, planActions } from '../plan/plan-store.ts';
import { featuresSeen } from '../plan/starting-points.ts';
import { CountRing } from './count-ring.tsx';
import { FirstRows } from './first-rows.tsx';
import { importBlock } from './mapping.ts';
import './import.css';

interface ImportViewProps {
  readonly api: HubtrueApi;
  readonly plan: PlanState;
  readonly onChoosePoints: () => void;
}

const delimiters = [
  [',', 'Comma', 'Comma'],
  [';', 'Semicolon', 'Semicolon'],
  ['\t', 'Tab', 'Tabulator'],
  ['|', 'Bar', 'Vertical bar'],
  [' ', 'Blanks', 'One or more blanks'],
] as const;
const encodings = [
  ['utf-8', 'UTF-8', 'UTF-8'],
  ['latin1', 'Latin-1', 'Latin-1 (Windows-1252)'],
  ['utf-16le', 'UTF-16 LE', 'UTF-16, little endian'],
  ['utf-16be', 'UTF-16 BE', 'UTF-16, big endian'],
] as const;
const decimals = [
  ['.', '1.5  point', 'Decimal point'],
  [',', '1,5  comma', 'Decimal comma'],
] as const;
const units = [
  ['mm', 'mm', 'Millimetres'],
  ['inch', 'inch', 'Inches'],
  ['µm', 'µm', 'Micrometres'],
] as const;
const headers = [
  ['yes', 'Yes', 'A row names the columns'],
  ['no', 'No', 'The first row is a point'],
] as const;

/** Asks again whenever something is stated; the last good look stays on view meanwhile. */
function usePreview(api: HubtrueApi, { points, stated, history }: PlanState): void {
  const names = knownNames(history.present);
  const key = JSON.stringify([points?.ticket, stated, names]);
  useEffect(() => {
    const [ticket, mapping, plan] = JSON.parse(key) as [
      string | null,
      ImportMapping,
      ReturnType<typeof knownNames>,
    ];
    if (ticket === null || ticket === undefined) return;
    let isStale = false;
    void api
      .previewPoints({ points: ticket, import: mapping, ...(plan === null ? {} : { plan }) })
      .then((outcome) => {
        if (isStale) return;
        planActions.update(
          outcome.ok
            ? { preview: outcome.value, previewProblems: [] }
            : { previewProblems: outcome.problems },
        );
      });
    return () => {
      isStale = true;
    };
  }, [api, key]);
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
  const problems = [...previewProblems, ...preview.problems];
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
        <div className="reading-controls">
          <Control title="Cells are parted by" name="delimiter" preview={preview}>
            <Segmented
              title="Delimiter"
              value={preview.taken.delimiter ?? ','}
              onChange={(delimiter) => state({ delimiter })}
              choices={delimiters}
            />
          </Control>
          <Control title="Decimal sign" name="decimal" preview={preview}>
            <Segmented
              title="Decimal sign"
              value={preview.taken.decimal ?? '.'}
              onChange={(decimal) => state({ decimal })}
              choices={decimals}
            />
          </Control>
          <Control title="Unit of length" name="unit" preview={preview}>
            <Segmented
              title="Length unit of the file"
              value={preview.taken.unit ?? 'mm'}
              onChange={(unit) => state({ unit })}
              choices={units}
            />
            <span className="extent">{extentText(preview)}</span>
          </Control>
          <Control title="Column names" name="header" preview={preview}>
            <Segmented
              title="Column names"
              value={preview.taken.header === true ? 'yes' : 'no'}
              // Columns named by their headers mean nothing without one.
              onChange={(header) =>
                planActions.update({ stated: { ...stated, header: header === 'yes', columns: undefined } })
              }
              choices={headers}
            />
          </Control>
          <Control title="Encoding" name="encoding" preview={preview}>
            <Segmented
              title="Encoding"
              value={preview.taken.encoding ?? 'utf-8'}
              onChange={(encoding) => state({ encoding })}
              choices={encodings}
            />
          </Control>
        </div>
        <FirstRows preview={preview} onColumns={(columns) => state({ columns })} />
        {preview.taken.columns?.['label'] !== undefined && preview.taken.columns['label'] !== null && (
          <LabelPattern preview={preview} onPattern={(label) => state({ label })} />
        )}
        {problems.length > 0 && (
          <div className="reading-problems" role="status">
            <ul aria-label="What is wrong with the file">
              {problems.map(({ message }) => (
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

interface ControlProps {
  readonly title: string;
  readonly name: string;
  readonly preview: PointsPreview;
  readonly children: React.ReactNode;
}

function Control({ title, name, preview, children }: ControlProps) {
  const isStated = preview.stated.includes(name);
  const word = isStated ? 'as stated' : name === 'unit' ? unitWords[preview.unitBecause] : 'detected';
  return (
    <div className={isStated ? 'control stated' : 'control'}>
      <span className="control-title">
        {title} <em>{word}</em>
      </span>
      {children}
    </div>
  );
}

const unitWords = {
  stated: 'as stated',
  header: 'by the header',
  size: 'guessed by size',
  nothing: 'not known',
} as const;

function extentText({ extent, taken }: PointsPreview): string {
  if (extent === null) return '';
  const factor = { mm: 1, inch: 25.4, µm: 0.001 }[taken.unit ?? 'mm'];
  return `The points span ${extent.map((span) => (span * factor).toFixed(0)).join(' × ')} mm`;
}

function detectedSentence({ rows, taken, columnNames }: PointsPreview): string {
  const used = Object.values(taken.columns ?? {}).filter((column) => column !== null).length;
  return `${rows.toLocaleString('en')} rows, ${columnNames.length} columns, ${used} of them used. Change whatever is wrong; the rows and the ring follow at once.`;
}

interface LabelPatternProps {
  readonly preview: PointsPreview;
  readonly onPattern: (pattern: string | undefined) => void;
}

/** How a label is taken apart: common patterns with what they make of a label of this file, or one's own. */
function LabelPattern({ preview, onPattern }: LabelPatternProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const pattern = preview.taken.label ?? '';
  return (
    <fieldset className="label-pattern">
      <legend>
        Labels hold station and feature <em>{preview.stated.includes('label') ? 'as stated' : 'detected'}</em>
      </legend>
      <div className="pattern-choices">
        {preview.patterns.map((choice) => (
          <label key={choice.pattern} className={choice.pattern === pattern ? 'chosen' : ''}>
            <input
              type="radio"
              name={id}
              checked={choice.pattern === pattern}
              onChange={() => onPattern(choice.pattern)}
            />
            <span>
              <b>{choice.example.label}</b> is station {choice.example.station}, {choice.example.feature}
            </span>
            <small>
              fits {choice.matched} of {choice.labels} labels
            </small>
          </label>
        ))}
      </div>
      <details>
        <summary>Another pattern</summary>
        <span className="own-pattern">
          <label htmlFor={`${id}-own`}>Regular expression with the groups station and feature</label>
          <input
            id={`${id}-own`}
            type="text"
            spellCheck={false}
            value={typed ?? pattern}
            aria-invalid={typed !== null && !isPattern(typed)}
            onChange={(event) => {
              setTyped(event.target.value);
              if (isPattern(event.target.value)) onPattern(event.target.value);
            }}
          />
        </span>
      </details>
    </fieldset>
  );
}

function isPattern(text: string): boolean {
  try {
    const groups = new RegExp(`${text}|`).exec('')?.groups ?? {};
    return 'station' in groups && 'feature' in groups;
  } catch {
    return false;
  }
}
