/** Minimum-zone, circumscribed and inscribed features. */
import {
  type AssociationCriterion,
  associateByCriterion,
} from '../../../../shared-math/association/criteria/index.ts';
import type {
  AssociationInput,
  Orientation,
  SubstituteFeature,
} from '../../../../shared-math/association/index.ts';
import type { Vec3 } from '../../../../shared-math/geometry/types.ts';
import { angleBetween, norm, rejectFrom, subtract } from '../../../../shared-math/geometry/vector.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Minimum zone, circumscribed, inscribed';

type Plane = readonly [number, number];
interface Roundness {
  readonly points: readonly Plane[];
  readonly mzc_centre?: Plane;
  readonly mzc_width?: number;
  readonly mcc_centre: Plane;
  readonly mcc_r: number;
}

interface Case {
  readonly type: SubstituteFeature['type'];
  readonly criterion: AssociationCriterion;
  readonly xyz: number[];
  readonly offsets?: number[];
  readonly orientation: Orientation;
  readonly expected: {
    readonly size: number;
    readonly contacts?: number[];
    readonly direction?: Vec3;
    readonly through?: Vec3;
  };
}

export function criteria(): Chapter {
  return {
    group: GROUP,
    text: `No published roundness points with a minimum-zone result were found; the minimum zones are regression values (exhaustive search over
equidistant pairs) and SciPy's linear programs. Places and directions are compared only where the contacts fix them, with the bound times
the condition number of the contacts.`,
    checks: [...circles(), ...scipyCases()],
  };
}

function flat(points: readonly Plane[]): AssociationInput {
  return { xyz: Float64Array.from(points.flatMap(([x, y]) => [x, y, 0])) };
}

const SQUARE: Orientation = { kind: 'fixed', direction: [0, 0, 1] };

function circles(): readonly Check[] {
  const data = fixture<Record<string, Roundness>>('constructed-roundness.json');
  const sources: Readonly<Record<string, string>> = {
    'PostGIS-doc': 'PostGIS 3.3 manual, example of ST_MinimumBoundingRadius (13 digits printed)',
    GGS1994:
      'Points of Gander, Golub & Strebel (1994), value from memory; smallest circle by hand: centre (5, 6), radius √17',
    square: 'Four points of the unit circle, by hand',
  };
  const own =
    'Regression values: twelve points with two, three and mixed lobes; zone centre by exhaustive search, checked by Nelder–Mead of SciPy 1.17.1; data/constructed-roundness.json';
  const list: Check[] = [];
  const square: Roundness = {
    points: [
      [0, 1],
      [-1, 0],
      [0, -1],
      [1, 0],
    ],
    mcc_centre: [0, 0],
    mcc_r: 1,
  };
  for (const name of ['PostGIS-doc', 'GGS1994', 'square', 'lobe2', 'lobe3', 'mixed']) {
    const { points, mzc_centre, mzc_width, mcc_centre, mcc_r } = name === 'square' ? square : data[name]!;
    const checks = new Checks(GROUP, sources[name] ?? own);
    const around = associateByCriterion('minimum-circumscribed', 'circle', flat(points), SQUARE);
    // Coordinates of the manual's example are 6.5e4, so its printed digits end near 1e-10.
    const bound = name === 'PostGIS-doc' ? 2e-9 : 1e-9;
    const off = Math.hypot(around.point[0] - mcc_centre[0], around.point[1] - mcc_centre[1]);
    checks.add(`${name}, circumscribed circle, centre off by`, off, 0, bound, 'mm');
    checks.add(`${name}, circumscribed circle, radius`, around.radius!, mcc_r, bound, 'mm');
    if (mzc_centre && mzc_width) {
      const zone = associateByCriterion('minimax', 'circle', flat(points), SQUARE);
      const zoneOff = Math.hypot(zone.point[0] - mzc_centre[0], zone.point[1] - mzc_centre[1]);
      checks.add(`${name}, minimum zone, width`, zone.zoneWidth!, mzc_width, 1e-9, 'mm');
      // Where lobes are symmetric the width hardly tells the centre: 1e-10 of width is 1e-7 of place.
      checks.add(`${name}, minimum zone, centre off by`, zoneOff, 0, 1e-6, 'mm');
    }
    list.push(...checks.list);
  }
  return list;
}

function scipyCases(): readonly Check[] {
  const { cases } = fixture<{ cases: Case[] }>('criteria-scipy.json');
  const checks = new Checks(
    GROUP,
    'SciPy: linear programs of HiGHS from many starts, contacts solved as equations; test/validation/scripts/criteria.py',
  );
  for (const c of cases) {
    const input: AssociationInput = {
      xyz: Float64Array.from(c.xyz),
      offsets: c.offsets ? Float64Array.from(c.offsets) : null,
    };
    const ours = associateByCriterion(c.criterion, c.type, input, c.orientation);
    const size = c.criterion === 'minimax' ? ours.zoneWidth! : ours.radius!;
    const name = `${c.type}, ${c.criterion}`;
    checks.add(name, size, c.expected.size, 1e-9, 'mm');
    if (!c.expected.contacts) continue;
    const bound = 1e-9 * Math.max(1, ours.conditionNumber);
    if (c.expected.direction) {
      checks.add(name, angleBetween(ours.direction!, c.expected.direction), 0, bound / 10, 'rad');
    }
    if (c.expected.through) {
      const away = subtract(c.expected.through, ours.point);
      checks.add(name, norm(ours.direction ? rejectFrom(away, ours.direction) : away), 0, bound, 'mm');
    }
  }
  return checks.list;
}
