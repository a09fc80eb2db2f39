/** Reading a number of a point file, and saying what is wrong with a cell that is none. */
import { rowFaultWords } from '../../shared-math/notes/english.ts';
import type { RowFaultNote, RowFaultWords } from '../../shared-math/notes/notes.ts';

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

export interface NumberFault extends RowFaultWords {
  readonly code: string;
  /** The same as data. */
  readonly fault: RowFaultNote;
}

const WORDS_WITHOUT_VALUE =
  /^[+-]?(?:nan|inf|infinity|#?n\/?a|null|none|-+|\?+|#value!|#div\/0!|#ref!|1\.#(?:inf|qnan|ind).*)$/i;

/** What is wrong with a cell in which `numberFrom` finds no number. */
export function diagnoseNumber(cell: string, decimal: '.' | ',', decimalFromPlan: boolean): NumberFault {
  const trimmed = cell.trim();
  const other = decimal === '.' ? ',' : '.';
  if (trimmed === '') return numberFault('missing-cell', { code: 'empty-cell', values: { decimal } });
  if (WORDS_WITHOUT_VALUE.test(trimmed))
    return numberFault('not-finite', { code: 'no-finite-number', values: { decimal } });
  if (!trimmed.includes(other) && PLAIN_NUMBER.test(trimmed.replace(decimal, '.')))
    return numberFault('not-finite', { code: 'number-too-large', values: { decimal } });
  const separators = trimmed.replace(/[^.,'\u2019 \u00a0\u202f]/g, '');
  if (separators.length === 1 && separators === other && PLAIN_NUMBER.test(trimmed.replace(other, '.')))
    return numberFault('wrong-decimal', {
      code: 'other-decimal-sign',
      values: { decimal, fromPlan: decimalFromPlan },
    });
  if (separators.length > 0 && /^[+-]?[0-9]+(?:[.,'\u2019 \u00a0\u202f][0-9]+)+$/.test(trimmed))
    return numberFault('thousands-separator', { code: 'grouped-number', values: { decimal } });
  if (/^[\u2212\u2013]/.test(trimmed))
    return numberFault('not-a-number', { code: 'dash-for-minus', values: { decimal } });
  return numberFault('not-a-number', { code: 'no-number', values: { decimal } });
}

function numberFault(code: string, fault: RowFaultNote): NumberFault {
  return { code, fault, ...rowFaultWords(fault) };
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
