/**
 * Leaving a point out and reducing again: time from the request to the result, with the points remembered as the worker of
 * the window remembers them, with causes and as a trial without, as a ratio to the first reduction of the file (which reads
 * it) and to the bare mathematics.
 * `npx tsx test/bench/exclusions.bench.ts [repeats]`.
 *
 * Discs: the off-centre sample with 1,752 points, and the same with every point repeated ten times with some jitter.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { reduce } from '../../shared-math/reduce.ts';
import { createPointsMemory } from '../../src-main/jobs/points-memory.ts';
import { type ReductionMade, runReduction } from '../../src-main/jobs/run-reduction.ts';
import { median } from './measuring.ts';

const sample = fileURLToPath(new URL('../../sample-data/off-centre/', import.meta.url));
const repeats = Number(process.argv[2] ?? 21);
/** Half-width of the jitter, mm: some of the form error of a milled face. */
const JITTER = 0.002;
/** Runs before the compiler has settled. */
const WARM_UP = 8;

const folder = mkdtempSync(join(tmpdir(), 'hubtrue-bench-'));
try {
  for (const copies of [1, 10]) await measure(copies);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function measure(copies: number): Promise<void> {
  const pointsPath = join(folder, `points-${copies}.csv`);
  const rows = writePoints(pointsPath, copies);
  const files = { pointsPath, planPath: join(sample, 'plan.json') };
  const first: number[] = [];
  const again: number[] = [];
  const trial: number[] = [];
  const mathematics: number[] = [];
  for (let run = -WARM_UP; run < repeats; run += 1) {
    const read = createPointsMemory();
    let made: ReductionMade | null = null;
    const whole = await timed(() => runReduction(files, { read }));
    const exclusions = [{ line: 10 + run + WARM_UP, reason: 'bench' }];
    const less = await timed(() =>
      runReduction({ ...files, exclusions }, { read, onReduced: (reduction) => (made = reduction) }),
    );
    const tried = await timed(() =>
      runReduction(
        { ...files, exclusions: [{ line: 11 + run + WARM_UP, reason: 'bench' }], diagnose: false },
        { read },
      ),
    );
    const bare = await timed(async () => {
      const { points, plan } = made as unknown as ReductionMade;
      reduce({ blocks: points.blocks, definition: plan.definition, gaps: points.gaps });
    });
    if (run < 0) continue;
    first.push(whole);
    again.push(less);
    trial.push(tried);
    mathematics.push(bare);
  }
  const [a, b, c, d] = [median(first), median(again), median(trial), median(mathematics)];
  console.log(
    `${rows} points: first ${a.toFixed(0)} ms, again with a point left out ${b.toFixed(0)} ms (${(b / a).toFixed(2)} of the first), ` +
      `as a trial without causes ${c.toFixed(0)} ms (${(c / a).toFixed(2)}; ${(c / d).toFixed(2)} of the bare mathematics)`,
  );
}

async function timed(run: () => Promise<unknown>): Promise<number> {
  const begin = performance.now();
  await run();
  return performance.now() - begin;
}

function writePoints(path: string, copies: number): number {
  const [header = '', ...rows] = readFileSync(join(sample, 'points.csv'), 'utf8').trim().split(/\r?\n/);
  let state = 1;
  // A linear congruential generator (Park and Miller, 1988) is random enough for jitter.
  const jitter = (): number => {
    state = (state * 48271) % 2147483647;
    return JITTER * ((2 * state) / 2147483647 - 1);
  };
  const coordinate = /^-?\d+,\d{3,}$/;
  const repeated = rows.flatMap((row) =>
    Array.from({ length: copies }, (_, copy) => {
      if (copy === 0) return row;
      const cells = row.split(';');
      return cells
        .map((cell) => {
          if (!coordinate.test(cell)) return cell;
          const value = Number(cell.replace(',', '.'));
          // Normals stay; only coordinates are longer than a unit.
          return Math.abs(value) <= 1 ? cell : (value + jitter()).toFixed(5).replace('.', ',');
        })
        .join(';');
    }),
  );
  writeFileSync(path, `${[header, ...repeated].join('\n')}\n`);
  return repeated.length;
}
