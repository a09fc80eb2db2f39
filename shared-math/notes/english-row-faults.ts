/** What is wrong with a row of a point file, in English. */
import type { DecimalSign, Phrasebook } from './notes.ts';

const example = (decimal: DecimalSign): string => (decimal === '.' ? '12.345' : '12,345');
const signName = (decimal: DecimalSign): string => (decimal === ',' ? 'comma' : 'point');
const otherSign = (decimal: DecimalSign): DecimalSign => (decimal === '.' ? ',' : '.');

const WANTED = {
  normal: 'a surface normal, as the other points of this feature have',
  'no-normal': 'no surface normal, as the other points of this feature have none',
  value: 'a value, as the other points of this feature have',
  'empty-cell': 'an empty cell, as the other points of this feature have',
} as const;

export const englishRowFaults: Phrasebook['rowFaults'] = {
  'empty-cell': ({ decimal }) => ({
    says: 'the cell is empty',
    expected: `a number such as ${example(decimal)}`,
    remedy: 'fill it or take the row out',
  }),
  'no-finite-number': ({ decimal }) => ({
    says: 'this is no finite number',
    expected: `a finite number such as ${example(decimal)}`,
    remedy: 'measure the point again or take the row out',
  }),
  'number-too-large': ({ decimal }) => ({
    says: 'this number is too large',
    expected: `a finite number such as ${example(decimal)}`,
    remedy: 'correct the cell',
  }),
  'other-decimal-sign': ({ decimal, fromPlan }) => ({
    says: `decimal ${signName(otherSign(decimal))} found where ${fromPlan ? 'the plan says' : 'the rest of the file has'} ${signName(decimal)}`,
    expected: `a number such as ${example(decimal)}`,
    remedy: fromPlan
      ? `write the number with the other sign, or set import.decimal to "${otherSign(decimal)}"`
      : 'write all numbers with the same sign',
  }),
  'grouped-number': ({ decimal }) => ({
    says: 'the number is grouped or has more than one decimal sign',
    expected: `a number such as ${example(decimal)}, without grouping`,
    remedy: 'export without thousands separators',
  }),
  'dash-for-minus': ({ decimal }) => ({
    says: 'the minus sign is a dash',
    expected: `a number such as -${example(decimal)}`,
    remedy: 'use the ordinary minus sign',
  }),
  'no-number': ({ decimal }) => ({
    says: 'this is not a number',
    expected: `a number such as ${example(decimal)}`,
    remedy: 'correct the cell or take the row out',
  }),
  'no-unit-normal': ({ length }, { brief }) => ({
    says: 'i, j, k are not a unit normal',
    found: `length ${brief(length)}`,
    expected: 'length 1 within 1 %',
    remedy: 'export unit normals, or leave i, j, k out',
  }),
  'points-differ': ({ wanted }) => ({
    says: 'the points of one feature differ in what they state',
    expected: WANTED[wanted],
    remedy: 'fill the cell for all points of the feature or for none',
  }),
  'temperature-range': ({ coldest, hottest }) => ({
    says: 'no part is measured at this temperature',
    expected: `a part temperature from ${coldest} to ${hottest} °C`,
    remedy: 'correct the cell, or leave the column out and state temperature.part in the plan',
  }),
  'negative-radius': () => ({
    says: 'a probe tip has no negative radius',
    expected: 'a number not below 0',
    remedy: 'correct the cell, or leave the column out',
  }),
  'sigma-not-positive': () => ({
    says: 'a standard uncertainty is positive',
    expected: 'a number above 0',
    remedy: 'correct the cell, or leave the column out',
  }),
  'row-too-short': ({ cells, of }) => ({
    says: `the row ends after ${cells} ${cells === 1 ? 'cell' : 'cells'}`,
    expected: `${of} cells`,
    remedy: 'complete the row or take it out',
  }),
  'row-too-long': ({ cells, of }) => ({
    says: `the row has ${cells} cells`,
    expected: `${of} cells`,
    remedy: 'look for a decimal comma or a text with the delimiter in it, and put quotes around such a text',
  }),
};
