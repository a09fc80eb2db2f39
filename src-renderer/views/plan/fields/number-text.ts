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

/** What a unit written behind a number is worth in the unit of the field. Drawings have limits of rotation in degrees, not in radians. */
const written: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  rad: {
    rad: 1,
    mrad: 1e-3,
    '°': Math.PI / 180,
    deg: Math.PI / 180,
    '′': Math.PI / 10_800,
    "'": Math.PI / 10_800,
    '″': Math.PI / 648_000,
    '"': Math.PI / 648_000,
  },
  mm: { mm: 1, µm: 1e-3, um: 1e-3, in: 25.4, '"': 25.4 },
};
/** Keeps what a person means free of the digits that only rounding makes. */
const DIGITS = 12;

/** As `parseNumber`, for a field with a unit: another one may stand behind the number, as in `25 µm` or `1.7′`. */
export function parseQuantity(text: string, unit: string): number | null | undefined {
  const plain = text.trim().replace('μ', 'µ');
  const units = Object.entries(written[unit] ?? {}).sort(([a], [b]) => b.length - a.length);
  const [sign, factor] = units.find(([end]) => plain.endsWith(end)) ?? ['', 1];
  const value = parseNumber(plain.slice(0, plain.length - sign.length));
  if (sign !== '' && value === undefined) return null;
  return typeof value === 'number' && factor !== 1 ? Number((value * factor).toPrecision(DIGITS)) : value;
}
