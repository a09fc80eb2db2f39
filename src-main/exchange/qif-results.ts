/**
 * Results in the open standard QIF 3.0 (ISO 23952:2020, Quality Information Framework) as XML: every requirement of the plan as
 * a characteristic with its value and status; errors, uncertainty and probability beside it.
 *
 * Source: names, order and enumerations of the elements after the standard's published schemas and sample documents; the test
 * states what was compared with what. The file is NOT VALIDATED against those schemas, since no package carries them.
 *
 * `conforming` is PASS, `nonconforming` FAIL, `unproven` INDETERMINATE; what was not measured or not observed is NOT_ANALYZED
 * with its reason. Values that QIF has no element of its own for (errors in the blade frame, expanded uncertainty, probability)
 * are attributes by name, with their units in the name: the standard's `combinedUncertainty` asks for a mean error beside it
 * and knows no coverage. The same result and time give the same bytes.
 */
import { createHash } from 'node:crypto';
import type { ReducedDisc } from '../api.ts';
import { nameUuid } from './name-uuid.ts';
import { aspectsOf } from './qif-aspects.ts';
import { attributes, type Named } from './qif-attributes.ts';
import { characteristicsOf } from './qif-characteristics.ts';
import { type Element, element, list, xmlText } from './xml.ts';

/** Names of the places in a datum reference frame. Later ones are numbered in words of our own. */
const PRECEDENCE = ['PRIMARY', 'SECONDARY', 'TERTIARY', 'QUATERNARY', 'QUINARY', 'SENARY'] as const;

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
  const datums = result.frame.datums.map(({ label }) => ({ id: id(), label }));
  const aspects = aspectsOf(characteristicsOf(disc), ids.frame, id);
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
          datums.map((datum, i) => datumReference(datum.id, i)),
        ),
      ),
    ]),
    product(disc, ids, fingerprint),
    element(
      'Characteristics',
      {},
      list('CharacteristicDefinitions', aspects.definitions),
      list('CharacteristicNominals', aspects.nominals),
      list('CharacteristicItems', aspects.items),
    ),
    element(
      'Results',
      {},
      list('MeasurementResultsSet', [
        element(
          'MeasurementResults',
          { id: ids.results },
          attributes(originAttributes(disc)),
          element('MeasuredCharacteristics', {}, list('CharacteristicMeasurements', aspects.measurements)),
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
function datumReference(definition: number, place: number): Element {
  const precedence = PRECEDENCE[place];
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
    element(
      'Precedence',
      {},
      precedence === undefined
        ? element('OtherPrecedence', {}, `number ${place + 1}`)
        : element('PrecedenceEnum', {}, precedence),
    ),
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
