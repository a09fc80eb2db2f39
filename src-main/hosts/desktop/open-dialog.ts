import { dirname } from 'node:path';
import { type BrowserWindow, dialog } from 'electron';
import { lastFolder, rememberFolder } from './last-folder.ts';

/** Paths that the person chose; empty when the dialog was cancelled. */
export async function askForFiles(window: BrowserWindow): Promise<readonly string[]> {
  const answer = await dialog.showOpenDialog(window, {
    title: 'Open points and plan',
    defaultPath: lastFolder(),
    properties: ['openFile', 'multiSelections'],
    filters: [
      { name: 'Points, plan, weld order, session', extensions: ['csv', 'txt', 'tsv', 'json', 'hubtrue'] },
      { name: 'All files', extensions: ['*'] },
    ],
  });
  const [first] = answer.filePaths;
  if (first !== undefined) rememberFolder(dirname(first));
  return answer.canceled ? [] : answer.filePaths;
}
