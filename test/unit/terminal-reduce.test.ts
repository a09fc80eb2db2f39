/** `hubtrue reduce` with a made console: exit status and text where the plan asks for two levels of position. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import type { Console } from '../../src-main/hosts/terminal/console.ts';
import { patternLine, screenedLine } from '../../src-main/hosts/terminal/pattern-line.ts';
import { reduceCommand } from '../../src-main/hosts/terminal/reduce-command.ts';
import { samplePath, temporaryFolder, writeDisc } from '../support/disc-files.ts';
import { exampleDisc } from '../support/example-disc.ts';

interface LooseBlade {
  readonly blade: { readonly position: Record<string, unknown> };
}

/** Reduces a sample disc whose plan also asks for the blades relative to each other. */
async function reduce(
  sample: 'conforming' | 'off-centre',
  featureRelating: object | null,
): Promise<{ status: number; output: string; folder: string }> {
  const plan = JSON.parse(readFileSync(samplePath(sample, 'plan.json'), 'utf8')) as LooseBlade;
  if (featureRelating !== null) plan.blade.position['featureRelating'] = featureRelating;
  const files = writeDisc(readFileSync(samplePath(sample, 'points.csv')), plan);
  let output = '';
  const console: Console = {
    coloured: false,
    output: (text) => {
      output += text;
    },
    error: () => {},
    progress: () => {},
    clearProgress: () => {},
  };
  const out = join(temporaryFolder(), 'out');
  const status = await reduceCommand(
    {
      command: 'reduce',
      points: files.points,
      plan: files.plan,
      welds: undefined,
      out,
      json: false,
      length: 'µm',
      angle: 'arcsec',
    },
    console,
    new AbortController().signal,
  );
  return { status, output, folder: out };
}

describe('the exit status', () => {
  it('is 1 where every blade conforms and their pattern does not', async () => {
    const { status, output } = await reduce('conforming', { tolerance: 0.01 });
    expect(output).toContain('18 stations: 18 conforming, 0 nonconforming.');
    expect(status).toBe(1);
  });

  it('is 0 where the pattern conforms as well, and where the plan does not ask for it', async () => {
    expect((await reduce('conforming', { tolerance: 0.05 })).status).toBe(0);
    expect((await reduce('conforming', null)).status).toBe(0);
  });
});

describe('the second level of position', async () => {
  const { output, folder } = await reduce('off-centre', { tolerance: 0.08, free: ['x', 'y', 'rotZ'] });
  const result = JSON.parse(readFileSync(join(folder, 'result.json'), 'utf8')) as ResultDocument;
  const pattern = result.pattern!;

  it('has a line under the summary with value, limit, place, U, P, verdict and free motions', () => {
    const [summary, line, ...rest] = output.trimEnd().split('\n').slice(-2);
    expect(summary).toMatch(/^20 stations: /);
    expect(rest).toEqual([]);
    const microns = (mm: number): string => `${(1000 * mm).toFixed(1)} µm`;
    expect(line).toBe(
      `Position relative to each other: ${microns(pattern.value!)} (limit 80.0 µm) at station ${pattern.at!.station}, ${pattern.at!.checkPoint}, U ${microns(pattern.expanded!)}, P <0.1%: ✗ nonconforming. The pattern was free in x, y, rotZ.`,
    );
  });

  it('has columns in stations.csv', () => {
    const rows = Papa.parse<Record<string, string>>(readFileSync(join(folder, 'stations.csv'), 'utf8'), {
      header: true,
      skipEmptyLines: true,
    }).data;
    expect(rows).toHaveLength(20);
    for (const { station, value, at, expanded, probability, verdict } of pattern.stations)
      expect(rows[station - 1]).toMatchObject({
        relative_position_mm: String(value),
        relative_position_at: at,
        relative_tolerance_mm: '0.08',
        U_relative_position_mm: String(expanded),
        relative_position_probability: String(probability),
        relative_verdict: verdict,
      });
  });

  it('is silent, and its columns empty, where the plan does not ask for it', async () => {
    const one = await reduce('conforming', null);
    expect(one.output).not.toContain('relative');
    const [head, first] = readFileSync(join(one.folder, 'stations.csv'), 'utf8').split('\r\n');
    const column = head!.split(',').indexOf('relative_position_mm');
    expect(column).toBeGreaterThan(0);
    expect(first!.split(',').slice(column, column + 6)).toEqual(['', '', '', '', '', '']);
  });

  it('says so where nothing was observed', () => {
    const unseen = {
      ...result,
      pattern: { ...pattern, value: null, at: null, verdict: 'unproven' as const },
    };
    expect(patternLine(unseen, 'mm', (text) => text)).toContain(
      'not observed (limit 0.0800 mm): ? not proven.',
    );
  });
});

describe('the points that a robust screen flagged', () => {
  const { result } = exampleDisc();
  const flagged = (station: number | null, feature: string, excluded: boolean) => ({
    station,
    feature,
    point: 1,
    distance: 0.01,
    excluded,
  });

  it('are counted by feature, in one line', () => {
    expect(
      screenedLine({
        ...result,
        screened: [
          flagged(null, 'BORE', true),
          flagged(null, 'BORE', true),
          flagged(3, 'SEAT', false),
          flagged(4, 'SEAT', false),
          flagged(4, 'BORE', true),
        ],
      }),
    ).toBe(
      'Points flagged by the robust screen: hub BORE 2, left out; SEAT 2, reported and used; BORE 1, left out.\n',
    );
    expect(screenedLine(result)).toBe('');
  });
});
