/** Reading a number of a point file, and saying what is wrong with a cell that is none. */

const PLAIN_NUMBER = /^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;

/** The number in a cell, blanks around it allowed, or NaN where there is none. */
export function numberFrom(cell: string, sign: '.' | ','): number {
  const trimmed = cell.trim();
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

/** What is wrong with a cell in which `numberFrom` finds no number. */
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
