/**
 * A disc of a million points: time of the whole `hubtrue reduce`, as a ratio to papaparse merely reading the same
 * file, and the peak memory of both. Run after a build: `npx tsx test/bench/reading.bench.ts [rows] [repeats]`.
 * Both contestants are processes of their own, started alternately; the median of the repeats counts.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { manyPointsPlan, writeManyPoints } from './many-points.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const rows = Number(process.argv[2] ?? 1_000_000);
const repeats = Number(process.argv[3] ?? 5);

/** papaparse reading a file in pieces, keeping nothing. */
const readerProgram = `
import { createReadStream } from 'node:fs';
import Papa from ${JSON.stringify(new URL('../../node_modules/papaparse/papaparse.js', import.meta.url).href)};
let rows = 0;
Papa.parse(createReadStream(process.argv[1]), { chunk: ({ data }) => { rows += data.length; } });
`;

const folder = mkdtempSync(join(tmpdir(), 'hubtrue-bench-'));
try {
  for (const normals of [false, true]) {
    const file = join(folder, normals ? 'normals.csv' : 'plain.csv');
    await writeManyPoints(file, rows, normals);
    const size = (statSync(file).size / 1e6).toFixed(0);
    console.log(`\n${rows} points, ${size} MB, ${normals ? 'with' : 'without'} normals`);
    const reading: Run[] = [];
    const reducing: Run[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      reading.push(run(['--input-type=module', '--eval', readerProgram, file]));
      reducing.push(
        run([join(root, 'out/main/terminal.js'), 'reduce', file, '--plan', manyPointsPlan, '--json']),
      );
    }
    report('papaparse reading', reading);
    report('hubtrue reduce', reducing);
    const ratio = (key: keyof Run): string => (median(reducing, key) / median(reading, key)).toFixed(2);
    console.log(`ratio ${ratio('seconds')} (of processor time ${ratio('processor')})`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

interface Run {
  readonly seconds: number;
  /** Processor time of all its threads: less disturbed by what else the machine does. */
  readonly processor: number;
  /** Peak resident set, MiB. */
  readonly memory: number;
}

function run(args: readonly string[]): Run {
  const usageFile = join(folder, 'usage.json');
  const watcher = `import{writeFileSync}from"node:fs";process.on("exit",()=>writeFileSync(${JSON.stringify(usageFile)},JSON.stringify(process.resourceUsage())))`;
  const started = process.hrtime.bigint();
  const child = spawnSync(
    process.execPath,
    ['--import', `data:text/javascript,${encodeURIComponent(watcher)}`, ...args],
    {
      stdio: ['ignore', 'ignore', 'pipe'],
      encoding: 'utf8',
    },
  );
  const seconds = Number(process.hrtime.bigint() - started) / 1e9;
  if (child.status !== 0) throw new Error(`status ${child.status}: ${child.stderr}`);
  const usage = JSON.parse(readFileSync(usageFile, 'utf8')) as NodeJS.ResourceUsage;
  return {
    seconds,
    processor: (usage.userCPUTime + usage.systemCPUTime) / 1e6,
    memory: usage.maxRSS / 1024,
  };
}

function median(runs: readonly Run[], key: keyof Run): number {
  const values = runs.map((one) => one[key]).sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)] ?? Number.NaN;
}

function report(name: string, runs: readonly Run[]): void {
  console.log(
    `${name}: ${median(runs, 'seconds').toFixed(2)} s (${runs.map(({ seconds }) => seconds.toFixed(2)).join(', ')}), processor ${median(runs, 'processor').toFixed(2)} s, peak ${median(runs, 'memory').toFixed(0)} MiB`,
  );
}
