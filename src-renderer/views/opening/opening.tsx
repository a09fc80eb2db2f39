import type { FileRole, SampleDisc } from '../../../src-main/api.ts';
import type { GivenFiles } from '../../state/files.ts';
import { GivenFilesList } from '../files/given-files.tsx';
import { SampleDial } from './sample-dial.tsx';
import './opening.css';

interface OpeningProps {
  readonly samples: readonly SampleDisc[];
  readonly files: GivenFiles;
  readonly onChoose: () => void;
  readonly onSample: (id: string) => void;
  readonly onRemove: (role: FileRole) => void;
}

/** Where files come in: the whole first view, and the content of the files dialog afterwards. */
export function Opening({ samples, files, onChoose, onSample, onRemove }: OpeningProps) {
  return (
    <div className="opening">
      <button type="button" className="drop" onClick={onChoose} data-testid="choose-files">
        <SampleDial id="conforming" />
        <span className="drop-title">Drop the points and the plan here</span>
        <span className="drop-hint">
          or press to choose them (Ctrl+O). A CSV of measured points and a JSON plan; the weld order if you
          have it.
        </span>
      </button>
      <GivenFilesList files={files} onRemove={onRemove} />
      {samples.length > 0 && (
        <section aria-label="Sample discs">
          <h2>Or open an invented sample disc</h2>
          <ul className="samples">
            {samples.map((sample) => (
              <li key={sample.id}>
                <button type="button" onClick={() => onSample(sample.id)} data-sample={sample.id}>
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
