/**
 * QIF results of the sample discs: held to the standard's structure as far as its texts could be read
 * (test/support/qif-structure.ts says which), and to the result they state. Not validated against the schemas.
 */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LimitName } from '../../shared-math/definition.ts';
import type { StationResult } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { decimalText } from '../../src-main/exchange/decimal.ts';
import { qifResults } from '../../src-main/exchange/qif-results.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { ERROR_UNITS } from '../../src-main/outputs/error-units.ts';
import { samplePath } from '../support/disc-files.ts';
import { exampleDisc, exampleDiscOfTwoLevels } from '../support/example-disc.ts';
import { type QifNode, structureFaults } from '../support/qif-structure.ts';

const time = new Date('2026-05-06T07:08:09.000Z');

function parse(xml: string): QifNode {
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: '',
    parseTagValue: false,
    parseAttributeValue: false,
    trimValues: true,
  });
  type Raw = Record<string, unknown>;
  const node = (raw: Raw): QifNode => {
    const name = Object.keys(raw).find((key) => key !== ':@') as string;
    const inside = raw[name] as readonly Raw[];
    return {
      name,
      attributes: (raw[':@'] ?? {}) as Record<string, string>,
      children: inside.filter((entry) => !('#text' in entry)).map(node),
      text: inside.map((entry) => String(entry['#text'] ?? '')).join(''),
    };
  };
  return node((parser.parse(xml) as readonly Raw[]).find((entry) => 'QIFDocument' in entry) as Raw);
}

const all = (root: QifNode): readonly QifNode[] => [root, ...root.children.flatMap(all)];
const named = (root: QifNode, name: string): readonly QifNode[] =>
  all(root).filter((node) => node.name === name);
const child = (node: QifNode | undefined, ...path: readonly string[]): QifNode | undefined =>
  path.reduce<QifNode | undefined>((at, name) => at?.children.find((entry) => entry.name === name), node);
const attribute = (node: QifNode | undefined, name: string): string | undefined =>
  child(node, 'Attributes')?.children.find((entry) => entry.attributes['name'] === name)?.attributes['value'];

/** Each item with what its other aspects say, by following the references. */
function characteristics(root: QifNode) {
  const byId = new Map(all(root).map((node) => [node.attributes['id'], node]));
  const items = child(root, 'Characteristics', 'CharacteristicItems')?.children ?? [];
  const measured = named(root, 'CharacteristicMeasurements')[0]?.children ?? [];
  return items.map((item) => {
    const nominal = byId.get(child(item, 'CharacteristicNominalId')?.text);
    return {
      name: child(item, 'Name')?.text,
      item,
      nominal,
      definition: byId.get(child(nominal, 'CharacteristicDefinitionId')?.text),
      measurement: measured.find(
        (entry) => child(entry, 'CharacteristicItemId')?.text === item.attributes['id'],
      ),
    };
  });
}

const statusOf = (measurement: QifNode | undefined): string | undefined =>
  child(measurement, 'Status', 'CharacteristicStatusEnum')?.text;
const inspectionOf = (root: QifNode): string | undefined =>
  child(named(root, 'MeasurementResults')[0], 'InspectionStatus', 'InspectionStatusEnum')?.text;

const discs: Record<string, ReducedDisc> = {};
beforeAll(async () => {
  // `drifting` has a missing station, unproven ones and limits of both kinds.
  for (const sample of ['drifting', 'off-centre'] as const)
    discs[sample] = await runReduction({
      pointsPath: samplePath(sample, 'points.csv'),
      planPath: samplePath(sample, 'plan.json'),
    });
  discs['two levels'] = exampleDiscOfTwoLevels();
});

describe.each(['drifting', 'off-centre', 'two levels'])('QIF results of %s', (name) => {
  let disc: ReducedDisc;
  let xml = '';
  let root: QifNode;
  beforeAll(() => {
    disc = discs[name] as ReducedDisc;
    xml = qifResults(disc, time);
    root = parse(xml);
  });

  it('are well formed, in the namespace and version of the standard', () => {
    expect(XMLValidator.validate(xml)).toBe(true);
    expect(root.attributes).toMatchObject({
      xmlns: 'http://qifstandards.org/xsd/qif3',
      versionQIF: '3.0.0',
    });
    expect(child(root, 'Version', 'TimeCreated')?.text).toBe('2026-05-06T07:08:09.000Z');
  });

  it('have the elements, order, attributes and enumerations of the standard', () => {
    expect(structureFaults(root)).toEqual([]);
  });

  it('number everything once, and every reference finds its kind', () => {
    const numbers = all(root).flatMap((node) => node.attributes['id'] ?? []);
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(root.attributes['idMax']).toBe(String(Math.max(...numbers.map(Number))));
    const byId = new Map(all(root).map((node) => [node.attributes['id'], node.name]));
    const aspects = (aspect: string): RegExp => new RegExp(`^\\w+Characteristic${aspect}$`);
    const kinds: Record<string, RegExp> = {
      DatumDefinitionId: /^DatumDefinition$/,
      DatumReferenceFrameId: /^DatumReferenceFrame$/,
      CharacteristicDefinitionId: aspects('Definition'),
      CharacteristicNominalId: aspects('Nominal'),
      CharacteristicItemId: aspects('Item'),
      AsmPathId: /^AsmPath$/,
    };
    for (const [reference, kind] of Object.entries(kinds)) {
      const uses = named(root, reference);
      expect(uses.length, reference).toBeGreaterThan(0);
      for (const { text } of uses) expect(byId.get(text), `${reference} ${text}`).toMatch(kind);
    }
    for (const list of ['ComponentIds', 'ActualComponentIds'])
      for (const { text } of named(root, list).flatMap(({ children }) => children))
        expect(byId.get(text)).toBe(list === 'ComponentIds' ? 'Component' : 'ActualComponent');
    // All four aspects are of one kind, and no two items share one.
    const every = characteristics(root);
    for (const { item, nominal, definition, measurement } of every) {
      const kind = item.name.replace(/Item$/, '');
      expect(nominal?.name).toBe(`${kind}Nominal`);
      expect(definition?.name).toBe(`${kind}Definition`);
      expect(measurement?.name).toBe(`${kind}Measurement`);
    }
    expect(new Set(every.map(({ measurement }) => measurement?.attributes['id'])).size).toBe(every.length);
  });

  it('name no attribute twice in one element', () => {
    for (const { children } of named(root, 'Attributes')) {
      const names = children.map(({ attributes }) => attributes['name']);
      expect(new Set(names).size).toBe(names.length);
    }
  });

  it('declare millimetres and radians, which every value is in', () => {
    const units = child(root, 'FileUnits', 'PrimaryUnits');
    expect(child(units, 'LinearUnit', 'UnitName')?.text).toBe('mm');
    expect(child(units, 'LinearUnit', 'UnitConversion', 'Factor')?.text).toBe('0.001');
    expect(child(units, 'AngularUnit', 'UnitName')?.text).toBe('radian');
  });

  it('give every requirement of every planned station a characteristic', () => {
    const names = characteristics(root).map((entry) => entry.name);
    expect(names).toEqual(
      disc.definition.stations.flatMap(({ station, requirement }) => [
        ...requirement.checkPoints.map((point) => `Station ${station} position ${point.name}`),
        ...Object.keys(requirement.limits).map((limit) => `Station ${station} ${limit}`),
      ]),
    );
    expect(named(root, 'CharacteristicMeasurements')[0]?.children).toHaveLength(names.length);
  });

  it('give each check point its value, tolerance, zone and status', () => {
    const found = new Map(characteristics(root).map((entry) => [entry.name, entry]));
    const status = { conforming: 'PASS', nonconforming: 'FAIL', unproven: 'INDETERMINATE' };
    for (const { station, position, error } of disc.result.stations)
      for (const point of position.checkPoints) {
        const { definition, measurement } = found.get(`Station ${station} position ${point.name}`) ?? {};
        const value = child(measurement, 'Value')?.text;
        expect(value === undefined ? null : Number(value)).toBe(point.value);
        expect(statusOf(measurement)).toBe(point.value === null ? 'NOT_ANALYZED' : status[point.verdict]);
        expect(Number(child(definition, 'ToleranceValue')?.text)).toBe(point.tolerance);
        expect(child(definition, 'ZoneShape')?.children.map((zone) => zone.name)).toEqual([
          { cylindrical: 'DiametricalZone', spherical: 'SphericalZone', planar: 'NonDiametricalZone' }[
            point.zone
          ],
        ]);
        expect(attribute(measurement, 'expanded uncertainty mm')).toBe(String(point.expanded));
        expect(attribute(measurement, 'upset mm')).toBe(String(error.upset));
      }
  });

  it('give each limit its bounds, value and status as a characteristic of its own', () => {
    const found = new Map(characteristics(root).map((entry) => [entry.name, entry]));
    const status = { conforming: 'PASS', nonconforming: 'FAIL', unproven: 'INDETERMINATE' };
    const limits = disc.result.stations.flatMap((station) =>
      station.limits.map((limit) => ({ station: station.station, ...limit })),
    );
    expect(limits.length).toBeGreaterThan(0);
    for (const { station, name: limitName, value, limit, verdict } of limits) {
      const { item, definition, measurement } = found.get(`Station ${station} ${limitName}`) ?? {};
      const angular = ERROR_UNITS[limitName as LimitName] === 'rad';
      expect(item?.name).toBe(`UserDefined${angular ? 'Angular' : 'Linear'}CharacteristicItem`);
      expect(Number(child(definition, 'Tolerance', 'MaxValue')?.text)).toBe(limit);
      expect(Number(child(definition, 'Tolerance', 'MinValue')?.text)).toBe(-limit);
      const stated = child(measurement, 'Value')?.text;
      expect(stated === undefined ? null : Number(stated)).toBe(value);
      expect(statusOf(measurement)).toBe(value === null ? 'NOT_ANALYZED' : status[verdict]);
    }
  });

  it('have the same bytes for the same result and time, and differ in time and document only', () => {
    expect(qifResults(disc, time)).toBe(xml);
    const later = qifResults(disc, new Date('2026-05-06T07:08:10.000Z')).split('\n');
    const changed = xml.split('\n').filter((line, i) => line !== later[i]);
    expect(changed.map((line) => /<(\w+)/.exec(line)?.[1])).toEqual(['QPId', 'TimeCreated']);
  });
});

describe('what was not measured', () => {
  it('is NOT_ANALYZED with its reason, in every requirement of a missing station', () => {
    const disc = discs['drifting'] as ReducedDisc;
    const root = parse(qifResults(disc, time));
    const missing = disc.result.summary.missing;
    expect(missing.length).toBeGreaterThan(0);
    for (const { station, reason } of missing) {
      const own = characteristics(root).filter(({ item }) => attribute(item, 'station') === String(station));
      const planned = disc.definition.stations.find((entry) => entry.station === station);
      if (planned === undefined) throw new Error('The plan has no such station.');
      const { checkPoints, limits } = planned.requirement;
      expect(own).toHaveLength(checkPoints.length + Object.keys(limits).length);
      for (const { measurement } of own) {
        expect(statusOf(measurement)).toBe('NOT_ANALYZED');
        expect(child(measurement, 'Value')).toBeUndefined();
        expect(child(measurement, 'Description')?.text).toBe(`not measured: ${reason}`);
      }
      const point = own[0]?.definition;
      expect(Number(child(point, 'ToleranceValue')?.text)).toBe(checkPoints[0]?.tolerance);
    }
    expect(disc.result.summary.nonconforming).toBe(0);
    expect(inspectionOf(root)).toBe('UNKNOWN');
  });

  it('stands where the plan puts it: a missing blade as a measured one would', () => {
    const disc = discs['drifting'] as ReducedDisc;
    const gone = disc.result.stations[2] as StationResult;
    const without: ReducedDisc = {
      ...disc,
      result: {
        ...disc.result,
        stations: disc.result.stations.filter((station) => station !== gone),
        summary: {
          ...disc.result.summary,
          missing: [{ station: gone.station, angle: gone.angle, reason: 'not found' }],
        },
      },
    };
    const of = (reduced: ReducedDisc, what: (one: ReturnType<typeof characteristics>[number]) => unknown) =>
      characteristics(parse(qifResults(reduced, time)))
        .filter(({ item }) => attribute(item, 'station') === String(gone.station))
        .map(what);
    const place = ({ item }: { item: QifNode }): number[] =>
      attribute(item, 'nominal place in disc frame mm')?.split(' ').map(Number) ?? [];
    const direction = ({ definition }: { definition: QifNode | undefined }): number[] =>
      all(definition as QifNode)
        .find((node) => node.name === 'ZoneOrientationVector')
        ?.text.split(' ')
        .map(Number) ?? [];
    for (const part of [place, direction]) {
      const [before, after] = [of(disc, part), of(without, part)] as number[][][];
      expect(before?.flat().length).toBeGreaterThan(3);
      // The same numbers by two routes: rounding in the last digit only.
      after?.flat().forEach((value, i) => {
        expect(value).toBeCloseTo(before?.flat()[i] as number, 10);
      });
    }
  });

  it('is NOT_ANALYZED where a freedom of the blade was not observed', () => {
    const disc = exampleDisc();
    const [first] = disc.result.stations as [StationResult, ...StationResult[]];
    const blind: StationResult = {
      ...first,
      unobservable: [{ freedom: 'upset', reason: 'no feature stops it' }],
      position: {
        ...first.position,
        checkPoints: first.position.checkPoints.map((point) => ({
          ...point,
          value: null,
          displacement: null,
          verdict: 'unproven' as const,
        })),
      },
      limits: first.limits.map((limit) => ({ ...limit, value: null, verdict: 'unproven' as const })),
    };
    const root = parse(qifResults({ ...disc, result: { ...disc.result, stations: [blind] } }, time));
    const own = characteristics(root).filter(({ item }) => attribute(item, 'station') === '1');
    expect(own.length).toBe(first.position.checkPoints.length + first.limits.length);
    for (const { measurement } of own) {
      expect(statusOf(measurement)).toBe('NOT_ANALYZED');
      expect(child(measurement, 'Description')?.text).toBe('upset: no feature stops it');
    }
    expect(structureFaults(root)).toEqual([]);
  });
});

describe('the disc as a whole', () => {
  it('passes only where it is proven to conform as a whole', () => {
    const disc = discs['drifting'] as ReducedDisc;
    const statusWith = (summary: Partial<ReducedDisc['result']['summary']>): string | undefined =>
      inspectionOf(
        parse(
          qifResults(
            {
              ...disc,
              result: { ...disc.result, pattern: null, summary: { ...disc.result.summary, ...summary } },
            },
            time,
          ),
        ),
      );
    const whole = { stations: 16, conforming: 16, nonconforming: 0, unproven: 0, missing: [] };
    expect(statusWith(whole)).toBe('PASS');
    expect(statusWith({ ...whole, conforming: 15, unproven: 1 })).toBe('UNKNOWN');
    expect(statusWith({ ...whole, conforming: 15, nonconforming: 1 })).toBe('FAIL');
  });

  it('states the second level of position, which can decide its status', () => {
    const twoLevels = discs['two levels'] as ReducedDisc;
    const { pattern } = twoLevels.result;
    const results = named(parse(qifResults(twoLevels, time)), 'MeasurementResults')[0];
    expect(attribute(results, 'verdict of relative position')).toBe(pattern?.verdict);
    expect(attribute(results, 'relative position mm')).toBe(String(pattern?.value));
    expect(attribute(results, 'relative position tolerance mm')).toBe(String(pattern?.tolerance));
    expect(qifResults(discs['drifting'] as ReducedDisc, time)).not.toContain('relative position');
  });

  it('is the same part, and the same component, whoever measures it', () => {
    const disc = discs['drifting'] as ReducedDisc;
    const uuids = (part: Record<string, string>, decisionRisk: string): (string | undefined)[] => {
      const root = parse(
        qifResults(
          {
            ...disc,
            plan: { ...disc.plan, part },
            result: { ...disc.result, decision: { ...disc.result.decision, risk: decisionRisk } },
          },
          time,
        ),
      );
      return ['Part', 'Component'].map(
        (name) =>
          child(
            named(root, name).find((node) => child(node, 'UUID')),
            'UUID',
          )?.text,
      );
    };
    const known = { number: 'P-1', revision: 'B', serial: '7' };
    expect(uuids(known, 'one')).toEqual(uuids(known, 'another'));
    expect(uuids({ ...known, serial: '8' }, 'one')[0]).toBe(uuids(known, 'one')[0]);
    expect(uuids({ ...known, serial: '8' }, 'one')[1]).not.toBe(uuids(known, 'one')[1]);
    // Without a number only this result is known.
    expect(uuids({}, 'one')).not.toEqual(uuids({}, 'another'));
  });

  it('names all its datums, however many', () => {
    const disc = exampleDisc();
    const [datum] = disc.result.frame.datums as [ReducedDisc['result']['frame']['datums'][number]];
    const datums = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'].map((label) => ({ ...datum, label }));
    const root = parse(
      qifResults({ ...disc, result: { ...disc.result, frame: { ...disc.result.frame, datums } } }, time),
    );
    expect(structureFaults(root)).toEqual([]);
    expect(named(root, 'DatumLabel').map(({ text }) => text)).toEqual(datums.map(({ label }) => label));
    const precedence = named(root, 'Precedence').map((node) => node.children[0]?.text);
    expect(precedence.slice(2, 4)).toEqual(['TERTIARY', 'QUATERNARY']);
    expect(new Set(precedence).size).toBe(8);
  });

  it('carries any name', () => {
    const disc = discs['drifting'] as ReducedDisc;
    const odd = 'a<b>&"c"\u0000\ud800 é ⌀';
    const changed = { ...disc, plan: { ...disc.plan, part: { number: odd, serial: odd } } };
    const text = qifResults(changed, time);
    expect(XMLValidator.validate(text)).toBe(true);
    expect(text).toContain('<ModelNumber>a&lt;b&gt;&amp;&quot;c&quot;\ufffd\ufffd é ⌀</ModelNumber>');
  });
});

describe('numbers', () => {
  it.each([
    [0, '0'],
    [0.05, '0.05'],
    [-12.5, '-12.5'],
    [1e-7, '0.0000001'],
    [-1.25e-9, '-0.00000000125'],
    [5e-324, `0.${'0'.repeat(323)}5`],
    [1e21, '1000000000000000000000'],
    [1.2345e22, '12345000000000000000000'],
  ])('%d is written %s, without an exponent', (value, text) => {
    expect(decimalText(value)).toBe(text);
    expect(Number(decimalText(value))).toBe(value);
  });

  it('that are none are refused', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => decimalText(value)).toThrow();
  });

  it('are decimals in the document also where they are tiny, and never follow a locale', () => {
    const disc = exampleDisc();
    const [first] = disc.result.stations as [StationResult, ...StationResult[]];
    const tiny: StationResult = {
      ...first,
      position: {
        ...first.position,
        checkPoints: first.position.checkPoints.map((point) => ({ ...point, value: 3e-17 })),
      },
    };
    const root = parse(qifResults({ ...disc, result: { ...disc.result, stations: [tiny] } }, time));
    expect(structureFaults(root)).toEqual([]);
    expect(named(root, 'Value')[0]?.text).toBe('0.00000000000000003');
  });
});
