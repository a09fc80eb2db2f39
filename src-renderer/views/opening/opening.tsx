import type { ReactNode } from 'react';
import type { FileRole, OpenedFile, RecentSession, SampleDisc } from '../../../src-main/api.ts';
import { type GivenFiles, stillMissing } from '../../state/files.ts';
import { GivenFilesList } from '../files/given-files.tsx';
import { RecentWork } from './recent-work.tsx';
import { SampleDial } from './sample-dial.tsx';
import './opening.css';

interface OpeningProps {
  readonly samples: readonly SampleDisc[];
  readonly files: GivenFiles;
  readonly recent: readonly RecentSession[];
  /** The files given were refused: perhaps the points are read in a wrong way. */
  readonly refused: boolean;
  readonly onChoose: () => void;
  readonly onSample: (id: string) => void;
  readonly onRemove: (role: FileRole) => void;
  /** A plan from a blank start. */
  readonly onNewPlan: () => void;
  /** What forces, angles and temperatures do to a blade, without any disc. */
  readonly onCalculator: () => void;
  /** The reading of points that have no plan yet. */
  readonly onDescribe: (points: OpenedFile) => void;
  /** Work of an earlier run that was not saved. */
  readonly recovery?: ReactNode;
  /** Absent where sessions cannot be opened from here. */
  readonly onRecent?: ((session: RecentSession) => void) | undefined;
}

/** Where files come in: the whole first view, and the content of the files dialog afterwards. */
export function Opening(props: OpeningProps) {
  const {
    samples,
    files,
    recent,
    onChoose,
    onSample,
    onRemove,
    onNewPlan,
    onCalculator,
    onDescribe,
    onRecent,
    refused,
  } = props;
  const { points } = files;
  const lacksPlan = points !== undefined && stillMissing(files).length === 1;
  return (
    <div className="opening">
      {props.recovery}
      <button type="button" className="drop" onClick={onChoose} data-testid="choose-files">
        <SampleDial id="conforming" />
        <span className="drop-title">Drop the points and the plan here</span>
        <span className="drop-hint">
          or press to choose them (Ctrl+O). A CSV of measured points and a JSON plan; the weld order if you
          have it.
        </span>
      </button>
      <GivenFilesList files={files} onRemove={onRemove} />
      {lacksPlan && (
        <section className="no-plan" aria-label="Points without a plan">
          <div>
            <h2>{points.name} has no plan yet</h2>
            <p>
              The plan says what the drawing asks for: stations, datums, tolerances. Give it if you have it,
              or make it here: first how the file is to be read, then the plan, then the result.
            </p>
          </div>
          <button type="button" className="button strong large" onClick={() => onDescribe(points)}>
            Read these points and make a plan
          </button>
        </section>
      )}
      {refused && points !== undefined && !lacksPlan && (
        <section className="no-plan" aria-label="Refused files">
          <div>
            <h2>{points.name} was refused</h2>
            <p>Perhaps it is written in another way than the plan says, or than was detected.</p>
          </div>
          <button type="button" className="button large" onClick={() => onDescribe(points)}>
            See how these points are read
          </button>
        </section>
      )}
      <ul className="ways" aria-label="Other ways to begin">
        <li>
          <button type="button" onClick={onNewPlan} data-testid="new-plan">
            <b>New plan</b>
            <span className="description">From a common order of datums or from a blank sheet</span>
          </button>
        </li>
        {!lacksPlan && (
          <li>
            <button type="button" onClick={onChoose}>
              <b>Import points without a plan</b>
              <span className="description">
                An unfamiliar CSV: Hubtrue says how it reads it, and you correct it
              </span>
            </button>
          </li>
        )}
        <li>
          <button type="button" onClick={onCalculator}>
            <b>Calculator</b>
            <span className="description">
              What a force, an angle or a temperature moves a blade, and the position that takes
            </span>
          </button>
        </li>
      </ul>
      {onRecent !== undefined && recent.length > 0 && <RecentWork recent={recent} onOpen={onRecent} />}
      {samples.length > 0 && (
        <section aria-label="Sample discs">
          <h2>Or open an invented sample disc</h2>
          <ul className="samples">
            {samples.map((sample) => (
              <li key={sample.id}>
                <button
                  type="button"
                  className="picture-button"
                  onClick={() => onSample(sample.id)}
                  data-sample={sample.id}
                >
                  <SampleDial id={sample.id} />
                  <span>
                    <b>{sample.title}</b>
                    <span className="description">{sample.description}</span>
                  </span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}

/** The first view of all. */
export function OpeningView(props: OpeningProps) {
  return (
    <main className="opening-view">
      <div className="opening-column">
        <h1>Every blade’s six errors and true position, from the points of your measuring machine.</h1>
        <Opening {...props} />
      </div>
    </main>
  );
}
