import { type Element, element, list } from './xml.ts';

/** What QIF has no element of its own for, by a name that is the only one of its kind within its element. */
export type Named = readonly [name: string, value: string | number | null];

/** Attributes by name; those without a value are left out. */
export function attributes(named: readonly Named[]): Element | null {
  const present = named.filter(([, value]) => value !== null && value !== '');
  if (present.length === 0) return null;
  return list(
    'Attributes',
    present.map(([name, value]) => element('AttributeStr', { name, value: String(value) })),
  );
}
