/** Where Chromium is, and how it is started for tests: without a sandbox of its own and without talking to anybody. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

export const chromiumArguments: readonly string[] = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-lcd-text',
];

const names = ['chromium', 'chromium-browser', 'google-chrome'];

/** The program that CHROMIUM names, else the first of the usual names on the path. */
export function chromiumProgram(): string {
  const named = process.env['CHROMIUM'];
  if (named !== undefined && named !== '') {
    if (isProgram(named)) return named;
    throw new Error(`CHROMIUM is set to ${named}, where there is no program.`);
  }
  for (const folder of (process.env['PATH'] ?? '').split(delimiter))
    for (const name of names) {
      const path = join(folder, name);
      if (folder !== '' && isProgram(path)) return path;
    }
  throw new Error(
    `The tests of the window need Chromium, and none of ${names.join(', ')} is on the path. ` +
      'Install it (Debian: apt-get install chromium), or set CHROMIUM to its program.',
  );
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
