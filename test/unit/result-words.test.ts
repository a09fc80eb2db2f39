import { expect, test } from 'vitest';
import { note } from '../../src-main/session/result-words.ts';

const isTaken = (given: unknown): boolean => note.safeParse(given).success;

test('a note in a session is one that can be said; what every object inherits is no code, wherever it stands', () => {
  expect(isTaken({ code: 'no-probing', values: {} })).toBe(true);
  const rows = { file: 'points.csv', count: 1, lines: [2] };
  const known = { code: 'by-hand', values: { reason: 'dirt' } };
  expect(isTaken({ code: 'rows-left-out', values: { ...rows, reason: known } })).toBe(true);
  for (const code of ['constructor', 'toString', 'hasOwnProperty', '__proto__', 'unheard-of']) {
    expect(isTaken({ code, values: {} }), code).toBe(false);
    const nested = { ...rows, reason: { code, values: {} } };
    expect(isTaken({ code: 'rows-left-out', values: nested }), code).toBe(false);
    const failure = { code, values: {} };
    expect(isTaken({ code: 'station-failed', values: { feature: null, failure } }), code).toBe(false);
  }
});
