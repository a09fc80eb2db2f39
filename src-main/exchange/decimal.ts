/**
 * A number in the decimal notation of XML Schema (`xs:decimal`): digits and a point, never an exponent. The digits are the
 * shortest that give the same number back.
 *
 * @throws RangeError for what is no finite number
 */
export function decimalText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`${value} has no decimal notation`);
  const parts = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(String(value));
  if (parts === null) return String(value);
  const [, sign = '', whole = '', fraction = '', exponent = ''] = parts;
  const point = whole.length + Number(exponent);
  const digits = whole + fraction;
  return point > 0 ? `${sign}${digits.padEnd(point, '0')}` : `${sign}0.${'0'.repeat(-point)}${digits}`;
}
