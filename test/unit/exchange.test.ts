/** Spreadsheet and QIF results of the sample discs, read back by other programs' readers. */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { unzipSync } from 'fflate';
import { readSheet } from 'read-excel-file/node';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import { nameUuid } from '../../src-main/exchange/name-uuid.ts';
import { qifResults } from '../../src-main/exchange/qif-results.ts';
import { stationsWorkbook } from '../../src-main/exchange/stations-workbook.ts';
import { element, list, xmlText } from '../../src-main/exchange/xml.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { stationTable } from '../../src-main/outputs/stations-csv.ts';
import { samplePath } from '../support/disc-files.ts';
import { exampleDiscOfTwoLevels } from '../support/example-disc.ts';

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

const time = new Date('2026-05-06T07:08:09.000Z');

describe('QIF results', () => {
  // biome-ignore lint/suspicious/noExplicitAny: a document is looked through
  type Node = any;
  const asList = (node: Node): Node[] => (node === undefined ? [] : Array.isArray(node) ? node : [node]);
  function parse(xml: string): Node {
    const parser = new XMLParser({ ignoreAttributes: false, attributeNamePrefix: '@', parseTagValue: false });
    return parser.parse(xml).QIFDocument;
  }
  let xml = '';
  let document: Node;
  beforeAll(() => {
    xml = qifResults(disc, time);
    document = parse(xml);
  });

  it('are well formed, in the namespace and version of the standard', () => {
    expect(XMLValidator.validate(xml)).toBe(true);
    expect(document['@xmlns']).toBe('http://qifstandards.org/xsd/qif3');
    expect(document['@versionQIF']).toBe('3.0.0');
    expect(document.Version.TimeCreated).toBe('2026-05-06T07:08:09.000Z');
    expect(Object.keys(document).filter((key) => !key.startsWith('@'))).toEqual([
      'QPId',
      'Version',
      'Header',
      'FileUnits',
      'DatumDefinitions',
      'DatumReferenceFrames',
      'Product',
      'Characteristics',
      'Results',
    ]);
  });

  it('number everything once, and refer to nothing that is not there', () => {
    const ids = [...xml.matchAll(/<(\w+) id="(\d+)"/g)].map(([, name, id]) => ({ name, id: Number(id) }));
    const numbers = ids.map(({ id }) => id);
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(Number(document['@idMax'])).toBe(Math.max(...numbers));
    const kinds: Record<string, string> = {
      DatumDefinitionId: 'DatumDefinition',
      DatumReferenceFrameId: 'DatumReferenceFrame',
      CharacteristicDefinitionId: 'PositionCharacteristicDefinition',
      CharacteristicNominalId: 'PositionCharacteristicNominal',
      CharacteristicItemId: 'PositionCharacteristicItem',
      AsmPathId: 'AsmPath',
    };
    for (const [reference, kind] of Object.entries(kinds)) {
      const targets = new Set(ids.filter(({ name }) => name === kind).map(({ id }) => id));
      const uses = [...xml.matchAll(new RegExp(`<${reference}>(\\d+)<`, 'g'))].map(([, id]) => Number(id));
      expect(uses.length, reference).toBeGreaterThan(0);
      for (const id of uses) expect(targets.has(id), `${reference} ${id}`).toBe(true);
    }
  });

  it('count every list in its attribute n', () => {
    const counted = (node: Node): void => {
      if (typeof node !== 'object' || node === null) return;
      if (node['@n'] !== undefined) {
        const children = Object.entries(node)
          .filter(([key]) => !key.startsWith('@'))
          .reduce((sum, [, value]) => sum + asList(value).length, 0);
        expect(children).toBe(Number(node['@n']));
      }
      for (const child of Object.values(node)) for (const one of asList(child)) counted(one);
    };
    counted(document);
  });

  it('give each check point of each station its value, tolerance, zone and status', () => {
    const { CharacteristicDefinitions, CharacteristicItems } = document.Characteristics;
    const definitions = asList(CharacteristicDefinitions.PositionCharacteristicDefinition);
    const items = asList(CharacteristicItems.PositionCharacteristicItem);
    const results = document.Results.MeasurementResultsSet.MeasurementResults;
    const measured = asList(
      results.MeasuredCharacteristics.CharacteristicMeasurements.PositionCharacteristicMeasurement,
    );
    const wanted = disc.result.stations.flatMap(({ station, position }) =>
      position.checkPoints.map((point) => ({ station, point })),
    );
    expect(measured).toHaveLength(wanted.length);
    const status = { conforming: 'PASS', nonconforming: 'FAIL', unproven: 'INDETERMINATE' };
    wanted.forEach(({ station, point }, i) => {
      expect(items[i].Name).toBe(`Station ${station} position ${point.name}`);
      expect(Number(measured[i].Value)).toBe(point.value);
      expect(measured[i].Status.CharacteristicStatusEnum).toBe(status[point.verdict]);
      expect(Number(definitions[i].ToleranceValue)).toBe(point.tolerance);
      expect(Object.keys(definitions[i].ZoneShape)).toEqual([
        { cylindrical: 'DiametricalZone', spherical: 'SphericalZone', planar: 'NonDiametricalZone' }[
          point.zone
        ],
      ]);
      const named = new Map(
        asList(measured[i].Attributes.AttributeStr).map((a) => [a['@name'], a['@value']]),
      );
      expect(Number(named.get('expanded uncertainty mm'))).toBe(point.expanded);
      const { error } = disc.result.stations.find((entry) => entry.station === station) as NonNullable<
        ReducedDisc['result']['stations'][number]
      >;
      expect(Number(named.get('upset mm'))).toBe(error.upset);
      expect(Number(named.get('rotUpset rad'))).toBe(error.rotUpset);
    });
    expect(wanted.some(({ point }) => point.verdict !== 'conforming')).toBe(true);
  });

  it('do not pass a disc with a missing station, and name the station with its reason', () => {
    const results = document.Results.MeasurementResultsSet.MeasurementResults;
    expect(disc.result.summary).toMatchObject({ nonconforming: 0, missing: [expect.anything()] });
    expect(results.InspectionStatus.InspectionStatusEnum).toBe('UNKNOWN');
    const missing = disc.result.summary.missing[0];
    const named = asList(results.Attributes.AttributeStr).find(
      (a) => a['@name'] === `missing station ${missing?.station}`,
    );
    expect(named['@value']).toBe(missing?.reason);
  });

  it('pass only a disc that is proven to conform as a whole', () => {
    const statusOf = (summary: Partial<ReducedDisc['result']['summary']>): string => {
      const changed = {
        ...disc,
        result: { ...disc.result, summary: { ...disc.result.summary, ...summary } },
      };
      return parse(qifResults(changed, time)).Results.MeasurementResultsSet.MeasurementResults
        .InspectionStatus.InspectionStatusEnum;
    };
    const whole = { stations: 16, conforming: 16, nonconforming: 0, unproven: 0, missing: [] };
    expect(statusOf(whole)).toBe(disc.result.pattern === null ? 'PASS' : statusOf(whole));
    expect(statusOf({ ...whole, conforming: 15, unproven: 1 })).toBe('UNKNOWN');
    expect(statusOf({ ...whole, conforming: 15, nonconforming: 1 })).toBe('FAIL');
  });

  it('state the second level of position, which can decide the status of the disc', () => {
    const twoLevels = exampleDiscOfTwoLevels();
    const { pattern } = twoLevels.result;
    const text = qifResults(twoLevels, time);
    expect(text).toContain(`name="verdict of relative position" value="${pattern?.verdict}"`);
    expect(text).toContain(`name="relative position mm" value="${pattern?.value}"`);
    expect(text).toContain(`name="relative position tolerance mm" value="${pattern?.tolerance}"`);
    expect(xml).not.toContain('relative position');
  });

  it('have the same bytes for the same result and time, and differ in time and document only', () => {
    expect(qifResults(disc, time)).toBe(xml);
    const later = qifResults(disc, new Date('2026-05-06T07:08:10.000Z')).split('\n');
    const changed = xml.split('\n').filter((line, i) => line !== later[i]);
    expect(changed.map((line) => /<(\w+)/.exec(line)?.[1])).toEqual(['QPId', 'TimeCreated']);
  });

  it('carry any name', () => {
    const odd = 'a<b>&"c"\u0000\ud800 é ⌀';
    const changed = { ...disc, plan: { ...disc.plan, part: { number: odd, serial: odd } } };
    const text = qifResults(changed, time);
    expect(XMLValidator.validate(text)).toBe(true);
    expect(parse(text).Product.PartSet.Part.ModelNumber).toBe('a<b>&"c"\ufffd\ufffd é ⌀');
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
