/**
 * Makes sure that the tests of the window find a Chromium: where there is none, Debian's package is installed, if this is a
 * Debian machine and we may. Otherwise says what to do and fails. Run by `npm test`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromiumProgram } from './chromium.ts';

function missing(): string | null {
  try {
    chromiumProgram();
    return null;
  } catch (error) {
    return (error as Error).message;
  }
}

function run(command: string, ...args: readonly string[]): boolean {
  console.log(`> ${command} ${args.join(' ')}`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  return spawnSync(command, args, { stdio: ['ignore', 'ignore', 'inherit'], env }).status === 0;
}

if (missing() !== null && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
  run('apt-get', 'update', '-qq');
  run('apt-get', 'install', '-y', '-qq', 'chromium');
}
const problem = missing();
if (problem !== null) {
  console.error(problem);
  process.exit(1);
}
