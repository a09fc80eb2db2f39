/**
 * Makes sure that the tests find the programs that they drive: Chromium, without which they fail, and poppler's tools, a second
 * reader of the report beside the library that reads it in every test. What is missing is installed from Debian's packages, if
 * this is a Debian machine and we may. Run by `npm test`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromiumProgram } from './chromium.ts';
import { hasPoppler } from './poppler.ts';

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

const packages = [...(missing() === null ? [] : ['chromium']), ...(hasPoppler() ? [] : ['poppler-utils'])];
if (packages.length > 0 && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
  run('apt-get', 'update', '-qq');
  for (const name of packages) run('apt-get', 'install', '-y', '-qq', name);
}
if (!hasPoppler())
  console.log(
    'Poppler is not here: the report is read by one library only (Debian: apt-get install poppler-utils).',
  );
const problem = missing();
if (problem !== null) {
  console.error(problem);
  process.exit(1);
}
