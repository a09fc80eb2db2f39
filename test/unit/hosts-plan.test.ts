import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, test } from 'vitest';
import type { OpenedFile, Outcome } from '../../src-main/api.ts';
import { createService, type Service } from '../../src-main/hosts/service.ts';
import { createWaitingJobs, type WaitingJobs } from '../support/waiting-jobs.ts';

const samplesFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));
let jobs: WaitingJobs;
let service: Service;
let points: OpenedFile;
let plan: OpenedFile;

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map((problem) => problem.message).join('\n'));
  return outcome.value;
}
function codes(outcome: Outcome<unknown>): string[] {
  if (outcome.ok) throw new Error('It was not refused.');
  return outcome.problems.map((problem) => problem.code);
}

beforeEach(() => {
  jobs = createWaitingJobs();
  service = createService({ host: 'browser', samplesFolder, jobs });
  const files = value(service.openSample({ id: 'conforming' }));
  points = files.find(({ role }) => role === 'points')!;
  plan = files.find(({ role }) => role === 'plan')!;
});

describe('the look at points', () => {
  test('goes by the ticket of a point file', async () => {
    expect(value(await service.previewPoints({ points: points.ticket }))).toMatchObject({
      name: 'points.csv',
      rows: 1552,
    });
    expect(codes(await service.previewPoints({ points: plan.ticket }))).toEqual(['unknown-ticket']);
    expect(codes(await service.previewPoints({ points: '../../etc/passwd' }))).toEqual(['unknown-ticket']);
  });

  test('is left to the jobs, in the background, with what was stated', async () => {
    const asked: unknown[] = [];
    const busy = createService({
      host: 'browser',
      samplesFolder,
      jobs: {
        ...createWaitingJobs(),
        preview: async (...look) => {
          asked.push(look);
          return { ok: false, problems: [{ code: 'busy', message: 'Busy.' }] };
        },
      },
    });
    const [file] = value(busy.openSample({ id: 'conforming' }));
    const known = { stations: 18, hub: ['FACE'], blade: ['SEAT'] };
    const look = await busy.previewPoints({ points: file?.ticket, import: { delimiter: ';' }, plan: known });
    expect(codes(look)).toEqual(['busy']);
    expect(asked).toEqual([
      [expect.stringMatching(/points\.csv$/), { stated: { delimiter: ';' }, plan: known }],
    ]);
    await busy.close();
  });

  test('takes nothing that a plan could not hold', async () => {
    const ask = (block: unknown) => service.previewPoints({ points: points.ticket, import: block });
    expect(codes(await ask({ delimiter: '!' }))).toEqual(['invalid-request']);
    expect(codes(await ask({ columns: { w: 'x' } }))).toEqual(['invalid-request']);
    expect(value(await ask({ columns: { x: 'y', y: null } })).taken.columns).toMatchObject({
      x: 'y',
      y: null,
    });
  });
});

describe('a plan made in the window', () => {
  test('is checked as its file would be', () => {
    const { text } = value(service.planText({ plan: plan.ticket }));
    expect(value(service.checkPlan({ text }))).toEqual([]);
    const wrong = text.replace('"stations": 18', '"stations": 0');
    expect(value(service.checkPlan({ text: wrong }))).toMatchObject([
      { code: 'wrong-value', path: 'disc.stations' },
    ]);
    // What the schema cannot ask for is missed together with what it asks for.
    const unnumbered = wrong.replace('"firstAngle": 0,', '').replace('"sense": "counterclockwise",', '');
    expect(value(service.checkPlan({ text: unnumbered }))).toMatchObject([
      { code: 'wrong-value', path: 'disc.stations' },
      { code: 'missing-key', path: 'disc.firstAngle' },
      { code: 'missing-key', path: 'disc.sense' },
    ]);
  });

  test('becomes a ticket that a reduction takes, and is gone when the service closes', async () => {
    const { text } = value(service.planText({ plan: plan.ticket }));
    const made = value(service.openText({ name: 'mine.json', role: 'plan', text }));
    expect(made).toMatchObject({ name: 'mine.json', role: 'plan' });
    value(service.reduce({ points: points.ticket, plan: made.ticket }));
    const path = jobs.started.at(-1)?.planPath ?? '';
    expect(readFileSync(path, 'utf8')).toBe(text);
    await service.close();
    expect(existsSync(path)).toBe(false);
  });

  test.each(['../plan.json', 'a/b.json', '.hidden', '', 'a\u0000.json'])(
    'has no name such as "%s"',
    (name) => {
      expect(codes(service.openText({ name, role: 'plan', text: '{}' }))).toContain('invalid-request');
    },
  );

  test('gives its text only by the ticket of a plan', () => {
    expect(codes(service.planText({ plan: points.ticket }))).toEqual(['unknown-ticket']);
  });
});
