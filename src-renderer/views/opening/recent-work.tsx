import type { RecentSession } from '../../../src-main/api.ts';

interface RecentWorkProps {
  readonly recent: readonly RecentSession[];
  readonly onOpen: (session: RecentSession) => void;
  /** Takes an entry off the list. */
  readonly onForget?: (session: RecentSession) => void;
}

/** Entries shown: older ones are opened as files. */
const MOST = 6;

/** Sessions saved or opened here lately, with what came out of them. */
export function RecentWork({ recent, onOpen, onForget }: RecentWorkProps) {
  return (
    <section aria-label="Recent work">
      <h2>Recent work</h2>
      <ul className="recent">
        {recent.slice(0, MOST).map((session) => (
          <li key={session.ticket}>
            <button type="button" onClick={() => onOpen(session)}>
              <b>{session.title === '' ? session.name : session.title}</b>
              <span className="recent-place">
                {session.folder === '' ? session.name : `${session.name} in ${session.folder}`}
              </span>
              <span className="recent-count">
                {session.summary === null
                  ? 'not reduced'
                  : `${session.summary.conforming} of ${session.summary.stations} conform`}
              </span>
              <time dateTime={session.used}>{session.used.slice(0, 10)}</time>
            </button>
            {onForget !== undefined && (
              <button
                type="button"
                className="forget"
                aria-label={`Take ${session.name} off the list`}
                title="Take it off the list; the file stays"
                onClick={() => onForget(session)}
              >
                ×
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
