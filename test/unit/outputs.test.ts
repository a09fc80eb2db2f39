/** Result files: what is in them, and that they appear whole or not at all. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { stationsCsv } from '../../src-main/outputs/stations-csv.ts';
import { outputFiles, RESULT_UNITS, resultJson, writeOutputs } from '../../src-main/outputs/write-outputs.ts';
import { samplePath, temporaryFolder } from '../support/disc-files.ts';

const { result } = await runReduction({
  pointsPath: samplePath('drifting', 'points.csv'),
  planPath: samplePath('drifting', 'plan.json'),
});

describe('stations.csv', () => {
  const { data } = Papa.parse<Record<string, string>>(stationsCsv(result), {
    header: true,
    skipEmptyLines: true,
  });

  it('has one row a planned station, in order, missing ones with their reason', () => {
    expect(data.map(({ station }) => Number(station))).toEqual(Array.from({ length: 16 }, (_, n) => n + 1));
    const missing = data.filter(({ verdict }) => verdict === 'missing');
    expect(missing.map(({ station, reason }) => [Number(station), reason])).toEqual(
      result.summary.missing.map(({ station, reason }) => [station, reason]),
    );
    expect(missing[0]?.['oscillation_mm']).toBe('');
    expect(Number(missing[0]?.['angle_deg'])).toBe(result.summary.missing[0]?.angle);
  });

  it('holds the numbers of the result, to the last bit', () => {
    for (const { station, angle, error, disc, position, verdict } of result.stations) {
      const row = data[station - 1];
      expect(Number(row?.['angle_deg'])).toBe(angle);
      for (const [name, value] of Object.entries(error))
        expect(Number(row?.[`${name}_${name.startsWith('rot') ? 'rad' : 'mm'}`])).toBe(value);
      for (const [name, value] of Object.entries(disc))
        expect(
          Number(row?.[`${name}_${['radial', 'tangential', 'axial'].includes(name) ? 'mm' : 'rad'}`]),
        ).toBe(value);
      expect(Number(row?.['position_mm'])).toBe(position.value);
      expect(row).toMatchObject({
        position_at: position.at,
        tolerance_mm: String(position.tolerance),
        verdict,
      });
    }
  });

  it('holds U of each error and of the position, the probability, and what would settle it', () => {
    const settled = {
      ...result,
      stations: result.stations.map((station) => ({
        ...station,
        position: { ...station.position, settle: 'measure again' },
        limits: station.limits.map((limit) => ({
          ...limit,
          settle: limit.name === 'upset' ? 'twice' : null,
        })),
      })),
    };
    const rows = Papa.parse<Record<string, string>>(stationsCsv(settled), { header: true }).data;
    for (const { station, uncertainty, position } of settled.stations) {
      const row = rows[station - 1];
      const expanded = Object.entries(uncertainty?.expanded ?? {});
      expect(expanded).toHaveLength(12);
      for (const [name, value] of expanded) {
        const unit = /^rot|lean|sweep|stagger/.test(name) ? 'rad' : 'mm';
        expect(Number(row?.[`U_${name}_${unit}`])).toBe(value);
      }
      expect(Number(row?.['U_position_mm'])).toBe(position.expanded);
      expect(Number(row?.['position_probability'])).toBe(position.probability);
      expect(row?.['settle']).toBe('position: measure again upset: twice');
    }
    const [bare] = Papa.parse<Record<string, string>>(
      stationsCsv({ ...result, stations: result.stations.map((s) => ({ ...s, uncertainty: null })) }),
      { header: true },
    ).data;
    expect(bare?.['U_oscillation_mm']).toBe('');
  });

  it('holds no text that a spreadsheet program would calculate, and negative numbers as they are', () => {
    const named = (at: string) => ({
      ...result,
      stations: result.stations.map((s) => ({ ...s, position: { ...s.position, at } })),
    });
    const first = (at: string) =>
      Papa.parse<Record<string, string>>(stationsCsv(named(at)), { header: true }).data[0];
    for (const at of ['=1+1', '+X', '-X', '@sum', '\tx', '\nx', '\rx', '＝1+1', '＋X', "=cmd|' /C calc'!A0"])
      expect(first(at)?.['position_at']).toBe(`'${at}`);
    for (const at of ['tip +X', 'a-b', 'x=y', "'=1", 'root']) expect(first(at)?.['position_at']).toBe(at);
    expect(stationsCsv(result)).toMatch(/,-\d/);
  });

  it.each([';', '\t', ','])('holds none either where a program takes %j for the delimiter', (delimiter) => {
    const texts = ['a;=1+1', 'a;-2+3;b', 'a\t@sum', '";=1+1;"', ';=1', 'a\n=1', 'a\r=1', 'a;＝1', 'a,=1'];
    for (const text of texts) {
      const spoilt = {
        ...result,
        stations: result.stations.map((s) => ({
          ...s,
          position: { ...s.position, at: text, settle: text },
        })),
        summary: {
          ...result.summary,
          missing: result.summary.missing.map((missing) => ({ ...missing, reason: text })),
        },
      };
      const cells = Papa.parse<string[]>(stationsCsv(spoilt), { delimiter, quoteChar: '"' }).data.flat();
      // A number may begin with a minus.
      for (const cell of cells)
        if (!/^-\d[\d.]*(e[+-]?\d+)?(,|$)/.test(cell)) expect(cell).not.toMatch(/^[=+\-@＝＋－＠]/);
    }
  });

  it('states the unit in the name of every column that holds numbers', () => {
    const unitless = /^(station|(relative_)?position_probability)$/;
    for (const [header, value] of Object.entries(data[0] ?? {}))
      if (value !== '' && Number.isFinite(Number(value)) && !unitless.test(header))
        expect(header).toMatch(/_(mm|rad|deg)$/);
  });

  it('quotes texts by RFC 4180', () => {
    const [first] = result.summary.missing;
    const odd = {
      ...result,
      summary: { ...result.summary, missing: [{ ...first!, reason: 'a "b", c\nd' }] },
    };
    expect(stationsCsv(odd)).toContain(',missing,,"a ""b"", c\nd"\r\n');
  });
});

describe('result.json', () => {
  it('gives every number back to the last bit, and states the units', () => {
    const read = JSON.parse(resultJson(result));
    expect(Object.keys(read).slice(0, 2)).toEqual(['format', 'units']);
    const { units, ...rest } = read;
    expect(units).toEqual({ length: 'mm', rotation: 'rad', stationAngle: 'degree' });
    expect(rest).toEqual(result);
    // Written again it is the same text: a file can be passed on without a change.
    expect(resultJson(rest)).toBe(resultJson(result));
  });
});

describe('writing', () => {
  const files = outputFiles(result);

  it('makes the folder and puts whole files there, and nothing else', () => {
    const folder = join(temporaryFolder(), 'new', 'deeper');
    writeOutputs(folder, files);
    expect(readdirSync(folder).sort()).toEqual(['result.json', 'stations.csv']);
    expect(JSON.parse(readFileSync(join(folder, 'result.json'), 'utf8'))).toEqual({
      ...result,
      units: RESULT_UNITS,
    });
    expect(readFileSync(join(folder, 'stations.csv'), 'utf8')).toBe(stationsCsv(result));
  });

  it('replaces earlier files', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'result.json'), 'earlier');
    writeOutputs(folder, files);
    expect(JSON.parse(readFileSync(join(folder, 'result.json'), 'utf8'))).toEqual({
      ...result,
      units: RESULT_UNITS,
    });
  });

  it('leaves nothing where a later file cannot be placed', () => {
    const folder = temporaryFolder();
    // A folder in the place of the second file makes its rename fail after the first has been placed.
    mkdirSync(join(folder, 'stations.csv', 'occupied'), { recursive: true });
    expect(() => writeOutputs(folder, files)).toThrow('the outputs could not be written');
    expect(readdirSync(folder)).toEqual(['stations.csv']);
  });

  it('leaves nothing where a content cannot be written', () => {
    const folder = join(temporaryFolder(), 'new');
    const broken = {
      name: 'second.txt',
      get content(): string {
        throw new Error('disk full');
      },
    };
    expect(() => writeOutputs(folder, [files[0]!, broken])).toThrow('disk full');
    expect(existsSync(folder)).toBe(false);
  });

  it('refuses a file in the place of the folder', () => {
    const file = join(temporaryFolder(), 'out');
    writeFileSync(file, 'mine');
    expect(() => writeOutputs(file, files)).toThrow('this is a file');
    expect(() => writeOutputs(join(file, 'inside'), files)).toThrow('could not be written');
    expect(readFileSync(file, 'utf8')).toBe('mine');
  });
});
