import { countOf, formatCount } from '../../format/format.ts';
import type { Session } from '../../state/session.ts';
import type { SessionFileWork } from '../../state/session-file.ts';
import type { AbsentFile } from '../../state/work.ts';
import { statementOf } from '../problems/problems.tsx';
import { localTime } from './times.ts';
import './session.css';

interface SavedBandProps {
  readonly session: Session;
  readonly work: SessionFileWork;
  readonly onReduce: () => void;
  readonly onCompare: () => void;
}

/** What must be known of an opened session above every view: that its results were not made here, or came out otherwise. */
export function SavedBand({ session, work, onReduce, onCompare }: SavedBandProps) {
  const { savedResults, progress } = session;
  const { absent, opened, changed } = work;
  const isAlone = absent.length > 0;
  if (savedResults === null && !isAlone && (changed?.length ?? 0) === 0) return null;
  return (
    <section className="saved-band" aria-label="State of the session">
      {savedResults !== null && (
        <p>
          <b>{isAlone ? 'Results only,' : 'Results'}</b> of Hubtrue {savedResults.software} as saved on{' '}
          {localTime(savedResults.saved)}
          {isAlone
            ? ', not reduced here. Residuals, exclusions and trials need what is missing:'
            : progress === null
              ? ', not reduced again here.'
              : '; being reduced again from the points.'}
        </p>
      )}
      {savedResults === null && isAlone && (
        <p>
          <b>Files are missing.</b>{' '}
          {opened === null ? '' : `The session of ${localTime(opened.saved)} names `}
          what nobody has found here:
        </p>
      )}
      {isAlone && (
        <ul>
          {absent.map((file) => (
            <li key={file.role}>{absentWords(file)}</li>
          ))}
        </ul>
      )}
      {isAlone && (
        <button type="button" className="button" onClick={work.findFiles}>
          Give {absent.length === 1 ? 'this file' : 'these files'}
        </button>
      )}
      {savedResults !== null && !isAlone && progress === null && (
        <button type="button" className="button" onClick={onReduce}>
          Reduce again
        </button>
      )}
      {changed !== null && changed.length > 0 && (
        <>
          <p>
            <b>Not the saved results:</b> reduced again from the same points,{' '}
            {countOf(changed.length, 'station')} came out otherwise than Hubtrue {opened?.software} had it (
            {changed.slice(0, 12).join(', ')}
            {changed.length > 12 ? ' …' : ''}).
          </p>
          <button type="button" className="button" onClick={onCompare}>
            Compare the two
          </button>
        </>
      )}
    </section>
  );
}

function absentWords(file: AbsentFile): string {
  if (file.state === 'different') return `${file.name}: ${statementOf(file.problem)}`;
  return `${file.name}, ${formatCount(file.bytes)} bytes, SHA-256 ${file.sha256.slice(0, 16)}…`;
}
