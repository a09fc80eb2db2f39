/** Reading numbers of a point file exactly and fast, and saying what is wrong with those that are not numbers. */

/** Powers of ten that a double holds exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
/** Integers of this many digits are exact in a double. */
const EXACT_DIGITS = 15;

const MINUS = 45;
const ZERO = 48;

const PLAIN_NUMBER = /^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;

/**
 * Puts the number in bytes[start, end) into out[slot], or NaN where there is none; blanks around it are allowed.
 * It is not returned, because a returned number costs an allocation, millions of times.
 *
 * Numbers of up to 15 digits are an exact integer over an exact power of ten, and so correctly rounded by the one
 * division; all others take the language's own conversion.
 *
 * @param decimal byte of the decimal sign
 */
export function parseNumber(
  bytes: Buffer,
  start: number,
  end: number,
  decimal: number,
  out: Float64Array,
  slot: number,
): void {
  let at = start;
  const negative = bytes[at] === MINUS;
  if (negative) at += 1;
  let mantissa = 0;
  let digits = 0;
  let fractionFrom = -1;
  for (; at < end; at += 1) {
    const byte = bytes[at] as number;
    const digit = byte - ZERO;
    if (digit >= 0 && digit <= 9) {
      mantissa = mantissa * 10 + digit;
      digits += 1;
    } else if (byte === decimal && fractionFrom < 0) fractionFrom = at + 1;
    else {
      digits = 0;
      break;
    }
  }
  if (digits === 0 || digits > EXACT_DIGITS)
    out[slot] = numberFrom(bytes.toString('utf8', start, end), decimal);
  else {
    const magnitude = fractionFrom < 0 ? mantissa : mantissa / (EXACT_POWERS[end - fractionFrom] as number);
    out[slot] = negative ? -magnitude : magnitude;
  }
}

/** The number in a cell, or NaN: the general form of `parseNumber`. */
export function numberFrom(cell: string, decimal: number): number {
  const trimmed = cell.trim();
  const sign = String.fromCharCode(decimal);
  if (sign !== '.' && trimmed.includes('.')) return Number.NaN;
  const pointed = sign === '.' ? trimmed : trimmed.replace(sign, '.');
  if (!PLAIN_NUMBER.test(pointed)) return Number.NaN;
  const value = Number(pointed);
  return Number.isFinite(value) ? value : Number.NaN;
}

export interface NumberFault {
  readonly code: string;
  readonly says: string;
  readonly expected: string;
  readonly remedy: string;
}

const WORDS_WITHOUT_VALUE =
  /^[+-]?(?:nan|inf|infinity|#?n\/?a|null|none|-+|\?+|#value!|#div\/0!|#ref!|1\.#(?:inf|qnan|ind).*)$/i;

/** What is wrong with a cell that `parseNumber` refuses. */
export function diagnoseNumber(cell: string, decimal: '.' | ',', decimalFromPlan: boolean): NumberFault {
  const trimmed = cell.trim();
  const other = decimal === '.' ? ',' : '.';
  const example = decimal === '.' ? '12.345' : '12,345';
  const expected = `a number such as ${example}`;
  const by = decimalFromPlan ? 'the plan says' : 'the rest of the file has';
  if (trimmed === '')
    return {
      code: 'missing-cell',
      says: 'the cell is empty',
      expected,
      remedy: 'fill it or take the row out',
    };
  if (WORDS_WITHOUT_VALUE.test(trimmed))
    return {
      code: 'not-finite',
      says: 'this is no finite number',
      expected: `a finite number such as ${example}`,
      remedy: 'measure the point again or take the row out',
    };
  if (!trimmed.includes(other) && PLAIN_NUMBER.test(trimmed.replace(decimal, '.')))
    return {
      code: 'not-finite',
      says: 'this number is too large',
      expected: `a finite number such as ${example}`,
      remedy: 'correct the cell',
    };
  const separators = trimmed.replace(/[^.,'\u2019 \u00a0\u202f]/g, '');
  if (separators.length === 1 && separators === other && PLAIN_NUMBER.test(trimmed.replace(other, '.')))
    return {
      code: 'wrong-decimal',
      says: `decimal ${other === ',' ? 'comma' : 'point'} found where ${by} ${decimal === ',' ? 'comma' : 'point'}`,
      expected,
      remedy: decimalFromPlan
        ? `write the number with the other sign, or set import.decimal to "${other}"`
        : 'write all numbers with the same sign',
    };
  if (separators.length > 0 && /^[+-]?[0-9]+(?:[.,'\u2019 \u00a0\u202f][0-9]+)+$/.test(trimmed))
    return {
      code: 'thousands-separator',
      says: 'the number is grouped or has more than one decimal sign',
      expected: `${expected}, without grouping`,
      remedy: 'export without thousands separators',
    };
  if (/^[\u2212\u2013]/.test(trimmed))
    return {
      code: 'not-a-number',
      says: 'the minus sign is a dash',
      expected: `a number such as -${example}`,
      remedy: 'use the ordinary minus sign',
    };
  return {
    code: 'not-a-number',
    says: 'this is not a number',
    expected,
    remedy: 'correct the cell or take the row out',
  };
}

/** Whether bytes[start, end) hold nothing but blanks. */
export function isBlank(bytes: Buffer, start: number, end: number): boolean {
  for (let at = start; at < end; at += 1) {
    const byte = bytes[at] as number;
    if (byte > 127) return bytes.toString('utf8', start, end).trim() === '';
    if (byte !== 32 && byte !== 9 && byte !== 13) return false;
  }
  return true;
}
