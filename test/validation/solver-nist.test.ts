/**
 * The shared solver against certified sets of the NIST Statistical Reference Datasets (nonlinear regression), from both
 * of their starts. Matching digits (log relative error) of the worst parameter; the certificates have 11.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type LeastSquaresProblem, solveLeastSquares } from '../../shared-math/association/index.ts';

interface NistSet {
  readonly name: string;
  readonly x: number[];
  readonly y: number[];
  readonly starts: number[][];
  readonly certified: number[];
  readonly certifiedDeviations: number[];
  readonly residualSumOfSquares: number;
}

const file = new URL('data/nist-nonlinear.json', import.meta.url);
const { sets } = JSON.parse(readFileSync(file, 'utf8')) as { sets: NistSet[] };

/** Value and derivatives of each model at x. */
const models: Record<string, (b: number[], x: number) => { value: number; gradient: number[] }> = {
  Misra1a: saturation,
  BoxBOD: saturation,
  MGH09: ([b1, b2, b3, b4] = [], x) => {
    const top = x * x + x * b2!;
    const bottom = x * x + x * b3! + b4!;
    const share = (b1! * top) / bottom;
    return {
      value: share,
      gradient: [top / bottom, (b1! * x) / bottom, (-share * x) / bottom, -share / bottom],
    };
  },
  Rat43: ([b1, b2, b3, b4] = [], x) => {
    const e = Math.exp(b2! - b3! * x);
    const power = (1 + e) ** (-1 / b4!);
    const slope = (-b1! * power * e) / (b4! * (1 + e));
    return {
      value: b1! * power,
      gradient: [power, slope, -x * slope, (b1! * power * Math.log(1 + e)) / (b4! * b4!)],
    };
  },
  Thurber: ([b1, b2, b3, b4, b5, b6, b7] = [], x) => {
    const bottom = 1 + b5! * x + b6! * x ** 2 + b7! * x ** 3;
    const value = (b1! + b2! * x + b3! * x ** 2 + b4! * x ** 3) / bottom;
    const [one, two, three] = [x / bottom, x ** 2 / bottom, x ** 3 / bottom];
    return { value, gradient: [1 / bottom, one, two, three, -value * one, -value * two, -value * three] };
  },
};

function saturation([b1, b2]: number[], x: number): { value: number; gradient: number[] } {
  const e = Math.exp(-b2! * x);
  return { value: b1! * (1 - e), gradient: [1 - e, b1! * x * e] };
}

function problemOf(set: NistSet): LeastSquaresProblem<number[]> {
  const model = models[set.name]!;
  return {
    parameters: set.certified.length,
    evaluate: (b, rows) => {
      set.x.forEach((x, i) => {
        const { value, gradient } = model(b, x);
        rows.row.set([...gradient, value - set.y[i]!]);
        rows.push();
      });
    },
    move: (b, step) => b.map((value, j) => value + step[j]!),
    parameterSizes: (b) => b.map(Math.abs),
  };
}

function matchingDigits(actual: number, certified: number): number {
  return actual === certified ? 11 : Math.min(11, -Math.log10(Math.abs(actual / certified - 1)));
}

describe.each(sets.map((set) => [set.name, set] as const))('NIST %s', (_, set) => {
  test.each([0, 1])('from start %i + 1', (start) => {
    // The first starts are far off on purpose: begin with short steps.
    const found = solveLeastSquares(problemOf(set), set.starts[start]!, {
      damping: 100,
      maximumIterations: 1000,
    });
    const digits = set.certified.map((value, j) => matchingDigits(found.state[j]!, value));
    expect(Math.min(...digits)).toBeGreaterThan(9);
    expect(matchingDigits(found.sumOfSquares, set.residualSumOfSquares)).toBeGreaterThan(9);

    // The certified standard deviations check the cofactor.
    const variance = found.sumOfSquares / (set.x.length - set.certified.length);
    for (const [j, deviation] of set.certifiedDeviations.entries()) {
      expect(matchingDigits(Math.sqrt(variance * found.cofactor[j]![j]!), deviation)).toBeGreaterThan(7);
    }
  });
});
