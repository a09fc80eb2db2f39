import type { SessionFileWork } from '../../state/session-file.ts';
import { localTime } from './times.ts';
import './session.css';

/** Work of an earlier run that was not saved: taken up again, or let go for good. */
export function Recovery({ work }: { readonly work: SessionFileWork }) {
  if (work.recoverable.length === 0) return null;
  return (
    <section className="recovery" aria-label="Work that was not saved">
      <h2>Work that was not saved</h2>
      <ul>
        {work.recoverable.map((entry) => (
          <li key={entry.ticket}>
            <span>
              <b>{entry.name}</b>
              <span>
                kept {localTime(entry.autosaved)}
                {entry.saved === null ? ', never saved' : `, last saved ${localTime(entry.saved)}`}
                {entry.perhapsOpen && ', perhaps still open in another Hubtrue'}
              </span>
            </span>
            <button
              type="button"
              className="button strong"
              aria-label={`Recover ${entry.name}`}
              onClick={() => work.open(entry.ticket)}
            >
              Recover
            </button>
            <button
              type="button"
              className="button"
              aria-label={`Discard ${entry.name} for good`}
              onClick={() => work.discard(entry)}
            >
              Discard
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
