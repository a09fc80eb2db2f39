/** The session file: what it holds, its formats and migrations, and where the files it names are found again. */
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import { composeSession, type SessionWork } from '../../src-main/session/compose-session.ts';
import { findFile, leadsElsewhere, storedPath, writableName } from '../../src-main/session/file-places.ts';
import { fingerprintOf, rememberFingerprints } from '../../src-main/session/fingerprints.ts';
import { knownFormats, migrate, migrations } from '../../src-main/session/migrate.ts';
import { bytesOfPlan, planFrom } from '../../src-main/session/plan-bytes.ts';
import { parseSession, readSession } from '../../src-main/session/read-session.ts';
import { sealOf } from '../../src-main/session/seal.ts';
import { SESSION_FORMAT } from '../../src-main/session/session-schema.ts';
import { defaultStateFolder } from '../../src-main/session/state-folder.ts';
import { sessionText } from '../../src-main/session/write-session.ts';
import { samplePath, temporaryFolder } from '../support/disc-files.ts';

const kept = (name: string): string => fileURLToPath(new URL(`./kept-sessions/${name}`, import.meta.url));
const points = samplePath('conforming', 'points.csv');
const plan = samplePath('conforming', 'plan.json');
const welds = samplePath('conforming', 'welds.csv');
const now = new Date('2026-04-05T06:07:08.009Z');
const sha = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');
const place = (path: string) => ({ path, temporary: false });

const emptyWork: SessionWork = {
  title: 'A disc',
  plan: place(plan),
  points: place(points),
  welds: null,
  exclusions: [],
  excludedFeatures: [],
  notes: { disc: '', stations: [] },
  reduction: null,
  before: null,
};

function compose(work: Partial<SessionWork>, folder: string | null = null) {
  return composeSession({ ...emptyWork, ...work }, folder, now, fingerprintOf);
}

const exclusions = [{ line: 40, reason: 'chip' }];
const disc = runReduction({ pointsPath: points, planPath: plan, weldsPath: welds, exclusions });

async function reduced() {
  return { disc: await disc, exclusions, excludedFeatures: [], weldsSha256: sha(readFileSync(welds)) };
}

describe('a session', () => {
  it('comes back from its text as it was, results included', async () => {
    const reduction = await reduced();
    const { document, resultKept } = await compose({
      welds: place(welds),
      exclusions: [{ line: 40, reason: ' chip ' }],
      notes: { disc: 'first article', stations: [{ station: 3, text: 'ü ″ ⌀' }] },
      reduction,
    });
    expect(resultKept).toBe(true);
    const read = parseSession(sessionText(document), 'a.hubtrue');
    expect(read).toEqual({
      document: JSON.parse(JSON.stringify(document)),
      migratedFrom: null,
      warnings: [],
    });
    expect(read.document.reduced?.result).toEqual(JSON.parse(JSON.stringify(reduction.disc.result)));
    expect(read.document).toMatchObject({
      format: SESSION_FORMAT,
      saved: '2026-04-05T06:07:08.009Z',
      points: { name: 'points.csv', bytes: readFileSync(points).length, sha256: sha(readFileSync(points)) },
      exclusions: [{ line: 40, reason: 'chip' }],
    });
    expect(bytesOfPlan(read.document.plan as NonNullable<typeof read.document.plan>)).toEqual(
      readFileSync(plan),
    );
  });

  it('has the same bytes for the same work and time', async () => {
    const one = sessionText((await compose({ reduction: null })).document);
    expect(sessionText((await compose({ reduction: null })).document)).toBe(one);
  });

  const others: readonly [string, Partial<SessionWork>][] = [
    ['an exclusion', { exclusions: [] }],
    ['a reason', { exclusions: [{ line: 40, reason: 'another reason' }] }],
    ['a feature', { excludedFeatures: [{ station: 2, feature: 'EDGE', reason: 'slipped' }] }],
    ['the welds', { welds: null }],
    ['the points', { points: place(samplePath('drifting', 'points.csv')) }],
    ['the plan', { plan: place(samplePath('drifting', 'plan.json')) }],
  ];
  it.each(others)('keeps no result that was made with other work: %s', async (_, change) => {
    const reduction = await reduced();
    const same = { welds: place(welds), exclusions: reduction.exclusions, reduction };
    expect((await compose(same)).resultKept).toBe(true);
    const { document, resultKept } = await compose({ ...same, ...change });
    expect(resultKept).toBe(false);
    expect(document.reduced).toBe(null);
  });

  it('does not take an exclusion without a reason', async () => {
    const refused = compose({ exclusions: [{ line: 3, reason: '  ' }] });
    await expect(refused).rejects.toThrow(RefusedInput);
    await expect(refused).rejects.toThrow('the exclusion of line 3 has no reason');
  });

  it('goes on naming files that were not found when it was opened', async () => {
    const before = (await compose({ welds: place(welds) })).document;
    const { document } = await compose({ points: null, welds: null, plan: null, before });
    expect(document.points).toEqual(before.points);
    expect(document.welds).toEqual(before.welds);
    expect(document.plan).toEqual(before.plan);
  });

  it('stores paths relative to its own folder, and none to copies that go with the program', async () => {
    const folder = fileURLToPath(new URL('.', import.meta.url));
    const { document } = await compose({ welds: { path: welds, temporary: true } }, folder);
    expect(document.points?.path).toBe('../../sample-data/conforming/points.csv');
    expect(document.welds?.path).toBe(null);
    expect(storedPath(points, null)).toBe(points);
  });
});

describe('the plan in a session', () => {
  it.each([
    ['UTF-8', Buffer.from('{ "title": "Läufer" }\r\n')],
    ['UTF-8 with a mark', Buffer.from('\ufeff{ "title": "x" }')],
    ['UTF-16', Buffer.from('\ufeff{ "title": "x" }', 'utf16le')],
    ['Latin-1', Buffer.from('{ "title": "Läufer" }', 'latin1')],
  ])('in %s keeps its bytes', (_, bytes) => {
    const held = planFrom('plan.json', bytes);
    expect(bytesOfPlan(JSON.parse(JSON.stringify(held)))).toEqual(bytes);
    expect(held.sha256).toBe(sha(bytes));
  });

  it('is readable where it is UTF-8', () => {
    expect(planFrom('p.json', Buffer.from('{ "title": "Läufer" }'))).toMatchObject({
      encoding: 'utf-8',
      content: '{ "title": "Läufer" }',
    });
  });
});

describe('names of files inside a session', () => {
  it.each([
    ['plan.json', 'plan.json'],
    ['a:b?.json', 'a_b_.json'],
    ['plan. . ', 'plan_'],
    ['NUL.json', '_NUL.json'],
    ['console.json', 'console.json'],
  ])('%s can be written on Windows as %s', (name, written) => {
    expect(writableName(name, 'win32')).toBe(written);
    expect(writableName(name, 'linux')).toBe(name);
  });
});

describe('formats', () => {
  it('form a chain without gaps that ends at the present one', () => {
    migrations.forEach(({ from, to }, i) => {
      expect(from).toBe(`hubtrue-session/${i}`);
      expect(to).toBe(`hubtrue-session/${i + 1}`);
    });
    expect(migrations.at(-1)?.to).toBe(SESSION_FORMAT);
    expect(knownFormats).toHaveLength(migrations.length + 1);
  });

  it.each(knownFormats)('%s is kept as a file, and can be opened', (format) => {
    const number = format.split('/')[1];
    const path = kept(`session-${number}.hubtrue`);
    expect(JSON.parse(readFileSync(path, 'utf8')).format).toBe(format);
    const { document, migratedFrom, warnings } = readSession(path);
    expect(document.format).toBe(SESSION_FORMAT);
    expect(migratedFrom).toBe(format === SESSION_FORMAT ? null : format);
    expect(warnings).toEqual([]);
    expect(document.title).toBe('Trial disc 1, first look');
    expect(document.notes.disc).toBe('Measured again after cleaning.');
    expect(document.exclusions.map(({ line }) => line)).toEqual([12, 40]);
    expect(document.points?.name).toBe('points.csv');
  });

  it('0 becomes 1: one reason serves all lines, the plan is written out, and nothing is invented', () => {
    const draft = JSON.parse(readFileSync(kept('session-0.hubtrue'), 'utf8'));
    const { document } = readSession(kept('session-0.hubtrue'));
    expect(document.exclusions).toEqual([
      { line: 12, reason: 'burr under the tip' },
      { line: 40, reason: 'burr under the tip' },
    ]);
    expect(document.points).toEqual({
      name: 'points.csv',
      bytes: draft.files.points.size,
      sha256: draft.files.points.sha256,
      path: draft.files.points.path,
    });
    const held = document.plan as NonNullable<typeof document.plan>;
    expect(JSON.parse(held.content)).toEqual(draft.plan);
    expect(held.sha256).toBe(sha(held.content));
    expect(document).toMatchObject({
      software: '0.0.1',
      saved: draft.saved,
      welds: null,
      excludedFeatures: [],
      reduced: null,
      notes: { stations: [] },
    });
  });

  it('0 without a reason says so', () => {
    const draft = JSON.parse(readFileSync(kept('session-0.hubtrue'), 'utf8'));
    const { document } = parseSession(JSON.stringify({ ...draft, exclusionReason: '' }), 'a.hubtrue');
    expect(document.exclusions[0]?.reason).toBe('no reason was written (session of the first draft)');
  });

  it('that are newer or unknown are left alone', () => {
    const newer = { format: 'hubtrue-session/99' };
    expect(migrate(newer)).toBe(newer);
    expect(() => parseSession(JSON.stringify(newer), 'a.hubtrue')).toThrow(
      /newer version.*hubtrue-session\/99/,
    );
    expect(() => parseSession('{ "format": "hubtrue-plan/1" }', 'a.hubtrue')).toThrow(/not a session/);
  });
});

describe('the seal', () => {
  it('is over everything but itself, whatever the layout of the text', async () => {
    const text = sessionText((await compose({})).document);
    const given = JSON.parse(text);
    expect(given.seal).toBe(sealOf(given));
    expect(parseSession(JSON.stringify(given), 'a.hubtrue').warnings).toEqual([]);
    expect(sealOf({ ...given, title: 'B' })).not.toBe(given.seal);
  });

  it('broken: the results are not shown, everything else is, and a warning says why', async () => {
    const reduction = await reduced();
    const { document } = await compose({ welds: place(welds), exclusions: reduction.exclusions, reduction });
    const given = JSON.parse(sessionText(document));
    given.reduced.result.summary.conforming = 99;
    const { document: read, warnings } = parseSession(JSON.stringify(given), 'a.hubtrue');
    expect(read.reduced).toBe(null);
    expect(read.exclusions).toEqual(reduction.exclusions);
    expect(warnings.join()).toMatch(
      /a\.hubtrue: the file has been changed since it was saved, so the results/,
    );
  });
});

describe('finding the points again', () => {
  async function wanted(path: string | null) {
    return { ...(await fingerprintOf(points)), path };
  }

  it('in the folder of the session, before the stored place', async () => {
    const folder = temporaryFolder();
    const beside = join(folder, 'points.csv');
    writeFileSync(beside, readFileSync(points));
    const session = join(folder, 'a.hubtrue');
    expect(await findFile(await wanted(points), session, [])).toEqual({ state: 'found', path: beside });
  });

  it('at the stored place relative to the session, or absolute', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'data'));
    mkdirSync(join(folder, 'sessions'));
    const there = join(folder, 'data', 'points.csv');
    writeFileSync(there, readFileSync(points));
    const session = join(folder, 'sessions', 'a.hubtrue');
    const found = { state: 'found', path: there };
    expect(await findFile(await wanted('../data/points.csv'), session, [])).toEqual(found);
    expect(await findFile(await wanted(there), session, [])).toEqual(found);
    expect(await findFile(await wanted(there), null, [])).toEqual(found);
  });

  it('among files given with it, under whatever name', async () => {
    const folder = temporaryFolder();
    const given = join(folder, 'renamed.csv');
    writeFileSync(given, readFileSync(points));
    const session = join(folder, 'a.hubtrue');
    expect(await findFile(await wanted(null), session, [plan, given])).toEqual({
      state: 'found',
      path: given,
    });
  });

  it('not where it is gone; and a file of the same name and size with other content is told', async () => {
    const folder = temporaryFolder();
    const session = join(folder, 'a.hubtrue');
    expect(await findFile(await wanted('points.csv'), session, [plan])).toEqual({ state: 'absent' });
    const bytes = readFileSync(points);
    bytes[bytes.length - 2] = bytes[bytes.length - 2] === 0x31 ? 0x32 : 0x31;
    const beside = join(folder, 'points.csv');
    writeFileSync(beside, bytes);
    expect(await findFile(await wanted(null), session, [])).toEqual({ state: 'different', path: beside });
    mkdirSync(join(folder, 'inner'));
    mkdirSync(join(folder, 'inner', 'points.csv'));
    expect(await findFile(await wanted(null), join(folder, 'inner', 'a.hubtrue'), [])).toEqual({
      state: 'absent',
    });
  });

  it('never on a machine that only the session names', () => {
    for (const path of [
      '\\\\elsewhere\\share\\points.csv',
      '//elsewhere/share/points.csv',
      '\\\\?\\UNC\\x\\y',
    ]) {
      expect(leadsElsewhere(path, null), path).toBe(true);
      expect(leadsElsewhere(path, 'C:\\discs'), path).toBe(true);
    }
    expect(leadsElsewhere('//ELSEWHERE/share/points.csv', '\\\\elsewhere\\share\\sessions')).toBe(false);
    for (const path of ['/data/points.csv', 'C:\\data\\points.csv', '../points.csv'])
      expect(leadsElsewhere(path, null), path).toBe(false);
  });

  it('fingerprints are remembered until the file changes', async () => {
    const remembered = rememberFingerprints();
    const path = join(temporaryFolder(), 'a.csv');
    writeFileSync(path, 'one');
    const first = await remembered(path);
    expect(await remembered(path)).toBe(first);
    writeFileSync(path, 'two');
    expect((await remembered(path)).sha256).toBe(sha('two'));
  });
});

it.each([
  ['linux', {}, /\.local\/state\/hubtrue$/],
  ['linux', { XDG_STATE_HOME: '/var/x' }, /^\/var\/x\/hubtrue$/],
  ['darwin', {}, /Library\/Application Support\/Hubtrue$/],
  ['win32', { LOCALAPPDATA: 'L' }, /^L.Hubtrue$/],
  ['linux', { HUBTRUE_STATE: '/tmp/here' }, /^\/tmp\/here$/],
] as const)('the folder of the account on %s with %o', (platform, environment, expected) => {
  expect(defaultStateFolder(environment, platform)).toMatch(expected);
});
