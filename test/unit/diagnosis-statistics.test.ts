/** Regression, analysis of variance and the comparison of tools: refusals, edges, and what the sequence view shows of them. */
import { describe, expect, it } from 'vitest';
import type { SequenceFinding, Vec6 } from '../../shared-math/diagnosis/findings.ts';
import { fittedMean, linearRegression } from '../../shared-math/diagnosis/regression.ts';
import { toolToTool } from '../../shared-math/diagnosis/tool-to-tool.ts';
import { oneWayAnalysis } from '../../shared-math/diagnosis/variance-analysis.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { randomSource } from '../support/random.ts';

describe('regression', () => {
  it('does not depend on the units of its columns', () => {
    const random = randomSource(3);
    const rows = Array.from({ length: 20 }, () => [1, random.normal(), random.normal()]);
    const y = rows.map(([a, b, c]) => 2 * a! - b! + 0.5 * c! + 0.1 * random.normal());
    const fit = linearRegression(rows, y);
    const units = [1, 1e-9, 1e7];
    const scaled = linearRegression(
      rows.map((row) => row.map((x, j) => x * units[j]!)),
      y,
    );
    scaled.coefficients.forEach((b, j) => {
      expect(b * units[j]!).toBeCloseTo(fit.coefficients[j]!, 12);
    });
    const at = fittedMean(fit, [1, 0.3, -2], 0.9);
    const same = fittedMean(scaled, [1, 0.3e-9, -2e7], 0.9);
    expect(same.value).toBeCloseTo(at.value, 12);
    expect(same.high - same.low).toBeCloseTo(at.high - at.low, 12);
  });

  it('covers the true mean as often as stated', () => {
    const random = randomSource(11);
    const x = [0, 1, 2, 3, 4, 5];
    let covered = 0;
    const trials = 4000;
    for (let i = 0; i < trials; i++) {
      const fit = linearRegression(
        x.map((v) => [1, v]),
        x.map((v) => 3 - 2 * v + random.normal()),
      );
      const { low, high } = fittedMean(fit, [1, 7], 0.8);
      if (low <= -11 && high >= -11) covered++;
    }
    // Four standard deviations of a share of 0.8 in 4000 trials.
    expect(Math.abs(covered / trials - 0.8)).toBeLessThan(4 * Math.sqrt(0.16 / trials));
  });

  it('refuses terms that depend on each other, and too few values', () => {
    const rows = [1, 2, 3, 4].map((x) => [1, x, 2 * x - 1]);
    expect(() => linearRegression(rows, [1, 2, 3, 4])).toThrow('depend on each other');
    expect(() =>
      linearRegression(
        [
          [1, 2],
          [1, 3],
        ],
        [1, 2],
      ),
    ).toThrow(ReductionError);
  });
});

describe('analysis of variance', () => {
  it('refuses one group, and groups of one value each', () => {
    expect(() => oneWayAnalysis([[1, 2, 3], []])).toThrow('two groups');
    expect(() => oneWayAnalysis([[1], [2], [3]])).toThrow(ReductionError);
    expect(() => oneWayAnalysis([[1, 2], [3]], 1)).toThrow(ReductionError);
  });

  it('has no statistic where nothing varies, and no end where only groups differ', () => {
    expect(
      oneWayAnalysis([
        [5, 5],
        [5, 5],
      ]),
    ).toMatchObject({ statistic: 0, probability: 1, share: 0 });
    expect(
      oneWayAnalysis([
        [5, 5],
        [6, 6],
      ]),
    ).toMatchObject({ statistic: Infinity, probability: 0, share: 1 });
  });

  it('finds the standard deviation between unequal groups without bias', () => {
    const random = randomSource(5);
    const sizes = [2, 9, 4, 13, 6];
    let sum = 0;
    const trials = 3000;
    for (let i = 0; i < trials; i++) {
      const groups = sizes.map((n) => {
        const level = 2 * random.normal();
        return Array.from({ length: n }, () => level + random.normal());
      });
      const { between, within } = oneWayAnalysis(groups);
      // n₀ = (34 − Σn²/34)/4 = 6.25; the variance itself is unbiased where it may be negative.
      sum += (between.meanSquare - within.meanSquare) / 6.25;
    }
    expect(sum / trials).toBeGreaterThan(3.8);
    expect(sum / trials).toBeLessThan(4.2);
    const wide = oneWayAnalysis([
      [0, 1],
      [10, 11, 12, 13, 14, 15, 16, 17, 18],
      [3, 4, 5, 6],
    ]);
    // n₀ = (15 − 101/15)/2.
    const { between, within, betweenDeviation } = wide;
    expect(betweenDeviation ** 2).toBeCloseTo((between.meanSquare - within.meanSquare) / (62 / 15), 10);
  });
});

describe('tools', () => {
  type Weld = SequenceFinding['welds'][number];

  /** Welds in turn with tools A and B: B's lateral error is `step` higher, and each age adds `wear`. */
  function welds(step: number, wear: number, noise: number, seed = 1): Weld[] {
    const random = randomSource(seed);
    return Array.from({ length: 20 }, (_, k): Weld => {
      const tool = k < 11 ? 'A' : 'B';
      const age = k < 11 ? k : k - 11;
      const error: Vec6 = [0, 0, 0, 0, 0, 0].map(() => noise * random.normal()) as unknown as Vec6;
      const lateral = error[1] + (tool === 'B' ? step : 0) + wear * age;
      return {
        station: k + 1,
        sequence: k + 1,
        tool,
        age,
        error: k === 4 ? null : [error[0], lateral, error[2], error[3], error[4], error[5]],
      };
    });
  }

  it('that differ show in the error that differs, wear taken out with its interval', () => {
    const found = toolToTool(welds(0.01, 0.001, 0.001), 0.95);
    expect(found).toHaveLength(6);
    const lateral = found.find(({ error }) => error === 'lateral')!;
    expect([lateral.numerator, lateral.denominator]).toEqual([1, 16]);
    expect(lateral.probability).toBeLessThan(1e-6);
    expect(lateral.between).toBeGreaterThan(0.005);
    expect(lateral.within).toBeLessThan(0.002);
    expect(lateral.wear!.low).toBeLessThan(0.001);
    expect(lateral.wear!.high).toBeGreaterThan(0.001);
    expect(lateral.wear!.low).toBeGreaterThan(0);
  });

  it('that are alike are told apart about as rarely as stated', () => {
    let claimed = 0;
    const trials = 400;
    for (let seed = 1; seed <= trials; seed++) {
      const found = toolToTool(welds(0, 0.002, 0.001, seed), 0.95);
      claimed += found.filter(({ probability }) => probability < 0.05).length;
    }
    // The wear counts as known, which costs a little; 0.05 would be exact without it.
    expect(claimed / (6 * trials)).toBeGreaterThan(0.03);
    expect(claimed / (6 * trials)).toBeLessThan(0.075);
  });

  it('are not compared where there is one, or too few welds', () => {
    const all = welds(0.01, 0, 0.001);
    expect(
      toolToTool(
        all.filter(({ tool }) => tool === 'A'),
        0.95,
      ),
    ).toEqual([]);
    expect(toolToTool([all[10]!, all[11]!, all[12]!], 0.95)).toEqual([]);
  });

  it('without any ageing are compared without a wear', () => {
    const young = welds(0.01, 0, 0.001).map((weld) => ({ ...weld, age: 0 }));
    const found = toolToTool(young, 0.95);
    expect(found.map(({ wear }) => wear)).toEqual([null, null, null, null, null, null]);
    expect(found[1]!.denominator).toBe(17);
  });
});
