import { describe, expect, test } from 'vitest';
import { ReductionError } from '../../shared-math/errors.ts';
import { studentTCdf } from '../../shared-math/uncertainty/distributions.ts';
import {
  positionCdf,
  positionQuantile,
  zoneDirections,
} from '../../shared-math/uncertainty/position-distribution.ts';

const ZERO2 = [
  [0, 0],
  [0, 0],
];

describe('by hand', () => {
  test('two components, zero mean: Rayleigh, P = 1 − exp(−r²/2σ²)', () => {
    const variance = 0.003 ** 2;
    const covariance = [
      [variance, 0],
      [0, variance],
    ];
    for (const r of [0.0001, 0.002, 0.006, 0.02])
      expect(positionCdf(2 * r, [0, 0], covariance)).toBeCloseTo(1 - Math.exp((-r * r) / (2 * variance)), 12);
    expect(positionQuantile(0.95, [0, 0], covariance)).toBeCloseTo(
      0.006 * Math.sqrt(-2 * Math.log(0.05)),
      12,
    );
  });

  test('two components, zero mean, multivariate t: P = 1 − (1 + r²/ν)^(−ν/2)', () => {
    const unit = [
      [1, 0],
      [0, 1],
    ];
    for (const nu of [1, 3, 11.5, 400])
      for (const r of [0.1, 1, 2.5, 30])
        expect(positionCdf(2 * r, [0, 0], unit, nu)).toBeCloseTo(1 - (1 + (r * r) / nu) ** (-nu / 2), 11);
  });

  test('rank 0: the position is certain', () => {
    expect(positionCdf(10, [3, 4], ZERO2)).toBe(1);
    expect(positionCdf(9.999999, [3, 4], ZERO2)).toBe(0);
    expect(positionCdf(9.999999, [3, 4], ZERO2, 5)).toBe(0);
    expect(positionQuantile(0.95, [3, 4], ZERO2)).toBe(10);
    expect(positionCdf(0, [0, 0], ZERO2)).toBe(1);
  });

  test('rank 1 in two components: the chord of the circle', () => {
    // δ = (3 + z, 4): within r = 5 while −6 ≤ z ≤ 0.
    const covariance = [
      [1, 0],
      [0, 0],
    ];
    const chord = (nu: number) => studentTCdf(0, nu) - studentTCdf(-6, nu);
    expect(positionCdf(10, [3, 4], covariance)).toBeCloseTo(chord(Number.POSITIVE_INFINITY), 12);
    expect(positionCdf(10, [3, 4], covariance, 4)).toBeCloseTo(chord(4), 11);
    expect(positionCdf(8, [3, 4], covariance)).toBe(0);
    // Turned: δ = (1, 1)·(1 + z), a line through zero.
    const diagonal = [
      [1, 1],
      [1, 1],
    ];
    const r = 2 * Math.SQRT2;
    const expected = studentTCdf(1, 7) - studentTCdf(-3, 7);
    expect(positionCdf(2 * r, [1, 1], diagonal, 7)).toBeCloseTo(expected, 11);
  });

  test('rank 2 in three components: a disc of the sphere', () => {
    const covariance = [
      [1, 0, 0],
      [0, 0, 0],
      [0, 0, 1],
    ];
    // √(5² − 3²) = 4.
    expect(positionCdf(10, [0, 3, 0], covariance)).toBeCloseTo(1 - Math.exp(-8), 12);
    expect(positionCdf(10, [0, 5, 0], covariance)).toBe(0);
  });

  test('one component: a difference of two tails', () => {
    const expected = studentTCdf(1, 9) - studentTCdf(-3, 9);
    expect(positionCdf(4, [1], [[1]], 9)).toBeCloseTo(expected, 14);
    expect(positionCdf(4, [-1], [[1]], 9)).toBeCloseTo(expected, 14);
    // Far from zero only one tail counts.
    expect(positionQuantile(0.95, [0.05], [[0.001 ** 2]])).toBeCloseTo(
      2 * (0.05 + 1.6448536269514722 * 0.001),
      12,
    );
  });

  test('a nearly singular covariance agrees with the singular one', () => {
    for (const tiny of [1e-6, 1e-9, 1e-12]) {
      const covariance = [
        [1, 0],
        [0, tiny * tiny],
      ];
      const expected =
        studentTCdf(Math.sqrt(21) - 1, Number.POSITIVE_INFINITY) -
        studentTCdf(-Math.sqrt(21) - 1, Number.POSITIVE_INFINITY);
      expect(Math.abs(positionCdf(10, [1, 2], covariance) - expected)).toBeLessThan(1e-11);
    }
  });

  test('extremes of the limit', () => {
    const covariance = [
      [1, 0.2],
      [0.2, 3],
    ];
    expect(positionCdf(0, [1, 1], covariance)).toBe(0);
    expect(positionCdf(-1, [1, 1], covariance)).toBe(0);
    expect(positionCdf(1e6, [1, 1], covariance)).toBe(1);
    expect(positionCdf(1e6, [1, 1], covariance, 3)).toBeCloseTo(1, 12);
    expect(positionCdf(1, [1e6, 1], covariance)).toBe(0);
    expect(positionCdf(1, [1e6, 1], covariance, 3)).toBeLessThan(1e-12);
  });
});

test('directions of the zones', () => {
  expect(zoneDirections({ zone: 'planar', direction: [0, 0.6, 0.8] })).toEqual([[0, 0.6, 0.8]]);
  expect(zoneDirections({ zone: 'cylindrical', direction: null })).toHaveLength(2);
  expect(zoneDirections({ zone: 'spherical', direction: null })).toHaveLength(3);
});

describe('refused', () => {
  const unit = [
    [1, 0],
    [0, 1],
  ];
  test.each<[string, () => unknown]>([
    [
      'a covariance that is not symmetric',
      () =>
        positionCdf(
          1,
          [0, 0],
          [
            [1, 0.5],
            [0, 1],
          ],
        ),
    ],
    [
      'a negative variance',
      () =>
        positionCdf(
          1,
          [0, 0],
          [
            [1, 0],
            [0, -1],
          ],
        ),
    ],
    [
      'correlation above one',
      () =>
        positionCdf(
          1,
          [0, 0],
          [
            [1, 2],
            [2, 1],
          ],
        ),
    ],
    [
      'not a number in the covariance',
      () =>
        positionCdf(
          1,
          [0, 0],
          [
            [1, Number.NaN],
            [Number.NaN, 1],
          ],
        ),
    ],
    ['not a number in the mean', () => positionCdf(1, [Number.NaN, 0], unit)],
    ['a limit that is not a number', () => positionCdf(Number.NaN, [0, 0], unit)],
    ['another size', () => positionCdf(1, [0, 0, 0], unit)],
    ['no degrees of freedom', () => positionCdf(1, [0, 0], unit, 0)],
    ['a quantile at one', () => positionQuantile(1, [0, 0], unit)],
    ['a quantile at zero', () => positionQuantile(0, [0, 0], unit)],
  ])('%s', (_, call) => {
    expect(call).toThrow(ReductionError);
  });
});
