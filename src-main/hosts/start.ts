/**
 * Entry of `npm start`: the desktop window where it can run, else the same window in a browser with a sample disc.
 * `--no-open` leaves the browser to the person.
 */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { placesFrom, runBrowserHost } from './browser/run.ts';
import { desktopObstacle } from './desktop-obstacle.ts';

const project = fileURLToPath(new URL('../../', import.meta.url));

/** Path of Electron's program, or null. Its own `index.js` is not asked: it would try to download. */
function electronProgram(): string | null {
  try {
    const folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
    const name = readFileSync(join(folder, 'path.txt'), 'utf8').trim();
    const path = join(process.env['ELECTRON_OVERRIDE_DIST_PATH'] ?? join(folder, 'dist'), name);
    return existsSync(path) ? path : null;
  } catch {
    return null;
  }
}

async function startBrowser(reason: string): Promise<void> {
  console.log(`The desktop window cannot open: ${reason}\nThe browser takes its place.\n`);
  await runBrowserHost(placesFrom(import.meta.url), 'off-centre', !process.argv.includes('--no-open'));
}

const program = electronProgram();
const obstacle = desktopObstacle(program, process.platform, process.env);
if (obstacle !== null || program === null) {
  await startBrowser(obstacle ?? 'no program');
} else {
  const child = spawn(program, [project], { stdio: 'inherit' });
  child.on('error', (error) => void startBrowser(error.message));
  child.on('exit', (code, signal) => {
    // Ended by the person, with the window or from the terminal.
    if (code === 0 || signal !== null) process.exit(0);
    void startBrowser(`Electron ended with status ${code}.`);
  });
}
