/** What must hold for the second level of position on any disc. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PatternFreedom } from '../../shared-math/definition.ts';
import { motionFromTwist } from '../../shared-math/geometry/rigid-motion.ts';
import { scale } from '../../shared-math/geometry/vector.ts';
import { bestMotion } from '../../shared-math/pattern/best-motion.ts';
import { NO_MOTION, PATTERN_FREEDOMS, positionsAfter } from '../../shared-math/pattern/pattern-motion.ts';
import type { ZonePoint } from '../../shared-math/pattern/zone-points.ts';
import { carried, discZonePoints } from '../support/pattern-points.ts';
import { type RandomSource, randomSource } from '../support/random.ts';
import { discDefinition, randomError } from '../support/synthetic-disc.ts';

const RUNS = { numRuns: 40, seed: 20261125 };
const TOLERANCE = 0.03;
const disc = fc.record({
  seed: fc.integer({ min: 1, max: 1_000_000 }),
  stations: fc.integer({ min: 3, max: 30 }),
  size: fc.constantFrom(0.002, 0.05, 0.5),
});

function someDisc({ seed, stations, size }: { seed: number; stations: number; size: number }): {
  readonly points: readonly ZonePoint[];
  readonly random: RandomSource;
} {
  const random = randomSource(seed);
  const definition = discDefinition({ stations });
  const errors = definition.stations.map(() => randomError(random, size, size / 200));
  return { points: discZonePoints(definition, errors), random };
}

const levelOne = (points: readonly ZonePoint[]): number => Math.max(...positionsAfter(points, NO_MOTION));

describe('second level of position', () => {
  it('does not see a rigid motion of the whole ring when all motions are free', () => {
    fc.assert(
      fc.property(disc, (input) => {
        const { points, random } = someDisc(input);
        const motion = motionFromTwist({
          rotation: scale(random.direction(), random.between(0, 0.02)),
          translation: scale(random.direction(), random.between(0, 2)),
        });
        const before = bestMotion(points, PATTERN_FREEDOMS, TOLERANCE);
        const after = bestMotion(carried(points, motion), PATTERN_FREEDOMS, TOLERANCE);
        expect(Math.abs(after.value - before.value)).toBeLessThan(1e-9);
      }),
      RUNS,
    );
  });

  it('is never larger than the first, nor with more freedom than with less', () => {
    const chain: readonly (readonly PatternFreedom[])[] = [
      ['rotZ'],
      ['x', 'rotZ'],
      ['x', 'y', 'rotZ'],
      ['x', 'y', 'z', 'rotZ'],
      PATTERN_FREEDOMS,
    ];
    fc.assert(
      fc.property(disc, (input) => {
        const { points } = someDisc(input);
        let least = levelOne(points);
        for (const free of chain) {
          const { value, gap } = bestMotion(points, free, TOLERANCE);
          expect(value).toBeLessThanOrEqual(least + 1e-12);
          expect(gap).toBeLessThan(1e-10);
          least = value;
        }
      }),
      RUNS,
    );
  });

  it('leaves no point beyond its value, and the motions held at zero', () => {
    const subset = fc.subarray([...PATTERN_FREEDOMS], { minLength: 1 });
    fc.assert(
      fc.property(disc, subset, (input, free) => {
        const { points } = someDisc(input);
        const { motion, value, leastSquares } = bestMotion(points, free, TOLERANCE);
        expect(Math.max(...positionsAfter(points, motion))).toBeCloseTo(value, 13);
        expect(leastSquares.value).toBeGreaterThanOrEqual(value - 1e-12);
        for (const name of PATTERN_FREEDOMS)
          if (!free.includes(name)) {
            expect(motion[name]).toBe(0);
            expect(leastSquares.motion[name]).toBe(0);
          }
      }),
      RUNS,
    );
  });

  it('cannot be bettered by small exact motions', () => {
    fc.assert(
      fc.property(disc, (input) => {
        const { points, random } = someDisc(input);
        const { motion, value } = bestMotion(points, PATTERN_FREEDOMS, TOLERANCE);
        for (let tries = 0; tries < 30; tries++) {
          const size = 10 ** random.between(-7, -1);
          const other = { ...motion };
          for (const name of PATTERN_FREEDOMS)
            other[name] += (random.normal() * size) / (name.startsWith('rot') ? 240 : 1);
          expect(Math.max(...positionsAfter(points, other))).toBeGreaterThan(value - 1e-12);
        }
      }),
      RUNS,
    );
  });

  it('does not depend on the order of the stations', () => {
    fc.assert(
      fc.property(disc, (input) => {
        const { points, random } = someDisc(input);
        const shuffled = points
          .map((p) => ({ p, key: random.uniform() }))
          .sort((a, b) => a.key - b.key)
          .map(({ p }) => p);
        const one = bestMotion(points, PATTERN_FREEDOMS, TOLERANCE);
        const other = bestMotion(shuffled, PATTERN_FREEDOMS, TOLERANCE);
        expect(other.value).toBeCloseTo(one.value, 12);
      }),
      RUNS,
    );
  });

  it('scales with the disc and does not depend on the tolerance', () => {
    fc.assert(
      fc.property(disc, fc.constantFrom(0.01, 7, 25.4), (input, factor) => {
        const { points } = someDisc(input);
        const scaled = points.map((p) => ({
          ...p,
          centre: scale(p.centre, factor),
          measured: scale(p.measured, factor),
        }));
        const one = bestMotion(points, PATTERN_FREEDOMS, TOLERANCE);
        const other = bestMotion(scaled, PATTERN_FREEDOMS, 1.7 * factor * TOLERANCE);
        expect(Math.abs(other.value / factor - one.value)).toBeLessThan(1e-10);
      }),
      RUNS,
    );
  });
});
