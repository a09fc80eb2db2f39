import { describe, expect, test } from 'vitest';
import type { DecisionDefinition } from '../../shared-math/definition.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { coverageFactor } from '../../shared-math/stations/known-uncertainty.ts';
import {
  decide,
  decideByProbability,
  intervalProbability,
  ruleRisk,
} from '../../shared-math/uncertainty/decision.ts';
import { normalQuantile, studentTCdf } from '../../shared-math/uncertainty/distributions.ts';
import { positionCdf } from '../../shared-math/uncertainty/position-distribution.ts';
import { whatWouldSettle } from '../../shared-math/uncertainty/what-would-settle.ts';
import { combinedUncertainty } from '../support/uncertainty-budget.ts';

const PROBABLY: DecisionDefinition = { rule: 'guarded', probability: 0.95 };

describe('verdicts', () => {
  test('simple: modulus against limit, equality conforms', () => {
    const rule: DecisionDefinition = { rule: 'simple' };
    const measured = { limit: 0.025, probability: 0.5, expanded: 0.01 };
    expect(decide(rule, { ...measured, value: -0.025 })).toBe('conforming');
    expect(decide(rule, { ...measured, value: -0.0250001 })).toBe('nonconforming');
  });

  test('guarded by probability: proven either way or not', () => {
    const measured = { value: 0, limit: 1, expanded: 1 };
    expect(decide(PROBABLY, { ...measured, probability: 0.95 })).toBe('conforming');
    expect(decide(PROBABLY, { ...measured, probability: 0.949 })).toBe('unproven');
    expect(decide(PROBABLY, { ...measured, probability: 0.051 })).toBe('unproven');
    expect(decide(PROBABLY, { ...measured, value: 1.2, probability: 0.05 })).toBe('nonconforming');
  });

  test('guarded by factor: A = T − r·U, and T + r·U on the other side', () => {
    const rule: DecisionDefinition = { rule: 'guarded', factor: 0.5 };
    const measured = { limit: 1, probability: Number.NaN, expanded: 0.25 };
    expect(decide(rule, { ...measured, value: -0.875 })).toBe('conforming');
    expect(decide(rule, { ...measured, value: 0.876 })).toBe('unproven');
    expect(decide(rule, { ...measured, value: 1.124 })).toBe('unproven');
    expect(decide(rule, { ...measured, value: -1.125 })).toBe('nonconforming');
  });

  test('for one far limit both guarded rules agree: 95 % one-sided is U of 90 % two-sided', () => {
    const limit = 0.05;
    const u = 0.001;
    const expanded = coverageFactor(0.9, Number.POSITIVE_INFINITY) * u;
    for (const value of [0.048, 0.0483, 0.0484, 0.05, 0.0516, 0.0517]) {
      const probability = intervalProbability(-limit, limit, value, u);
      const measured = { value, limit, probability, expanded };
      expect(decide(PROBABLY, measured), `${value}`).toBe(decide({ rule: 'guarded', factor: 1 }, measured));
    }
  });

  test('a probability at which both could be proven is refused', () => {
    for (const required of [0.5, 0, 1, Number.NaN])
      expect(() => decideByProbability(0.7, required)).toThrow(ReductionError);
  });
});

describe('probability of an interval', () => {
  test('with Student t, either side and both tails', () => {
    expect(intervalProbability(-1, 1, 0.5, 0.25, 7)).toBeCloseTo(studentTCdf(2, 7) - studentTCdf(-6, 7), 15);
    const far = intervalProbability(10, 20, 0, 1);
    expect(far / 7.61985302416047e-24).toBeCloseTo(1, 10); // SciPy 1.17.1: norm.sf(10)
  });

  test('without uncertainty the value itself', () => {
    expect(intervalProbability(-1, 1, 1, 0)).toBe(1);
    expect(intervalProbability(-1, 1, 1.1, 0)).toBe(0);
  });

  test('refused', () => {
    expect(() => intervalProbability(-1, 1, 0, -1)).toThrow(ReductionError);
    expect(() => intervalProbability(-1, 1, Number.NaN, 1)).toThrow(ReductionError);
    expect(() => intervalProbability(1, -1, 0, 1)).toThrow(ReductionError);
  });
});

describe('risks in words', () => {
  test('a small risk is never told as none', () => {
    expect(ruleRisk({ rule: 'guarded', factor: 3 }, 0.95)).toContain('less than 0.01 % for errors');
  });

  test('of a rule', () => {
    expect(ruleRisk({ rule: 'simple' }, 0.95)).toContain('one half');
    expect(ruleRisk(PROBABLY, 0.95)).toContain('above 5 %');
    // U at 95 %: 1.96 u for errors, 1.645 u for position.
    const factor = ruleRisk({ rule: 'guarded', factor: 1 }, 0.95);
    expect(factor).toContain('2.5 % for errors');
    expect(factor).toContain('5 % for position');
  });
});

describe('what would settle', () => {
  const limit = 0.05;
  const linear = (value: number, shared: number, own: number) => ({
    verdictAt: (s: number, o: number) =>
      decideByProbability(intervalProbability(-limit, limit, value, Math.hypot(s * shared, o * own)), 0.95),
    standardUncertainty: Math.hypot(shared, own),
    unit: 'mm' as const,
  });

  test('one limit, by hand: u = (T − value)/1.645, and the points that bring the own part there', () => {
    const settled = whatWouldSettle(linear(0.046, 0.002, 0.003));
    const needed = 0.004 / normalQuantile(0.95);
    expect(settled.towards).toBe('conforming');
    expect(settled.standardUncertainty! / needed).toBeCloseTo(1, 2);
    const factor = 0.003 ** 2 / (needed ** 2 - 0.002 ** 2);
    expect(settled.pointsFactor! / factor).toBeCloseTo(1, 2);
    expect(settled.words).toContain('2.4 µm instead of 3.6 µm');
    expect(settled.words).toContain('4.8 times as many points');
  });

  test('the shared part alone is too much: more points cannot settle it', () => {
    const settled = whatWouldSettle(linear(0.046, 0.003, 0.003));
    expect(settled.towards).toBe('conforming');
    expect(settled.pointsFactor).toBeNull();
    expect(settled.words).toContain('cannot settle');
  });

  test('beyond the limit it would be proven not to conform', () => {
    const settled = whatWouldSettle(linear(0.052, 0.001, 0.003));
    expect(settled.towards).toBe('nonconforming');
    expect(settled.words).toMatch(/^Non-conformity/);
  });

  test('a value at its limit is not settled by any uncertainty', () => {
    expect(whatWouldSettle(linear(limit, 0.001, 0.001))).toMatchObject({
      towards: null,
      standardUncertainty: null,
      pointsFactor: null,
    });
  });

  test('position: the answer settles it, and a little more uncertainty does not', () => {
    const mean = [0.018, 0.012];
    const verdictAt = (shared: number, own: number) => {
      const variance = (shared * 0.001) ** 2 + (own * 0.003) ** 2;
      const covariance = [
        [variance, 0.3 * variance],
        [0.3 * variance, variance],
      ];
      return decideByProbability(positionCdf(limit, mean, covariance), 0.95);
    };
    expect(verdictAt(1, 1)).toBe('unproven');
    const { pointsFactor } = whatWouldSettle({ verdictAt, standardUncertainty: 0.0032, unit: 'mm' });
    const own = 1 / Math.sqrt(pointsFactor!);
    expect(verdictAt(1, own)).toBe('conforming');
    expect(verdictAt(1, own * 1.002)).toBe('unproven');
  });

  test('angles are told in arc-seconds', () => {
    const { words } = whatWouldSettle({
      verdictAt: (_, own) => (own < 0.5 ? 'conforming' : 'unproven'),
      standardUncertainty: 4.84813681109536e-5,
      unit: 'rad',
    });
    expect(words).toContain('5″ instead of 10″');
  });
});

describe('budget', () => {
  test('equal contributions share their degrees of freedom', () => {
    const equal = { standardUncertainty: 3, degreesOfFreedom: 6 };
    const { standardUncertainty, degreesOfFreedom } = combinedUncertainty([
      equal,
      { ...equal, sensitivity: -1 },
    ]);
    expect(standardUncertainty).toBeCloseTo(3 * Math.SQRT2, 14);
    expect(degreesOfFreedom).toBeCloseTo(12, 12);
  });

  test('known uncertainties, none at all, and contributions of zero', () => {
    expect(combinedUncertainty([{ standardUncertainty: 3 }, { standardUncertainty: 4 }])).toEqual({
      standardUncertainty: 5,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      contributions: [3, 4],
    });
    expect(combinedUncertainty([]).standardUncertainty).toBe(0);
    const zero = { standardUncertainty: 0, degreesOfFreedom: 2 };
    expect(combinedUncertainty([zero]).degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
    // A micrometre and a nanoradian, squared twice, are far from where numbers end.
    for (const size of [1e-6, 1e-9]) {
      const small = combinedUncertainty([{ standardUncertainty: size, degreesOfFreedom: 4 }]);
      expect(small.degreesOfFreedom).toBeCloseTo(4, 12);
    }
  });
});

describe('verdicts at the edges', () => {
  const far = { limit: 50, probability: 0.004, expanded: 386 };
  // Symptom: blades well inside their zone were rejected as proven bad by a hopeless measurement; 2026-11-25.
  test('a value inside its limit is never proven nonconforming', () => {
    const rule = { rule: 'guarded', probability: 0.95 } as const;
    expect(decide(rule, { ...far, value: 16 })).toBe('unproven');
    expect(decide(rule, { ...far, value: 60 })).toBe('nonconforming');
  });

  test('a guard band is never negative', () => {
    const measured = { value: 65, limit: 50, probability: 0.001, expanded: -6 };
    expect(decide({ rule: 'guarded', factor: 4 }, measured)).toBe('nonconforming');
  });

  // Symptom: probabilities below 0 at effective degrees of freedom of 1e20; cause: incomplete beta function; 2026-11-25.
  test.each([1e12, 1e16, 1e20, 1e30])('a probability stays one at %d degrees of freedom', (nu) => {
    expect(intervalProbability(-0.025, 0.025, 0.0286, 5, nu)).toBeCloseTo(
      intervalProbability(-0.025, 0.025, 0.0286, 5),
      12,
    );
  });
});
