import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { previewPoints } from '../../src-main/points/preview.ts';
import { RefusedInput } from '../../src-main/problems.ts';

let path = '';
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  path = join(folder, 'points.csv');
});
afterAll(() => rmSync(folder, { recursive: true }));

const cell = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    'x',
    'X-Ist',
    'station',
    'label',
    'B01_FLANK',
    'FLANK-7',
    '"',
    '"a;b"',
    'NaN',
    '1e400',
    '-',
  ),
  fc.double({ min: -1000, max: 1000, noNaN: true }).map((value) => value.toFixed(4)),
  fc.double({ min: -1000, max: 1000, noNaN: true }).map((value) => value.toFixed(3).replace('.', ',')),
  fc.nat(40).map(String),
  fc.string({ maxLength: 6 }),
);
const table = fc
  .record({
    delimiter: fc.constantFrom(',', ';', '\t', '|', ' '),
    end: fc.constantFrom('\n', '\r\n', '\r'),
    rows: fc.array(fc.array(cell, { maxLength: 9 }), { maxLength: 12 }),
  })
  .map(({ delimiter, end, rows }) => rows.map((row) => row.join(delimiter)).join(end));
const stated = fc.record(
  {
    delimiter: fc.constantFrom<',' | ';' | '\t' | '|' | ' '>(',', ';', '\t', '|', ' '),
    decimal: fc.constantFrom<'.' | ','>('.', ','),
    header: fc.boolean(),
    label: fc.constantFrom('(', '(?<station>\\d+)(?<feature>.+)', '(.+)+$'),
    columns: fc.record(
      { x: fc.constantFrom(1, 99, 'x', null), label: fc.constantFrom('label', 2, null) },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: [] },
);

// A person may drop any file and state anything of it: the look either shows it or says why it cannot.
test('any text and any statement give a look that adds up, or a refusal', async () => {
  await fc.assert(
    fc.asyncProperty(
      table,
      stated,
      fc.constantFrom<'utf8' | 'latin1' | 'utf16le'>('utf8', 'latin1', 'utf16le'),
      async (text, statement, encoding) => {
        writeFileSync(path, text, encoding);
        const outcome = await previewPoints(path, { stated: statement }).catch((error: unknown) => error);
        if (outcome instanceof RefusedInput) return;
        if (outcome instanceof Error) throw outcome;
        const { rows, points, counts, head, columnNames } = outcome as Awaited<
          ReturnType<typeof previewPoints>
        >;
        expect(points).toBeLessThanOrEqual(rows);
        expect(counts.reduce((sum, { count }) => sum + count, 0)).toBe(points);
        expect(head.map(({ line }) => line)).toEqual(head.map(({ line }) => line).sort((a, b) => a - b));
        expect(columnNames.every((name) => name !== '')).toBe(true);
      },
    ),
    { seed: 20261125, numRuns: 400 },
  );
});
