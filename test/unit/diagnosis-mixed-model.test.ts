/** The mixed model against dense matrices: likelihood, information, least squares and adjusted covariance by their formulas. */
import { determinant, inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { contrast } from '../../shared-math/diagnosis/contrast.ts';
import { adjustForFalseDiscoveries, jointTest, simes } from '../../shared-math/diagnosis/inference.ts';
import type { ModelStation } from '../../shared-math/diagnosis/mixed-evaluation.ts';
import { fitMixedModel } from '../../shared-math/diagnosis/mixed-model.ts';
import { noncentralFSurvival } from '../support/diagnosis-power.ts';
import { randomSource } from '../support/random.ts';

const random = randomSource(17);

/** Stations with a constant, a slope and one column that is different at each station. */
function stationsOf(count: number, indexDeviation = 3): ModelStation[] {
  return Array.from({ length: count }, (_, k) => {
    const root = Matrix.rand(6, 6, { random: random.uniform });
    const own = root.mmul(root.transpose()).mul(0.2);
    const index = [0.1, 2.1, -0.6, 0.2, 0.1, 1].map((x) => x * (1 + 0.05 * random.normal()));
    const design = [0, 1, 2, 3, 4, 5].map((i) => [
      ...[0, 1, 2, 3, 4, 5].map((j) => (i === j ? 1 : 0)),
      ...[0, 1, 2, 3, 4, 5].map((j) => (i === j ? k - count / 2 : 0)),
      Math.cos(k + i),
    ]);
    const turn = indexDeviation * random.normal();
    const error = [0, 1, 2, 3, 4, 5].map(
      (i) => (1 + 0.4 * i) * random.normal() + turn * index[i]! + 0.4 * random.normal(),
    );
    return { error, own: own.to2DArray(), index, design };
  });
}

/** Everything as one dense system. */
function dense(stations: readonly ModelStation[], theta: readonly number[]) {
  const n = 6 * stations.length;
  const x = new Matrix(stations.flatMap((s) => s.design.map((row) => [...row])));
  const y = Matrix.columnVector(stations.flatMap((s) => [...s.error]));
  const parts = Array.from({ length: 7 }, () => Matrix.zeros(n, n));
  const v = Matrix.zeros(n, n);
  stations.forEach(({ own, index }, k) => {
    for (let i = 0; i < 6; i++) {
      parts[i]!.set(6 * k + i, 6 * k + i, 1);
      for (let j = 0; j < 6; j++) {
        v.set(6 * k + i, 6 * k + j, own[i]![j]!);
        parts[6]!.set(6 * k + i, 6 * k + j, index[i]! * index[j]!);
      }
    }
  });
  parts.forEach((g, i) => {
    v.add(Matrix.mul(g, theta[i]!));
  });
  const w = inverse(v);
  const normal = x.transpose().mmul(w).mmul(x);
  const h = inverse(normal);
  const p = Matrix.sub(w, w.mmul(x).mmul(h).mmul(x.transpose()).mmul(w));
  const quadratic = y.transpose().mmul(p).mmul(y).get(0, 0);
  return {
    x,
    w,
    h,
    p,
    parts,
    beta: h.mmul(x.transpose()).mmul(w).mmul(y).to1DArray(),
    logLikelihood: -0.5 * (logDeterminant(v) + logDeterminant(normal) + quadratic),
    score: () =>
      parts.map((g) => {
        const pg = p.mmul(g);
        return -0.5 * (pg.trace() - y.transpose().mmul(pg).mmul(p).mmul(y).get(0, 0));
      }),
    information: () => parts.map((g) => parts.map((f) => 0.5 * p.mmul(g).mmul(p).mmul(f).trace())),
  };
}

function logDeterminant(m: Matrix): number {
  // In blocks of a size whose determinant does not overflow.
  const scale = Math.exp(m.diagonal().reduce((sum, d) => sum + Math.log(d), 0) / m.rows);
  return Math.log(determinant(Matrix.mul(m, 1 / scale))) + m.rows * Math.log(scale);
}

describe('the fit', () => {
  const stations = stationsOf(13);
  const fit = fitMixedModel(stations)!;
  const found = dense(stations, fit.components);
  const information = found.information();

  it('is a maximum of the restricted likelihood', () => {
    const score = found.score();
    fit.components.forEach((theta, i) => {
      // No slope where a component is free, none upwards where it is held at zero.
      const size = Math.sqrt(information[i]![i]!);
      if (theta > 1e-6) expect(Math.abs(score[i]! / size)).toBeLessThan(5e-3);
      else expect(score[i]!).toBeLessThan(1e-6);
    });
    for (let trial = 0; trial < 10; trial++) {
      const other = fit.components.map((t) => Math.max(1e-8, t * Math.exp(0.4 * random.normal())));
      expect(dense(stations, other).logLikelihood).toBeLessThan(found.logLikelihood + 1e-9);
    }
  });

  it('leaves the index’s variance out where the data do not show it, and is a maximum without it', () => {
    const still = stationsOf(13, 0);
    const plain = fitMixedModel(still)!;
    expect(plain.components[6]).toBeLessThan(1e-6);
    expect(plain.componentCovariance[6]!.every((c) => c === 0)).toBe(true);
    const at = dense(still, plain.components);
    const score = at.score();
    const information = at.information();
    for (let i = 0; i < 6; i++)
      if (plain.components[i]! > 1e-6)
        expect(Math.abs(score[i]! / Math.sqrt(information[i]![i]!))).toBeLessThan(5e-3);
    for (const t of [0.003, 0.03, 0.3]) {
      const more = [...plain.components.slice(0, 6), t];
      expect(2 * (dense(still, more).logLikelihood - at.logLikelihood)).toBeLessThan(2.706);
    }
    expect(fit.components[6]).toBeGreaterThan(1);
  });

  it('is generalised least squares at its components', () => {
    fit.beta.forEach((b, i) => {
      expect(b).toBeCloseTo(found.beta[i]!, 9);
    });
    fit.covariance.forEach((row, i) => {
      row.forEach((c, j) => {
        expect(c).toBeCloseTo(found.h.get(i, j), 10);
      });
    });
  });

  it('has the expected information as the inverse covariance of its components', () => {
    const expected = inverse(new Matrix(information));
    fit.componentCovariance.forEach((row, i) => {
      row.forEach((c, j) => {
        expect(c / Math.sqrt(expected.get(i, i) * expected.get(j, j))).toBeCloseTo(
          expected.get(i, j) / Math.sqrt(expected.get(i, i) * expected.get(j, j)),
          5,
        );
      });
    });
  });

  it('gives the derivatives of the covariance by the components', () => {
    const l = fit.beta.map(() => random.normal());
    const variance = (theta: readonly number[]): number => {
      const { h } = dense(stations, theta);
      const row = Matrix.rowVector(l);
      return row.mmul(h).mmul(row.transpose()).get(0, 0);
    };
    const y = fit.covariance.map((row) => row.reduce((sum, c, j) => sum + c * l[j]!, 0));
    fit.sensitivities.forEach((b, i) => {
      const step = 1e-4;
      const up = fit.components.map((t, j) => t + (i === j ? step : 0));
      const down = fit.components.map((t, j) => t + (i === j ? -step : 0));
      const analytic = y.reduce((sum, u, r) => sum + u * b[r]!.reduce((s, x, c) => s + x * y[c]!, 0), 0);
      expect(analytic).toBeCloseTo((variance(up) - variance(down)) / (2 * step), 5);
    });
  });

  it('adjusts the covariance upwards, more with fewer stations', () => {
    const ratio = (count: number): number => {
      const { adjusted, covariance } = fitMixedModel(stationsOf(count))!;
      return adjusted.at(-1)!.at(-1)! / covariance.at(-1)!.at(-1)!;
    };
    const mean = (count: number): number =>
      Array.from({ length: 12 }, () => ratio(count)).reduce((a, b) => a + b, 0) / 12;
    const few = mean(7);
    const many = mean(40);
    expect(few).toBeGreaterThan(many);
    expect(many).toBeGreaterThan(1);
    expect(many).toBeLessThan(1.2);
  });

  it('gives a value of one error about as many degrees of freedom as ordinary regression', () => {
    const many = stationsOf(30).map((s) => ({ ...s, own: s.own.map((row) => row.map((x) => 1e-3 * x)) }));
    const m = fitMixedModel(many)!;
    const zero = m.covariance.map((row) => row.map(() => 0));
    // Slope of the first error, which the index hardly bears on: 30 stations less constant and slope.
    const nu = contrast(
      m,
      zero,
      m.beta.map((_, i) => (i === 6 ? 1 : 0)),
    ).degreesOfFreedom;
    expect(nu).toBeGreaterThan(24);
    expect(nu).toBeLessThan(32);
  });
});

describe('tests', () => {
  it('the joint test is Hotelling’s for known covariance, and the F test for one with its degrees of freedom', () => {
    const known = jointTest(
      [2, 1],
      [
        [2, 0.5],
        [0.5, 1],
      ],
      () => Number.POSITIVE_INFINITY,
    );
    // zᵀ·C⁻¹·z/2 with C⁻¹ = [1, −0.5; −0.5, 2]/1.75.
    expect(known.statistic).toBeCloseTo((4 - 2 + 2) / 1.75 / 2, 12);
    // χ² of two degrees of freedom: exp(−x/2).
    expect(known.probability).toBeCloseTo(Math.exp(-known.statistic), 5);
    const one = jointTest([3], [[2]], () => 9);
    expect(one.denominator).toBeCloseTo(9, 9);
    expect(one.statistic).toBeCloseTo(4.5, 12);
  });

  it('a dependent function adds nothing', () => {
    const twice = jointTest(
      [1, 1],
      [
        [1, 1],
        [1, 1],
      ],
      () => 20,
    );
    const once = jointTest([1], [[1]], () => 20);
    expect(twice.numerator).toBe(1);
    expect(twice.probability).toBeCloseTo(once.probability, 12);
  });

  it('adjusts for false discoveries as Benjamini and Hochberg did', () => {
    // Their example, table 1 of the 1995 paper (value from memory): at 0.05 the first four of fifteen are rejected.
    const p = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ];
    const adjusted = adjustForFalseDiscoveries(p);
    expect(adjusted.filter((a) => a <= 0.05)).toHaveLength(4);
    expect(adjusted[3]).toBeCloseTo((0.0095 * 15) / 4, 12);
    expect(simes(p)).toBeCloseTo(0.0015, 12);
    const shuffled = [3, 0, 2, 1].map((i) => p[i]!);
    expect(adjustForFalseDiscoveries(shuffled)[1]).toBeCloseTo(0.0004, 12);
  });

  it('the power of theory is that of F at no effect', () => {
    expect(noncentralFSurvival(3.06, 4, 15, 0)).toBeCloseTo(0.05, 3);
    expect(noncentralFSurvival(3.06, 4, 15, 12)).toBeGreaterThan(0.5);
  });
});
