/** The what-if bench without its page: history, settings, and what leaves it. */
import { describe, expect, test } from 'vitest';
import { applyWhatIf } from '../../shared-math/what-if/apply.ts';
import { EVERY_TOOL, isMeasured, MEASURED_STATE } from '../../shared-math/what-if/state.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import {
  type BenchState,
  changed,
  isUntouched,
  measuredBench,
  measuredHistory,
  redone,
  settled,
  undone,
} from '../../src-renderer/views/what-if/history.ts';
import {
  benchLimits,
  furtherLimits,
  limitWords,
  plannedWords,
  withFurtherLimit,
  withLimit,
} from '../../src-renderer/views/what-if/limits.ts';
import { benchRows, benchSheet } from '../../src-renderer/views/what-if/rows.ts';
import {
  type BenchSetting,
  benchTools,
  hubSettings,
  indexSetting,
  stateWords,
  stepOf,
  toolSettings,
  withDropped,
} from '../../src-renderer/views/what-if/settings.ts';
import { exampleDisc } from '../support/example-disc.ts';

const disc = exampleDisc();
const mm: Units = { length: 'mm', rotation: 'degree' };
const fine: Units = { length: 'µm', rotation: 'arc-second' };
const bench = (settings: Partial<BenchState['settings']>): BenchState => ({
  ...measuredBench,
  settings: { ...MEASURED_STATE, ...settings },
});
const byTolerance = (tolerance: number) => bench({ tolerance });

describe('undo and redo', () => {
  test('go back and forth through every step, and a new step forgets what was undone', () => {
    const one = changed(measuredHistory, byTolerance(0.1));
    const two = changed(one, byTolerance(0.2));
    expect(undone(two).present.settings.tolerance).toBe(0.1);
    expect(undone(undone(two)).present).toBe(measuredBench);
    expect(undone(undone(undone(two))).present).toBe(measuredBench);
    expect(redone(undone(two)).present.settings.tolerance).toBe(0.2);
    expect(redone(two)).toBe(two);
    const other = changed(undone(two), byTolerance(0.3));
    expect(redone(other)).toBe(other);
    expect(undone(other).present.settings.tolerance).toBe(0.1);
  });

  test('a slider that is drawn is one step until it rests', () => {
    const drawn = [0.1, 0.2, 0.3].reduce(
      (now, tolerance) => changed(now, byTolerance(tolerance), 'tolerance'),
      measuredHistory,
    );
    expect(undone(drawn).present).toBe(measuredBench);
    const again = changed(settled(drawn), byTolerance(0.4), 'tolerance');
    expect(undone(again).present.settings.tolerance).toBe(0.3);
    const another = changed(drawn, byTolerance(0.4), 'hub x');
    expect(undone(another).present.settings.tolerance).toBe(0.3);
  });
});

describe('settings', () => {
  const all: readonly BenchSetting[] = [
    ...hubSettings(disc),
    ...toolSettings(disc, EVERY_TOOL),
    indexSetting(disc, 3),
  ];

  test('each writes where it reads, and nothing else', () => {
    for (const setting of all) {
      const state = setting.with(MEASURED_STATE, 0.001);
      expect(setting.value(state), setting.key).toBe(0.001);
      for (const other of all) if (other !== setting) expect(other.value(state)).toBe(0);
      expect(isMeasured(setting.with(state, 0)), setting.key).toBe(true);
    }
  });

  test('each moves the blades that it should, and no measured number', () => {
    const before = JSON.stringify(disc.result);
    const measured = { result: disc.result, definition: disc.definition, welds: null };
    for (const setting of all) {
      const tried = applyWhatIf(measured, setting.with(MEASURED_STATE, setting.reach / 3));
      expect(tried.changed, setting.key).toEqual(
        setting.key.startsWith('index') ? [3] : disc.result.stations.map(({ station }) => station),
      );
    }
    expect(JSON.stringify(disc.result)).toBe(before);
  });

  test('steps are round in the display unit, or those of the plan', () => {
    const [x] = hubSettings(disc);
    if (x === undefined) throw new Error('There are hub settings.');
    expect(stepOf(x, mm)).toBeCloseTo(0.001, 12);
    expect(stepOf(x, fine)).toBeCloseTo(1, 12);
    expect(stepOf({ ...x, range: { limit: 0.1, step: 0.0127 } }, fine)).toBeCloseTo(12.7, 12);
  });

  test('one tool acts on all stations where the welds tell of one', () => {
    expect(benchTools(disc)).toEqual([EVERY_TOOL]);
    const welds = [1, 2, 3].map((station) => ({
      station,
      sequence: station,
      tool: station < 3 ? 'T9' : 'T2',
      date: '',
      values: {},
    }));
    expect(benchTools({ ...disc, welds })).toEqual(['T9', 'T2']);
  });

  test('a bench is untouched only where nothing differs', () => {
    expect(isUntouched(measuredBench)).toBe(true);
    expect(isUntouched(byTolerance(0.1))).toBe(false);
    expect(isUntouched({ ...measuredBench, points: [{ line: 7, station: null, feature: 'BORE' }] })).toBe(
      false,
    );
  });
});

describe('limits of errors', () => {
  const measured = { result: disc.result, definition: disc.definition, welds: null };
  const [planned] = benchLimits(disc, MEASURED_STATE);
  if (planned?.planned == null) throw new Error('The example plan limits errors.');
  const { name } = planned;
  const limit = planned.planned.high;

  test('offer those of the plan, and the others besides', () => {
    expect(benchLimits(disc, MEASURED_STATE).every((one) => one.planned !== null)).toBe(true);
    const further = furtherLimits(disc, MEASURED_STATE);
    expect(further).toContain('sweep');
    const tried = withFurtherLimit(disc, MEASURED_STATE, 'sweep');
    expect(furtherLimits(disc, tried)).toEqual(further.filter((one) => one !== 'sweep'));
    const row = benchLimits(disc, tried).find((one) => one.name === 'sweep');
    expect(row?.planned).toBeNull();
    expect(row?.tried).toBeGreaterThan(0);
    expect(isMeasured(withLimit(disc, tried, 'sweep', null))).toBe(true);
  });

  test('are those of the plan again where the same is set, or asked for', () => {
    const other = withLimit(disc, MEASURED_STATE, name, limit / 2);
    expect(other.limits).toEqual({ [name]: limit / 2 });
    expect(isMeasured(withLimit(disc, other, name, limit))).toBe(true);
    expect(isMeasured(withLimit(disc, other, name, undefined))).toBe(true);
    expect(withLimit(disc, other, name, null).limits).toEqual({ [name]: null });
  });

  test('of single stations stay other than one limit for all', () => {
    const [first, ...others] = disc.definition.stations;
    if (first === undefined) throw new Error('no station');
    const requirement = { ...first.requirement, limits: { ...first.requirement.limits, [name]: 2 * limit } };
    const varied = {
      ...disc,
      definition: { ...disc.definition, stations: [{ ...first, requirement }, ...others] },
    };
    const [row] = benchLimits(varied, MEASURED_STATE);
    expect(row && plannedWords(varied, row, mm)).toMatch(/^planned: [\d.]+ to [\d.]+( mm|°) by station/);
    expect(planned && plannedWords(disc, planned, mm)).toBeNull();
    expect(withLimit(varied, MEASURED_STATE, name, limit).limits).toEqual({ [name]: limit });
  });

  test('decide verdicts, are named, and can be undone', () => {
    const tight = withLimit(disc, MEASURED_STATE, name, limit / 1e6);
    const { stations } = applyWhatIf(measured, tight);
    const decided = stations.filter(({ limits }) =>
      limits.some((one) => one.name === name && one.verdict !== 'conforming'),
    );
    expect(decided.length).toBeGreaterThan(10);
    for (const { verdict } of decided) expect(verdict).not.toBe('conforming');
    expect(disc.result.summary.conforming).toBeGreaterThan(0);
    const bench: BenchState = { ...measuredBench, settings: tight };
    expect(stateWords(disc, bench, mm)).toBe(limitWords(tight, mm).join('; '));
    expect(limitWords(withLimit(disc, tight, name, null), mm)[0]).toMatch(/^without the limit of /);
    const sheet = benchSheet(benchRows(disc, { ...applyWhatIf(measured, tight) }, []), 'x', mm);
    const column = sheet.head.indexOf('limits not kept what-if');
    expect(sheet.rows.filter((row) => row[column] !== '').length).toBeGreaterThanOrEqual(decided.length);
    expect(undone(changed(measuredHistory, bench, `limit ${name}`)).present).toBe(measuredBench);
  });
});

describe('what leaves the bench', () => {
  const state: BenchState = {
    settings: withDropped({ ...MEASURED_STATE, hub: { ...MEASURED_STATE.hub, x: -0.012 } }, 5, true),
    points: [{ line: 44, station: 2, feature: 'SEAT' }],
  };
  const words = stateWords(disc, state, mm);
  const tried = applyWhatIf(
    { result: disc.result, definition: disc.definition, welds: null },
    state.settings,
  );
  const rows = benchRows(disc, tried, state.settings.dropped);

  test('the words name all that was changed', () => {
    expect(words).toContain('hub shift x −0.0120 mm');
    expect(words).toContain('without station 5');
    expect(words).toContain('without the point of line 44 (station 2, SEAT)');
    expect(stateWords(disc, measuredBench, mm)).toBe('');
  });

  test('each row of the table says that it is not measured, and a station that was left out has no figures', () => {
    const sheet = benchSheet(rows, words, mm);
    expect(sheet.rows).toHaveLength(disc.result.stations.length);
    for (const row of sheet.rows) {
      expect(row[0]).toBe('WHAT-IF STATE – NOT MEASURED');
      expect(row.at(-1)).toBe(words);
    }
    const out = sheet.rows.find(([, station]) => station === '5');
    const column = (name: string) => sheet.head.findIndex((head) => head.startsWith(name));
    expect(out?.[column('position what-if')]).toBe('');
    expect(out?.[column('verdict what-if')]).toBe('left out');
    expect(out?.[column('position measured')]).not.toBe('');
  });

  test('as measured, tried and measured figures are the same', () => {
    const still = benchRows(
      disc,
      applyWhatIf({ result: disc.result, definition: disc.definition, welds: null }, MEASURED_STATE),
      [],
    );
    for (const row of still) expect(row.tried).toBe(row.measured);
    for (const row of benchSheet(still, '', mm).rows) expect(row[0]).toBe('as measured');
  });
});
