import type { ReactNode } from 'react';
import type { HostFacts, Progress } from '../../src-main/api.ts';
import { shortcutOf } from '../commands.ts';
import type { LengthUnit, RotationUnit } from '../format/format.ts';
import { useForAWhile } from '../parts/announcer.tsx';
import { Segmented } from '../parts/segmented.tsx';
import type { GivenFiles } from '../state/files.ts';
import type { SessionFileWork } from '../state/session-file.ts';
import type { Settings, Theme } from '../state/settings.ts';
import './shell.css';

interface ShellProps {
  readonly title: string | null;
  readonly files: GivenFiles;
  readonly work: SessionFileWork;
  /** What must be known above every view. */
  readonly band: ReactNode;
  readonly onShortcuts: () => void;
  readonly facts: HostFacts | null;
  readonly settings: Settings;
  readonly onSettings: (change: Partial<Settings>) => void;
  readonly onFiles: () => void;
  readonly progress: Progress | null;
  readonly onCancel: () => void;
  readonly importSentence: string | null;
  readonly onReading: () => void;
  readonly dropping: boolean;
  readonly tabs: ReactNode;
  readonly notice: ReactNode;
  readonly children: ReactNode;
}

const lengths: readonly (readonly [LengthUnit, string, string])[] = [
  ['mm', 'mm', 'Millimetres'],
  ['µm', 'µm', 'Micrometres'],
  ['inch', 'in', 'Inches'],
];
const rotations: readonly (readonly [RotationUnit, string, string])[] = [
  ['degree', '°', 'Degrees'],
  ['arc-minute', '′', 'Arc-minutes'],
  ['arc-second', '″', 'Arc-seconds'],
  ['mrad', 'mrad', 'Milliradians'],
];
const themes: readonly (readonly [Theme, string, string])[] = [
  ['light', '☀', 'Light colours'],
  ['system', 'A', 'Automatic colours of the system'],
  ['dark', '☾', 'Dark colours'],
];

const caution =
  'Decision support only. The drawing, the contract, local codes and the approved inspection authority govern.';

/** Everything around the views: title bar, progress, notices, footer. */
export function Shell(props: ShellProps) {
  const {
    title,
    files,
    work,
    band,
    onShortcuts,
    facts,
    settings,
    onSettings,
    onFiles,
    progress,
    onCancel,
    importSentence,
    onReading,
    dropping,
    tabs,
    notice,
    children,
  } = props;
  const message = useForAWhile(work.message);
  const names = [
    ...(work.name === null ? [] : [work.name]),
    ...[files.points, files.plan, files.welds].flatMap((file) => (file === undefined ? [] : [file.name])),
  ];
  return (
    <div className="shell">
      <a className="skip" href="#content">
        Skip to the content
      </a>
      <header className="top">
        <span className="brand">
          <Mark />
          <span className="brand-name">Hubtrue</span>
        </span>
        {title !== null && (
          <div className="disc-title">
            <h1 title={title}>{title}</h1>
            <button type="button" className="link" onClick={onFiles} title="Change the files">
              {work.unsaved && (
                <span className="unsaved-mark" title="Not saved">
                  ●<span className="unseen"> not saved, </span>
                </span>
              )}
              {names.join(' · ')}
            </button>
          </div>
        )}
        {tabs}
        <div className="top-tools">
          {title !== null && (
            <button type="button" className="button" onClick={onFiles}>
              Open files
            </button>
          )}
          {!work.isEmpty && (
            <button
              type="button"
              className="button"
              title={`Save the session (${shortcutOf('save-session')})`}
              onClick={() => void work.save(false)}
            >
              Save
            </button>
          )}
          <Segmented
            title="Length unit"
            value={settings.length}
            onChange={(length) => onSettings({ length })}
            choices={lengths}
          />
          <Segmented
            title="Rotation unit"
            value={settings.rotation}
            onChange={(rotation) => onSettings({ rotation })}
            choices={rotations}
          />
          <Segmented
            title="Colours"
            value={settings.theme}
            onChange={(theme) => onSettings({ theme })}
            choices={themes}
          />
        </div>
        <Message text={message} />
      </header>
      <Message text={message} />
      <div className="bands">{band}</div>
      {progress !== null && (
        <div className="progress">
          <progress value={progress.fraction} max={1} aria-label="Progress of the reduction" />
          <span>{progress.note}</span>
          <button type="button" className="button" onClick={onCancel}>
            Cancel
          </button>
        </div>
      )}
      <div className="stage" id="content" tabIndex={-1}>
        {children}
        <div className="notice">{notice}</div>
      </div>
      <footer className="foot">
        <Message text={message} />
        <p className="import">
          {importSentence !== null && (
            <button type="button" className="link" onClick={onReading} title={importSentence}>
              {importSentence}
            </button>
          )}
        </p>
        <p className="caution">{caution}</p>
        <p>
          <button type="button" className="link" onClick={onShortcuts} title={shortcutOf('shortcuts')}>
            Keyboard
          </button>
        </p>
        <p>{facts === null ? '' : `Hubtrue ${facts.version}`}</p>
      </footer>
      {dropping && (
        <div className="drop-veil" aria-hidden="true">
          <p>Drop points, plan or weld order</p>
        </div>
      )}
    </div>
  );
}

/**
 * What saving has to say, in room of its own: it covers nothing. It stands in the footer; in the title bar where the page scrolls;
 * and in a row of its own where the title bar scrolls away as well. The styles show one of the three.
 */
function Message({ text }: { readonly text: string }) {
  return text === '' ? null : (
    <p className="message" aria-hidden="true" title={text}>
      {text}
    </p>
  );
}

function Mark() {
  return (
    <svg viewBox="0 0 32 32" width="24" height="24" aria-hidden="true">
      <circle
        cx="16"
        cy="16"
        r="13"
        fill="none"
        stroke="var(--bar-brass)"
        strokeWidth="2.6"
        strokeDasharray="2.6 4.206"
      />
      <circle cx="16" cy="16" r="8" fill="none" stroke="currentColor" strokeWidth="2.4" />
      <circle cx="18" cy="14.6" r="2.4" fill="var(--bar-brass)" />
    </svg>
  );
}
