/** The real command line as a process of its own. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const launcher = fileURLToPath(new URL('../../src-main/hosts/terminal/hubtrue.mjs', import.meta.url));
const built = fileURLToPath(new URL('../../out/main/terminal.js', import.meta.url));

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs `hubtrue` with these words and waits for its end. */
export function hubtrue(...words: readonly string[]): Ended {
  if (!existsSync(built)) throw new Error('The command line is not built; run: npm run build');
  const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...words], {
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
    env: { ...process.env, NO_COLOR: '1' },
  });
  return { status, stdout, stderr };
}
