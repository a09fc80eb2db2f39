/** Second-level position: blades relative to each other. */
import type { PatternFreedom } from '../../../../shared-math/definition.ts';
import type { Vec3 } from '../../../../shared-math/geometry/types.ts';
import { bestMotion } from '../../../../shared-math/pattern/best-motion.ts';
import { NO_MOTION, positionsAfter } from '../../../../shared-math/pattern/pattern-motion.ts';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Position of a pattern';

interface Case {
  readonly name: string;
  readonly free: readonly PatternFreedom[];
  readonly tolerance: number;
  readonly points: readonly { readonly centre: Vec3; readonly measured: Vec3; readonly directions: Vec3[] }[];
  readonly expected: { readonly value: number; readonly levelOne: number };
}

export function pattern(): Chapter {
  const { cases } = fixture<{ cases: Case[] }>('pattern-position-scipy.json');
  const checks = new Checks(
    GROUP,
    'SciPy 1.17.1, SLSQP on the exact motion, contacts solved as equations; test/validation/scripts/pattern-position.py',
  );
  for (const { points, free, tolerance, expected } of cases) {
    const zones = points.map((p, j) => ({
      ...p,
      station: 1 + (j >> 1),
      checkPoint: String(j % 2),
      blade: j >> 1,
    }));
    const before = Math.max(...positionsAfter(zones, NO_MOTION));
    checks.add('largest position before the pattern moves', before, expected.levelOne, 1e-10, 'mm');
    const { value } = bestMotion(zones, free, tolerance);
    checks.add('largest position after its best motion', value, expected.value, 1e-9, 'mm');
  }
  return {
    group: GROUP,
    text: `${cases.length} patterns of zones with different freedoms left open (ISO 5458; ASME Y14.5): the largest position before and after the best common motion.`,
    checks: checks.list,
  };
}
