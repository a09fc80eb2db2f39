import { fileURLToPath } from 'node:url';
import type { ResultDocument } from '../../shared-math/result.ts';
import { hubtrue } from './command-line.ts';

export function samplePath(sample: string, name: string): string {
  return fileURLToPath(new URL(`../../sample-data/${sample}/${name}`, import.meta.url));
}

/** The result document of a sample disc, from the real command line. */
export function resultOfSample(sample: string): ResultDocument {
  const points = samplePath(sample, 'points.csv');
  const run = hubtrue('reduce', points, '--plan', samplePath(sample, 'plan.json'), '--json');
  if (run.status !== 0 && run.status !== 1) throw new Error(`hubtrue reduce failed: ${run.stderr}`);
  return JSON.parse(run.stdout) as ResultDocument;
}
