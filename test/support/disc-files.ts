/** Discs as files for tests: a sample disc as text to be spoilt or rewritten, in a folder of its own. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import type { PlanFile } from '../../src-main/plan/plan-schema.ts';

const samples = fileURLToPath(new URL('../../sample-data/', import.meta.url));

/** A plan whose every value a test may change. */
export type LoosePlan = { -readonly [Key in keyof PlanFile]: PlanFile[Key] } & Record<string, unknown>;

export interface DiscText {
  /** Cells of the header row, then of each point. */
  header: string[];
  rows: string[][];
  plan: LoosePlan;
}

/** The conforming sample disc: columns station,feature,x,y,z,i,j,k in mm. */
export function conformingDisc(): DiscText {
  const [header = '', ...rows] = readFileSync(join(samples, 'conforming/points.csv'), 'utf8')
    .trim()
    .split('\n');
  return {
    header: header.split(','),
    rows: rows.map((row) => row.split(',')),
    plan: JSON.parse(readFileSync(join(samples, 'conforming/plan.json'), 'utf8')) as LoosePlan,
  };
}

export function samplePath(disc: 'conforming' | 'off-centre' | 'drifting', file: string): string {
  return join(samples, disc, file);
}

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A folder that goes when the test file has run. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  folders.push(folder);
  return folder;
}

/** The table as CSV text. */
export function csv(
  { header, rows }: Pick<DiscText, 'header' | 'rows'>,
  delimiter = ',',
  lineEnd = '\n',
): string {
  return [header, ...rows].map((row) => `${row.join(delimiter)}${lineEnd}`).join('');
}

export interface DiscFiles {
  readonly folder: string;
  readonly points: string;
  readonly plan: string;
}

/** Writes points.csv and plan.json, the plan as it is where it is text or bytes. */
export function writeDisc(points: string | Uint8Array, plan: unknown, folder = temporaryFolder()): DiscFiles {
  const files = { folder, points: join(folder, 'points.csv'), plan: join(folder, 'plan.json') };
  writeFileSync(files.points, points);
  const asIs = typeof plan === 'string' || plan instanceof Uint8Array;
  writeFileSync(files.plan, asIs ? plan : JSON.stringify(plan, null, 2));
  return files;
}

/** Index of a point row by station text and feature, and its line in the file. */
export function rowOf(
  disc: DiscText,
  station: string,
  feature: string,
  nth = 0,
): { row: string[]; line: number } {
  const found = disc.rows.flatMap((row, index) =>
    row[0] === station && row[1] === feature ? [{ row, line: index + 2 }] : [],
  );
  const one = found[nth];
  if (one === undefined) throw new Error(`the sample disc has no such row: ${station} ${feature}`);
  return one;
}
