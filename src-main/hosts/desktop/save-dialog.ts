import { dirname, extname, join } from 'node:path';
import { type BrowserWindow, dialog } from 'electron';
import type { Outlet } from '../outlet.ts';
import { lastFolder, rememberFolder } from './last-folder.ts';

/** Asks the person for a place in the system's own dialog, which also asks before it lets a file be replaced. */
export function saveDialog(window: () => BrowserWindow | null): Outlet {
  return {
    async place({ name, title }) {
      const owner = window();
      if (owner === null) return null;
      const ending = extname(name).slice(1);
      const { canceled, filePath } = await dialog.showSaveDialog(owner, {
        title,
        defaultPath: join(lastFolder(), name),
        filters: [{ name: title, extensions: [ending] }],
      });
      if (canceled || filePath === '') return null;
      rememberFolder(dirname(filePath));
      // Some systems let the person type a name without ending.
      return { kind: 'path', path: extname(filePath) === '' ? `${filePath}.${ending}` : filePath };
    },
    hand() {
      throw new Error('The desktop writes files to places; it hands none over.');
    },
  };
}
