/** Warming up: real reductions in idle time, which stop for anything else. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import type { JobEvent } from '../../src-main/api.ts';
import { createReductionJobs, type ReductionJobs } from '../../src-main/jobs/reduction-jobs.ts';
import type { ReductionPaths } from '../../src-main/jobs/run-reduction.ts';
import { createWarmUp } from '../../src-main/jobs/warm-up.ts';
import { Cancelled } from '../../src-main/problems.ts';
import { samplePath } from '../support/disc-files.ts';

const disc = (name: string): ReductionPaths => ({ pointsPath: name, planPath: `${name}.json` });
const running = { aborted: false };

describe('the rounds', () => {
  it('take the discs in turn, end by themselves, and are not made twice', async () => {
    const reduced: string[] = [];
    const warmUp = createWarmUp(async ({ pointsPath }) => reduced.push(pointsPath));
    await warmUp([disc('a'), disc('b')], running);
    expect(reduced.slice(0, 4)).toEqual(['a', 'b', 'a', 'b']);
    const made = reduced.length;
    await warmUp([disc('a')], running);
    expect(reduced).toHaveLength(made);
  });

  it('reduce alone at first and look for causes later', async () => {
    const withCauses: unknown[] = [];
    await createWarmUp(async ({ diagnose }) => withCauses.push(diagnose))([disc('a')], running);
    expect(withCauses[0]).toBe(false);
    expect(withCauses.at(-1)).toBe(true);
    expect(withCauses.indexOf(true)).toBe(withCauses.lastIndexOf(false) + 1);
  });

  it('end at a stop and go on from there', async () => {
    const reduced: string[] = [];
    const signal = { aborted: false };
    const warmUp = createWarmUp(async ({ pointsPath }) => {
      reduced.push(pointsPath);
      signal.aborted = reduced.length === 2;
      if (signal.aborted) throw new Cancelled();
    });
    await warmUp([disc('a'), disc('b'), disc('c')], signal);
    expect(reduced).toEqual(['a', 'b']);
    await warmUp([disc('a'), disc('b'), disc('c')], running);
    // The round that was stopped is made again.
    expect(reduced.slice(0, 4)).toEqual(['a', 'b', 'b', 'c']);
  });

  it('end quietly where the discs cannot be reduced, or there are none', async () => {
    const warmUp = createWarmUp();
    await warmUp([disc('no-such-file')], running);
    await warmUp([], running);
  });

  it('look at the stop in the middle of a reduction, before each station and each verdict', async () => {
    const paths = {
      pointsPath: samplePath('conforming', 'points.csv'),
      planPath: samplePath('conforming', 'plan.json'),
    };
    let looks = 0;
    let stopAt = Number.POSITIVE_INFINITY;
    const signal = {
      get aborted(): boolean {
        looks += 1;
        return looks >= stopAt;
      },
    };
    const whole = createWarmUp();
    // Eighteen stations, then as many verdicts: both stops lie inside the reduction.
    for (const at of [12, 30]) {
      looks = 0;
      stopAt = at;
      await whole([paths], signal);
      expect(looks).toBe(at);
    }
  });
});

describe('in the worker', () => {
  let jobs: ReductionJobs | null = null;
  let folder = '';
  afterEach(async () => {
    await jobs?.close();
    jobs = null;
    rmSync(folder, { recursive: true, force: true });
  });

  /** A worker that warms up without end until it is stopped, and tells in the note of a job what it has heard so far. */
  function endlessWorker(): URL {
    folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
    const path = join(folder, 'worker.mjs');
    writeFileSync(
      path,
      `import { parentPort } from 'node:worker_threads';
      const heard = [];
      parentPort.on('message', (message) => {
        heard.push(message.kind);
        if (message.kind === 'close') parentPort.close();
        if (message.kind === 'warm-up') {
          const word = new Int32Array(message.stop);
          while (Atomics.load(word, 0) === 0);
        }
        if (message.kind === 'ask') parentPort.postMessage({ kind: 'answer', number: message.number, outcome: { ok: true, value: [...heard] } });
        if (message.kind === 'reduce') {
          const progress = { stage: 'done', fraction: 1, note: heard.join() };
          parentPort.postMessage({ kind: 'progress', job: message.job, progress });
          parentPort.postMessage({ kind: 'cancelled', job: message.job });
        }
      });`,
    );
    return pathToFileURL(path);
  }

  const noteOf = (running: ReductionJobs): Promise<string> =>
    new Promise((resolve) => {
      let note = '';
      running.start(disc('a'), (event: JobEvent) => {
        if (event.kind === 'progress') note = event.progress.note;
        else resolve(note);
      });
    });

  it('a job, and a question, end it; what is asked for meanwhile is not made', async () => {
    jobs = createReductionJobs({ workerUrl: endlessWorker() });
    jobs.warmUp([disc('a')]);
    jobs.warmUp([disc('a')]);
    expect(await noteOf(jobs)).toBe('warm-up,reduce');
    jobs.warmUp([disc('a')]);
    expect(await jobs.preview('points.csv', {})).toEqual({
      ok: true,
      value: ['warm-up', 'reduce', 'warm-up', 'ask'],
    });
    // This one ends with the worker.
    jobs.warmUp([disc('a')]);
  }, 10_000);

  it('does not begin while a job waits', async () => {
    jobs = createReductionJobs({ workerUrl: endlessWorker() });
    const note = noteOf(jobs);
    jobs.warmUp([disc('a')]);
    expect(await note).toBe('reduce');
  });

  it('fails without a word where there is no worker', async () => {
    jobs = createReductionJobs({ workerUrl: new URL('no-such-worker.js', import.meta.url) });
    jobs.warmUp([disc('a')]);
    await new Promise((resolve) => setTimeout(resolve, 200));
    await jobs.close();
    jobs = null;
  });
});
