/** Numbers as people type them: comma or point, a true minus, an exponent. */
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Undefined for an empty field, null where the text is no number. */
export function parseNumber(text: string): number | null | undefined {
  const plain = text
    .trim()
    .replaceAll('\u2212', '-')
    .replaceAll(/[\s\u00a0\u202f]/g, '');
  if (plain === '') return undefined;
  const pointed = plain.includes('.') ? plain : plain.replace(',', '.');
  if (!NUMBER.test(pointed)) return null;
  const value = Number(pointed);
  return Number.isFinite(value) ? value : null;
}
