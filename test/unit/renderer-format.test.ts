import { describe, expect, test } from 'vitest';
import {
  exportNumber,
  formatAngle,
  formatCount,
  formatLimitWithUnit,
  formatQuantity,
  formatValue,
  toDisplay,
  type Units,
  unitWord,
} from '../../src-renderer/format/format.ts';
import { quantities, quantityOf } from '../../src-renderer/format/quantities.ts';

const mm: Units = { length: 'mm', rotation: 'degree' };
const inch: Units = { length: 'inch', rotation: 'arc-second' };
const micro: Units = { length: 'µm', rotation: 'arc-minute' };
const milli: Units = { length: 'mm', rotation: 'mrad' };

describe('values as text', () => {
  test('lengths in each unit, with true signs', () => {
    expect(formatValue(0.01234, 'length', mm)).toBe('+0.0123');
    expect(formatValue(-0.01234, 'length', mm)).toBe('−0.0123');
    expect(formatValue(-0.01234, 'length', micro)).toBe('−12.3');
    expect(formatValue(0.0254, 'length', inch)).toBe('+0.001000');
    expect(formatValue(0.05, 'size', mm)).toBe('0.0500');
  });

  test('rotations in each unit', () => {
    // A hundredth of a degree: 0.6 arc-minutes, 36 arc-seconds.
    const angle = (0.01 * Math.PI) / 180;
    expect(formatValue(angle, 'rotation', mm)).toBe('+0.0100');
    expect(formatValue(angle, 'rotation', micro)).toBe('+0.600');
    expect(formatValue(angle, 'rotation', inch)).toBe('+36.0');
    expect(formatValue(0.0005, 'rotation', milli)).toBe('+0.5000');
  });

  test('what rounds to zero has no sign, and zero is not "not observed"', () => {
    expect(formatValue(-0.00001, 'length', mm)).toBe('0.0000');
    expect(formatValue(0.00001, 'length', mm)).toBe('0.0000');
    expect(formatValue(-0, 'length', mm)).toBe('0.0000');
    expect(formatQuantity(0, 'upset', mm)).toBe('0.0000 mm');
    expect(formatQuantity(null, 'upset', mm)).toBe('not observed');
  });

  test('units stand where they belong', () => {
    expect(formatQuantity(0.0001, 'rotUpset', mm)).toBe('+0.0057°');
    expect(formatLimitWithUnit(0.05, 'size', inch)).toBe('0.001969 in');
    expect(unitWord('length', inch)).toBe('inches');
    expect(formatAngle(-207)).toBe('−207.00°');
    expect(formatCount(1234567)).toBe('1\u202f234\u202f567');
  });

  test('exports are plain numbers with more decimals', () => {
    expect(exportNumber(-0.0123456, 'length', mm)).toBe('-0.0123456');
    expect(exportNumber(-1e-12, 'length', mm)).toBe('0.0000000');
    expect(exportNumber(null, 'length', mm)).toBe('');
  });

  test('display units are exact to rounding', () => {
    expect(toDisplay(25.4, 'length', inch)).toBeCloseTo(1, 14);
    expect(toDisplay(Math.PI, 'rotation', mm)).toBeCloseTo(180, 12);
    expect(toDisplay(Math.PI, 'rotation', inch)).toBeCloseTo(648000, 8);
  });
});

test('there are the position, six errors of the blade frame and six of the disc frame', () => {
  expect(quantities.map((entry) => entry.group)).toEqual([
    'position',
    ...Array(6).fill('blade'),
    ...Array(6).fill('disc'),
  ]);
  expect(quantityOf('rotUpset').label).toBe('↻ Upset');
});
