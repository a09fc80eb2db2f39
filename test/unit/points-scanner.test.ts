/** The row scanner against papaparse, and the number reader against the language's own conversion. */
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { diagnoseNumber, numberFrom } from '../../src-main/points/numbers.ts';
import { RowScanner } from '../../src-main/points/row-scanner.ts';

const SEED = 20260702;

interface Row {
  readonly cells: readonly string[];
  readonly line: number;
}

function scan(text: string, delimiter: string, pieceSize: number): Row[] {
  const rows: Row[] = [];
  const scanner = new RowScanner(delimiter, '.', 'points.csv', ({ bytes, bounds, cells: count, line }) => {
    rows.push({
      line,
      cells: Array.from({ length: count }, (_, cell) =>
        bytes.toString('utf8', bounds[2 * cell], bounds[2 * cell + 1]),
      ),
    });
  });
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length; at += pieceSize)
    scanner.push(bytes.subarray(at, at + pieceSize), at + pieceSize >= bytes.length);
  return rows;
}

/** A cell as it may be written; texts that need quotes get them. */
const cell = fc
  .string({ unit: fc.constantFrom('a', 'Ø', '測', '7', '.', '-', ' ', ',', '"', '\n'), maxLength: 6 })
  .map((text) => ({ text, written: /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text }));
const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 12 });

describe('the row scanner', () => {
  it('gives the cells that were written, whatever the size of the pieces', () => {
    fc.assert(
      fc.property(table, fc.integer({ min: 1, max: 40 }), fc.boolean(), (rows, pieceSize, ended) => {
        const text =
          rows.map((row) => row.map(({ written }) => written).join(',')).join('\n') + (ended ? '\n' : '');
        expect(scan(text, ',', pieceSize).map(({ cells }) => cells)).toEqual(
          rows.map((row) => row.map((one) => one.text)),
        );
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('gives the same cells as papaparse, and the line on which each row begins', () => {
    fc.assert(
      fc.property(table, fc.integer({ min: 1, max: 40 }), (rows, pieceSize) => {
        const written = rows.map((row) => row.map((one) => one.written).join(','));
        const text = written.join('\n');
        const scanned = scan(text, ',', pieceSize);
        expect(scanned.map(({ cells }) => cells)).toEqual(
          Papa.parse(text, { delimiter: ',', newline: '\n' }).data,
        );
        expect(scanned.map(({ line }) => line)).toEqual(
          written.map((_, n) => written.slice(0, n).join('\n').split('\n').length + (n > 0 ? 1 : 0)),
        );
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('takes runs of blanks as one delimiter and ignores them at the ends', () => {
    for (const pieceSize of [1, 3, 100])
      expect(scan('  a   b\tc  \n\nd e f', ' ', pieceSize)).toEqual([
        { line: 1, cells: ['a', 'b', 'c'] },
        { line: 2, cells: [''] },
        { line: 3, cells: ['d', 'e', 'f'] },
      ]);
  });

  it('leaves the carriage return of a line end out of the last cell', () => {
    expect(scan('a,b\r\nc,\r\n', ',', 4).map(({ cells }) => cells)).toEqual([
      ['a', 'b'],
      ['c', ''],
    ]);
  });
});

/** The number as a point file gives it: from the scanner where it is plain, else from its text. */
function parsed(text: string, decimal: '.' | ',' = '.'): number {
  let found = Number.NaN;
  const scanner = new RowScanner(';', decimal, 'points.csv', ({ numbers, bytes, bounds }) => {
    // Numbers on both sides, so that reading beyond the cell shows.
    const cell = bytes.toString('utf8', bounds[2], bounds[3]);
    expect(cell).toBe(text);
    const plain = numbers[1] as number;
    const general = numberFrom(cell, decimal);
    if (!Number.isNaN(plain)) expect(Object.is(plain, general)).toBe(true);
    found = Number.isNaN(plain) ? general : plain;
  });
  scanner.push(Buffer.from(`9;${text};9`), true);
  return found;
}

describe('the number reader', () => {
  it('rounds like the language, to the last bit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.integer({ min: 0, max: 15 }),
        (mantissa, digits) => {
          const text = (mantissa / 1000).toFixed(digits);
          expect(Object.is(parsed(text), Number(text))).toBe(true);
          expect(Object.is(parsed(text.replace('.', ','), ','), Number(text))).toBe(true);
        },
      ),
      { seed: SEED, numRuns: 2000 },
    );
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parsed(String(value))).toBe(Number(String(value)));
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it.each([
    ['12', 12],
    ['-0', -0],
    ['+1.5', 1.5],
    ['.5', 0.5],
    ['5.', 5],
    ['  7.25\t', 7.25],
    ['\u00a07', 7],
    ['1e3', 1000],
    ['0000000000000000001.25', 1.25],
    ['123456789012345678901234567890', 1.2345678901234568e29],
  ])('reads "%s"', (text, value) => expect(Object.is(parsed(text), value)).toBe(true));

  it.each([
    '',
    ' ',
    '.',
    '-',
    '+',
    'e5',
    '1e',
    '1.2.3',
    '1,2',
    '0x1F',
    '0b1',
    '0o7',
    'NaN',
    'Infinity',
    '-inf',
    '1e999',
    '1 2',
    '--1',
    '1-',
    '12mm',
    '١٢',
  ])('refuses "%s"', (text) => expect(parsed(text)).toBeNaN());

  it('takes only the decimal sign of the file', () => {
    expect(parsed('1.5', ',')).toBeNaN();
    expect(parsed('1,5', ',')).toBe(1.5);
    expect(parsed('1,5')).toBeNaN();
  });
});

it('plain numbers are read while scanning, at the end of lines of either kind too', () => {
  const seen: number[][] = [];
  const scanner = new RowScanner(',', '.', 'points.csv', ({ numbers, cells }) => {
    seen.push(Array.from(numbers.subarray(0, cells)));
  });
  scanner.push(Buffer.from('1,-2.5\r\n3,4\n5\r6,7\r\n-,8'), true);
  expect(seen).toEqual([
    [1, -2.5],
    [3, 4],
    [Number.NaN, 7],
    [Number.NaN, 8],
  ]);
});

describe('what is wrong with a number', () => {
  it.each([
    ['', 'missing-cell'],
    ['12,5', 'wrong-decimal'],
    ['-0,25e1', 'wrong-decimal'],
    ['1,234,567', 'thousands-separator'],
    ['1,234.5', 'thousands-separator'],
    ["1'234.5", 'thousands-separator'],
    ['1 234.5', 'thousands-separator'],
    ['NaN', 'not-finite'],
    ['#N/A', 'not-finite'],
    ['---', 'not-finite'],
    ['1e400', 'not-finite'],
    ['\u22121.5', 'not-a-number'],
    ['12.5 mm', 'not-a-number'],
    ['abc', 'not-a-number'],
  ])('"%s": %s', (cell, code) => expect(diagnoseNumber(cell, '.', false).code).toBe(code));

  it('a point where the file has commas is the wrong decimal sign', () => {
    expect(diagnoseNumber('12.5', ',', true)).toMatchObject({
      code: 'wrong-decimal',
      says: 'decimal point found where the plan says comma',
      expected: 'a number such as 12,345',
      remedy: 'write the number with the other sign, or set import.decimal to "."',
    });
  });
});
