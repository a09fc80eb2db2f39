/** Properties that the distribution of position has for every mean and covariance. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { covarianceFactor } from '../../shared-math/uncertainty/covariance-factor.ts';
import { normalCdf } from '../../shared-math/uncertainty/distributions.ts';
import { positionCdf, positionQuantile } from '../../shared-math/uncertainty/position-distribution.ts';
import { randomSource } from '../support/random.ts';

const RUNS = { seed: 20_261_125, numRuns: 200 };
/** Twice the stated error of one probability. */
const PROBABILITY = 2e-12;

interface Displacement {
  readonly mean: number[];
  readonly covariance: number[][];
}

/** Any rank, deviations over six decades, mean up to some deviations. */
const displacement: fc.Arbitrary<Displacement> = fc
  .record({
    seed: fc.integer({ min: 1, max: 1e9 }),
    components: fc.integer({ min: 1, max: 3 }),
    columns: fc.integer({ min: 1, max: 3 }),
    decades: fc.double({ min: 0, max: 3, noNaN: true }),
    offset: fc.double({ min: 0, max: 6, noNaN: true }),
  })
  .map(({ seed, components, columns, decades, offset }) => {
    const source = randomSource(seed);
    const factor = Array.from({ length: components }, () =>
      Array.from({ length: columns }, (_, j) => source.normal() * 10 ** (-decades * j)),
    );
    return {
      mean: factor.map((row) => offset * source.normal() * Math.hypot(...row)),
      covariance: factor.map((a) => factor.map((b) => a.reduce((sum, v, j) => sum + v * b[j]!, 0))),
    };
  });
const freedom = fc.constantFrom(Number.POSITIVE_INFINITY, 1, 4.3, 30);
const score = fc.double({ min: -2, max: 4, noNaN: true });

/** A limit near the middle of the distribution. */
function limitAt({ mean, covariance }: Displacement, at: number): number {
  return (
    2 * Math.max(Math.hypot(...mean) + at * Math.sqrt(Math.max(...covariance.map((row, i) => row[i]!))), 0)
  );
}

test('the probability rises with the limit, from 0 to 1', () => {
  fc.assert(
    fc.property(displacement, freedom, score, score, (d, nu, a, b) => {
      const limits = [limitAt(d, Math.min(a, b)), limitAt(d, Math.max(a, b))];
      const [low, high] = limits.map((limit) => positionCdf(limit, d.mean, d.covariance, nu));
      expect(low).toBeGreaterThanOrEqual(0);
      expect(high).toBeLessThanOrEqual(1);
      expect(low! - high!).toBeLessThan(PROBABILITY);
    }),
    RUNS,
  );
});

test('the quantile undoes the probability', () => {
  fc.assert(
    fc.property(displacement, freedom, fc.constantFrom(0.05, 0.5, 0.95, 0.999), (d, nu, p) => {
      const v = positionQuantile(p, d.mean, d.covariance, nu);
      expect(Math.abs(positionCdf(v, d.mean, d.covariance, nu) - p)).toBeLessThan(1e-7);
    }),
    RUNS,
  );
});

test('turning and scaling everything changes nothing', () => {
  fc.assert(
    fc.property(displacement, freedom, score, fc.integer({ min: 1, max: 1e9 }), (d, nu, at, seed) => {
      const limit = limitAt(d, at);
      const expected = positionCdf(limit, d.mean, d.covariance, nu);
      const source = randomSource(seed);
      const scale = 10 ** source.between(-5, 5);
      const n = d.mean.length;
      const angle = source.between(-3, 3);
      const turn =
        n === 3
          ? source.rotation()
          : n === 2
            ? [
                [Math.cos(angle), -Math.sin(angle)],
                [Math.sin(angle), Math.cos(angle)],
              ]
            : [[-1]];
      const turned = (v: readonly number[]) =>
        turn.map((row) => row.reduce((sum, r, i) => sum + r * v[i]!, 0));
      const half = d.covariance.map(turned);
      const covariance = turn.map((row) =>
        turned(half[0]!.map((_, j) => row.reduce((s, r, i) => s + r * d.covariance[i]![j]!, 0))),
      );
      const ours = positionCdf(
        scale * limit,
        turned(d.mean).map((m) => scale * m),
        covariance.map((row, i) => row.map((c, j) => 0.5 * scale * scale * (c + covariance[j]![i]!))),
        nu,
      );
      // A variance a million times smaller than the largest keeps 1e-10 of itself through the turn.
      expect(Math.abs(ours - expected)).toBeLessThan(1e-8);
    }),
    RUNS,
  );
});

test('a component that is certainly zero changes nothing', () => {
  fc.assert(
    fc.property(displacement, freedom, score, (d, nu, at) => {
      fc.pre(d.mean.length < 3);
      const limit = limitAt(d, at);
      const more = positionCdf(
        limit,
        [...d.mean, 0],
        [...d.covariance.map((row) => [...row, 0]), [...d.mean.map(() => 0), 0]],
        nu,
      );
      expect(Math.abs(more - positionCdf(limit, d.mean, d.covariance, nu))).toBeLessThan(PROBABILITY);
    }),
    RUNS,
  );
});

describe('bounds', () => {
  test('a ball lies within the half space beyond which its tangent plane is', () => {
    fc.assert(
      fc.property(displacement, score, (d, at) => {
        const r = limitAt(d, at) / 2;
        for (const [axis, mean] of d.mean.entries()) {
          const deviation = Math.sqrt(d.covariance[axis]![axis]!);
          if (deviation === 0) continue;
          const half = normalCdf((r - mean) / deviation);
          expect(positionCdf(2 * r, d.mean, d.covariance)).toBeLessThan(half + PROBABILITY);
        }
      }),
      RUNS,
    );
  });

  test('t comes close to normal as degrees of freedom grow', () => {
    fc.assert(
      fc.property(displacement, score, (d, at) => {
        const limit = limitAt(d, at);
        const normal = positionCdf(limit, d.mean, d.covariance);
        expect(Math.abs(positionCdf(limit, d.mean, d.covariance, 1e7) - normal)).toBeLessThan(1e-6);
      }),
      RUNS,
    );
  });
});

test('the factor of a covariance gives it back, in mixed units and any rank', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1e9 }), fc.integer({ min: 1, max: 6 }), (seed, rank) => {
      const source = randomSource(seed);
      const units = [1, 1, 1, 1e-4, 1e-4, 1e-4];
      const rows = units.map((unit) => Array.from({ length: rank }, () => unit * source.normal()));
      const covariance = rows.map((a) => rows.map((b) => a.reduce((sum, v, j) => sum + v * b[j]!, 0)));
      const factor = covarianceFactor(covariance);
      expect(factor[0]).toHaveLength(rank);
      for (const [i, row] of covariance.entries())
        for (const [j, entry] of row.entries()) {
          const ours = factor[i]!.reduce((sum, v, k) => sum + v * factor[j]![k]!, 0);
          const scale = Math.sqrt(covariance[i]![i]! * covariance[j]![j]!);
          expect(Math.abs(ours - entry)).toBeLessThan(1e-12 * scale);
        }
    }),
    RUNS,
  );
});
