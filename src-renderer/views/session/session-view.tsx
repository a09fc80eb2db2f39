import { useId } from 'react';
import type { OpenedFile } from '../../../src-main/api.ts';
import { shortcutOf } from '../../commands.ts';
import { countOf } from '../../format/format.ts';
import type { WorkspaceProps } from '../../shell/workspace.ts';
import { exclusionCount } from '../../state/exclusions.ts';
import { roleTitles } from '../../state/files.ts';
import { stationOrder } from '../../state/selection.ts';
import { stationNote } from '../../state/work.ts';
import { RecentWork } from '../opening/recent-work.tsx';
import { Recovery } from './recovery.tsx';
import { localTime } from './times.ts';
import './session.css';

/** Id of the field for the note on the selected station, for those who lead there. */
export const STATION_NOTE = 'station-note';

/** The work as a file: where it is kept, what it holds, what is noted on it. */
export function SessionView({ session, disc, work, selected, onSelect, onWorkspace }: WorkspaceProps) {
  const files = disc === null ? session.files : session.discFiles;
  const { present } = session.exclusions;
  const source = disc?.result.source;
  const sums = { points: source?.points.sha256, plan: source?.plan.sha256, welds: source?.welds?.sha256 };
  return (
    <main className="session-view">
      {disc === null && <h1 className="unseen">Session</h1>}
      <section className="panel session-file" aria-label="Session file">
        <header>
          {disc === null && (
            <button type="button" className="button quiet" onClick={() => onWorkspace('')}>
              ← Start
            </button>
          )}
          <h2>{work.name ?? (work.isEmpty ? 'Nothing to save yet' : 'Not saved yet')}</h2>
          <p className={work.unsaved ? 'unsaved-words' : undefined}>{stateWords(work)}</p>
        </header>
        <div className="row-buttons">
          <button
            type="button"
            className="button strong"
            disabled={work.isEmpty}
            title={shortcutOf('save-session')}
            onClick={() => void work.save(false)}
          >
            Save session
          </button>
          <button
            type="button"
            className="button"
            disabled={work.isEmpty}
            title={shortcutOf('save-session-as')}
            onClick={() => void work.save(true)}
          >
            Save as …
          </button>
        </div>
        <p className="hint">
          One file with the plan, the reading of the points, what was left out and why, notes and results. The
          points stay in their own file; the session knows it again by its SHA-256.
        </p>
        <table className="small-table">
          <caption>What it holds</caption>
          <tbody>
            {(['points', 'plan', 'welds'] as const).map((role) => (
              <FileRow
                key={role}
                title={roleTitles[role]}
                file={files[role]}
                sha256={sums[role]}
                absent={work.absent.find((entry) => entry.role === role)?.name}
              />
            ))}
            <tr>
              <th scope="row">Left out</th>
              <td colSpan={2}>
                {exclusionCount(present) === 0
                  ? 'nothing by hand'
                  : `${countOf(present.points.length, 'point')}, ${countOf(present.features.length, 'feature')}, each with its reason`}
              </td>
            </tr>
            <tr>
              <th scope="row">Results</th>
              <td colSpan={2}>
                {disc === null
                  ? 'none yet'
                  : `${disc.result.summary.conforming} of ${countOf(disc.result.summary.stations, 'station')} conform; Hubtrue ${source?.software}`}
              </td>
            </tr>
          </tbody>
        </table>
        {work.opened !== null && (work.opened.migratedFrom !== null || work.opened.warnings.length > 0) && (
          <ul className="opened-words">
            {work.opened.migratedFrom !== null && (
              <li>
                Brought up to date from {work.opened.migratedFrom}; the next save writes the present format.
              </li>
            )}
            {work.opened.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        )}
        <Recovery work={work} />
        {work.recent.length > 0 && (
          <RecentWork
            recent={work.recent}
            onOpen={(entry) => work.open(entry.ticket)}
            onForget={work.forget}
          />
        )}
      </section>
      <section className="panel session-notes" aria-label="Notes">
        <h2>Notes</h2>
        <NoteField
          label="On the disc as a whole"
          value={work.notes.disc}
          rows={6}
          disabled={work.isEmpty}
          onChange={work.noteDisc}
        />
        {disc !== null && (
          <>
            <label className="station-choice">
              Station{' '}
              <select value={selected ?? ''} onChange={(event) => onSelect(Number(event.target.value))}>
                {stationOrder(disc).map((station) => (
                  <option key={station} value={station}>
                    {station}
                    {stationNote(work.notes, station) === '' ? '' : ' (noted)'}
                  </option>
                ))}
              </select>
            </label>
            {selected !== null && (
              <NoteField
                id={STATION_NOTE}
                label={`On station ${selected}`}
                value={stationNote(work.notes, selected)}
                rows={4}
                disabled={false}
                onChange={(text) => work.noteStation(selected, text)}
              />
            )}
            {work.notes.stations.length > 0 && (
              <ul className="noted">
                {work.notes.stations.map(({ station, text }) => (
                  <li key={station}>
                    <button type="button" className="link" onClick={() => onSelect(station)}>
                      Station {station}
                    </button>
                    <p>{text}</p>
                  </li>
                ))}
              </ul>
            )}
          </>
        )}
        <p className="hint">Notes stay in the session; the report does not print them.</p>
      </section>
    </main>
  );
}

function stateWords(work: WorkspaceProps['work']): string {
  const saved = work.saved === null ? '' : `saved ${localTime(work.saved)}`;
  const kept = work.autosaved === null ? '' : `, kept against loss ${localTime(work.autosaved).slice(11)}`;
  if (!work.unsaved) return saved;
  return `${saved === '' ? 'not saved' : `changed since it was ${saved}`}${kept}`;
}

interface FileRowProps {
  readonly title: string;
  readonly file: OpenedFile | undefined;
  readonly sha256: string | undefined;
  readonly absent: string | undefined;
}

function FileRow({ title, file, sha256, absent }: FileRowProps) {
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>{file?.name ?? (absent === undefined ? 'none' : `${absent}, not found here`)}</td>
      <td className="sum" title={sha256}>
        {file === undefined || sha256 === undefined ? '' : `SHA-256 ${sha256.slice(0, 12)}…`}
      </td>
    </tr>
  );
}

interface NoteFieldProps {
  readonly id?: string;
  readonly label: string;
  readonly value: string;
  readonly rows: number;
  readonly disabled: boolean;
  readonly onChange: (text: string) => void;
}

function NoteField({ id: given, label, value, rows, disabled, onChange }: NoteFieldProps) {
  const own = useId();
  const id = given ?? own;
  return (
    <div className="note-field">
      <label htmlFor={id}>{label}</label>
      <textarea
        id={id}
        rows={rows}
        value={value}
        maxLength={20_000}
        disabled={disabled}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}
