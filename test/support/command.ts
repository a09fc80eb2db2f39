import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { ResultDocument } from '../../shared-math/result.ts';

const project = fileURLToPath(new URL('../../', import.meta.url));

export function samplePath(sample: string, name: string): string {
  return `${project}sample-data/${sample}/${name}`;
}

/** The result document of a sample disc, from the real command line. */
export function resultOfSample(sample: string): ResultDocument {
  const run = spawnSync(
    process.execPath,
    [
      `${project}src-main/hosts/terminal/hubtrue.mjs`,
      'reduce',
      samplePath(sample, 'points.csv'),
      '--plan',
      samplePath(sample, 'plan.json'),
      '--json',
    ],
    { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 },
  );
  if (run.status !== 0 && run.status !== 1) throw new Error(`hubtrue reduce failed: ${run.stderr}`);
  return JSON.parse(run.stdout) as ResultDocument;
}
