/**
 * Second-level position against SciPy's (SLSQP on the exact motion, contacts solved as equations; scripts/pattern-position.py).
 * Bound: 1e-9 mm on the largest position left; the motion where its contacts fix it.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { PatternFreedom } from '../../shared-math/definition.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { bestMotion } from '../../shared-math/pattern/best-motion.ts';
import { NO_MOTION, positionsAfter } from '../../shared-math/pattern/pattern-motion.ts';
import type { ZonePoint } from '../../shared-math/pattern/zone-points.ts';
import type { PatternMotion } from '../../shared-math/result.ts';

interface Case {
  readonly name: string;
  readonly free: readonly PatternFreedom[];
  readonly tolerance: number;
  readonly points: readonly { readonly centre: Vec3; readonly measured: Vec3; readonly directions: Vec3[] }[];
  readonly expected: {
    readonly value: number;
    readonly levelOne: number;
    readonly contacts: number;
    readonly motion: PatternMotion;
  };
}

const file = new URL('data/pattern-position-scipy.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

describe('position of a pattern against SciPy', () => {
  test.each(cases.map((c) => [c.name, c] as const))('%s', (_, { points, free, tolerance, expected }) => {
    const zones = points.map(
      (p, j): ZonePoint => ({ ...p, station: 1 + (j >> 1), checkPoint: String(j % 2), blade: j >> 1 }),
    );
    const best = bestMotion(zones, free, tolerance);
    expect(Math.max(...positionsAfter(zones, NO_MOTION))).toBeCloseTo(expected.levelOne, 10);
    expect(Math.abs(best.value - expected.value)).toBeLessThan(1e-9);
    expect(best.gap).toBeLessThan(1e-11);
    // At the same value SciPy's motion leaves the same largest position.
    expect(Math.max(...positionsAfter(zones, expected.motion))).toBeCloseTo(best.value, 8);
    const unknowns = free.length;
    if (expected.contacts > unknowns)
      for (const name of free) {
        const lever = name.startsWith('rot') ? 240 : 1;
        expect(lever * Math.abs(best.motion[name] - expected.motion[name])).toBeLessThan(1e-7);
      }
  });
});
