import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { JobEvent, OpenedFile, Outcome } from '../../src-main/api.ts';
import { roleOfText } from '../../src-main/hosts/file-role.ts';
import { createService, type Service } from '../../src-main/hosts/service.ts';
import { createWaitingJobs, type WaitingJobs } from '../support/waiting-jobs.ts';

const samplesFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));
let folder = '';
let jobs: WaitingJobs;
let service: Service;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  writeFileSync(join(folder, 'disc.csv'), 'station,feature,x,y,z\n,HUB,1,2,3\n');
  writeFileSync(join(folder, 'plan.json'), '{ "format": "hubtrue-plan/1" }');
  writeFileSync(join(folder, 'order.csv'), 'station,sequence,tool,date\n1,1,T1,2026-01-01\n');
  writeFileSync(join(folder, 'empty.csv'), '');
  writeFileSync(join(folder, 'book.csv'), Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 1, 0, 0, 0]));
  writeFileSync(join(folder, 'wide.csv'), Buffer.from('\ufeffstation;sequence\n1;1\n', 'utf16le'));
  mkdirSync(join(folder, 'inner'));
});
afterAll(() => rmSync(folder, { recursive: true }));
beforeEach(() => {
  jobs = createWaitingJobs();
  service = createService({ host: 'browser', samplesFolder, jobs });
});

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map((problem) => problem.message).join('\n'));
  return outcome.value;
}
function codes(outcome: Outcome<unknown>): string[] {
  if (outcome.ok) throw new Error('It was not refused.');
  return outcome.problems.map((problem) => problem.code);
}
const open = (...names: string[]) => service.openPaths(names.map((name) => join(folder, name)));

describe('the role of a file', () => {
  test.each([
    ['disc.csv', 'points'],
    ['plan.json', 'plan'],
    ['order.csv', 'welds'],
    ['wide.csv', 'welds'],
  ])('%s is %s', (name, role) => {
    expect(value(open(name))).toMatchObject([{ name, role }]);
  });

  test('JSON under another name is a plan, and a JSON of another kind too, so that its reader can say what is wrong', () => {
    expect(roleOfText('  {"format": "something"}', 'notes.txt')).toBe('plan');
    expect(roleOfText('not json', 'broken.json')).toBe('plan');
  });

  test('points that number their rows in a column `sequence` stay points', () => {
    expect(roleOfText('sequence,station,feature,x,y,z\n', 'a.csv')).toBe('points');
  });
});

describe('opening files', () => {
  test('the page gets a name and a ticket, never a path', () => {
    const [file] = value(open('disc.csv'));
    expect(Object.keys(file ?? {}).sort()).toEqual(['bytes', 'name', 'role', 'ticket']);
    expect(JSON.stringify(file)).not.toContain(folder);
  });

  test('every refusal is a problem with the file in it', () => {
    expect(codes(open('empty.csv'))).toEqual(['empty-file']);
    expect(codes(open('book.csv'))).toEqual(['binary-file']);
    expect(codes(open('absent.csv'))).toEqual(['file-unreadable']);
    expect(codes(open('inner'))).toEqual(['not-a-file']);
    const refused = open('empty.csv', 'disc.csv', 'inner');
    expect(codes(refused)).toEqual(['empty-file', 'not-a-file']);
    expect(refused).toMatchObject({ problems: [{ file: 'empty.csv' }, { file: 'inner' }] });
    expect(JSON.stringify(refused)).not.toContain(folder);
  });

  test('requests of the wrong shape are refused, not run', () => {
    for (const bad of [null, 'a', [], [1], [''], Array(21).fill('a')])
      expect(codes(service.openPaths(bad))).toContain('invalid-request');
    expect(codes(service.reduce({ points: 'a' }))).toEqual(['invalid-request']);
    expect(codes(service.reduce({ points: 'a', plan: 'b', path: '/etc/passwd' }))).toEqual([
      'invalid-request',
    ]);
    expect(codes(service.cancel('job-1'))).toEqual(['invalid-request']);
    expect(codes(service.openSample({ id: 5 }))).toEqual(['invalid-request']);
    expect(codes(service.facts({ more: true }))).toEqual(['invalid-request']);
    expect(jobs.started).toEqual([]);
  });
});

describe('sample discs', () => {
  test('every sample that is offered opens with its three files', () => {
    const facts = value(service.facts({}));
    expect(facts.samples.map((sample) => sample.id)).toEqual(['conforming', 'off-centre', 'drifting']);
    for (const { id } of facts.samples)
      expect(value(service.openSample({ id })).map((file) => file.role)).toEqual(['points', 'plan', 'welds']);
  });

  test.each(['nowhere', '../sample-data/conforming', 'conforming/', ''])('%j is no sample', (id) => {
    expect(service.openSample({ id }).ok).toBe(false);
  });
});

describe('jobs', () => {
  function files(): Record<string, OpenedFile> {
    return Object.fromEntries(
      value(open('disc.csv', 'plan.json', 'order.csv')).map((file) => [file.role, file]),
    );
  }
  const ticket = (file: OpenedFile | undefined): string => file?.ticket ?? '';

  test('a reduction gets the paths behind the tickets and its events reach the listeners', () => {
    const { points, plan, welds } = files();
    const heard: JobEvent[] = [];
    const stop = service.onJob((event) => heard.push(event));
    const { job } = value(
      service.reduce({ points: ticket(points), plan: ticket(plan), welds: ticket(welds) }),
    );
    expect(jobs.started).toEqual([
      {
        pointsPath: join(folder, 'disc.csv'),
        planPath: join(folder, 'plan.json'),
        weldsPath: join(folder, 'order.csv'),
      },
    ]);
    jobs.tell({ job, kind: 'refused', problems: [{ code: 'x', message: 'no' }] });
    stop();
    jobs.tell({ job, kind: 'cancelled' });
    expect(heard).toEqual([{ job, kind: 'refused', problems: [{ code: 'x', message: 'no' }] }]);
  });

  test('a ticket that was never issued, or stands for another kind of file, starts nothing', () => {
    const { points, plan } = files();
    expect(codes(service.reduce({ points: 'made-up', plan: ticket(plan) }))).toEqual(['unknown-ticket']);
    expect(codes(service.reduce({ points: ticket(plan), plan: ticket(points) }))).toEqual(['unknown-ticket']);
    expect(jobs.started).toEqual([]);
  });

  test('cancelling reaches a running job once, and an ended or unknown one not at all', () => {
    const { points, plan } = files();
    const { job } = value(service.reduce({ points: ticket(points), plan: ticket(plan) }));
    value(service.cancel({ job }));
    jobs.tell({ job, kind: 'cancelled' });
    value(service.cancel({ job }));
    value(service.cancel({ job: 'job-99' }));
    expect(jobs.cancelled).toEqual([job]);
  });

  test('closing the service closes the jobs', async () => {
    await service.close();
    expect(jobs.closed).toBe(true);
  });
});
