/** The menu by the customs of each platform, as plain data: what it holds can be tested without Electron. */
import type { MenuItemConstructorOptions } from 'electron';
import type { AppCommand } from '../../api.ts';

type Item = MenuItemConstructorOptions;

const separator: Item = { type: 'separator' };

const recentDocuments: Item = {
  label: 'Open Recent',
  role: 'recentDocuments',
  submenu: [{ role: 'clearRecentDocuments' }],
};

/**
 * @param platform as `process.platform`
 * @param send carries a command to the page, which does the work in both hosts
 */
export function applicationMenu(platform: NodeJS.Platform, send: (command: AppCommand) => void): Item[] {
  const mac = platform === 'darwin';
  const command = (label: string, name: AppCommand, accelerator?: string): Item => ({
    label,
    ...(accelerator === undefined ? {} : { accelerator }),
    click: () => send(name),
  });
  const file: Item = {
    label: '&File',
    submenu: [
      command('New Plan', 'new-plan', 'CmdOrCtrl+N'),
      command('Open…', 'open', 'CmdOrCtrl+O'),
      // Other systems show recent documents where they show the program.
      ...(mac ? [recentDocuments] : []),
      separator,
      command('Save Session', 'save-session', 'CmdOrCtrl+S'),
      command('Save Session As…', 'save-session-as', 'CmdOrCtrl+Shift+S'),
      separator,
      command('Save Report…', 'save-report', 'CmdOrCtrl+P'),
      separator,
      { role: mac ? 'close' : 'quit' },
    ],
  };
  const edit: Item = {
    label: '&Edit',
    submenu: [
      command('Undo', 'undo', 'CmdOrCtrl+Z'),
      command('Redo', 'redo', mac ? 'Shift+Cmd+Z' : 'Ctrl+Y'),
      separator,
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  };
  const view: Item = {
    label: '&View',
    submenu: [
      command('Calculator', 'calculator'),
      separator,
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      separator,
      { role: 'togglefullscreen' },
    ],
  };
  const help: Item = {
    label: '&Help',
    role: 'help',
    submenu: [command('Keyboard Shortcuts', 'shortcuts', mac ? undefined : 'F1')],
  };
  const window: Item = { role: 'windowMenu' };
  return mac ? [{ role: 'appMenu' }, file, edit, view, window, help] : [file, edit, view, help];
}
