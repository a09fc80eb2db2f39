import { Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import {
  type LeastSquaresProblem,
  solveLeastSquares,
  spectrumOf,
  TriangularFactor,
} from '../../shared-math/association/index.ts';
import { randomSource } from '../support/random.ts';

function factorOf(rows: number[][]): TriangularFactor {
  const factor = new TriangularFactor(rows[0]!.length);
  for (const row of rows) {
    factor.row.set(row);
    factor.push();
  }
  return factor.finish();
}

describe('triangular factor', () => {
  test('one column: its length', () => {
    expect(Math.abs(factorOf([[3], [4], [12]]).at(0, 0))).toBeCloseTo(13, 15);
  });

  test('RᵀR = AᵀA across many blocks, and rows may follow after finish', () => {
    const random = randomSource(3);
    const rows = Array.from({ length: 1000 }, () => [random.normal(), random.normal(), random.normal()]);
    const factor = factorOf(rows.slice(0, 700));
    for (const row of rows.slice(700)) {
      factor.row.set(row);
      factor.push();
    }
    const r = factor.finish().leading(3);
    const a = new Matrix(rows);
    const difference = r.transpose().mmul(r).sub(a.transpose().mmul(a));
    expect(difference.norm()).toBeLessThan(1e-10);
  });

  test('keeps a singular value that squaring would lose', () => {
    // Läuchli's matrix: AᵀA rounds to rank one for δ = 1e-9.
    const { singularValues } = spectrumOf(
      factorOf([
        [1, 1],
        [1e-9, 0],
        [0, 1e-9],
      ]).leading(2),
    );
    expect(singularValues[1]! / 1e-9).toBeCloseTo(1, 6);
  });

  test('spectrum of a rank-deficient matrix: rank, condition, pseudoinverse', () => {
    const spectrum = spectrumOf(
      factorOf([
        [2, 0],
        [0, 0],
      ]).leading(2),
    );
    expect(spectrum.rank).toBe(1);
    expect(spectrum.conditionNumber).toBe(Number.POSITIVE_INFINITY);
    expect(spectrum.cofactor).toEqual([
      [0.25, 0],
      [0, 0],
    ]);
  });
});

describe('solver', () => {
  /** Residuals a·x − b of a linear problem. */
  const linear = (a: number[][], b: number[]): LeastSquaresProblem<number[]> => ({
    parameters: a[0]!.length,
    evaluate: (x, rows) => {
      a.forEach((row, i) => {
        rows.row.set([...row, row.reduce((sum, value, j) => sum + value * x[j]!, -b[i]!)]);
        rows.push();
      });
    },
    move: (x, step) => x.map((value, j) => value + step[j]!),
  });

  test('a straight line by hand', () => {
    // y = 1, 2, 4 over x = 0, 1, 2: intercept 5/6, slope 3/2.
    const found = solveLeastSquares(
      linear(
        [
          [1, 0],
          [1, 1],
          [1, 2],
        ],
        [1, 2, 4],
      ),
      [0, 0],
    );
    expect(found.state[0]).toBeCloseTo(5 / 6, 14);
    expect(found.state[1]).toBeCloseTo(3 / 2, 14);
    expect(found.sumOfSquares).toBeCloseTo(1 / 6, 14);
    expect(found.cofactor[1]![1]).toBeCloseTo(1 / 2, 14);
  });

  test('parameters that act on nothing stay where they are, and the rank says so', () => {
    const found = solveLeastSquares(
      linear(
        [
          [1, 1, 0],
          [1, 1, 0],
          [2, 2, 0],
        ],
        [1, 1, 2],
      ),
      [0, 0, 7],
    );
    expect(found.rank).toBe(1);
    expect(found.state[0]! + found.state[1]!).toBeCloseTo(1, 14);
    expect(found.state[2]).toBe(7);
    expect(found.rightVectors[2]).toHaveLength(3);
  });

  test('the banana valley (Rosenbrock 1960), from its usual start', () => {
    const found = solveLeastSquares<number[]>(
      {
        parameters: 2,
        evaluate: ([x, y] = [], rows) => {
          rows.row.set([-20 * x!, 10, 10 * (y! - x! * x!)]);
          rows.push();
          rows.row.set([-1, 0, 1 - x!]);
          rows.push();
        },
        move: (x, step) => x.map((value, j) => value + step[j]!),
        roundingNorm: 1e-15,
      },
      [-1.2, 1],
    );
    expect(found.state[0]).toBeCloseTo(1, 13);
    expect(found.state[1]).toBeCloseTo(1, 13);
  });

  test('large residuals, where undamped steps swing about the minimum', () => {
    // min (x² − 1)² … with residuals x + 2 and 0.55·x² + x − 2: the minimum is a root of the gradient.
    const found = solveLeastSquares<number>(
      {
        parameters: 1,
        evaluate: (x, rows) => {
          rows.row.set([1, x + 2]);
          rows.push();
          rows.row.set([1.1 * x + 1, 0.55 * x * x + x - 2]);
          rows.push();
        },
        move: (x, step) => x + step[0]!,
      },
      1,
    );
    const gradient = (x: number): number => x + 2 + (1.1 * x + 1) * (0.55 * x * x + x - 2);
    expect(Math.abs(gradient(found.state))).toBeLessThan(1e-13);
  });

  test('a start without finite residuals is refused, and so is a walk without end', () => {
    const bad = linear([[Number.NaN]], [1]);
    expect(() => solveLeastSquares(bad, [0])).toThrow(expect.objectContaining({ failure: 'not-finite' }));
    const endless: LeastSquaresProblem<number> = {
      parameters: 1,
      evaluate: (x, rows) => {
        rows.row.set([-Math.exp(-x), Math.exp(-x)]);
        rows.push();
      },
      move: (x, step) => x + step[0]!,
    };
    expect(() => solveLeastSquares(endless, 0, { maximumIterations: 20 })).toThrow(
      expect.objectContaining({ failure: 'not-converged' }),
    );
  });
});
