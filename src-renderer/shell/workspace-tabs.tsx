import type { Workspace } from './workspace.ts';

interface WorkspaceTabsProps {
  readonly workspaces: readonly Workspace[];
  readonly current: string;
  readonly onWorkspace: (name: string) => void;
}

/** Navigation between workspaces; Alt with a figure opens the one in that place. */
export function WorkspaceTabs({ workspaces, current, onWorkspace }: WorkspaceTabsProps) {
  return (
    <nav className="tabs" aria-label="Workspaces">
      {workspaces.map(({ name, title }, index) => (
        <button
          key={name}
          type="button"
          aria-current={name === current ? 'page' : undefined}
          aria-keyshortcuts={`Alt+${index + 1}`}
          title={`${title} (Alt+${index + 1})`}
          onClick={() => onWorkspace(name)}
        >
          {title}
        </button>
      ))}
    </nav>
  );
}
