import { describe, expect, test } from 'vitest';
import type { FileRole, OpenedFile, Problem } from '../../src-main/api.ts';
import { fileStem } from '../../src-renderer/parts/download.ts';
import { emptyHistory } from '../../src-renderer/state/exclusions.ts';
import { mergeFiles, stillMissing, withoutRole } from '../../src-renderer/state/files.ts';
import { stationOrder, stepStation } from '../../src-renderer/state/selection.ts';
import { emptySession, reduceSession } from '../../src-renderer/state/session.ts';
import { parseSettings } from '../../src-renderer/state/settings.ts';
import { gathered, placeOf, statementOf, withRemedy } from '../../src-renderer/views/problems/problems.tsx';
import { exampleDisc } from '../support/example-disc.ts';

const file = (role: FileRole, name: string): OpenedFile => ({ ticket: `t-${name}`, name, bytes: 1, role });
const points = file('points', 'a.csv');
const plan = file('plan', 'a.json');
const welds = file('welds', 'w.csv');

describe('given files', () => {
  test('add up until points and plan are there', () => {
    const first = mergeFiles({}, [points]).files;
    expect(stillMissing(first)).toEqual(['plan']);
    expect(stillMissing(mergeFiles(first, [plan]).files)).toEqual([]);
    expect(stillMissing({ welds })).toEqual(['points', 'plan']);
  });

  test('of another disc let the old weld order go; a new point file alone keeps it', () => {
    const given = { points, plan, welds };
    const other = [file('points', 'b.csv'), file('plan', 'b.json')];
    expect(mergeFiles(given, other).files.welds).toBeUndefined();
    expect(mergeFiles(given, other.slice(0, 1)).files).toMatchObject({
      points: { name: 'b.csv' },
      plan,
      welds,
    });
  });

  test('two of one kind at once are refused and change nothing', () => {
    const given = { points, plan };
    const merged = mergeFiles(given, [file('plan', 'b.json'), file('plan', 'c.json')]);
    expect(merged.files).toBe(given);
    expect(merged.problems).toMatchObject([{ code: 'two-files-of-one-role', file: 'c.json' }]);
    expect(merged.problems.map(statementOf)).toEqual(['These are both plan files: b.json and c.json.']);
  });

  test('can be taken away again', () => {
    expect(withoutRole({ points, plan, welds }, 'welds')).toEqual({ points, plan });
  });
});

describe('a session', () => {
  const disc = exampleDisc();
  const problem: Problem = { code: 'x', message: 'no' };
  const loaded = reduceSession(
    reduceSession(emptySession, { kind: 'files', files: { points, plan }, problems: [] }),
    { kind: 'finished', disc, files: { points, plan }, job: 'first', exclusions: emptyHistory },
  );

  test('keeps the disc on view when another file is refused, and returns to its files on request', () => {
    const other = { points: file('points', 'b.csv'), plan };
    let now = reduceSession(loaded, { kind: 'files', files: other, problems: [] });
    now = reduceSession(now, { kind: 'progress', progress: { stage: 'reading', fraction: 0, note: '' } });
    now = reduceSession(now, { kind: 'refused', problems: [problem] });
    expect(now).toMatchObject({
      disc,
      discFiles: { points, plan },
      files: other,
      progress: null,
      problems: [problem],
    });
    expect(reduceSession(now, { kind: 'dismiss' })).toMatchObject({
      disc,
      files: { points, plan },
      problems: [],
    });
  });

  test('shows another disc before its causes are known, and the one before again if it will not become whole', () => {
    const files = { points: file('points', 'b.csv'), plan };
    const half = { ...disc, result: { ...disc.result, diagnosis: null } };
    const progress = { stage: 'blades', fraction: 0.95, note: '' } as const;
    const given = reduceSession(loaded, { kind: 'files', files, problems: [] });
    const now = reduceSession(given, {
      kind: 'reduced',
      disc: half,
      files,
      exclusions: emptyHistory,
      progress,
    });
    expect(now).toMatchObject({ disc: half, discFiles: files, job: null, previous: { job: 'first' } });
    expect(reduceSession(now, { kind: 'cancelled' })).toEqual({ ...loaded, files });
    expect(reduceSession(now, { kind: 'refused', problems: [problem] })).toEqual({
      ...loaded,
      files,
      problems: [problem],
    });
    const whole = reduceSession(now, {
      kind: 'finished',
      disc,
      files,
      job: 'second',
      exclusions: emptyHistory,
    });
    expect(whole).toMatchObject({
      disc,
      job: 'second',
      before: null,
      previous: { job: 'first' },
      progress: null,
    });
  });

  test('keeps the disc on view when a job is cancelled', () => {
    const busy = reduceSession(loaded, {
      kind: 'progress',
      progress: { stage: 'hub', fraction: 0.4, note: '' },
    });
    expect(reduceSession(busy, { kind: 'cancelled' })).toEqual(loaded);
  });

  test('with nothing on view keeps half-given files when problems are put away', () => {
    const half = reduceSession(emptySession, { kind: 'files', files: { plan }, problems: [problem] });
    expect(reduceSession(half, { kind: 'dismiss' }).files).toEqual({ plan });
  });
});

describe('the selection', () => {
  test('steps around the ring through every planned station', () => {
    const order = stationOrder(exampleDisc());
    expect(order).toContain(12);
    expect(stepStation(order, 18, 1)).toBe(1);
    expect(stepStation(order, 1, -1)).toBe(18);
    expect(stepStation(order, 11, 1)).toBe(12);
    expect(stepStation(order, 5, 'last')).toBe(18);
    expect(stepStation(order, null, 1)).toBe(1);
    expect(stepStation([], null, 1)).toBeNull();
  });
});

describe('settings', () => {
  test('come back as stored, and damaged ones as the first values', () => {
    const first = { length: 'mm', rotation: 'degree', theme: 'system', frame: 'blade' };
    expect(parseSettings(null)).toEqual(first);
    expect(parseSettings('{"length":"furlong","theme":7}')).toEqual(first);
    expect(parseSettings('nonsense')).toEqual(first);
    expect(parseSettings('null')).toEqual(first);
    const stored = { length: 'inch', rotation: 'mrad', theme: 'dark', frame: 'disc' };
    expect(parseSettings(JSON.stringify(stored))).toEqual(stored);
  });
});

describe('a problem in words', () => {
  const problem: Problem = {
    code: 'not-a-number',
    message:
      'a.csv, line 7, column x: this is not a number: found "1O", expected a decimal number; correct the cell.',
    file: 'a.csv',
    line: 7,
    column: 'x',
    value: '1O',
    expected: 'a decimal number',
    remedy: 'correct the cell',
  };

  test('is split into its place and its statement', () => {
    expect(placeOf(problem)).toBe('a.csv, line 7, column x');
    expect(statementOf(problem)).toBe('This is not a number.');
  });

  test('says in one line what to do, where that is known', () => {
    const told = { code: 'x', message: 'The program does not answer.', remedy: 'Start it again.' };
    expect(withRemedy(told)).toBe('The program does not answer. Remedy: Start it again.');
    expect(withRemedy({ code: 'x', message: 'The program does not answer.' })).toBe(
      'The program does not answer.',
    );
  });

  test('keeps the name of a file that it starts with', () => {
    const message = 'plan.json, line 1 stands alone.';
    expect(statementOf({ code: 'x', message, file: 'plan.json', line: 1 })).toBe(message);
    expect(statementOf({ code: 'x', message: 'plan.json is no plan.' })).toBe('plan.json is no plan.');
  });

  test('that repeat line after line are one entry, and others are not taken with them', () => {
    const at = (line: number, value: string) => ({
      code: 'unknown-label',
      message: `p.csv, line ${line}, column Label: unknown: found "${value}"`,
      file: 'p.csv',
      line,
      column: 'Label',
      value,
    });
    const without = { code: 'x', message: 'p.csv holds no point.', file: 'p.csv' };
    const entries = gathered([
      at(4, 'A'),
      at(5, 'A'),
      at(9, 'A'),
      at(10, 'B'),
      at(11, 'A'),
      without,
      without,
    ]);
    expect(entries.map(({ problem, more }) => [problem.line, more])).toEqual([
      [4, 2],
      [10, 0],
      [11, 0],
      [undefined, 0],
      [undefined, 0],
    ]);
  });

  test('leaves out a place that is counted in characters', () => {
    const message = 'plan.json, line 1, character 5: this is not JSON.';
    expect(statementOf({ code: 'x', message, file: 'plan.json', line: 1, column: '5' })).toBe(
      'This is not JSON.',
    );
  });

  test('without details stays as it is', () => {
    expect(statementOf({ code: 'x', message: 'The program failed: out of memory.' })).toBe(
      'The program failed: out of memory.',
    );
  });
});

test('a title keeps in a file name whatever no file system forbids', () => {
  expect(fileStem('Rowan demonstrator fan, trial disc 2 (Ø 500)')).toBe(
    'rowan-demonstrator-fan,-trial-disc-2-(ø-500)',
  );
  expect(fileStem('a/b\\c:d*e?"f"<g>|h\ti')).toBe('a-b-c-d-e-f-g-h-i');
  expect(fileStem('../.hidden. ')).toBe('hidden');
  expect(fileStem('   ')).toBe('disc');
});
