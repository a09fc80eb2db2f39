import { homedir } from 'node:os';

/** Electron's dialogs forget the last folder, so it is kept here for as long as the program runs. */
let last = homedir();

export const lastFolder = (): string => last;

export function rememberFolder(folder: string): void {
  last = folder;
}
