#!/usr/bin/env node
/**
 * `npm run fetch-electron`: fetches Electron's program with Electron's own installer. It is no part of `npm ci`, since
 * it comes from outside the package registry. A machine that is offline keeps the browser host and the command line.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

const folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));

function program() {
  const note = join(folder, 'path.txt');
  if (!existsSync(note)) return null;
  const path = join(
    process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist'),
    readFileSync(note, 'utf8').trim(),
  );
  return existsSync(path) ? path : null;
}

if (program() === null) {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 22 || (major === 22 && minor < 12))
    console.log(
      `Electron's installer asks for Node 22.12 or newer; this is ${process.versions.node}. Trying all the same.`,
    );
  const run = spawnSync(process.execPath, [join(folder, 'install.js')], {
    encoding: 'utf8',
    timeout: 600_000,
  });
  if (run.status !== 0) {
    const reason =
      (run.stderr ?? '').split('\n').find((line) => line.trim() !== '') ?? `status ${run.status}`;
    console.log(
      `Electron's program could not be fetched: ${reason.trim()}\n` +
        'Everything but the desktop window works without it: `npm start` opens the browser instead.\n' +
        'Run this again when the machine can reach github.com, or set ELECTRON_MIRROR to a mirror of its releases.',
    );
  }
}
const path = program();
if (path !== null) console.log(`Electron's program is at ${path}. \`npm start\` opens the desktop window.`);
