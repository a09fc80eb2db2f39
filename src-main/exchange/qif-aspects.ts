/** The four aspects that QIF 3.0 divides a characteristic into: definition, nominal, item, measurement. */
import { decimalText } from './decimal.ts';
import { attributes, type Named } from './qif-attributes.ts';
import { type Element, element } from './xml.ts';

type Kind = 'Position' | 'UserDefinedLinear' | 'UserDefinedAngular';

/** One requirement, and what was found of it. */
export interface Characteristic {
  readonly kind: Kind;
  readonly name: string;
  /** The parts of its definition, in the order of the standard. `frame`: id of the datum reference frame. */
  readonly definition: (frame: number) => readonly Element[];
  readonly nominal: readonly Element[];
  readonly item: readonly Named[];
  readonly measurement: readonly Named[];
  readonly status: string;
  readonly value: number | null;
  /** Why there is no value; null where there is one. */
  readonly reason: string | null;
}

/** The four lists of aspects that stand in a document. */
export interface Aspects {
  readonly definitions: readonly Element[];
  readonly nominals: readonly Element[];
  readonly items: readonly Element[];
  readonly measurements: readonly Element[];
}

/** @param nextId gives a number that the document has not used */
export function aspectsOf(
  characteristics: readonly Characteristic[],
  frame: number,
  nextId: () => number,
): Aspects {
  const all = characteristics.map((one) => aspects(one, frame, nextId));
  return {
    definitions: all.map(({ definition }) => definition),
    nominals: all.map(({ nominal }) => nominal),
    items: all.map(({ item }) => item),
    measurements: all.map(({ measurement }) => measurement),
  };
}

function aspects(one: Characteristic, frame: number, nextId: () => number) {
  const [definition, nominal, item, measurement] = [nextId(), nextId(), nextId(), nextId()];
  const aspect = (name: string): string => `${one.kind}Characteristic${name}`;
  return {
    definition: element(aspect('Definition'), { id: definition }, ...one.definition(frame)),
    nominal: element(
      aspect('Nominal'),
      { id: nominal },
      element('CharacteristicDefinitionId', {}, String(definition)),
      ...one.nominal,
    ),
    item: element(
      aspect('Item'),
      { id: item },
      attributes(one.item),
      element('Name', {}, one.name),
      element('CharacteristicNominalId', {}, String(nominal)),
    ),
    measurement: element(
      aspect('Measurement'),
      { id: measurement },
      attributes(one.measurement),
      one.reason === null ? null : element('Description', {}, one.reason),
      element('Status', {}, element('CharacteristicStatusEnum', {}, one.status)),
      element('CharacteristicItemId', {}, String(item)),
      one.value === null ? null : element('Value', {}, decimalText(one.value)),
    ),
  };
}
