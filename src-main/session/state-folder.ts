/** The account's own folder for what the program keeps between two starts: autosaves and the list of recent sessions. */
import { mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';

/** Set to put the folder elsewhere, for example on a machine that several people share one account of. */
const OVERRIDE = 'HUBTRUE_STATE';

/** By the customs of the system: the XDG base directories, `%LOCALAPPDATA%`, `~/Library/Application Support`. */
export function defaultStateFolder(
  environment: Readonly<Record<string, string | undefined>> = process.env,
  platform: NodeJS.Platform = process.platform,
): string {
  const stated = environment[OVERRIDE];
  if (stated) return stated;
  const home = homedir();
  if (platform === 'win32')
    return join(environment['LOCALAPPDATA'] || join(home, 'AppData', 'Local'), 'Hubtrue');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Hubtrue');
  return join(environment['XDG_STATE_HOME'] || join(home, '.local', 'state'), 'hubtrue');
}

/** Makes the folder, for this account only. */
export function makeStateFolder(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
}
