import type { HostFacts } from '../../../src-main/api.ts';
import { chordText, commands, furtherKeys, isMac } from '../../commands.ts';
import type { Workspace } from '../../shell/workspace.ts';
import './shortcuts.css';

const groups = ['Files', 'Edit', 'View', 'Help'] as const;

interface ShortcutsProps {
  readonly workspaces: readonly Workspace[];
  readonly host: HostFacts['host'];
}

/** Every key that the window knows, from the table that it acts on. */
export function Shortcuts({ workspaces, host }: ShortcutsProps) {
  const mac = isMac();
  return (
    <div className="shortcuts">
      {groups.map((group) => (
        <section key={group}>
          <h3>{group}</h3>
          <dl>
            {commands
              .filter((command) => command.group === group)
              .map(({ name, title, chords }) => (
                <Row
                  key={name}
                  title={title}
                  keys={chords
                    .filter(({ desktopOnly }) => desktopOnly !== true || host === 'desktop')
                    .map((chord) => chordText(chord, mac))}
                />
              ))}
          </dl>
        </section>
      ))}
      <section>
        <h3>Workspaces</h3>
        <dl>
          {workspaces.map(({ name, title }, index) => (
            <Row key={name} title={title} keys={[mac ? `⌥${index + 1}` : `Alt+${index + 1}`]} />
          ))}
        </dl>
      </section>
      <section>
        <h3>Everywhere</h3>
        <dl>
          {furtherKeys.map(({ title, keys }) => (
            <Row key={title} title={title} keys={keys} />
          ))}
        </dl>
      </section>
    </div>
  );
}

function Row({ title, keys }: { readonly title: string; readonly keys: readonly string[] }) {
  return (
    <div>
      <dt>{title}</dt>
      <dd>
        {keys.map((key) => (
          <kbd key={key}>{key}</kbd>
        ))}
      </dd>
    </div>
  );
}
