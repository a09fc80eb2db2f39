/** What the benches share: medians of times, tables, and Python scripts with NumPy on one thread as Node is. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const ONE_THREAD = { OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };

/** What the script prints as JSON, given `input` as JSON on its standard input. */
export function runPython(script: string, input: unknown): unknown {
  const path = fileURLToPath(new URL(`scripts/${script}`, import.meta.url));
  const child = spawnSync('python3', [path], {
    input: JSON.stringify(input),
    encoding: 'utf8',
    env: { ...process.env, ...ONE_THREAD },
    maxBuffer: 1 << 28,
  });
  if (child.status !== 0) throw new Error(`${script}: ${child.stderr || child.error}`);
  return JSON.parse(child.stdout);
}

/** Median time of a run in ms, after runs that are not counted and let the compiler warm up. */
export function medianMilliseconds(run: () => unknown, repeats: number, warmUp: number): number {
  for (let i = 0; i < warmUp; i++) run();
  const times = Array.from({ length: repeats }, () => {
    const begin = performance.now();
    run();
    return performance.now() - begin;
  });
  return median(times);
}

export function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** A line of a table: the first column to the left, the others to the right. */
export function tableLine(columns: readonly (string | number)[], widths: readonly number[]): string {
  return columns
    .map((c, i) => (i === 0 ? `${c}`.padEnd(widths[0]!) : `${c}`.padStart(widths[i]!)))
    .join('  ');
}
