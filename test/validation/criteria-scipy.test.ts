/**
 * Minimum-zone, inscribed and circumscribed features against SciPy's (linear programs of HiGHS from many starts, contacts
 * solved as equations; see scripts/criteria.py). Bound: 1e-9 mm, 1e-10 rad over features of 10 mm and more, for places and
 * directions times the condition number of the contacts. Where fewer contacts than unknowns hold the feature, only zone
 * width or radius is compared (SciPy minimises by SLSQP there).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  type AssociationCriterion,
  associateByCriterion,
} from '../../shared-math/association/criteria/index.ts';
import type {
  AssociationInput,
  Orientation,
  SubstituteFeature,
} from '../../shared-math/association/index.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { angleBetween, norm, rejectFrom, subtract } from '../../shared-math/geometry/vector.ts';

interface Case {
  readonly name: string;
  readonly type: SubstituteFeature['type'];
  readonly criterion: AssociationCriterion;
  readonly xyz: number[];
  readonly offsets?: number[];
  readonly orientation: Orientation;
  readonly expected: {
    /** Zone width or radius. */
    readonly size: number;
    /** Absent where SciPy's contacts do not fix the feature. */
    readonly contacts?: number[];
    readonly direction?: Vec3;
    /** Centre, or a point of the axis. */
    readonly through?: Vec3;
  };
}

const file = new URL('data/criteria-scipy.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

describe('criteria against SciPy', () => {
  test.each(cases.map((c) => [`${c.criterion} ${c.name}`, c] as const))('%s', (_, c) => {
    const input: AssociationInput = {
      xyz: Float64Array.from(c.xyz),
      offsets: c.offsets ? Float64Array.from(c.offsets) : null,
    };
    const ours = associateByCriterion(c.criterion, c.type, input, c.orientation);
    const size = c.criterion === 'minimax' ? ours.zoneWidth! : ours.radius!;
    expect(Math.abs(size - c.expected.size)).toBeLessThan(1e-9);
    if (!c.expected.contacts) return;
    expect(ours.certificate.contacts).toEqual(c.expected.contacts);
    const bound = 1e-9 * Math.max(1, ours.conditionNumber);
    if (c.expected.direction) {
      expect(angleBetween(ours.direction!, c.expected.direction)).toBeLessThan(bound / 10);
    }
    if (c.expected.through) {
      const away = subtract(c.expected.through, ours.point);
      expect(norm(ours.direction ? rejectFrom(away, ours.direction) : away)).toBeLessThan(bound);
    }
  });
});
