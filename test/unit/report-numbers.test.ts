/** Numbers beside their limits: a requirement is not rounded, and no rounding contradicts a verdict. */
import { describe, expect, it } from 'vitest';
import { numberFormat } from '../../src-main/report/format/numbers.ts';

const f = numberFormat('.', 'µm');
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, ' ');

describe('a limit', () => {
  it('keeps the decimals that it has, and at least the usual ones', () => {
    expect(f.limit('position', 0.05)).toBe('50.0');
    expect(f.limit('position', 0.05515)).toBe('55.15');
    expect(plain(numberFormat('.', 'mm').limitWith('lateral', 0.01275))).toBe('0.01275 mm');
    expect(numberFormat(',', 'inch').limit('position', 0.00254)).toBe('0,000100');
  });

  it('is rounded where no number of decimals would do', () => {
    expect(f.limit('rotUpset', 0.0005)).toBe('103.1');
    expect(numberFormat('.', 'inch').limit('position', 0.05)).toBe('0.001969');
  });
});

describe('a value beside its limit', () => {
  it('has the usual decimals where they say on which side it lies', () => {
    expect(f.against('lateral', -0.0264, 0.025)).toBe('\u221226.4');
    expect(f.against('lateral', 0.02499, 0.025)).toBe('25.0');
    expect(f.against('lateral', 0.0264, null)).toBe('26.4');
  });

  it('has further ones where rounding would put it within a limit that it exceeds, or beyond one that it keeps', () => {
    expect(f.against('lateral', 0.02503, 0.025)).toBe('25.03');
    expect(f.against('lateral', -0.025_004, 0.025)).toBe('\u221225.004');
    expect(f.against('position', 0.055_149, 0.055_14)).toBe('55.15');
    expect(f.against('position', 0.050_06, 0.050_07)).toBe('50.06');
  });
});

describe('a probability', () => {
  it('does not seem to reach what the rule asks for where it falls short of it', () => {
    const guarded = numberFormat('.', 'µm', 0.95);
    expect(plain(guarded.probability(0.9497))).toBe('94.97 %');
    expect(plain(guarded.probability(0.95))).toBe('95.0 %');
    expect(plain(guarded.probability(0.9503))).toBe('95.0 %');
    expect(plain(guarded.probability(0.0503))).toBe('5.03 %');
    expect(plain(guarded.probability(0.0497))).toBe('5.0 %');
    expect(plain(f.probability(0.9497))).toBe('95.0 %');
  });

  it('is written as a bound only beyond what the rule asks for', () => {
    const strict = numberFormat('.', 'µm', 0.9995);
    expect(plain(strict.probability(0.9992))).toBe('99.9 %');
    expect(plain(strict.probability(0.9997))).toBe('> 99.95 %');
    expect(plain(strict.probability(0.0001))).toBe('< 0.05 %');
    expect(plain(f.probability(0.9997))).toBe('> 99.9 %');
  });
});
