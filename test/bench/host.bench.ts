/**
 * The host's share of a drop: a disc of 20 000 points handed to the loopback host as the page hands it, until its result with
 * everything but causes has arrived, as ratios to papaparse merely parsing the same text. Run after a build:
 * `npx tsx test/bench/host.bench.ts [repeats] [idle]`.
 *
 * `idle` ms pass between the opening of the page's event stream and the first drop; in them the worker warms up. The tenth
 * percentile stands beside the median: what the machine does for others falls out of it.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { Agent, get, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Papa from 'papaparse';
import { startBuiltHost } from '../support/window.ts';
import { manyPointsPlan, writeManyPoints } from './many-points.ts';
import { median, medianMilliseconds, tableLine } from './measuring.ts';

const repeats = Number(process.argv[2] ?? 20);
const idle = Number(process.argv[3] ?? 2000);
/** Between two drops: causes are found meanwhile, and the worker is idle again. */
const PAUSE = 200;

const folder = mkdtempSync(join(tmpdir(), 'hubtrue-bench-'));
const host = await startBuiltHost();
try {
  const file = join(folder, 'points.csv');
  await writeManyPoints(file, 20_000, false);
  const points = readFileSync(file);
  const plan = readFileSync(manyPointsPlan);
  const { origin, searchParams } = new URL(host.address);
  const headers = { Authorization: `Bearer ${searchParams.get('token')}`, Origin: origin };
  const agent = new Agent({ keepAlive: true });

  const post = (path: string, type: string, body: Buffer | string): Promise<Record<string, string>> =>
    new Promise((resolve, reject) => {
      const options = { method: 'POST', agent, headers: { ...headers, 'Content-Type': type } };
      const sent = request(`${origin}/api/${path}`, options, (response) => {
        let text = '';
        response.setEncoding('utf8');
        response.on('data', (piece: string) => {
          text += piece;
        });
        response.on('end', () => {
          const answer = JSON.parse(text);
          if (answer.ok) resolve(answer.value);
          else reject(new Error(text));
        });
      });
      sent.on('error', reject);
      sent.end(body);
    });

  /** Hears each event of a job as text. */
  let hear: (event: string) => void = () => {};
  await new Promise<void>((resolve, reject) => {
    const stream = get(`${origin}/api/events`, { headers }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('error', () => {});
      response.on('data', (piece: string) => {
        text += piece;
        const events = text.split('\n\n');
        text = events.pop() ?? '';
        for (const event of events) hear(event);
      });
      resolve();
    });
    stream.on('error', reject);
  });

  const steps = ['points stored', 'plan stored', 'job started', 'disc arrived', 'causes arrived'] as const;
  /** Milliseconds from the drop to each step. */
  const drop = async (): Promise<number[]> => {
    const begin = performance.now();
    const since = (): number => performance.now() - begin;
    const pointFile = await post('upload?name=points.csv', 'application/octet-stream', points);
    const times = [since()];
    const planFile = await post('upload?name=plan.json', 'application/octet-stream', plan);
    times.push(since());
    const arrivals: number[] = [];
    const whole = new Promise<void>((resolve) => {
      hear = (event) => {
        if (event.includes('"disc":{')) arrivals.push(since());
        if (/"kind":"(?:finished|refused)"/.test(event)) resolve();
      };
    });
    const tickets = JSON.stringify({ points: pointFile['ticket'], plan: planFile['ticket'] });
    await post('reduce', 'application/json', tickets);
    times.push(since());
    await whole;
    if (arrivals.length !== 2) throw new Error('The disc did not arrive before its causes.');
    return [...times, ...arrivals];
  };

  const text = points.toString();
  await new Promise((resolve) => setTimeout(resolve, idle));
  const drops: number[][] = [];
  const parses: number[] = [];
  for (let repeat = 0; repeat <= repeats; repeat += 1) {
    drops.push(await drop());
    await new Promise((resolve) => setTimeout(resolve, PAUSE));
    // In turn with the drops, so that both meet the machine in the same state.
    parses.push(medianMilliseconds(() => Papa.parse(text), 3, 3));
  }
  const [first, ...others] = drops;
  const low = (values: readonly number[]): number =>
    [...values].sort((a, b) => a - b)[Math.floor(values.length / 10)]!;
  const widths = [16, 8, 8, 8, 8, 8];
  const ms = (value: number): string => value.toFixed(1);
  console.log(`papaparse: median ${ms(median(parses))} ms, tenth percentile ${ms(low(parses))} ms`);
  console.log(tableLine(['ms until', 'first', 'median', 'ratio', '10 %', 'ratio'], widths));
  steps.forEach((step, k) => {
    const times = others.map((drop) => drop[k]!);
    const [middle, least] = [median(times), low(times)];
    const ratios = [(middle / median(parses)).toFixed(1), (least / low(parses)).toFixed(1)];
    console.log(tableLine([step, ms(first![k]!), ms(middle), ratios[0]!, ms(least), ratios[1]!], widths));
  });
  agent.destroy();
} finally {
  await host.stop();
  rmSync(folder, { recursive: true, force: true });
}
