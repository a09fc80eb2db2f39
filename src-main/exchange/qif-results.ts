/**
 * Results in the open standard QIF 3.0 (ISO 23952:2020, Quality Information Framework) as XML: one position characteristic for
 * each check point of each station with its value and status; errors, uncertainty, probability and limits beside it.
 *
 * Source: names and order of the elements after the standard's published schemas and sample documents. The file is NOT
 * VALIDATED against those schemas, since no package carries them; what is tested is that it is well formed, and that its
 * structure, identifiers and references hold together.
 *
 * `conforming` is PASS, `nonconforming` FAIL, `unproven` INDETERMINATE. Values that QIF has no element of its own for (errors in
 * the blade frame, expanded uncertainty, probability, limits) are attributes by name, with their units in the name. The same
 * result and time give the same bytes.
 */
import { createHash } from 'node:crypto';
import type { ZoneShape } from '../../shared-math/definition.ts';
import type { CheckPointResult, StationResult, Verdict } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../api.ts';
import { nameUuid } from './name-uuid.ts';
import { type Element, element, list, xmlText } from './xml.ts';

const STATUS: Readonly<Record<Verdict, string>> = {
  conforming: 'PASS',
  nonconforming: 'FAIL',
  unproven: 'INDETERMINATE',
};

const ZONES: Readonly<Record<ZoneShape, string>> = {
  cylindrical: 'DiametricalZone',
  spherical: 'SphericalZone',
  planar: 'NonDiametricalZone',
};

/** The standard names three places in a datum reference frame. */
const PRECEDENCE = ['PRIMARY', 'SECONDARY', 'TERTIARY'] as const;

/** One requirement: a check point of a station. */
interface Characteristic {
  readonly station: StationResult;
  readonly point: CheckPointResult;
  readonly definition: number;
  readonly nominal: number;
  readonly item: number;
  readonly measurement: number;
}

/** @param time stated as the time of creation, and nowhere else */
export function qifResults(disc: ReducedDisc, time: Date): string {
  const { result, plan } = disc;
  let last = 0;
  const id = (): number => {
    last += 1;
    return last;
  };
  const fingerprint = createHash('sha256').update(JSON.stringify(result)).digest('hex');
  const ids = { part: id(), component: id(), path: id(), actual: id(), results: id(), frame: id() };
  const datums = result.frame.datums.slice(0, PRECEDENCE.length).map(({ label }) => ({ id: id(), label }));
  const characteristics = result.stations.flatMap((station) =>
    station.position.checkPoints.map(
      (point): Characteristic => ({
        station,
        point,
        definition: id(),
        nominal: id(),
        item: id(),
        measurement: id(),
      }),
    ),
  );
  const status = overallStatus(disc);
  const body = [
    element('QPId', {}, nameUuid(`document ${fingerprint} ${time.toISOString()}`)),
    element('Version', {}, element('TimeCreated', {}, time.toISOString())),
    element('Header', {}, element('Application', {}, element('Name', {}, 'Hubtrue'))),
    fileUnits(),
    list(
      'DatumDefinitions',
      datums.map((datum) =>
        element('DatumDefinition', { id: datum.id }, element('DatumLabel', {}, datum.label)),
      ),
    ),
    list('DatumReferenceFrames', [
      element(
        'DatumReferenceFrame',
        { id: ids.frame },
        list(
          'Datums',
          datums.map((datum, i) => datumReference(datum.id, PRECEDENCE[i] as string)),
        ),
      ),
    ]),
    product(disc, ids, fingerprint),
    element(
      'Characteristics',
      {},
      list(
        'CharacteristicDefinitions',
        characteristics.map((one) => definitionOf(one, ids.frame)),
      ),
      list(
        'CharacteristicNominals',
        characteristics.map(({ definition, nominal }) =>
          element(
            'PositionCharacteristicNominal',
            { id: nominal },
            element('CharacteristicDefinitionId', {}, String(definition)),
          ),
        ),
      ),
      list('CharacteristicItems', characteristics.map(itemOf)),
    ),
    element(
      'Results',
      {},
      list('MeasurementResultsSet', [
        element(
          'MeasurementResults',
          { id: ids.results },
          attributes(originAttributes(disc)),
          element(
            'MeasuredCharacteristics',
            {},
            list('CharacteristicMeasurements', characteristics.map(measurementOf)),
          ),
          inspectionStatus('InspectionStatus', status),
          list('ActualComponentIds', [element('Id', {}, String(ids.actual))]),
        ),
      ]),
      list('ActualComponentSets', [
        list('ActualComponentSet', [
          element(
            'ActualComponent',
            { id: ids.actual },
            plan.part['serial'] ? element('SerialNumber', {}, plan.part['serial']) : null,
            inspectionStatus('Status', status),
            element('AsmPathId', {}, String(ids.path)),
          ),
        ]),
      ]),
    ),
  ];
  return xmlText(
    element(
      'QIFDocument',
      { xmlns: 'http://qifstandards.org/xsd/qif3', versionQIF: '3.0.0', idMax: last },
      ...body,
    ),
  );
}

function fileUnits(): Element {
  const unit = (kind: string, si: string, name: string, factor: string | null): Element =>
    element(
      kind,
      {},
      element('SIUnitName', {}, si),
      element('UnitName', {}, name),
      factor === null ? null : element('UnitConversion', {}, element('Factor', {}, factor)),
    );
  return element(
    'FileUnits',
    {},
    element(
      'PrimaryUnits',
      {},
      unit('AngularUnit', 'radian', 'radian', null),
      unit('LinearUnit', 'meter', 'mm', '0.001'),
    ),
  );
}

/** Regardless of feature size, as the reduction takes every datum. */
function datumReference(definition: number, precedence: string): Element {
  return element(
    'Datum',
    {},
    element(
      'SimpleDatum',
      {},
      element('DatumDefinitionId', {}, String(definition)),
      element('MaterialModifier', {}, 'NONE'),
      element('ReferencedComponent', {}, 'ACTUAL'),
    ),
    element('Precedence', {}, element('PrecedenceEnum', {}, precedence)),
  );
}

function product(
  { plan }: ReducedDisc,
  ids: { readonly part: number; readonly component: number; readonly path: number },
  fingerprint: string,
): Element {
  const { number, revision, serial } = plan.part;
  // One part number, revision and serial number is one thing, whoever measures it; without them only this result is known.
  const partName = number ? `part ${number} ${revision ?? ''}` : `part of ${fingerprint}`;
  const component = number && serial ? `component ${number} ${serial}` : `component of ${fingerprint}`;
  return element(
    'Product',
    {},
    list('PartSet', [
      element(
        'Part',
        { id: ids.part },
        element('UUID', {}, nameUuid(partName)),
        number ? element('ModelNumber', {}, number) : null,
        revision ? element('Version', {}, revision) : null,
      ),
    ]),
    list('ComponentSet', [
      element(
        'Component',
        { id: ids.component },
        element('UUID', {}, nameUuid(component)),
        element('Part', {}, element('Id', {}, String(ids.part))),
      ),
    ]),
    list('AsmPaths', [
      element('AsmPath', { id: ids.path }, list('ComponentIds', [element('Id', {}, String(ids.component))])),
    ]),
  );
}

function definitionOf({ point, definition }: Characteristic, frame: number): Element {
  return element(
    'PositionCharacteristicDefinition',
    { id: definition },
    element('ToleranceValue', {}, String(point.tolerance)),
    element('DatumReferenceFrameId', {}, String(frame)),
    element('MaterialCondition', {}, 'NONE'),
    element('ZoneShape', {}, element(ZONES[point.zone])),
  );
}

function itemOf({ station, point, item, nominal }: Characteristic): Element {
  const { origin, axes } = station.nominal;
  const nominalPlace = [0, 1, 2].map((axis) =>
    point.at.reduce((sum, along, k) => sum + along * (axes[k]?.[axis] ?? 0), origin[axis] ?? 0),
  );
  return element(
    'PositionCharacteristicItem',
    { id: item },
    attributes([
      ['station', station.station],
      ['station angle degree', station.angle],
      ['check point', point.name],
      ['check point in blade frame mm', point.at.join(' ')],
      ['nominal place in disc frame mm', nominalPlace.join(' ')],
      ['zone direction in blade frame', point.direction?.join(' ') ?? null],
    ]),
    element('Name', {}, `Station ${station.station} position ${point.name}`),
    element('CharacteristicNominalId', {}, String(nominal)),
  );
}

function measurementOf({ station, point, item, measurement }: Characteristic): Element {
  const of = (values: Readonly<Record<string, number | null>>, words: (name: string) => string): Named[] =>
    Object.entries(values).map(([name, value]) => [words(name), value]);
  const unit = (name: string): string =>
    /^rot|^lean$|^sweep$|^stagger$/.test(name) ? `${name} rad` : `${name} mm`;
  return element(
    'PositionCharacteristicMeasurement',
    { id: measurement },
    attributes([
      ['expanded uncertainty mm', point.expanded],
      ['probability of conformity', point.probability],
      ['displacement in blade frame mm', point.displacement?.join(' ') ?? null],
      ['verdict of the station', station.verdict],
      ...of({ ...station.error, ...station.disc }, unit),
      ...of(station.uncertainty?.expanded ?? {}, (name) => `expanded uncertainty of ${unit(name)}`),
      ...station.limits.flatMap(({ name, limit, verdict }): Named[] => [
        [`limit of ${unit(name)}`, limit],
        [`verdict of ${name}`, verdict],
      ]),
    ]),
    element(
      'Status',
      {},
      element('CharacteristicStatusEnum', {}, point.value === null ? 'NOT_ANALYZED' : STATUS[point.verdict]),
    ),
    element('CharacteristicItemId', {}, String(item)),
    point.value === null ? null : element('Value', {}, String(point.value)),
  );
}

type Named = readonly [name: string, value: string | number | null];

/** Attributes by name; those without a value are left out. */
function attributes(named: readonly Named[]): Element | null {
  const present = named.filter(([, value]) => value !== null && value !== '');
  if (present.length === 0) return null;
  return list(
    'Attributes',
    present.map(([name, value]) => element('AttributeStr', { name, value: String(value) })),
  );
}

function originAttributes({ result, plan }: ReducedDisc): readonly Named[] {
  const { points, plan: planSource, software } = result.source;
  return [
    ['software', `Hubtrue ${software}`],
    ['point file', points.name],
    ['point file SHA-256', points.sha256],
    ['points used', points.used],
    ['points excluded', points.excluded.length],
    ['plan file', planSource.name],
    ['plan SHA-256', planSource.sha256],
    ['hub datums', plan.hubDatums.join('; ')],
    ['blade datums', plan.bladeDatums.join('; ')],
    ['decision rule', result.decision.rule],
    ['decision probability', result.decision.probability],
    ['decision guard factor', result.decision.factor],
    ['coverage of expanded uncertainty', result.decision.coverage],
    ...result.summary.missing.map(({ station, reason }): Named => [`missing station ${station}`, reason]),
    // The second level of position can decide the status of the disc; QIF has no place for it among single blades.
    ['relative position mm', result.pattern?.value ?? null],
    ['relative position tolerance mm', result.pattern?.tolerance ?? null],
    ['expanded uncertainty of relative position mm', result.pattern?.expanded ?? null],
    ['probability of conformity of relative position', result.pattern?.probability ?? null],
    ['verdict of relative position', result.pattern?.verdict ?? null],
  ];
}

/** Of the disc: PASS only where every planned station is proven to conform. */
function overallStatus({ result: { summary, pattern } }: ReducedDisc): 'PASS' | 'FAIL' | 'UNKNOWN' {
  if (summary.nonconforming > 0 || pattern?.verdict === 'nonconforming') return 'FAIL';
  const proven =
    summary.conforming === summary.stations && (pattern?.verdict ?? 'conforming') === 'conforming';
  return proven ? 'PASS' : 'UNKNOWN';
}

function inspectionStatus(name: string, status: string): Element {
  return element(name, {}, element('InspectionStatusEnum', {}, status));
}
