/**
 * The real browser host as a process: ended in the middle of saving, on a full disk, and with a folder for autosaves that cannot
 * be one. What was kept before is whole each time, and the next start offers it.
 */
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  watch,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type {
  Download,
  OpenedFile,
  OpenedSession,
  Outcome,
  RecoverableSession,
  SavedSession,
  SessionContent,
} from '../../src-main/api.ts';
import { parseSession, readSession } from '../../src-main/session/read-session.ts';
import { samplePath } from '../support/disc-files.ts';
import { type RunningHost, startBuiltHost } from '../support/window.ts';

let state = '';
const running = new Set<RunningHost>();
beforeEach(() => {
  state = mkdtempSync(join(tmpdir(), 'hubtrue-crash-'));
});
afterEach(async () => {
  for (const host of running) await host.kill();
  running.clear();
  rmSync(state, { recursive: true, force: true });
});

type Answer<T> = Outcome<T> & { readonly download?: Download };

interface Client {
  readonly host: RunningHost;
  call<T>(name: string, argument: unknown): Promise<Answer<T>>;
  upload(name: string): Promise<OpenedFile>;
}

async function start(mostKibibytes?: number): Promise<Client> {
  const host = await startBuiltHost({ state, ...(mostKibibytes === undefined ? {} : { mostKibibytes }) });
  running.add(host);
  const { origin, searchParams } = new URL(host.address);
  const headers = { Origin: origin, Authorization: `Bearer ${searchParams.get('token')}` };
  return {
    host,
    async call<T>(name: string, argument: unknown) {
      const response = await fetch(`${origin}/api/${name}`, {
        method: 'POST',
        body: JSON.stringify(argument),
        headers: { ...headers, 'Content-Type': 'application/json' },
      });
      return (await response.json()) as Answer<T>;
    },
    async upload(name) {
      const response = await fetch(`${origin}/api/upload?name=${name}`, {
        method: 'POST',
        body: readFileSync(samplePath('conforming', name)),
        headers,
      });
      return value((await response.json()) as Outcome<OpenedFile>);
    },
  };
}

async function kill({ host }: Client): Promise<void> {
  running.delete(host);
  await host.kill();
}

/** Ends the program the moment that a folder has changed so many times. */
function killedAt(step: number, folder: string, client: Client): Promise<void> {
  let seen = 0;
  return new Promise<void>((resolve, reject) => {
    const watcher = watch(folder, () => {
      seen += 1;
      if (seen !== step) return;
      watcher.close();
      kill(client).then(resolve, reject);
    });
  });
}

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
  return outcome.value;
}

/** Work with notes of so many characters, which say the number of the version over and over. */
async function workOf(client: Client): Promise<(version: number, length: number) => SessionContent> {
  const [points, plan] = [await client.upload('points.csv'), await client.upload('plan.json')];
  return (version, length) => ({
    points: points.ticket,
    plan: plan.ticket,
    welds: null,
    exclusions: [],
    excludedFeatures: [],
    notes: {
      disc: `version ${version}`,
      stations: Array.from({ length: Math.ceil(length / 90_000) }, (_, i) => ({
        station: i + 1,
        text: `${version} `.repeat(90_000 / 4),
      })),
    },
    job: null,
  });
}

const versionIn = (note: string): number => Number(/^version (\d+)$/.exec(note)?.[1]);
const autosaveFiles = (): readonly string[] =>
  existsSync(join(state, 'autosave')) ? readdirSync(join(state, 'autosave')) : [];

describe('a program that is ended in the middle of saving', () => {
  it('leaves the last or the next-to-last autosave whole, which the next start opens', async () => {
    // Ended at one after another of the steps that the disk sees: a file is made, written, renamed.
    for (const step of [1, 2, 3, 5]) {
      const client = await start();
      const content = await workOf(client);
      const first = await client.call<{ session: string }>('autosave', {
        content: content(1, 4_000_000),
        session: null,
      });
      const { session } = value(first);
      let acknowledged = 1;
      const ended = killedAt(step, join(state, 'autosave'), client);
      const saving = (async () => {
        for (let version = 2; version < 100; version += 1) {
          value(await client.call('autosave', { content: content(version, 4_000_000), session }));
          acknowledged = version;
        }
      })().catch(() => {
        // The program has gone.
      });
      await ended;
      await saving;

      const next = await start();
      const recoverable = value(await next.call<readonly RecoverableSession[]>('recover', {}));
      expect(recoverable).toHaveLength(1);
      expect(recoverable[0]?.perhapsOpen).toBe(false);
      // Nothing half written is left beside it.
      expect(autosaveFiles().filter((name) => name.endsWith('.part'))).toEqual([]);
      const opened = value(
        await next.call<OpenedSession>('open-session', { ticket: recoverable[0]?.ticket }),
      );
      expect(opened.warnings).toEqual([]);
      const version = versionIn(opened.notes.disc);
      // What was acknowledged is there, or the one that was under way then.
      expect([acknowledged, acknowledged + 1]).toContain(version);
      for (const { text } of opened.notes.stations) expect(text.startsWith(`${version} `)).toBe(true);
      value(await next.call('discard-recovery', { ticket: recoverable[0]?.ticket }));
      await kill(next);
      rmSync(join(state, 'autosave'), { recursive: true, force: true });
    }
  });

  it('leaves no half of a saved session either', async () => {
    for (const step of [1, 2]) {
      const client = await start();
      const content = await workOf(client);
      const save = (version: number, session: string | null) =>
        client.call<SavedSession>('save-session', { content: content(version, 4_000_000), session });
      const { session } = value(await save(1, null));
      const [copy] = readdirSync(join(state, 'sessions'));
      const folder = join(state, 'sessions', copy ?? '');
      const ended = killedAt(step, folder, client);
      const saving = (async () => {
        for (let version = 2; version < 100; version += 1) value(await save(version, session));
      })().catch(() => {
        // The program has gone.
      });
      await ended;
      await saving;
      const { document, warnings } = readSession(join(folder, 'disc.hubtrue'));
      expect(warnings).toEqual([]);
      expect(versionIn(document.notes.disc)).toBeGreaterThan(0);
      rmSync(join(state, 'sessions'), { recursive: true, force: true });
    }
  });
});

describe.skipIf(process.platform === 'win32')('a full disk', () => {
  it('refuses an autosave with the reason, keeps the one before, and goes on serving', async () => {
    const client = await start(400);
    const content = await workOf(client);
    const { session } = value(
      await client.call<{ session: string }>('autosave', { content: content(1, 90_000), session: null }),
    );
    const refused = await client.call('autosave', { content: content(2, 900_000), session });
    expect(refused).toMatchObject({ ok: false, problems: [{ code: 'cannot-save' }] });
    const [name, ...others] = autosaveFiles().filter((file) => file.endsWith('.hubtrue'));
    expect(others).toEqual([]);
    const { document, warnings } = readSession(join(state, 'autosave', name ?? ''));
    expect(document.notes.disc).toBe('version 1');
    expect(warnings).toEqual([]);
    expect(autosaveFiles().filter((file) => file.endsWith('.part'))).toEqual([]);
    // With room again the same work is kept under the same name.
    value(await client.call('autosave', { content: content(3, 90_000), session }));
    expect(readSession(join(state, 'autosave', name ?? '')).document.notes.disc).toBe('version 3');
  });

  it('still hands over a session that is saved as a download', async () => {
    const client = await start(400);
    const content = await workOf(client);
    const saved = await client.call<SavedSession>('save-session', {
      content: content(7, 900_000),
      session: null,
      title: 'Disc',
    });
    expect(value(saved)).toMatchObject({ name: 'Disc.hubtrue' });
    const text = Buffer.from(saved.download?.base64 ?? '', 'base64').toString('utf8');
    expect(parseSession(text, 'Disc.hubtrue').document.notes.disc).toBe('version 7');
    // And again, though no copy could be kept.
    const again = await client.call<SavedSession>('save-session', {
      content: content(8, 900_000),
      session: value(saved).session,
    });
    expect(value(again)).toMatchObject({ session: value(saved).session, name: 'Disc.hubtrue' });
  });
});

it('a folder for autosaves that cannot be one: the reason is said, and saving works all the same', async () => {
  // Permissions hold nobody who runs tests as the administrator; a file in its place holds everybody.
  writeFileSync(join(state, 'autosave'), 'in the way');
  mkdirSync(join(state, 'recent.json'));
  const client = await start();
  const content = await workOf(client);
  const refused = await client.call('autosave', { content: content(1, 1000), session: null });
  expect(refused.ok).toBe(false);
  const saved = await client.call<SavedSession>('save-session', { content: content(2, 1000), session: null });
  expect(value(saved).name).toMatch(/\.hubtrue$/);
  expect(saved.download).toBeDefined();
  expect(value(await client.call<unknown[]>('recent', {}))).toEqual([]);
});
