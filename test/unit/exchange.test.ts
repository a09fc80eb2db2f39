/** The spreadsheet of a sample disc, read back by another program's reader; XML text and UUIDs. */
import { XMLValidator } from 'fast-xml-parser';
import { unzipSync } from 'fflate';
import { readSheet } from 'read-excel-file/node';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import { nameUuid } from '../../src-main/exchange/name-uuid.ts';
import { stationsWorkbook } from '../../src-main/exchange/stations-workbook.ts';
import { element, list, xmlText } from '../../src-main/exchange/xml.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { stationTable } from '../../src-main/outputs/stations-csv.ts';
import { samplePath } from '../support/disc-files.ts';

let disc: ReducedDisc;
beforeAll(async () => {
  // This sample has a missing station, unproven ones and welds.
  disc = await runReduction({
    pointsPath: samplePath('drifting', 'points.csv'),
    planPath: samplePath('drifting', 'plan.json'),
    weldsPath: samplePath('drifting', 'welds.csv'),
    exclusions: [{ line: 5, reason: '=HYPERLINK("http://example.invalid")' }],
  });
});

const sheet = async (bytes: Uint8Array, name: string) => readSheet(Buffer.from(bytes), name);

describe('the spreadsheet', () => {
  it('holds the station table, numbers as numbers to the last digit', async () => {
    const read = await sheet(await stationsWorkbook(disc), 'Stations');
    const table = stationTable(disc.result);
    expect(read).toHaveLength(table.length);
    table.forEach((row, i) => {
      row.forEach((cell, j) => {
        expect(read[i]?.[j] ?? null).toBe(cell === '' ? null : cell);
      });
    });
    expect(read.map((row) => row[0])).toEqual(['station', ...Array.from({ length: 16 }, (_, i) => i + 1)]);
  });

  it('has datums, causes, exclusions and origin on sheets of their own', async () => {
    const bytes = await stationsWorkbook(disc);
    const datums = await sheet(bytes, 'Datums');
    expect(datums).toHaveLength(
      1 + disc.result.frame.datums.length + disc.result.stations.flatMap((s) => s.features).length,
    );
    const causes = await sheet(bytes, 'Causes');
    expect(causes.slice(1).map(([title]) => title)).toEqual(
      disc.result.diagnosis?.components.map(({ title }) => title),
    );
    const origin = new Map((await sheet(bytes, 'Origin')).map(([what, value]) => [what, value]));
    expect(origin.get('point file SHA-256')).toBe(disc.result.source.points.sha256);
    expect(origin.get('plan SHA-256')).toBe(disc.result.source.plan.sha256);
    expect(origin.get('points excluded')).toBe(disc.result.source.points.excluded.length);
    const exclusions = await sheet(bytes, 'Exclusions');
    expect(exclusions).toContainEqual([5, 'excluded by hand: =HYPERLINK("http://example.invalid")']);
  });

  it('states the unit of every column of numbers, where there is one', async () => {
    const bytes = await stationsWorkbook(disc);
    const unitless =
      /^(station|points|direction_[ijk]|share|probability_adjusted|(relative_)?position_probability)$/;
    for (const name of ['Stations', 'Datums', 'Causes']) {
      const [header = [], ...rows] = await sheet(bytes, name);
      header.forEach((title, column) => {
        const holdsNumbers = rows.some((row) => typeof row[column] === 'number');
        if (holdsNumbers && !unitless.test(String(title)))
          expect(String(title), name).toMatch(/_(mm|rad|deg)$/);
      });
    }
  });

  it.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1+1',
    '\r=1+1',
    "'=1",
    "=cmd|' /C calc'!A0",
    '\u0000=1',
    'a<b>&"c"',
  ])('never calculates a text such as %j', async (text) => {
    const spoilt: ReducedDisc = {
      ...disc,
      plan: { ...disc.plan, title: text, part: { number: text } },
      result: {
        ...disc.result,
        source: {
          ...disc.result.source,
          points: { ...disc.result.source.points, name: text, excluded: [{ line: 1, reason: text }] },
        },
        stations: disc.result.stations.map((station) => ({
          ...station,
          position: { ...station.position, at: text },
        })),
      },
    };
    const bytes = await stationsWorkbook(spoilt);
    const parts = unzipSync(bytes);
    const sheets = Object.keys(parts).filter((name) => name.startsWith('xl/worksheets/sheet'));
    expect(sheets).toHaveLength(5);
    for (const name of sheets) {
      const xml = new TextDecoder().decode(parts[name]);
      // A formula stands in an element f; nothing else is ever calculated.
      expect(xml).not.toMatch(/<f[\s>/]/);
      expect(XMLValidator.validate(xml)).toBe(true);
    }
    const shown = text.replace('\u0000', '');
    const exclusions = await sheet(bytes, 'Exclusions');
    // This reader trims what it reads, and drops the mark that stands for what XML cannot carry.
    const plain = (value: unknown): unknown =>
      typeof value === 'string' ? value.replace('\ufffd', '').trim() : value;
    expect(plain(exclusions[1]?.[1])).toBe(plain(shown));
    const at = stationTable(disc.result)[0]?.indexOf('position_at') ?? -1;
    const stations = await sheet(bytes, 'Stations');
    expect(plain(stations[1]?.[at])).toBe(plain(shown));
  });

  it('has the same bytes each time, and tells no time', async () => {
    const one = await stationsWorkbook(disc);
    await new Promise((resolve) => setTimeout(resolve, 2100));
    expect(Buffer.from(await stationsWorkbook(disc)).equals(Buffer.from(one))).toBe(true);
  });
});

describe('UUIDs of names', () => {
  it('agree with the example of RFC 9562, appendix A.4', () => {
    expect(nameUuid('www.example.com', '6ba7b810-9dad-11d1-80b4-00c04fd430c8')).toBe(
      '2ed6657d-e927-568b-95e1-2665a8aea6a2',
    );
  });

  it('are one for each name', () => {
    expect(nameUuid('a')).toBe(nameUuid('a'));
    expect(nameUuid('a')).not.toBe(nameUuid('b'));
  });
});

it('XML text indents elements and escapes text', () => {
  expect(
    xmlText(element('a', { x: '1 < 2\n"' }, list('b', [element('c', {}, 'd & e')]), null, element('f'))),
  ).toBe(
    '<?xml version="1.0" encoding="UTF-8"?>\n<a x="1 &lt; 2&#10;&quot;">\n  <b n="1">\n    <c>d &amp; e</c>\n  </b>\n  <f/>\n</a>\n',
  );
});
