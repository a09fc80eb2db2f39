/** Session files and autosaves that are damaged, cut off, foreign or unreachable. */
import {
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RefusedInput } from '../../src-main/problems.ts';
import { createAutosaves } from '../../src-main/session/autosaves.ts';
import { parseSession, readSession } from '../../src-main/session/read-session.ts';
import { createRecentList } from '../../src-main/session/recent-list.ts';
import { unfinishedIn, writeWholeFile } from '../../src-main/whole-file.ts';
import { temporaryFolder } from '../support/disc-files.ts';

const kept = readFileSync(
  fileURLToPath(new URL('../unit/kept-sessions/session-1.hubtrue', import.meta.url)),
  'utf8',
);

function refusal(content: string | Uint8Array): RefusedInput['problems'] {
  const path = join(temporaryFolder(), 'a.hubtrue');
  writeFileSync(path, content);
  try {
    readSession(path);
  } catch (error) {
    if (error instanceof RefusedInput) return error.problems;
    throw error;
  }
  throw new Error('It was not refused.');
}

/** The kept session with a change, not sealed again. */
function changed(change: (document: Record<string, never>) => void): string {
  const document = JSON.parse(kept);
  change(document);
  return JSON.stringify(document);
}

describe('a session file', () => {
  it.each([
    ['empty', '', 'not-a-session'],
    ['a table of points', 'station,feature,x,y,z\n1,SEAT,1,2,3\n', 'not-a-session'],
    ['a list', '[1, 2]', 'not-a-session'],
    ['a plan', '{ "format": "hubtrue-plan/1" }', 'wrong-format'],
    ['of a later format', '{ "format": "hubtrue-session/2" }', 'wrong-format'],
    ['without a format', '{}', 'wrong-format'],
    ['with a format that is no text', '{ "format": 1 }', 'wrong-format'],
    ['with a format that cannot become one', '{ "format": { "toString": null } }', 'wrong-format'],
    ['cut off', kept.slice(0, kept.length / 2), 'json-syntax'],
    ['of null', 'null', 'not-a-session'],
  ])('%s is refused', (_, content, code) => {
    const problems = refusal(content);
    expect(problems.map((problem) => problem.code)).toEqual([code]);
    expect(problems[0]?.message).toMatch(/^a\.hubtrue/);
    expect(problems[0]?.remedy).toBeTruthy();
  });

  it('in bytes that are no text is refused', () => {
    expect(refusal(Uint8Array.from([0x50, 0x4b, 3, 4, 0, 0, 1, 0, 0, 0])).length).toBe(1);
  });

  it('cut off names line and character', () => {
    const [problem] = refusal(kept.slice(0, kept.indexOf('"exclusions"')));
    expect(problem?.line).toBeGreaterThan(5);
    expect(problem?.message).toMatch(/line \d+, character \d+: this session is damaged/);
  });

  it.each([
    [
      'exclusions',
      (d: Record<string, unknown>) => (d['exclusions'] = [{ line: 3, reason: '  ' }]),
      'exclusions[0].reason',
    ],
    [
      'a line',
      (d: Record<string, unknown>) => (d['exclusions'] = [{ line: 0, reason: 'x' }]),
      'exclusions[0].line',
    ],
    [
      'points',
      (d: Record<string, unknown>) => (d['points'] = { name: 'a.csv', bytes: 1, sha256: 'ab', path: null }),
      'points.sha256',
    ],
    [
      'a name with a folder',
      (d: Record<string, unknown>) => ((d['plan'] as Record<string, unknown>)['name'] = '../../etc/x'),
      'plan.name',
    ],
    [
      'a name that is a way upwards',
      (d: Record<string, unknown>) => ((d['plan'] as Record<string, unknown>)['name'] = '..'),
      'plan.name',
    ],
    [
      'a name with a null',
      (d: Record<string, unknown>) => ((d['plan'] as Record<string, unknown>)['name'] = 'a\u0000b'),
      'plan.name',
    ],
    [
      'a name longer than any',
      (d: Record<string, unknown>) => ((d['plan'] as Record<string, unknown>)['name'] = 'ü'.repeat(128)),
      'plan.name',
    ],
    [
      'a station beyond all',
      (d: Record<string, unknown>) => (d['notes'] = { disc: '', stations: [{ station: 1e6, text: '' }] }),
      'notes.stations[0].station',
    ],
    [
      'a note without end',
      (d: Record<string, unknown>) => (d['notes'] = { disc: 'x'.repeat(1e6), stations: [] }),
      'notes.disc',
    ],
    [
      'a format of its own making',
      (d: Record<string, unknown>) => (d['welds'] = { toString: null }),
      'welds.name',
    ],
    ['notes', (d: Record<string, unknown>) => delete d['notes'], 'notes'],
    ['an unknown key', (d: Record<string, unknown>) => (d['more'] = 1), ''],
    ['the time', (d: Record<string, unknown>) => (d['saved'] = 'yesterday'), 'saved'],
  ])('with wrong %s is refused with its path', (_, change, path) => {
    const [problem] = refusal(changed(change));
    expect(problem?.code).toBe('damaged-session');
    expect(problem?.path ?? '').toBe(path);
  });

  it('nested without end is refused', () => {
    const deep = '['.repeat(200_000) + ']'.repeat(200_000);
    for (const text of [
      `{"format":"hubtrue-session/1","x":${deep}}`,
      `{"format":"hubtrue-session/0","plan":${deep}}`,
    ])
      expect(() => parseSession(text, 'work.hubtrue')).toThrow(/work\.hubtrue: this session is damaged/);
  });

  it('of the first draft with something else in place of a list is refused with its path', () => {
    for (const lines of ['5', '{"0":1}', '"7"'])
      expect(() =>
        parseSession(
          `{"format":"hubtrue-session/0","software":"0.0.1","saved":"2026-01-01T00:00:00Z","excludedLines":${lines}}`,
          'work.hubtrue',
        ),
      ).toThrow(/work\.hubtrue, exclusions: /);
  });

  it('edited by hand opens with a warning', () => {
    const path = join(temporaryFolder(), 'a.hubtrue');
    writeFileSync(path, kept.replace('burr under the tip', 'another reason'));
    const { document, warnings } = readSession(path);
    expect(document.exclusions[0]?.reason).toBe('another reason');
    expect(warnings).toEqual(['a.hubtrue: the file has been changed since it was saved.']);
  });

  it('larger than any is refused unread', () => {
    const path = join(temporaryFolder(), 'huge.hubtrue');
    writeFileSync(path, kept);
    // Takes no room on the disk: what lies beyond the text was never written.
    truncateSync(path, 513 * 1024 * 1024);
    expect(() => readSession(path)).toThrow(/huge\.hubtrue: this is too large for a session/);
  });

  it('that is absent is refused with its path', () => {
    expect(() => readSession(join(temporaryFolder(), 'gone.hubtrue'))).toThrow(/there is no such session/);
  });
});

describe('a file that appears whole or not at all', () => {
  it('replaces the one before and leaves nothing beside it', () => {
    const folder = temporaryFolder();
    const path = join(folder, 'a.hubtrue');
    writeWholeFile(path, 'one');
    writeWholeFile(path, new TextEncoder().encode('two'));
    expect(readFileSync(path, 'utf8')).toBe('two');
    expect(readdirSync(folder)).toEqual(['a.hubtrue']);
  });

  it.skipIf(process.platform === 'win32')('replaces what a link stands for, and leaves the link', () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'elsewhere'));
    const real = join(folder, 'elsewhere', 'real.hubtrue');
    const link = join(folder, 'a.hubtrue');
    writeFileSync(real, 'one');
    symlinkSync(real, link);
    writeWholeFile(link, 'two');
    expect(readFileSync(real, 'utf8')).toBe('two');
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
  });

  it('takes the longest name that the system takes', () => {
    const folder = temporaryFolder();
    const name = `${'n'.repeat(247)}.hubtrue`;
    writeWholeFile(join(folder, name), 'text');
    expect(readdirSync(folder)).toEqual([name]);
  });

  it('that cannot be put in its place is refused, and what was there stays', () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'taken', 'inner'), { recursive: true });
    expect(() => writeWholeFile(join(folder, 'taken'), 'text')).toThrow(
      /taken: the file cannot be written there/,
    );
    expect(readdirSync(folder)).toEqual(['taken']);
    expect(() => writeWholeFile(join(folder, 'absent', 'a.txt'), 'text')).toThrow(/ENOENT/);
  });
});

describe('autosaves', () => {
  const note = { name: 'A disc', autosaved: '2026-03-01T00:00:00.000Z', path: null, saved: null };

  it('with a damaged note, or none, are offered all the same', () => {
    const folder = temporaryFolder();
    const autosaves = createAutosaves(folder);
    const [one, two] = [autosaves.newId(), autosaves.newId()];
    autosaves.keep(one, kept, note);
    autosaves.keep(two, kept, note);
    writeFileSync(join(folder, 'autosave', `${one}.json`), '{ "name": ');
    const left = createAutosaves(folder).left(new Set());
    expect(left.map(({ id }) => id).sort()).toEqual([one, two].sort());
    expect(left.find(({ id }) => id === one)).toMatchObject({ name: 'Unnamed work', saved: null });
    expect(left.find(({ id }) => id === two)).toMatchObject({ name: 'A disc' });
  });

  it('of a program that runs no more are not called open', () => {
    const folder = temporaryFolder();
    const autosaves = createAutosaves(folder);
    const id = autosaves.newId();
    autosaves.keep(id, kept, note);
    expect(autosaves.left(new Set())[0]?.perhapsOpen).toBe(true);
    const file = join(folder, 'autosave', `${id}.json`);
    const beside = JSON.parse(readFileSync(file, 'utf8'));
    // Process numbers end far below this one on every system.
    writeFileSync(file, JSON.stringify({ ...beside, owner: { ...beside.owner, pid: 2 ** 30 } }));
    expect(autosaves.left(new Set())[0]?.perhapsOpen).toBe(false);
    writeFileSync(
      file,
      JSON.stringify({ ...beside, owner: { ...beside.owner, started: beside.owner.started - 9e5 } }),
    );
    expect(autosaves.left(new Set())[0]?.perhapsOpen).toBe(false);
  });

  it('whose saved file has gone are offered as never saved', () => {
    const folder = temporaryFolder();
    const autosaves = createAutosaves(folder);
    const path = join(folder, 'gone.hubtrue');
    autosaves.keep(autosaves.newId(), kept, { ...note, path, saved: '2026-04-01T00:00:00.000Z' });
    expect(autosaves.left(new Set())).toMatchObject([{ saved: null, path }]);
  });

  it('are offered whatever the clock has done since the file that they began with was saved', () => {
    const folder = temporaryFolder();
    const autosaves = createAutosaves(folder);
    const path = join(folder, 'disc.hubtrue');
    const saved = JSON.parse(kept).saved as string;
    writeFileSync(path, kept);
    const earlier = '2001-01-01T00:00:00.000Z';
    expect(earlier < saved).toBe(true);
    // The clock went back by years after the file had been saved; the work is newer all the same.
    autosaves.keep('a1', kept, { ...note, path, saved, autosaved: earlier });
    expect(autosaves.left(new Set()).map(({ id }) => id)).toEqual(['a1']);
    // Work that began with an earlier version of the file, and was autosaved before the present one was saved, is in it.
    autosaves.keep('a2', kept, { ...note, path, saved: earlier, autosaved: '2001-01-02T00:00:00.000Z' });
    expect(autosaves.left(new Set()).map(({ id }) => id)).toEqual(['a1']);
  });

  it('of which a part was written when the program ended are whole, and the part goes', () => {
    const folder = temporaryFolder();
    const autosaves = createAutosaves(folder);
    autosaves.keep('b1', kept, note);
    const inside = join(folder, 'autosave');
    const alive = unfinishedIn(inside);
    // Process numbers end far below this one on every system.
    const left = alive.replace(`-${process.pid}-`, `-${2 ** 30}-`);
    const elsewhere = left.replace(/hubtrue-[0-9a-f]{8}-/, 'hubtrue-00000000-');
    for (const path of [left, alive, elsewhere]) writeFileSync(path, kept.slice(0, 100));
    expect(autosaves.left(new Set()).map(({ id }) => id)).toEqual(['b1']);
    expect(readdirSync(inside)).not.toContain(basename(left));
    // One that a running program is about to finish stays.
    expect(readdirSync(inside)).toContain(basename(alive));
    // And one of another machine, whose programs nobody knows here.
    expect(readdirSync(inside)).toContain(basename(elsewhere));
  });

  it('lie where only this account may look', () => {
    if (process.platform === 'win32') return;
    const folder = join(temporaryFolder(), 'state');
    const autosaves = createAutosaves(folder);
    autosaves.keep(autosaves.newId(), kept, note);
    expect(statSync(join(folder, 'autosave')).mode & 0o077).toBe(0);
  });
});

describe('the list of recent sessions', () => {
  it('starts anew where it is damaged', () => {
    const folder = temporaryFolder();
    const list = createRecentList(folder);
    writeFileSync(join(folder, 'recent.json'), '[{ "path": 3 }]');
    expect(list.entries()).toEqual([]);
    const path = join(folder, 'a.hubtrue');
    writeFileSync(path, kept);
    list.add({ path, used: '2026-03-01T00:00:00.000Z', title: '', summary: null });
    expect(list.entries()).toHaveLength(1);
  });

  it('keeps a dozen', () => {
    const folder = temporaryFolder();
    const list = createRecentList(folder);
    for (let i = 0; i < 15; i += 1) {
      const path = join(folder, `${i}.hubtrue`);
      writeFileSync(path, kept);
      list.add({ path, used: '2026-03-01T00:00:00.000Z', title: '', summary: null });
    }
    expect(list.entries().map(({ path }) => path)).toEqual(
      Array.from({ length: 12 }, (_, i) => join(folder, `${14 - i}.hubtrue`)),
    );
  });
});
