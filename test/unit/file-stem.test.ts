import { expect, test } from 'vitest';
import { fileStem } from '../../src-main/outputs/file-stem.ts';
import { fileStem as pageStem } from '../../src-renderer/parts/download.ts';

test('a title keeps in a file name whatever no file system forbids', () => {
  expect(fileStem('Rowan demonstrator fan, trial disc 2')).toBe('Rowan demonstrator fan, trial disc 2');
  expect(fileStem('Läufer №3 (Ø 500) – 50 % & more; v1.2')).toBe('Läufer №3 (Ø 500) – 50 % & more; v1.2');
  expect(fileStem('a/b\\c:d*e?"f"<g>|h\u0000i')).toBe('a-b-c-d-e-f-g-h-i');
});

test('nothing hides a file, goes lost at its end, climbs out of its folder or is a device', () => {
  expect(fileStem('../../.hidden. ')).toBe('hidden');
  expect(fileStem('  .. ')).toBe('');
  expect(fileStem('con')).toBe('_con');
  expect(fileStem('Contour')).toBe('Contour');
});

test('a stem leaves room for its ending in the 255 bytes that a name may have', () => {
  expect(fileStem('ü'.repeat(200))).toBe('ü'.repeat(80));
  // Four bytes each.
  expect(fileStem('𝛿'.repeat(200))).toBe('𝛿'.repeat(50));
  expect(fileStem(`${'語'.repeat(66)}-𝛿`)).toBe('語'.repeat(66));
});

test('the page names its tables and pictures by whole signs, without blanks, ends or a point in front', () => {
  expect(pageStem('Rowan demonstrator fan: Trial 2')).toBe('rowan-demonstrator-fan-trial-2');
  expect(pageStem('.. ')).toBe('disc');
  expect(pageStem('𝛿'.repeat(80))).toBe('𝛿'.repeat(50));
  expect(pageStem(`${'a'.repeat(49)} b`)).toBe('a'.repeat(49));
});
