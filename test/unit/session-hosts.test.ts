/** Sessions, outputs and points over the loopback host: every call of the api has its address, files go out as downloads. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Download, FeaturePoints, JobEvent, OpenedFile, Outcome } from '../../src-main/api.ts';
import { type BrowserHost, startBrowserHost } from '../../src-main/hosts/browser/server.ts';
import { channels } from '../../src-main/hosts/desktop/channels.ts';
import { createService, type Service } from '../../src-main/hosts/service.ts';
import { resultJson } from '../../src-main/outputs/write-outputs.ts';
import { createDirectJobs } from '../support/direct-jobs.ts';
import { samplePath, temporaryFolder } from '../support/disc-files.ts';

let host: BrowserHost;
let service: Service;

beforeAll(async () => {
  service = createService({
    host: 'browser',
    samplesFolder: fileURLToPath(new URL('../../sample-data/', import.meta.url)),
    jobs: createDirectJobs(),
    stateFolder: temporaryFolder(),
    now: () => new Date('2026-05-06T07:08:09.000Z'),
  });
  host = await startBrowserHost({ service, pageFolder: temporaryFolder() });
});
afterAll(() => host.close());

type Answer<T> = Outcome<T> & { readonly download?: Download };

async function call<T>(name: string, argument: unknown): Promise<Answer<T>> {
  const response = await fetch(`${host.origin}/api/${name}`, {
    method: 'POST',
    body: JSON.stringify(argument),
    headers: {
      'Content-Type': 'application/json',
      Origin: host.origin,
      Authorization: `Bearer ${host.token}`,
    },
  });
  if (!response.ok) throw new Error(`${name}: status ${response.status}, ${await response.text()}`);
  return (await response.json()) as Answer<T>;
}

async function upload(name: string, path: string): Promise<OpenedFile> {
  const response = await fetch(`${host.origin}/api/upload?name=${encodeURIComponent(name)}`, {
    method: 'POST',
    body: readFileSync(path),
    headers: { Origin: host.origin, Authorization: `Bearer ${host.token}` },
  });
  const outcome = (await response.json()) as Outcome<OpenedFile>;
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
  return outcome.value;
}

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
  return outcome.value;
}

async function reduce(
  request: Record<string, unknown>,
): Promise<{ readonly job: string; readonly event: JobEvent }> {
  const ended = new Promise<JobEvent>((resolve) => {
    const stop = service.onJob((event) => {
      if (event.kind === 'progress') return;
      stop();
      resolve(event);
    });
  });
  const { job } = value(await call<{ readonly job: string }>('reduce', request));
  return { job, event: await ended };
}

const notes = { disc: 'noted', stations: [] };

it('a disc is reduced without a point, looked at, saved, and its outputs are handed over', async () => {
  const points = await upload('points.csv', samplePath('conforming', 'points.csv'));
  const plan = await upload('plan.json', samplePath('conforming', 'plan.json'));
  const exclusions = [{ line: 9, reason: 'chip' }];
  const files = { points: points.ticket, plan: plan.ticket };
  const { job, event } = await reduce({ ...files, exclusions });
  if (event.kind !== 'finished') throw new Error(JSON.stringify(event));
  expect(event.disc.result.source.points.excluded).toEqual([{ line: 9, reason: 'excluded by hand: chip' }]);

  const face = value(
    await call<FeaturePoints>('feature-points', { job, station: null, feature: 'HUB-FACE' }),
  );
  expect(face.reasons).toEqual([{ line: 9, reason: 'excluded by hand: chip' }]);
  const all = value(await call<{ total: number }>('disc-points', { job, most: 500 }));
  expect(all.total).toBe(event.disc.result.source.points.used + 1);

  const content = { ...files, welds: null, exclusions, excludedFeatures: [], notes, job };
  const saved = await call<{ session: string; name: string }>('save-session', {
    content,
    session: null,
    title: 'Disc',
  });
  expect(value(saved)).toMatchObject({ name: 'Disc.hubtrue', resultKept: true });
  expect(saved.download).toMatchObject({ name: 'Disc.hubtrue' });

  const wanted = {
    'stations.csv': (bytes: Buffer) => expect(bytes.toString()).toContain('station,angle_deg'),
    'stations.xlsx': (bytes: Buffer) => expect(Object.keys(unzipSync(bytes))).toContain('xl/workbook.xml'),
    'result.json': (bytes: Buffer) => expect(bytes.toString()).toBe(resultJson(event.disc.result)),
    'result.qif': (bytes: Buffer) =>
      expect(bytes.toString()).toContain('<TimeCreated>2026-05-06T07:08:09.000Z<'),
    'report.html': (bytes: Buffer) => expect(bytes.toString()).toMatch(/<html lang="de"/),
    'report.pdf': (bytes: Buffer) => expect(bytes.subarray(0, 5).toString()).toBe('%PDF-'),
  };
  for (const [kind, look] of Object.entries(wanted)) {
    const answer = await call<{ name: string }>('save-output', {
      job,
      kind,
      language: 'de',
      paper: 'letter',
    });
    expect(value(answer)).toEqual({ name: `ROWAN-FAN-01-TRIAL-1-${kind}` });
    expect(answer.download?.name).toBe(`ROWAN-FAN-01-TRIAL-1-${kind}`);
    look(Buffer.from(answer.download?.base64 ?? '', 'base64'));
  }
});

it('the lists, autosave and end of a session answer under their addresses', async () => {
  const plan = await upload('plan.json', samplePath('conforming', 'plan.json'));
  const content = {
    points: null,
    plan: plan.ticket,
    welds: null,
    exclusions: [],
    excludedFeatures: [],
    notes,
    job: null,
  };
  const { session } = value(await call<{ session: string }>('autosave', { content, session: null }));
  expect(value(await call('recover', {}))).toEqual([]);
  expect(value(await call('end-session', { session }))).toBe(null);
  const recent = value(await call<{ ticket: string }[]>('recent', {}));
  expect(recent.length).toBeGreaterThan(0);
  const opened = value(await call<{ session: string }>('open-session', { ticket: recent[0]?.ticket }));
  const matched = await call('match-session-file', {
    session: opened.session,
    role: 'points',
    ticket: plan.ticket,
  });
  expect(matched).toMatchObject({ ok: false, problems: [{ code: 'different-file' }] });
  expect(value(await call('forget-recent', { ticket: recent[0]?.ticket }))).toBe(null);
  expect(value(await call('discard-recovery', { ticket: 'nothing' }))).toBe(null);
});

it('a refused call hands over no file', async () => {
  const answer = await call('save-output', { job: 'job-77', kind: 'report.pdf' });
  expect(answer).toMatchObject({ ok: false, problems: [{ code: 'unknown-job' }] });
  expect(answer.download).toBeUndefined();
});

describe('both hosts', () => {
  const source = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
  const inApi = [
    ...source('src-main/api.ts')
      .split('export interface HubtrueApi')[1]!
      .matchAll(/^ {2}(\w+)\(/gm),
  ].map(([, name]) => name as string);
  /** Calls that the page's side of each host serves by other means: pickers, drops, listeners. */
  const otherwise = new Set(['chooseFiles', 'openDropped', 'onJob', 'onOpened', 'onCommand', 'savePlan']);

  it.each(inApi.filter((name) => !otherwise.has(name)))('serve %s', (name) => {
    const address = name.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
    expect(source('src-main/hosts/browser/server.ts')).toContain(`'/api/${address}'`);
    expect(channels).toHaveProperty(name);
    expect(source('src-main/hosts/desktop/ipc.ts')).toContain(`channels.${name},`);
  });
});
