import type { FileRole } from '../../../src-main/api.ts';
import { type GivenFiles, roleHints, roleTitles, stillMissing } from '../../state/files.ts';
import './given-files.css';

interface GivenFilesProps {
  readonly files: GivenFiles;
  readonly onRemove: (role: FileRole) => void;
}

const roles: readonly FileRole[] = ['points', 'plan', 'welds'];

/** The three places for files, filled or not, and what is still to be given. */
export function GivenFilesList({ files, onRemove }: GivenFilesProps) {
  const missing = stillMissing(files);
  const given = roles.some((role) => files[role] !== undefined);
  return (
    <div className="given">
      <ul>
        {roles.map((role) => {
          const file = files[role];
          return (
            <li key={role} className={file === undefined ? 'open' : 'filled'}>
              <span className="role">{roleTitles[role]}</span>
              {file === undefined ? (
                <span className="hint">{roleHints[role]}</span>
              ) : (
                <>
                  <span className="name" title={file.name}>
                    {file.name}
                  </span>
                  <span className="hint">{formatBytes(file.bytes)}</span>
                  <button
                    type="button"
                    className="button quiet"
                    onClick={() => onRemove(role)}
                    aria-label={`Remove ${file.name}`}
                  >
                    Remove
                  </button>
                </>
              )}
            </li>
          );
        })}
      </ul>
      {given && missing.length > 0 && (
        <p className="still" role="status">
          Still missing:{' '}
          {missing.map((role) => (role === 'points' ? 'the points (CSV)' : 'the plan (JSON)')).join(' and ')}.
        </p>
      )}
    </div>
  );
}

function formatBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  if (bytes < 1e6) return `${(bytes / 1e3).toFixed(1)} kB`;
  return `${(bytes / 1e6).toFixed(1)} MB`;
}
