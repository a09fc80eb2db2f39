/** Sessions through the service, as both hosts use it: save, open elsewhere, autosave, recover, recent. */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import type {
  Download,
  FileRole,
  JobEvent,
  OpenedFile,
  Outcome,
  ReducedDisc,
  SessionContent,
} from '../../src-main/api.ts';
import type { Outlet } from '../../src-main/hosts/outlet.ts';
import { createService, type Service } from '../../src-main/hosts/service.ts';
import { sealOf } from '../../src-main/session/seal.ts';
import { createDirectJobs } from '../support/direct-jobs.ts';
import { samplePath, temporaryFolder } from '../support/disc-files.ts';

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
  return outcome.value;
};
const codes = (outcome: Outcome<unknown>): string[] => {
  if (outcome.ok) throw new Error('It was not refused.');
  return outcome.problems.map(({ code }) => code);
};

let stateFolder = '';
let folder = '';
let service: Service;
let clock = 0;
/** A clock that moves on by a second each time somebody looks at it. */
const now = (): Date => {
  clock += 1000;
  return new Date(Date.UTC(2026, 5, 1) + clock);
};

const start = (host: 'desktop' | 'browser' = 'desktop'): Service =>
  createService({ host, samplesFolder: temporaryFolder(), jobs: createDirectJobs(), stateFolder, now });

beforeEach(() => {
  stateFolder = join(temporaryFolder(), 'state');
  folder = temporaryFolder();
  for (const name of ['points.csv', 'plan.json', 'welds.csv'])
    copyFileSync(samplePath('conforming', name), join(folder, name));
  service = start();
});

/** The desktop's dialog, answered with a path; null: cancelled. */
function dialog(path: string | null): Outlet & { readonly proposed: string[] } {
  const proposed: string[] = [];
  return {
    proposed,
    async place({ name }) {
      proposed.push(name);
      return path === null ? null : { kind: 'path', path };
    },
    hand() {
      throw new Error('no download was expected');
    },
  };
}

function downloads(): Outlet & { readonly files: Download[] } {
  const files: Download[] = [];
  return { files, place: async () => ({ kind: 'download' }), hand: (file) => files.push(file) };
}

const exclusions = [{ line: 40, reason: 'chip under the tip' }];
const notes = { disc: 'Measured after cleaning.', stations: [{ station: 7, text: 'Look at the clamp.' }] };

interface Work {
  readonly content: SessionContent;
  readonly disc: ReducedDisc;
}

/** Opens the files of the folder, reduces them without one point, and gives what a page would save. */
async function reducedWork(at: Service = service, from = folder, temporary = false): Promise<Work> {
  const files = value(
    at.openPaths(
      ['points.csv', 'plan.json', 'welds.csv'].map((name) => join(from, name)),
      temporary,
    ),
  );
  const ticket = (role: FileRole): string => files.find((file) => file.role === role)?.ticket ?? '';
  const tickets = { points: ticket('points'), plan: ticket('plan'), welds: ticket('welds') };
  const ended = new Promise<JobEvent>((resolve) => {
    const stop = at.onJob((event) => {
      if (event.kind === 'progress') return;
      stop();
      resolve(event);
    });
  });
  const { job } = value(at.reduce({ ...tickets, exclusions }));
  const event = await ended;
  if (event.kind !== 'finished') throw new Error(JSON.stringify(event));
  return { content: { ...tickets, exclusions, excludedFeatures: [], notes, job }, disc: event.disc };
}

const ticketFor = (at: Service, path: string): string => value(at.openPaths([path]))[0]?.ticket ?? '';

describe('a saved session', () => {
  it('opens again in a new program with everything in it, its points found beside it', async () => {
    const { content, disc } = await reducedWork();
    const path = join(folder, 'trial.hubtrue');
    const saved = value(
      await service.saveSession({ content, session: null, title: 'Trial 1' }, dialog(path)),
    );
    expect(saved).toMatchObject({ name: 'trial.hubtrue', resultKept: true });

    const other = start();
    const opened = value(await other.openSession({ ticket: ticketFor(other, path) }));
    expect(opened).toMatchObject({
      name: 'trial.hubtrue',
      saved: saved?.saved,
      exclusions,
      excludedFeatures: [],
      notes,
      migratedFrom: null,
      warnings: [],
      points: { state: 'found', file: { name: 'points.csv', role: 'points' } },
      welds: { state: 'found', file: { name: 'welds.csv', role: 'welds' } },
      plan: { name: 'plan.json', role: 'plan' },
    });
    expect(opened.disc).toEqual(JSON.parse(JSON.stringify(disc)));
    // The tickets serve: the same reduction gives the same result.
    const ended = new Promise<JobEvent>((resolve) =>
      other.onJob((event) => event.kind !== 'progress' && resolve(event)),
    );
    const found = (file: typeof opened.points): string => (file?.state === 'found' ? file.file.ticket : '');
    value(
      other.reduce({
        points: found(opened.points),
        plan: opened.plan?.ticket,
        welds: found(opened.welds),
        exclusions: opened.exclusions,
      }),
    );
    const event = await ended;
    expect(event.kind === 'finished' ? event.disc : null).toEqual(disc);
  });

  it('opens on a machine without the points: results only, and outputs can be made of them', async () => {
    const { content, disc } = await reducedWork();
    value(await service.saveSession({ content, session: null }, dialog(join(folder, 'trial.hubtrue'))));
    const elsewhere = join(temporaryFolder(), 'trial.hubtrue');
    copyFileSync(join(folder, 'trial.hubtrue'), elsewhere);
    rmSync(folder, { recursive: true });

    const other = start();
    const opened = value(await other.openSession({ ticket: ticketFor(other, elsewhere) }));
    expect(opened.points).toMatchObject({ state: 'absent', name: 'points.csv' });
    expect(opened.disc?.result.stations).toEqual(JSON.parse(JSON.stringify(disc.result.stations)));
    const outlet = downloads();
    value(await other.saveOutput({ job: opened.job, kind: 'stations.csv' }, outlet));
    expect(Buffer.from(outlet.files[0]?.base64 ?? '', 'base64').toString()).toContain('station,angle_deg');

    // Saved again without the points, it still names them, and keeps its results.
    const again = join(temporaryFolder(), 'again.hubtrue');
    const kept = {
      ...content,
      points: null,
      welds: null,
      plan: opened.plan?.ticket ?? null,
      job: opened.job,
    };
    const saved = value(
      await other.saveSession({ content: kept, session: opened.session, saveAs: true }, dialog(again)),
    );
    expect(saved?.resultKept).toBe(true);
    const document = JSON.parse(readFileSync(again, 'utf8'));
    expect(document.points.sha256).toBe(disc.result.source.points.sha256);
    expect(document.reduced.result.summary).toEqual(disc.result.summary);
  });

  it('takes the points that the person shows only where they are the same bytes', async () => {
    const { content } = await reducedWork();
    value(await service.saveSession({ content, session: null }, dialog(join(folder, 'trial.hubtrue'))));
    const elsewhere = join(temporaryFolder(), 'trial.hubtrue');
    copyFileSync(join(folder, 'trial.hubtrue'), elsewhere);
    rmSync(join(folder, 'points.csv'));
    const other = start();
    const { session } = value(await other.openSession({ ticket: ticketFor(other, elsewhere) }));

    const renamed = join(temporaryFolder(), 'renamed.csv');
    copyFileSync(samplePath('conforming', 'points.csv'), renamed);
    const match = (path: string) =>
      other.matchSessionFile({ session, role: 'points', ticket: ticketFor(other, path) });
    expect(value(await match(renamed))).toMatchObject({ name: 'renamed.csv', role: 'points' });
    const wrong = await match(samplePath('drifting', 'points.csv'));
    expect(codes(wrong)).toEqual(['different-file']);
    expect(wrong.ok ? '' : wrong.problems[0]?.message).toMatch(
      /not the file that the session was saved with \(points\.csv, \d+ bytes, SHA-256 [0-9a-f]{16}…\)/,
    );
  });

  it('tells that a file of that name has other content', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'trial.hubtrue');
    value(await service.saveSession({ content, session: null }, dialog(path)));
    writeFileSync(join(folder, 'points.csv'), `${readFileSync(join(folder, 'points.csv'), 'utf8')}\n`);
    const other = start();
    const opened = value(await other.openSession({ ticket: ticketFor(other, path) }));
    expect(opened.points).toMatchObject({
      state: 'different',
      name: 'points.csv',
      problem: { code: 'different-file' },
    });
    expect(opened.disc).not.toBe(null);
  });

  it('goes into its own file the second time, and asks again where it should', async () => {
    const { content } = await reducedWork();
    const first = dialog(join(folder, 'trial.hubtrue'));
    const saved = value(await service.saveSession({ content, session: null, title: 'A/B: disc?' }, first));
    expect(first.proposed).toEqual(['A-B- disc.hubtrue']);
    const session = saved?.session ?? '';
    const second = dialog(null);
    const noted = { ...content, notes: { ...notes, disc: 'second thoughts' } };
    expect(value(await service.saveSession({ content: noted, session }, second))).toMatchObject({ session });
    expect(second.proposed).toEqual([]);
    expect(JSON.parse(readFileSync(join(folder, 'trial.hubtrue'), 'utf8')).notes.disc).toBe(
      'second thoughts',
    );
    expect(value(await service.saveSession({ content, session, saveAs: true }, second))).toBe(null);
    expect(second.proposed).toEqual(['trial.hubtrue']);
  });

  it('holds no result after files or exclusions have changed', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'trial.hubtrue');
    const fewer = { ...content, exclusions: [] };
    expect(
      value(await service.saveSession({ content: fewer, session: null }, dialog(path)))?.resultKept,
    ).toBe(false);
    expect(JSON.parse(readFileSync(path, 'utf8')).reduced).toBe(null);
  });

  it('of the first draft opens through the service, with its plan ready to use', async () => {
    const draft = new URL('./kept-sessions/session-0.hubtrue', import.meta.url).pathname;
    const opened = value(await service.openSession({ ticket: ticketFor(service, draft) }));
    expect(opened).toMatchObject({ migratedFrom: 'hubtrue-session/0', disc: null, job: null });
    expect(value(service.planText({ plan: opened.plan?.ticket })).text).toContain('hubtrue-plan/1');
  });
});

describe('requests that are not understood', () => {
  it('are refused with their problem', async () => {
    const { content } = await reducedWork();
    expect(codes(await service.saveSession({ content: {}, session: null }, dialog(null)))).toContain(
      'invalid-request',
    );
    expect(codes(await service.saveSession({ content, session: 'nobody' }, dialog(null)))).toEqual([
      'unknown-session',
    ]);
    expect(codes(await service.autosave({ content: { ...content, points: 'x' }, session: null }))).toEqual([
      'unknown-ticket',
    ]);
    expect(codes(await service.openSession({ ticket: content.points }))).toEqual(['unknown-ticket']);
    expect(codes(await service.saveOutput({ job: 'job-99', kind: 'result.json' }, downloads()))).toEqual([
      'unknown-job',
    ]);
    const silent = { ...content, exclusions: [{ line: 3, reason: '' }] };
    expect(codes(await service.autosave({ content: silent, session: null }))).toEqual(['missing-reason']);
    expect(readdirSync(folder).sort()).toEqual(['plan.json', 'points.csv', 'welds.csv']);
  });
});

it('of a trial nothing is made', async () => {
  const { content } = await reducedWork();
  const ended = new Promise<JobEvent>((resolve) =>
    service.onJob((event) => event.kind !== 'progress' && resolve(event)),
  );
  const { job } = value(
    service.reduce({ points: content.points, plan: content.plan, exclusions, diagnose: false }),
  );
  expect((await ended).kind).toBe('finished');
  expect(codes(await service.saveOutput({ job, kind: 'result.json' }, downloads()))).toEqual(['unknown-job']);
  const path = join(folder, 'a.hubtrue');
  const trial = { ...content, welds: null, job };
  expect(value(await service.saveSession({ content: trial, session: null }, dialog(path)))?.resultKept).toBe(
    false,
  );
});

describe('an autosave', () => {
  it('of a program that did not end in order is found by the next one, opened, and saved to its own file', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'trial.hubtrue');
    const saved = value(await service.saveSession({ content, session: null }, dialog(path)));
    const newer = { ...content, notes: { ...notes, disc: 'not yet saved' } };
    const { session } = value(await service.autosave({ content: newer, session: saved?.session ?? null }));
    expect(session).toBe(saved?.session);
    expect(value(service.recover({}))).toEqual([]);

    const next = start();
    const left = value(next.recover({}));
    expect(left).toMatchObject([{ name: 'trial.hubtrue', saved: expect.any(String) }]);
    const ticket = left[0]?.ticket ?? '';
    const opened = value(await next.openSession({ ticket }));
    expect(opened).toMatchObject({ name: 'trial.hubtrue', notes: newer.notes, points: { state: 'found' } });
    expect(opened.disc).not.toBe(null);
    // It is at hand now: not to be recovered twice.
    expect(value(next.recover({}))).toEqual([]);
    expect(codes(await next.openSession({ ticket }))).toEqual(['already-recovered']);
    const content2 = {
      ...newer,
      points: opened.points?.state === 'found' ? opened.points.file.ticket : null,
      welds: opened.welds?.state === 'found' ? opened.welds.file.ticket : null,
      plan: opened.plan?.ticket ?? null,
      job: opened.job,
    };
    const again = dialog(null);
    expect(
      value(await next.saveSession({ content: content2, session: opened.session }, again)),
    ).toMatchObject({
      name: 'trial.hubtrue',
      resultKept: true,
    });
    expect(JSON.parse(readFileSync(path, 'utf8')).notes.disc).toBe('not yet saved');
    expect(value(start().recover({}))).toEqual([]);
  });

  it('of work that was never saved is there, too, until it is discarded', async () => {
    const { content } = await reducedWork();
    value(await service.autosave({ content, session: null, title: 'New disc' }));
    const left = value(start().recover({}));
    expect(left).toMatchObject([{ name: 'New disc', saved: null, perhapsOpen: true }]);
    const other = start();
    const [one] = value(other.recover({}));
    value(other.discardRecovery({ ticket: one?.ticket }));
    expect(value(start().recover({}))).toEqual([]);
  });

  it('replaces itself, and goes when the work is saved or ended', async () => {
    const { content } = await reducedWork();
    const first = value(await service.autosave({ content, session: null }));
    const second = value(await service.autosave({ content, session: first.session }));
    expect(second.session).toBe(first.session);
    expect(second.autosaved > first.autosaved).toBe(true);
    expect(value(start().recover({}))).toHaveLength(1);
    value(await service.saveSession({ content, session: first.session }, dialog(join(folder, 'a.hubtrue'))));
    expect(value(start().recover({}))).toEqual([]);
    const third = value(await service.autosave({ content, session: first.session }));
    expect(value(start().recover({}))).toHaveLength(1);
    value(service.endSession({ session: third.session }));
    expect(value(start().recover({}))).toEqual([]);
    expect(codes(await service.autosave({ content, session: third.session }))).toEqual(['unknown-session']);
  });

  it('under way while the work is saved does not come back after it', async () => {
    const { content } = await reducedWork();
    const { session } = value(await service.autosave({ content, session: null }));
    const outcomes = await Promise.all([
      service.autosave({ content, session }),
      service.saveSession({ content, session }, dialog(join(folder, 'a.hubtrue'))),
    ]);
    expect(outcomes.every(({ ok }) => ok)).toBe(true);
    expect(value(start().recover({}))).toEqual([]);
  });

  it('older than the saved file is not offered', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'a.hubtrue');
    const saved = value(await service.saveSession({ content, session: null }, dialog(path)));
    value(await service.autosave({ content, session: saved?.session ?? null }));
    // Somebody opens the same file in another program and saves it there, later.
    const other = start();
    const opened = value(await other.openSession({ ticket: ticketFor(other, path) }));
    const kept = { ...content, points: null, welds: null, plan: opened.plan?.ticket ?? null, job: null };
    value(await other.saveSession({ content: kept, session: opened.session }, dialog(null)));
    expect(value(start().recover({}))).toEqual([]);
  });
});

describe('recent sessions', () => {
  it('are listed newest first with their counts, open by ticket, and leave the list when forgotten or gone', async () => {
    const { content, disc } = await reducedWork();
    for (const name of ['one', 'two'])
      value(
        await service.saveSession(
          { content, session: null, title: name },
          dialog(join(folder, `${name}.hubtrue`)),
        ),
      );
    const other = start();
    const listed = value(other.recent({}));
    const { summary } = disc.result;
    expect(listed).toMatchObject([
      {
        name: 'two.hubtrue',
        title: 'two',
        folder: basename(folder),
        summary: { conforming: summary.conforming },
      },
      { name: 'one.hubtrue', title: 'one', summary: { missing: summary.missing.length } },
    ]);
    expect(JSON.stringify(listed)).not.toContain(folder);
    const opened = value(await other.openSession({ ticket: listed[1]?.ticket }));
    expect(opened.name).toBe('one.hubtrue');
    expect(value(other.recent({})).map(({ name }) => name)).toEqual(['one.hubtrue', 'two.hubtrue']);
    rmSync(join(folder, 'one.hubtrue'));
    expect(value(other.recent({})).map(({ name }) => name)).toEqual(['two.hubtrue']);
    value(other.forgetRecent({ ticket: value(other.recent({}))[0]?.ticket }));
    expect(value(other.recent({}))).toEqual([]);
    expect(existsSync(join(folder, 'two.hubtrue'))).toBe(true);
  });
});

describe('in a browser', () => {
  it('a session goes out as a download, and a copy stays on the list', async () => {
    const browser = start('browser');
    const { content } = await reducedWork(browser, folder, true);
    const outlet = downloads();
    const saved = value(await browser.saveSession({ content, session: null, title: 'Trial 1' }, outlet));
    expect(saved?.name).toBe('Trial 1.hubtrue');
    const [file] = outlet.files;
    expect(file).toMatchObject({ name: 'Trial 1.hubtrue', type: 'application/json' });
    const document = JSON.parse(Buffer.from(file?.base64 ?? '', 'base64').toString());
    // Uploads go with the program, so nobody is sent to look for them there.
    expect(document.points.path).toBe(null);

    const next = start('browser');
    const [recent] = value(next.recent({}));
    expect(recent).toMatchObject({ name: 'Trial 1.hubtrue', folder: '' });
    const opened = value(await next.openSession({ ticket: recent?.ticket }));
    expect(opened.points).toMatchObject({ state: 'absent' });
    // Saving it again makes a download again, and no second entry.
    const again = downloads();
    const kept = {
      ...content,
      points: null,
      welds: null,
      plan: opened.plan?.ticket ?? null,
      job: opened.job,
    };
    value(await next.saveSession({ content: kept, session: opened.session }, again));
    expect(again.files).toHaveLength(1);
    expect(value(next.recent({}))).toHaveLength(1);
  });

  it('finds the points among files handed over together with the session', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'trial.hubtrue');
    value(await service.saveSession({ content, session: null }, dialog(path)));
    const uploads = temporaryFolder();
    mkdirSync(join(uploads, '1'));
    mkdirSync(join(uploads, '2'));
    copyFileSync(path, join(uploads, '1', 'trial.hubtrue'));
    copyFileSync(samplePath('conforming', 'points.csv'), join(uploads, '2', 'my points.csv'));
    rmSync(join(folder, 'points.csv'));
    const browser = start('browser');
    const given = value(
      browser.openPaths([join(uploads, '1', 'trial.hubtrue'), join(uploads, '2', 'my points.csv')], true),
    ) as OpenedFile[];
    expect(given.map(({ role }) => role)).toEqual(['session', 'points']);
    const opened = value(
      await browser.openSession({ ticket: given[0]?.ticket, candidates: [given[1]?.ticket] }),
    );
    expect(opened.points).toMatchObject({ state: 'found', file: { name: 'my points.csv' } });
    expect(value(browser.recent({})).map(({ name }) => name)).toEqual(['trial.hubtrue']);
  });
});

describe('two windows on one session', () => {
  it('do not overwrite each other: the second save is refused, and saving elsewhere is not', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'shared.hubtrue');
    value(await service.saveSession({ content, session: null }, dialog(path)));
    const other = start();
    const opened = value(await other.openSession({ ticket: ticketFor(other, path) }));
    const theirs: SessionContent = {
      points: null,
      plan: opened.plan?.ticket ?? null,
      welds: null,
      exclusions,
      excludedFeatures: [],
      notes: { disc: 'of the other window', stations: [] },
      job: null,
    };
    const mine = value(await service.openSession({ ticket: ticketFor(service, path) }));
    value(await other.saveSession({ content: theirs, session: opened.session }, dialog(null)));
    const refused = await service.saveSession({ content, session: mine.session }, dialog(null));
    expect(codes(refused)).toEqual(['saved-elsewhere']);
    expect(JSON.parse(readFileSync(path, 'utf8')).notes.disc).toBe('of the other window');
    // Under another name, and from then on without a question.
    const elsewhere = join(folder, 'mine.hubtrue');
    const again = { content, session: mine.session };
    value(await service.saveSession({ ...again, saveAs: true }, dialog(elsewhere)));
    value(await service.saveSession(again, dialog(null)));
    expect(JSON.parse(readFileSync(elsewhere, 'utf8')).notes.disc).toBe(notes.disc);
  });

  it('keep an autosave each, and both are offered after both have gone', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'shared.hubtrue');
    value(await service.saveSession({ content, session: null }, dialog(path)));
    for (const disc of ['one', 'two']) {
      const window = start();
      const opened = value(await window.openSession({ ticket: ticketFor(window, path) }));
      const changed = { ...content, points: null, welds: null, job: null, plan: opened.plan?.ticket ?? null };
      value(
        await window.autosave({
          content: { ...changed, notes: { disc, stations: [] } },
          session: opened.session,
        }),
      );
    }
    const next = start();
    const recoverable = value(next.recover({}));
    expect(recoverable.map(({ name }) => name)).toEqual(['shared.hubtrue', 'shared.hubtrue']);
    const found: string[] = [];
    for (const { ticket } of recoverable) found.push(value(await next.openSession({ ticket })).notes.disc);
    expect(found.sort()).toEqual(['one', 'two']);
  });
});

describe('what the disk holds of an autosave', () => {
  it('cut off is refused when it is opened, and does not hide the others', async () => {
    const { content } = await reducedWork();
    for (const disc of ['one', 'two'])
      value(
        await service.autosave({ content: { ...content, notes: { disc, stations: [] } }, session: null }),
      );
    const kept = join(stateFolder, 'autosave');
    const [first] = readdirSync(kept).filter((name) => name.endsWith('.hubtrue'));
    const file = join(kept, first ?? '');
    writeFileSync(file, readFileSync(file, 'utf8').slice(0, 3000));
    const next = start();
    const recoverable = value(next.recover({}));
    expect(recoverable).toHaveLength(2);
    const outcomes = await Promise.all(recoverable.map(({ ticket }) => next.openSession({ ticket })));
    expect(outcomes.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(codes(outcomes.find(({ ok }) => !ok) as Outcome<unknown>)).toEqual(['json-syntax']);
  });

  it('stays where it is not opened but discarded only', async () => {
    const { content } = await reducedWork();
    value(await service.autosave({ content, session: null }));
    const next = start();
    const [left] = value(next.recover({}));
    value(next.discardRecovery({ ticket: left?.ticket }));
    expect(readdirSync(join(stateFolder, 'autosave'))).toEqual([]);
    expect(codes(await next.openSession({ ticket: left?.ticket }))).not.toEqual([]);
  });
});

describe('results of an earlier version', () => {
  it('are named by the version that made them, though a later one saved the session again', async () => {
    const { content } = await reducedWork();
    const path = join(folder, 'old.hubtrue');
    value(await service.saveSession({ content, session: null }, dialog(path)));
    const document = JSON.parse(readFileSync(path, 'utf8'));
    document.reduced.result.source.software = '0.0.9';
    document.seal = sealOf(document);
    writeFileSync(path, JSON.stringify(document));
    const opened = value(await service.openSession({ ticket: ticketFor(service, path) }));
    expect(opened.software).toBe('0.0.9');
    const again: SessionContent = {
      ...content,
      points: null,
      welds: null,
      plan: opened.plan?.ticket ?? null,
      job: opened.job,
    };
    const saved = value(await service.saveSession({ content: again, session: opened.session }, dialog(null)));
    expect(saved?.resultKept).toBe(true);
    expect(JSON.parse(readFileSync(path, 'utf8')).software).not.toBe('0.0.9');
    const reopened = value(await service.openSession({ ticket: ticketFor(service, path) }));
    expect(reopened.software).toBe('0.0.9');
  });
});
