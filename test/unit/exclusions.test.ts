/** Points and features left out by hand: what the result says of them, and that nothing else of them is left. */
import { readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { FeatureExclusion, PointExclusion } from '../../src-main/api.ts';
import { createPointsMemory } from '../../src-main/jobs/points-memory.ts';
import { type ReductionInput, runReduction as runWhole } from '../../src-main/jobs/run-reduction.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { excludeByHand } from '../../src-main/points/exclude-by-hand.ts';
import { readPoints } from '../../src-main/points/read-points.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import {
  conformingDisc,
  csv,
  type DiscFiles,
  type DiscText,
  rowOf,
  samplePath,
  temporaryFolder,
  writeDisc,
} from '../support/disc-files.ts';

const conforming: ReductionInput = {
  pointsPath: samplePath('conforming', 'points.csv'),
  planPath: samplePath('conforming', 'plan.json'),
};

/** Causes play no part in exclusions. */
const runReduction: typeof runWhole = (input, options) => runWhole({ ...input, diagnose: false }, options);

async function refusalOf(input: ReductionInput): Promise<RefusedInput['problems']> {
  try {
    await runReduction(input);
  } catch (error) {
    if (error instanceof RefusedInput) return error.problems;
    throw error;
  }
  throw new Error('It was not refused.');
}

/** The conforming disc with every optional column, and lines to leave out of three features. */
function richDisc(): { readonly disc: DiscText; readonly lines: readonly number[] } {
  const disc = conformingDisc();
  const lines = [rowOf(disc, '', 'HUB-BORE', 2), rowOf(disc, '4', 'EDGE'), rowOf(disc, '4', 'EDGE', 3)];
  disc.header.push('r', 'sigma', 'temperature', 'run', 'direction');
  disc.rows.forEach((row, i) => {
    row.push(
      '1.5',
      `0.00${(i % 7) + 1}`,
      `2${i % 3}.5`,
      i % 2 === 0 ? 'first' : 'second',
      i % 3 === 0 ? 'up' : 'down',
    );
  });
  return { disc, lines: lines.map(({ line }) => line) };
}

function withoutLines(disc: DiscText, lines: readonly number[]): DiscText {
  return { ...disc, rows: disc.rows.filter((_, i) => !lines.includes(i + 2)) };
}

const pathsOf = (files: DiscFiles): ReductionInput => ({ pointsPath: files.points, planPath: files.plan });

describe('points left out by hand', () => {
  const { disc, lines } = richDisc();
  const exclusions: readonly PointExclusion[] = lines.map((line) => ({ line, reason: 'burr under the tip' }));

  it('give the result of a file that never had them', async () => {
    const whole = pathsOf(writeDisc(csv(disc), disc.plan));
    const shorter = pathsOf(writeDisc(csv(withoutLines(disc, lines)), disc.plan));
    const { result } = await runReduction({ ...whole, exclusions });
    const expected = (await runReduction(shorter)).result;
    const usual = (await runReduction(whole)).result;
    for (const part of ['frame', 'stations', 'summary', 'pattern', 'screened'] as const)
      expect(result[part]).toEqual(expected[part]);
    expect(result.frame).not.toEqual(usual.frame);
  });

  it('take every value of a point along: normals, tip radius, sigma, temperature, run, direction', async () => {
    const whole = writeDisc(csv(disc), disc.plan);
    const shorter = writeDisc(csv(withoutLines(disc, lines)), disc.plan);
    const { definition } = await readPlan(whole.plan);
    const points = excludeByHand(await readPoints(whole.points, { definition }), { exclusions }, definition);
    const expected = await readPoints(shorter.points, { definition });
    expect(points.blocks).toEqual(expected.blocks);
    const bore = points.blocks.find(({ feature }) => feature === 'HUB-BORE');
    for (const key of ['normals', 'tipRadius', 'sigma', 'temperature', 'run', 'direction'] as const)
      expect(bore?.[key], key).toBeTruthy();
    // Lines are those of the whole file.
    const known = new Set(points.lines.flatMap((own) => [...own]));
    expect(lines.some((line) => known.has(line))).toBe(false);
    expect(known.size).toBe(disc.rows.length - lines.length);
  });

  it('are counted, listed with line and reason, and said in a warning', async () => {
    const whole = pathsOf(writeDisc(csv(disc), disc.plan));
    const { result, warnings } = await runReduction({ ...whole, exclusions });
    const { points } = result.source;
    expect(points.rows).toBe(disc.rows.length);
    expect(points.used).toBe(disc.rows.length - lines.length);
    expect(points.excluded).toEqual(
      [...lines]
        .sort((a, b) => a - b)
        .map((line) => ({ line, reason: 'excluded by hand: burr under the tip' })),
    );
    const said = /points\.csv: 3 points are excluded by hand: burr under the tip \(lines \d+, \d+, \d+\)/;
    expect(warnings.filter((warning) => said.test(warning))).toHaveLength(1);
    expect(result.warnings.filter((warning) => said.test(warning))).toHaveLength(1);
  });

  it('need a reason', async () => {
    const problems = await refusalOf({
      ...conforming,
      exclusions: [
        { line: 12, reason: ' ' },
        { line: 13, reason: 'chip' },
      ],
      excludedFeatures: [{ station: 3, feature: 'EDGE', reason: '' }],
    });
    expect(problems.map(({ code }) => code)).toEqual(['missing-reason', 'missing-reason']);
    expect(problems[0]?.message).toContain('the exclusion of line 12 has no reason');
    expect(problems[1]?.message).toContain('the exclusion of EDGE of station 3 has no reason');
  });

  it('must be points: the header and lines behind the end are refused', async () => {
    const problems = await refusalOf({
      ...conforming,
      exclusions: [1, 99_999, 40].map((line) => ({ line, reason: 'dust' })),
    });
    expect(problems.map(({ code, line }) => [code, line])).toEqual([
      ['unknown-line', 1],
      ['unknown-line', 99_999],
    ]);
  });

  it('that the reading has left out already keep that reason', async () => {
    const stray = conformingDisc();
    const { row, line } = rowOf(stray, '2', 'SEAT');
    row[1] = 'SEET';
    const { result } = await runReduction({
      ...pathsOf(writeDisc(csv(stray), stray.plan)),
      exclusions: [{ line, reason: 'dust' }],
    });
    expect(result.source.points.excluded).toEqual([
      { line, reason: 'blade feature "SEET" is not in the plan (did you mean "SEAT"?)' },
    ]);
  });
});

describe('features left out by hand', () => {
  const slipped: FeatureExclusion = { station: 7, feature: 'EDGE', reason: 'clamp slipped' };

  it('of a blade: its station is missing with the reason, and the other stations stay as they are', async () => {
    const { result } = await runReduction({ ...conforming, excludedFeatures: [slipped] });
    const usual = (await runReduction(conforming)).result;
    expect(result.summary.missing).toEqual([
      {
        station: 7,
        angle: expect.closeTo(120, 9),
        reason: 'All points of EDGE are excluded by hand: clamp slipped',
        note: { code: 'feature-excluded', values: { feature: 'EDGE', reason: 'clamp slipped' } },
      },
    ]);
    const others = usual.stations.filter(({ station }) => station !== 7);
    expect(result.stations.map(({ station }) => station)).toEqual(others.map(({ station }) => station));
    result.stations.forEach(({ error }, i) => {
      // The hub is found from another start, so the last digits may differ.
      for (const [name, value] of Object.entries(others[i]?.error ?? {}))
        expect(error[name as keyof typeof error], name).toBeCloseTo(value ?? Number.NaN, 10);
    });
    const listed = result.source.points.excluded;
    expect(new Set(listed.map(({ reason }) => reason))).toEqual(new Set(['excluded by hand: clamp slipped']));
    const edge = usual.stations
      .find(({ station }) => station === 7)
      ?.features.find(({ label }) => label === 'E');
    expect(listed).toHaveLength(edge?.points ?? 0);
  });

  it('of the hub: refused where a datum rests on it', async () => {
    const problems = await refusalOf({
      ...conforming,
      excludedFeatures: [{ station: null, feature: 'HUB-BORE', reason: 'dirty' }],
    });
    expect(problems).toEqual([
      expect.objectContaining({
        code: 'excluded-datum',
        message: expect.stringMatching(/all points of HUB-BORE are excluded by hand, and datum B of the hub/),
      }),
    ]);
  });

  it('that do not occur change nothing, and a warning says so', async () => {
    const excludedFeatures: FeatureExclusion[] = [
      { station: 9, feature: 'NOSE', reason: 'not asked for' },
      { station: 99, feature: 'EDGE', reason: 'typing error' },
    ];
    const { result, warnings } = await runReduction({ ...conforming, excludedFeatures });
    expect(result.stations).toEqual((await runReduction(conforming)).result.stations);
    expect(warnings.join('\n')).toMatch(
      /leaving out NOSE of station 9 changes nothing: the plan does not use it/,
    );
    expect(warnings.join('\n')).toMatch(
      /leaving out EDGE of station 99 changes nothing: the file has no points/,
    );
  });

  it('with a point of its own reason: the point keeps it', async () => {
    const { disc } = richDisc();
    const { line } = rowOf(disc, '7', 'EDGE', 1);
    const { result } = await runReduction({
      ...conforming,
      exclusions: [{ line, reason: 'scratch' }],
      excludedFeatures: [slipped],
    });
    expect(result.source.points.excluded.find((entry) => entry.line === line)?.reason).toBe(
      'excluded by hand: scratch',
    );
  });
});

it('points flagged by a robust screen are named with their line, exclusions before them or not', async () => {
  const disc = conformingDisc();
  for (const datum of disc.plan.blade.datums) datum.screen = { method: 'biweight', exclude: true };
  const bad = rowOf(disc, '3', 'FLANK', 5);
  const before = rowOf(disc, '3', 'FLANK', 1);
  bad.row[3] = String(Number(bad.row[3]) + 0.4);
  bad.row[4] = String(Number(bad.row[4]) + 0.4);
  const files = pathsOf(writeDisc(csv(disc), disc.plan));
  for (const exclusions of [[], [{ line: before.line, reason: 'chip' }]]) {
    const { screened } = (await runReduction({ ...files, exclusions })).result;
    expect(screened.filter(({ station, feature }) => station === 3 && feature === 'FLANK')).toEqual([
      expect.objectContaining({ line: bad.line, point: 6 - exclusions.length, excluded: true }),
    ]);
  }
});

it('a trial looks for no causes, and everything else is as without it', async () => {
  const { result, warnings, ...rest } = await runReduction(conforming);
  const { result: whole, warnings: said, ...others } = await runWhole(conforming);
  expect(whole.diagnosis).not.toBe(null);
  expect(result).toEqual({ ...whole, diagnosis: null });
  expect([warnings, rest]).toEqual([said, others]);
});

describe('the memory of points', () => {
  const plan = () => readPlan(conforming.planPath);

  it('gives the points of an unchanged file again, and reductions from it are those of a fresh reading', async () => {
    const read = createPointsMemory();
    const { definition } = await plan();
    const first = await read(conforming.pointsPath, { definition });
    expect(await read(conforming.pointsPath, { definition })).toBe(first);
    const exclusions = [{ line: 40, reason: 'chip' }];
    const fresh = await runReduction({ ...conforming, exclusions });
    for (let time = 0; time < 2; time += 1) {
      expect(await runReduction({ ...conforming, exclusions }, { read })).toEqual(fresh);
      expect(await runReduction(conforming, { read })).toEqual(await runReduction(conforming));
    }
  });

  it('reads again what has changed on the disk, even to the same size and time', async () => {
    const read = createPointsMemory();
    const { definition } = await plan();
    const path = `${temporaryFolder()}/points.csv`;
    writeFileSync(path, readFileSync(conforming.pointsPath));
    const { sha256 } = await read(path, { definition });
    const { atime, mtime } = statSync(path);
    const text = readFileSync(path, 'utf8');
    writeFileSync(
      path,
      text.replace(/(\d)\n$/, (_, digit) => `${(Number(digit) + 1) % 10}\n`),
    );
    utimesSync(path, atime, mtime);
    expect((await read(path, { definition })).sha256).not.toBe(sha256);
  });

  it('serves plans with the same import and features, and reads again for others', async () => {
    const read = createPointsMemory();
    const { definition } = await plan();
    const first = await read(conforming.pointsPath, { definition });
    const turned = {
      ...definition,
      hubDatums: definition.hubDatums.map((datum) => ({ ...datum, clocking: 'direction' as const })),
    };
    expect(await read(conforming.pointsPath, { definition: turned })).toBe(first);
    const fewer = { ...definition, stations: definition.stations.slice(0, 10) };
    const second = await read(conforming.pointsPath, { definition: fewer });
    expect(second.used).toBeLessThan(first.used);
    const inch = await read(conforming.pointsPath, { definition, planImport: { unit: 'inch' } });
    expect(inch.blocks[0]?.xyz[0]).toBeCloseTo(25.4 * (first.blocks[0]?.xyz[0] ?? 0), 9);
  });

  it('lets the file go that was used longest ago', async () => {
    const read = createPointsMemory();
    const { definition } = await plan();
    const folder = temporaryFolder();
    const names = ['a', 'b', 'c', 'd'].map((name) => `${folder}/${name}.csv`);
    for (const name of names) writeFileSync(name, readFileSync(conforming.pointsPath));
    const first = [];
    for (const name of names) first.push(await read(name, { definition }));
    expect(await read(names[3] as string, { definition })).toBe(first[3]);
    expect(await read(names[0] as string, { definition })).not.toBe(first[0]);
  });
});
