/**
 * Best settings against SciPy's (SLSQP on the exact motions; scripts/corrections.py): tool, hub and both, with and without limits,
 * zones of all shapes. Bound: 1e-9 of the tolerance on the largest share.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { BladeSeat, CheckPoint, ZoneShape } from '../../shared-math/definition.ts';
import { bestSettings } from '../../shared-math/diagnosis/corrections/best-settings.ts';
import type { Blade } from '../../shared-math/diagnosis/corrections/blades.ts';
import { sharesAfter } from '../../shared-math/diagnosis/corrections/setting-motion.ts';
import type { Unknown } from '../../shared-math/diagnosis/corrections/settings.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import { ERRORS } from '../../shared-math/pose/error-names.ts';
import type { StationResult } from '../../shared-math/result.ts';
import { zoneDirections } from '../../shared-math/uncertainty/position-distribution.ts';

interface Case {
  readonly name: string;
  readonly seat: BladeSeat;
  readonly points: readonly {
    readonly at: Vec3;
    readonly zone: ZoneShape;
    readonly tolerance: number;
    readonly direction: Vec3 | null;
  }[];
  readonly blades: readonly { readonly angle: number; readonly error: readonly number[] }[];
  readonly unknowns: readonly {
    readonly kind: 'tool' | 'hub';
    readonly axis: number;
    readonly limit: number | null;
  }[];
  readonly expected: {
    readonly before: number;
    readonly value: number;
    readonly settings: readonly number[];
  };
}

const file = new URL('data/corrections-scipy.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

function problemOf({ seat, points, blades, unknowns }: Case) {
  return {
    blades: blades.map(({ angle, error: [x, y, z, a, b, c] }, k): Blade => {
      const definition = { station: k + 1, angle, seat, requirement: { checkPoints: [], limits: {} } };
      return {
        // Only the station number of a measurement counts here.
        measured: { station: k + 1 } as StationResult,
        definition,
        nominal: nominalBladeFrame(angle, seat),
        error: { rotation: rotationFromVector([a!, b!, c!]), translation: [x!, y!, z!] },
        own: [],
        tool: null,
        age: 0,
        served: true,
      };
    }),
    points: blades.flatMap((_, blade) =>
      points.map((p) => ({ ...p, blade, directions: zoneDirections(p as CheckPoint) })),
    ),
    unknowns: unknowns.map(({ kind, axis, limit }): Unknown => {
      const reach = kind === 'tool' ? 160 : 400;
      return {
        kind,
        axis,
        freedom: (kind === 'tool' ? ERRORS : PATTERN_FREEDOMS)[axis]!,
        of: null,
        range: { limit, step: null },
        scale: axis < 3 ? 0.02 : 0.02 / reach,
        moves: () => true,
      };
    }),
  };
}

describe('best settings against SciPy', () => {
  test.each(cases.map((c) => [c.name, c] as const))('%s', (_, each) => {
    const problem = problemOf(each);
    const { blades, points, unknowns } = problem;
    const { expected } = each;
    const shares = (settings: ArrayLike<number>): number =>
      Math.max(...sharesAfter(blades, points, unknowns, settings));
    expect(shares(new Float64Array(unknowns.length))).toBeCloseTo(expected.before, 11);
    // What SciPy's settings leave is the same here and there: what settings do is the same.
    expect(shares(expected.settings)).toBeCloseTo(expected.value, 9);
    const best = bestSettings(problem);
    expect(Math.abs(best.share - expected.value)).toBeLessThan(1e-9);
    expect(shares(best.values)).toBeCloseTo(best.share, 12);
    expect(best.lower).toBeLessThanOrEqual(best.share);
    expect(best.share - best.lower).toBeLessThan(1e-7);
    unknowns.forEach(({ range }, p) => {
      if (range.limit !== null) expect(Math.abs(best.values[p]!)).toBeLessThanOrEqual(range.limit);
    });
  });
});
