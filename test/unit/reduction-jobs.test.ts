/** Reductions in the background, with the built worker. */
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import type { JobEvent } from '../../src-main/api.ts';
import { discPoints, featurePoints } from '../../src-main/jobs/feature-points.ts';
import { createReductionJobs, type ReductionJobs } from '../../src-main/jobs/reduction-jobs.ts';
import {
  type ReductionInput,
  type ReductionMade,
  type ReductionPaths,
  runReduction,
} from '../../src-main/jobs/run-reduction.ts';
import { type PreviewOptions, previewPoints } from '../../src-main/points/preview.ts';
import { report } from '../../src-main/report/index.ts';
import { conformingDisc, csv, samplePath, writeDisc } from '../support/disc-files.ts';

/** The folder of the build under test; the variable is for work on two versions at once. */
const build = process.env['HUBTRUE_BUILD'];
const workerUrl =
  build === undefined
    ? new URL('../../out/main/worker.js', import.meta.url)
    : pathToFileURL(`${build}/main/worker.js`);
if (!existsSync(workerUrl)) throw new Error('The worker is not built; run: npm run build');

const paths = (disc: 'conforming' | 'off-centre' | 'drifting'): ReductionPaths => ({
  pointsPath: samplePath(disc, 'points.csv'),
  planPath: samplePath(disc, 'plan.json'),
  weldsPath: samplePath(disc, 'welds.csv'),
});

let jobs: ReductionJobs | null = null;
afterEach(async () => {
  await jobs?.close();
  jobs = null;
});

/** Starts a job and gives all its events once it has ended. `watch` sees each as it comes. */
function follow(
  running: ReductionJobs,
  input: ReductionInput,
  watch: (event: JobEvent) => void = () => {},
): { id: string; events: Promise<JobEvent[]> } {
  let id = '';
  const events = new Promise<JobEvent[]>((resolve) => {
    const heard: JobEvent[] = [];
    id = running.start(input, (event) => {
      heard.push(event);
      watch(event);
      if (event.kind !== 'progress') resolve(heard);
    });
  });
  return { id, events };
}

const lastOf = (events: readonly JobEvent[]): JobEvent | undefined => events.at(-1);

it('a job reports rising progress and ends with the same disc as a direct run', async () => {
  jobs = createReductionJobs({ workerUrl });
  const { id, events } = follow(jobs, paths('drifting'));
  const heard = await events;
  expect(heard.every(({ job }) => job === id)).toBe(true);
  const fractions = heard.flatMap((event) => (event.kind === 'progress' ? [event.progress.fraction] : []));
  expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
  expect(fractions[0]).toBe(0);
  expect(fractions.at(-1)).toBe(1);
  expect(heard.some((event) => event.kind === 'progress' && event.progress.note === 'Station 7 of 16')).toBe(
    true,
  );
  expect(lastOf(heard)).toEqual({ job: id, kind: 'finished', disc: await runReduction(paths('drifting')) });
});

it('a refused job tells the problems as data, and the worker takes the next job', async () => {
  jobs = createReductionJobs({ workerUrl });
  const bad = writeDisc('', conformingDisc().plan);
  const refused = follow(jobs, { pointsPath: bad.points, planPath: bad.plan });
  const next = follow(jobs, paths('conforming'));
  expect(lastOf(await refused.events)).toEqual({
    job: refused.id,
    kind: 'refused',
    problems: [
      expect.objectContaining({ code: 'empty-file', file: 'points.csv', remedy: 'export the points again' }),
    ],
  });
  expect(lastOf(await next.events)).toMatchObject({ job: next.id, kind: 'finished' });
});

it('a failure of the mathematics is a problem with code, file and remedy', async () => {
  jobs = createReductionJobs({ workerUrl });
  const disc = conformingDisc();
  disc.rows = disc.rows.filter(([, feature]) => feature !== 'HUB-BORE');
  const files = writeDisc(csv(disc), disc.plan);
  const end = lastOf(await follow(jobs, { pointsPath: files.points, planPath: files.plan }).events);
  expect(end?.kind === 'refused' ? end.problems : []).toEqual([
    expect.objectContaining({
      code: 'missing-feature',
      file: 'points.csv',
      message: expect.stringMatching(/HUB-BORE.*datum B/),
      remedy: expect.stringContaining('measure the feature'),
    }),
  ]);
});

describe('cancelling', () => {
  it('in the middle of the calculation ends the job there', async () => {
    jobs = createReductionJobs({ workerUrl });
    const running = jobs;
    const disc = conformingDisc();
    // Enough points that the calculation outlives the message by far.
    disc.rows = disc.rows.flatMap((row) => Array.from({ length: 200 }, () => row));
    const files = writeDisc(csv(disc), disc.plan);
    const { id, events } = follow(running, { pointsPath: files.points, planPath: files.plan }, (event) => {
      if (event.kind === 'progress' && event.progress.stage !== 'done') running.cancel(event.job);
    });
    const heard = await events;
    expect(lastOf(heard)).toEqual({ job: id, kind: 'cancelled' });
    expect(heard.some((event) => event.kind === 'progress' && event.progress.stage === 'done')).toBe(false);
    expect(lastOf(await follow(running, paths('conforming')).events)?.kind).toBe('finished');
  });

  it('a waiting job ends it alone', async () => {
    jobs = createReductionJobs({ workerUrl });
    const first = follow(jobs, paths('conforming'));
    const second = follow(jobs, paths('conforming'));
    jobs.cancel(second.id);
    expect(await second.events).toEqual([{ job: second.id, kind: 'cancelled' }]);
    expect(lastOf(await first.events)?.kind).toBe('finished');
  });

  it('a job that has ended or never was changes nothing', async () => {
    jobs = createReductionJobs({ workerUrl });
    const { id, events } = follow(jobs, paths('conforming'));
    await events;
    jobs.cancel(id);
    jobs.cancel('job-99');
    expect(lastOf(await follow(jobs, paths('conforming')).events)?.kind).toBe('finished');
  });
});

it('close cancels what runs and what waits, and ends the worker', async () => {
  const closing = createReductionJobs({ workerUrl });
  const first = follow(closing, paths('conforming'));
  const second = follow(closing, paths('conforming'));
  await closing.close();
  expect(lastOf(await first.events)?.kind).toMatch(/cancelled|finished/);
  expect(lastOf(await second.events)?.kind).toMatch(/cancelled|finished/);
  await closing.close();
  expect(() => closing.start(paths('conforming'), () => {})).toThrow('after close');
});

it('a worker that cannot start refuses the job as a fault of the software', async () => {
  jobs = createReductionJobs({ workerUrl: new URL('no-such-worker.js', workerUrl) });
  const end = lastOf(await follow(jobs, paths('conforming')).events);
  expect(end?.kind === 'refused' ? end.problems[0]?.code : '').toBe('internal-fault');
});

describe('points of finished jobs', () => {
  it('are those of a direct run, with what was excluded; jobs not finished here are unknown', async () => {
    jobs = createReductionJobs({ workerUrl });
    expect(await jobs.featurePoints('job-1', null, 'HUB-FACE')).toMatchObject({ ok: false });
    const whole = follow(jobs, paths('conforming'));
    const exclusions = [{ line: 3, reason: 'chip' }];
    const less = follow(jobs, { ...paths('conforming'), exclusions });
    expect(lastOf(await whole.events)?.kind).toBe('finished');
    const end = lastOf(await less.events);
    expect(end).toEqual({
      job: less.id,
      kind: 'finished',
      disc: await runReduction({ ...paths('conforming'), exclusions }),
    });
    let made: ReductionMade | null = null;
    await runReduction(
      { ...paths('conforming'), exclusions },
      {
        onReduced: (reduction) => {
          made = reduction;
        },
      },
    );
    if (made === null) throw new Error('Nothing was reduced.');
    const expected = featurePoints(made, null, 'HUB-FACE', 25);
    expect(await jobs.featurePoints(less.id, null, 'HUB-FACE', 25)).toEqual({ ok: true, value: expected });
    expect(expected.reasons).toEqual([{ line: 3, reason: 'excluded by hand: chip' }]);
    expect(await jobs.discPoints(less.id, 300)).toEqual({ ok: true, value: discPoints(made, 300) });
    const before = await jobs.featurePoints(whole.id, null, 'HUB-FACE');
    expect(before.ok && before.value.excluded.some(Boolean)).toBe(false);
    expect(await jobs.featurePoints('job-99', null, 'HUB-FACE')).toMatchObject({
      ok: false,
      problems: [{ code: 'unknown-job' }],
    });
    expect(await jobs.featurePoints(whole.id, null, 'NOSE')).toMatchObject({
      ok: false,
      problems: [{ code: 'no-such-feature' }],
    });
  });

  it('a refused exclusion is told as problems of the job', async () => {
    jobs = createReductionJobs({ workerUrl });
    const end = lastOf(
      await follow(jobs, { ...paths('conforming'), exclusions: [{ line: 3, reason: '' }] }).events,
    );
    expect(end).toMatchObject({ kind: 'refused', problems: [{ code: 'missing-reason' }] });
  });
});

describe('a look through points', () => {
  const points = samplePath('off-centre', 'points.csv');

  it('is that of a direct call', async () => {
    jobs = createReductionJobs({ workerUrl });
    const options: PreviewOptions = {
      stated: { delimiter: ';', columns: { x: 1 } },
      plan: { stations: 3, hub: ['A'], blade: ['B'] },
    };
    expect(await jobs.preview(points, options)).toEqual({
      ok: true,
      value: await previewPoints(points, options),
    });
  });

  it('tells what is wrong with a file as problems', async () => {
    jobs = createReductionJobs({ workerUrl });
    expect(await jobs.preview(writeDisc('', {}).points, {})).toMatchObject({
      ok: false,
      problems: [{ code: 'empty-file', file: 'points.csv' }],
    });
  });

  it('ends where a newer one takes its place, and does not disturb a job', async () => {
    jobs = createReductionJobs({ workerUrl });
    const rows = Array.from({ length: 100_000 }, (_, k) => ['1', 'SEAT', String(k), '2', '3']);
    const table = { header: ['station', 'feature', 'x', 'y', 'z'], rows };
    const many = writeDisc(csv(table), {}).points;
    const job = follow(jobs, paths('conforming'));
    const looks = await Promise.all([
      jobs.preview(many, {}),
      jobs.preview(many, { stated: { unit: 'inch' } }),
      jobs.preview(points, {}),
    ]);
    expect(looks).toMatchObject([
      { ok: false, problems: [{ code: 'look-ended' }] },
      { ok: true, value: { points: 100_000, taken: { unit: 'inch' } } },
      { ok: true },
    ]);
    expect(lastOf(await job.events)).toMatchObject({ kind: 'finished' });
  });
});

it('a worker that has warmed up gives the same result, and tells nothing of its discs', async () => {
  jobs = createReductionJobs({ workerUrl });
  jobs.warmUp([paths('off-centre'), paths('conforming')]);
  // A look is a sign that the worker has begun.
  await jobs.preview(samplePath('off-centre', 'points.csv'), {});
  jobs.warmUp([paths('off-centre'), paths('conforming')]);
  const { id, events } = follow(jobs, paths('drifting'));
  const heard = await events;
  expect(heard.every(({ job }) => job === id)).toBe(true);
  expect(lastOf(heard)).toEqual({ job: id, kind: 'finished', disc: await runReduction(paths('drifting')) });
});

it('reports are made in the worker, with the bytes that a direct call makes', async () => {
  jobs = createReductionJobs({ workerUrl });
  const disc = await runReduction(paths('off-centre'));
  const { result, plan, welds } = disc;
  const time = new Date('2026-05-06T07:08:09.000Z');
  const input = { result, plan, welds, language: 'fr', paper: 'a4', length: 'mm', time } as const;
  const made = await jobs.report(input);
  const expected = await report(input);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  expect(made.value.html).toBe(expected.html);
  expect(Buffer.from(made.value.pdf).equals(Buffer.from(expected.pdf))).toBe(true);
});
