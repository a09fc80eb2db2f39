import { describe, expect, test } from 'vitest';
import {
  exportNumber,
  formatAngle,
  formatChosenProbability,
  formatCoordinate,
  formatCount,
  formatLimitWithUnit,
  formatProbability,
  formatQuantity,
  formatValue,
  formatWritten,
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
    expect(formatCount(1234567)).toBe('1\u202f234\u202f567');
  });

  test('angles stay within one turn, after rounding as well', () => {
    expect(formatAngle(-207)).toBe('153.00°');
    expect(formatAngle(725.5)).toBe('5.50°');
    expect(formatAngle(359.999)).toBe('0.00°');
    expect(formatAngle(-1e-13)).toBe('0.00°');
  });

  test('values carry their uncertainty, both-sided or as an upper bound', () => {
    expect(formatQuantity(0.0951, 'lateral', mm, 0.0036)).toBe('+0.0951 ± 0.0036 mm');
    expect(formatQuantity(0.2022, 'position', mm, 0.0104)).toBe('0.2022 + 0.0104 mm');
    expect(formatQuantity(0.0001, 'rotUpset', inch, 0.00001)).toBe('+20.6 ± 2.1″');
    expect(formatQuantity(null, 'lateral', mm, 0.0036)).toBe('not observed');
  });

  test('a probability is never shown as certain', () => {
    expect(formatProbability(0.0559)).toBe('5.6');
    expect(formatProbability(1 - 1e-9)).toBe('>99.9');
    expect(formatProbability(0.9994)).toBe('99.9');
    expect(formatProbability(1e-9)).toBe('<0.1');
    expect(formatChosenProbability(0.9973)).toBe('99.73 %');
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

test('there are two levels of position, six errors of the blade frame and six of the disc frame', () => {
  expect(quantities.map((entry) => entry.group)).toEqual([
    ...Array(2).fill('position'),
    ...Array(6).fill('blade'),
    ...Array(6).fill('disc'),
  ]);
  expect(quantityOf('rotUpset').label).toBe('↻ Upset');
});

test('a number of the plan and a coordinate are written with a true minus, and zero without a sign', () => {
  expect(formatWritten(-22, 4)).toBe('−22');
  expect(formatWritten(5.5, 3)).toBe('5.5');
  expect(formatWritten(-0.00001, 3)).toBe('0');
  expect(formatCoordinate(-109.9839, 3)).toBe('−109.984');
  expect(formatCoordinate(-0.0001, 3)).toBe('0.000');
});
