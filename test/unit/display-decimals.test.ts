/** Decimals that keep what is printed in agreement with the verdict: on paper, on the terminal and in the window alike. */
import { describe, expect, it } from 'vitest';
import {
  decimalsAgainst,
  decimalsOfChange,
  decimalsOfLimit,
  neededProbability,
  printedProbability,
} from '../../shared-math/display/decimals.ts';
import { lengthScales, type Scale } from '../../shared-math/display/lengths.ts';
import { judgedInUnit, lengthUnits, limitInUnit } from '../../src-main/hosts/terminal/display-units.ts';
import { numberFormat } from '../../src-main/report/format/numbers.ts';
import {
  formatJudged,
  formatLimit,
  formatProbability,
  type Units,
} from '../../src-renderer/format/format.ts';

const { mm, inch } = lengthScales;
const shown = (value: number, { factor }: Scale, decimals: number): string =>
  (value * factor).toFixed(decimals);

describe('a value beside its limit', () => {
  it('exceeds what is printed of the limit if and only if it exceeds the limit', () => {
    for (const limit of [0.05, 0.0501, 0.055_15, 0.1 / 3, 0.025])
      for (const scale of Object.values(lengthScales))
        for (const off of [-3e-4, -2.4e-7, -1e-11, 0, 1e-11, 2.4e-7, 4.6e-6, 3e-4])
          for (const sign of [1, -1]) {
            const value = sign * (limit + off);
            const limitText = shown(limit, scale, decimalsOfLimit(limit, [value], scale));
            const text = shown(Math.abs(value), scale, decimalsAgainst(value, limit, scale));
            expect([text, limitText, Number(text) > Number(limitText)]).toEqual([text, limitText, off > 0]);
          }
  });

  it('has no more decimals than that needs', () => {
    expect(decimalsAgainst(0.0512, 0.05, mm)).toBe(4);
    expect(decimalsAgainst(0.050_03, 0.05, mm)).toBe(5);
    expect(decimalsAgainst(0.049_999, 0.05, mm)).toBe(4);
    expect(decimalsAgainst(0.050_03, null, mm)).toBe(4);
  });
});

describe('a limit', () => {
  it('that no few decimals hold gets further ones only where a value lies between it and what is printed', () => {
    // 0.05 mm are 0.0019685039… inches; 0.050 010 mm are 0.0019688976…
    expect(decimalsOfLimit(0.05, [0.04, 0.06], inch)).toBe(6);
    expect(shown(0.05, inch, decimalsOfLimit(0.05, [0.04, 0.050_01], inch))).toBe('0.0019685');
  });

  it('is printed once for all values that are held against it', () => {
    const held = [0.04, 0.050_01].map((value) => ({ name: 'position' as const, value, limit: 0.05 }));
    const f = numberFormat('.', 'inch', null, held);
    expect(f.limit('position', 0.05)).toBe('0.0019685');
    expect(f.against('position', 0.050_01, 0.05)).toBe('0.001969');
    expect(f.against('position', 0.04, 0.05)).toBe('0.001575');
  });
});

it('report, terminal and window print a value that just exceeds its limit alike', () => {
  const units: Units = { length: 'mm', rotation: 'degree' };
  const texts = [
    numberFormat('.', 'mm').against('position', 0.050_03, 0.05),
    judgedInUnit(0.050_03, 0.05, lengthUnits.mm),
    formatJudged(0.050_03, 'size', units, 0.05),
  ];
  expect(texts).toEqual(['0.05003', '0.05003', '0.05003']);
  const limits = [
    numberFormat('.', 'mm').limit('position', 0.012_75),
    limitInUnit(0.012_75, [], lengthUnits.mm),
    formatLimit(0.012_75, 'size', units),
  ];
  expect(limits).toEqual(['0.01275', '0.01275', '0.01275']);
});

describe('a change', () => {
  it('is printed as nothing if and only if its two values are printed alike', () => {
    for (const before of [0.041_84, 0.041_75, 0.0418, 0.1 / 3])
      for (const scale of Object.values(lengthScales))
        for (const by of [-3e-4, -4.9e-5, -1e-11, 0, 1e-11, 2e-5, 4.9e-5, 3e-4]) {
          const after = before + by;
          const decimals = decimalsOfChange(before, after, scale, scale.decimals);
          expect(decimals).toBeGreaterThanOrEqual(scale.decimals);
          const alike = shown(before, scale, decimals) === shown(after, scale, decimals);
          expect(Number(shown(after - before, scale, decimals)) === 0).toBe(alike);
        }
  });

  it('takes further decimals only where the usual ones contradict each other', () => {
    expect(decimalsOfChange(0.041_84, 0.041_86, mm, 4)).toBe(5);
    expect(decimalsOfChange(0.041_76, 0.041_84, mm, 4)).toBe(5);
    expect(decimalsOfChange(0.041_81, 0.041_83, mm, 4)).toBe(4);
    expect(decimalsOfChange(0.041_84, 0.042_26, mm, 4)).toBe(4);
  });
});

describe('a probability', () => {
  it('does not seem to reach what the rule asks for where it falls short of it', () => {
    const needed = neededProbability({ rule: 'guarded', probability: 0.95 });
    expect(printedProbability(0.9497, needed)).toMatchObject({ bound: null, decimals: 2 });
    expect(formatProbability(0.9497, needed)).toBe('94.97');
    expect(formatProbability(0.9503, needed)).toBe('95.0');
    expect(formatProbability(0.9497)).toBe('95.0');
    expect(neededProbability({ rule: 'simple', probability: 0.95 })).toBeNull();
  });

  it('is a bound where its usual decimal would show certainty', () => {
    expect(printedProbability(0.9994, null).bound).toBeNull();
    expect(formatProbability(0.9995)).toBe('>99.9');
    expect(formatProbability(0.0004)).toBe('<0.1');
    expect(formatProbability(0.9996, 0.9997)).toBe('99.96');
    expect(formatProbability(0.9998, 0.9997)).toBe('>99.97');
  });
});
