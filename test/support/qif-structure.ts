/**
 * Order of elements, required attributes and enumerations of the part of QIF 3.0 that the product writes, copied by hand from
 * the standard's own texts. It is no schema: types that the product does not use, optional parts that it never writes and the
 * patterns of texts are left out.
 *
 * Read in the schema files of QIF 3.0.0 as they stand in the public repository QualityInformationFramework/qif-community
 * (bindings/CPP-CodeSynthesis/QIF_30.CodeSynthesis at commit 51a8917 and bindings/CPP-Kramer/schema at 1c50eee, 1527330):
 *   QIFDocument.xsd         QIFDocument and its parts, Header
 *   QIFResults.xsd          all of it
 *   QIFProduct.xsd          Product, Part, Component, AsmPath
 *   Characteristics.xsd     the bases of definition, nominal, item and measurement; the linear and angular characteristics of the
 *                           user; the status and its enumeration
 *   Units.xsd               FileUnits, primary units, conversion, decimal values
 *   Primitives.xsd          ids and references, lists counted from 1, attributes
 * Read in a sample document beside them (bindings/CPP-Kramer/data/testCpp30.qif): datum definitions and reference frames, the
 * definition of a position with its zone, a tolerance by its limits, the place of Value in a measurement.
 * Read in public class bindings of the same schemas only, the schema text itself was not at hand: the parts of a zone, precedence
 * beyond the third, the status of an inspection, the time of a version.
 */
interface Structure {
  /** Children in their order; `?` may be absent, `+` stands once or more. */
  readonly children?: readonly string[];
  readonly attributes?: readonly string[];
  /** Text of an element without children. */
  readonly text?: RegExp;
}

/** xs:decimal: no exponent. */
const decimal = /^[+-]?(\d+(\.\d*)?|\.\d+)$/;
/** Unsigned, no leading zeros. */
const id = /^[1-9]\d*$/;
const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const anything = /^[\s\S]*$/;
const double = String.raw`[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?`;
const oneOf = (...words: readonly string[]): RegExp => new RegExp(`^(${words.join('|')})$`);

const listOf = (...names: readonly string[]): Structure => ({
  children: names.map((name) => `${name}*`),
  attributes: ['n'],
});
const kinds = ['Position', 'UserDefinedLinear', 'UserDefinedAngular'] as const;
const aspect = (name: string): readonly string[] => kinds.map((kind) => `${kind}Characteristic${name}`);
const forAll = (name: string, structure: Structure): Record<string, Structure> =>
  Object.fromEntries(aspect(name).map((element) => [element, structure]));
const unit: Structure = { children: ['SIUnitName?', 'UnitName', 'UnitConversion?'] };

const inspectionStatuses = [
  'PASS',
  'FAIL',
  'REWORK',
  'SYSERROR',
  'UNKNOWN',
  'NOT_CALCULATED',
  'NOT_MEASURED',
  'UNDEFINED',
] as const;

/** None of them says not measured; that exists for an inspection as a whole only. */
const characteristicStatuses = [
  'PASS',
  'FAIL',
  'REWORK',
  'SYSERROR',
  'INDETERMINATE',
  'NOT_ANALYZED',
  'BASIC_OR_TED',
  'UNDEFINED',
] as const;

const qifStructure: Readonly<Record<string, Structure>> = {
  QIFDocument: {
    children: [
      'QPId',
      'Version?',
      'Header?',
      'FileUnits?',
      'DatumDefinitions?',
      'DatumReferenceFrames?',
      'Product?',
      'Characteristics?',
      'Results?',
    ],
    attributes: ['versionQIF', 'idMax'],
  },
  QPId: { text: uuid },
  TimeCreated: { text: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/ },
  Header: { children: ['Application?'] },
  Application: { children: ['Name'] },
  Name: { text: anything },
  FileUnits: { children: ['PrimaryUnits'] },
  PrimaryUnits: { children: ['AngularUnit?', 'LinearUnit?'] },
  AngularUnit: unit,
  LinearUnit: unit,
  SIUnitName: { text: oneOf('radian', 'meter') },
  UnitName: { text: anything },
  UnitConversion: { children: ['Factor', 'Offset?'] },
  Factor: { text: decimal },
  DatumDefinitions: listOf('DatumDefinition'),
  DatumDefinition: { children: ['DatumLabel'], attributes: ['id'] },
  DatumLabel: { text: anything },
  DatumReferenceFrames: listOf('DatumReferenceFrame'),
  DatumReferenceFrame: { children: ['Datums?'], attributes: ['id'] },
  Datums: listOf('Datum'),
  Datum: { children: ['SimpleDatum', 'Precedence'] },
  SimpleDatum: { children: ['DatumDefinitionId', 'MaterialModifier', 'ReferencedComponent'] },
  DatumDefinitionId: { text: id },
  MaterialModifier: { text: oneOf('NONE') },
  ReferencedComponent: { text: oneOf('ACTUAL') },
  Precedence: { children: ['PrecedenceEnum?', 'OtherPrecedence?'] },
  PrecedenceEnum: {
    text: oneOf('PRIMARY', 'SECONDARY', 'TERTIARY', 'QUATERNARY', 'QUINARY', 'SENARY'),
  },
  OtherPrecedence: { text: anything },
  Product: { children: ['PartSet?', 'ComponentSet?', 'AsmPaths?'] },
  PartSet: listOf('Part'),
  // A part has these directly, a component refers to its part by the same name.
  Part: { children: ['UUID?', 'ModelNumber?', 'Version?', 'Id?'] },
  ComponentSet: listOf('Component'),
  Component: { children: ['UUID?', 'Part'], attributes: ['id'] },
  UUID: { text: uuid },
  ModelNumber: { text: anything },
  // Of the document: a time; of a part: a text.
  Version: { children: ['TimeCreated?'], text: anything },
  AsmPaths: listOf('AsmPath'),
  AsmPath: { children: ['ComponentIds?'], attributes: ['id'] },
  ComponentIds: listOf('Id'),
  Id: { text: id },
  Characteristics: {
    children: ['CharacteristicDefinitions?', 'CharacteristicNominals?', 'CharacteristicItems?'],
  },
  CharacteristicDefinitions: listOf(...aspect('Definition')),
  CharacteristicNominals: listOf(...aspect('Nominal')),
  CharacteristicItems: listOf(...aspect('Item')),
  PositionCharacteristicDefinition: {
    children: ['ToleranceValue', 'DatumReferenceFrameId?', 'MaterialCondition', 'ZoneShape'],
    attributes: ['id'],
  },
  UserDefinedLinearCharacteristicDefinition: {
    children: ['Tolerance', 'WhatToMeasure'],
    attributes: ['id'],
  },
  UserDefinedAngularCharacteristicDefinition: {
    children: ['Tolerance', 'WhatToMeasure'],
    attributes: ['id'],
  },
  ToleranceValue: { text: decimal },
  DatumReferenceFrameId: { text: id },
  MaterialCondition: { text: oneOf('NONE') },
  ZoneShape: { children: ['SphericalZone?', 'DiametricalZone?', 'NonDiametricalZone?'] },
  SphericalZone: {},
  DiametricalZone: { children: ['ZoneOrientationVector?'] },
  NonDiametricalZone: { children: ['ZoneOrientationVector?'] },
  ZoneOrientationVector: { text: new RegExp(`^${double} ${double} ${double}$`) },
  Tolerance: { children: ['MaxValue', 'MinValue', 'DefinedAsLimit'] },
  MaxValue: { text: decimal },
  MinValue: { text: decimal },
  DefinedAsLimit: { text: oneOf('true', 'false') },
  WhatToMeasure: { text: anything },
  ...forAll('Nominal', { children: ['CharacteristicDefinitionId', 'TargetValue?'], attributes: ['id'] }),
  CharacteristicDefinitionId: { text: id },
  TargetValue: { text: decimal },
  ...forAll('Item', { children: ['Attributes?', 'Name?', 'CharacteristicNominalId'], attributes: ['id'] }),
  CharacteristicNominalId: { text: id },
  Attributes: listOf('AttributeStr'),
  AttributeStr: { attributes: ['name', 'value'] },
  Results: { children: ['MeasurementResultsSet', 'ActualComponentSets?'] },
  MeasurementResultsSet: listOf('MeasurementResults'),
  MeasurementResults: {
    children: ['Attributes?', 'MeasuredCharacteristics?', 'InspectionStatus', 'ActualComponentIds?'],
    attributes: ['id'],
  },
  MeasuredCharacteristics: { children: ['CharacteristicMeasurements'] },
  CharacteristicMeasurements: listOf(...aspect('Measurement')),
  ...forAll('Measurement', {
    children: ['Attributes?', 'Description?', 'Status', 'CharacteristicItemId', 'Value?'],
    attributes: ['id'],
  }),
  Description: { text: anything },
  // Of a characteristic or of a component.
  Status: { children: ['CharacteristicStatusEnum?', 'InspectionStatusEnum?'] },
  CharacteristicStatusEnum: { text: oneOf(...characteristicStatuses) },
  CharacteristicItemId: { text: id },
  Value: { text: decimal },
  InspectionStatus: { children: ['InspectionStatusEnum'] },
  InspectionStatusEnum: { text: oneOf(...inspectionStatuses) },
  ActualComponentIds: listOf('Id'),
  ActualComponentSets: listOf('ActualComponentSet'),
  ActualComponentSet: listOf('ActualComponent'),
  ActualComponent: { children: ['SerialNumber?', 'Status', 'AsmPathId?'], attributes: ['id'] },
  SerialNumber: { text: anything },
  AsmPathId: { text: id },
};

/** An element as a parser that keeps the order gives it. */
export interface QifNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly QifNode[];
  readonly text: string;
}

/** Everything in which the document differs from the structure above, each with the path of its element. */
export function structureFaults(node: QifNode, path = node.name): readonly string[] {
  const wanted = qifStructure[node.name];
  if (wanted === undefined) return [`${path}: no such element`];
  const faults: string[] = [];
  for (const name of wanted.attributes ?? [])
    if (node.attributes[name] === undefined) faults.push(`${path}: lacks ${name}`);
  const names = node.children.map(({ name }) => name);
  if (!matches(names, wanted.children ?? [])) faults.push(`${path}: holds ${names.join(', ') || 'nothing'}`);
  if (names.length === 0 && wanted.text !== undefined && !wanted.text.test(node.text))
    faults.push(`${path}: text ${node.text}`);
  if (wanted.attributes?.includes('n') && Number(node.attributes['n']) !== names.length)
    faults.push(`${path}: n is ${node.attributes['n']}, there are ${names.length}`);
  if (wanted.attributes?.includes('n') && names.length === 0) faults.push(`${path}: an empty list`);
  return [...faults, ...node.children.flatMap((child) => structureFaults(child, `${path}/${child.name}`))];
}

/** Members of a list may come in any order (one substitution group); everything else in the stated one. */
function matches(names: readonly string[], wanted: readonly string[]): boolean {
  if (wanted.some((entry) => entry.endsWith('*'))) return names.every((name) => wanted.includes(`${name}*`));
  let at = 0;
  for (const entry of wanted) {
    const name = entry.replace(/\?$/, '');
    if (names[at] === name) at += 1;
    else if (!entry.endsWith('?')) return false;
  }
  return at === names.length;
}
