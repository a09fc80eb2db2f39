/** Associations against published fits, and against constructed points fitted by another program. */
import {
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associatePlane,
  associatePoint,
  associateSphere,
  type SubstituteFeature,
} from '../../../../shared-math/association/index.ts';
import type { Vec3 } from '../../../../shared-math/geometry/types.ts';
import { addScaled, angleBetween, distance } from '../../../../shared-math/geometry/vector.ts';
import { type Chapter, Checks, fixture, fixtureText } from '../check.ts';

const GROUP = 'Published least-squares fits';

interface Constructed {
  readonly points: readonly Vec3[];
  readonly ssq: number;
  readonly centroid?: Vec3;
  readonly direction?: Vec3;
  readonly normal?: Vec3;
  readonly centre?: Vec3;
  readonly axis?: Vec3;
  readonly axis_point_nearest_centroid?: Vec3;
  readonly radius?: number;
  readonly half_angle_deg?: number;
  readonly apex?: Vec3;
}

export function publishedFits(): Chapter {
  return {
    group: GROUP,
    text: `The literature at hand has point sets with results for circle, line and plane only. Sphere, cylinder and cone are checked against
constructed points (regression values; two parametrisations of SciPy's solver agree to 2e-11 mm in the radius, 5e-9 mm in the apex, so
the bounds are 1e-8 mm, apex 1e-7 mm) and, more sharply, against the random configurations of the next chapter.`,
    checks: [...gander(), ...pearson(), ...irises(), ...constructed()],
  };
}

function gander() {
  const checks = new Checks(
    GROUP,
    'Gander, Golub & Strebel, BIT 34 (1994) 558–578, first example (points and four decimals: value from memory; further digits recomputed with mpmath at 40 digits)',
  );
  const xyz = Float64Array.of(1, 7, 0, 2, 6, 0, 5, 8, 0, 7, 7, 0, 9, 5, 0, 3, 7, 0);
  const circle = associateCircle({ xyz }, { kind: 'fixed', direction: [0, 0, 1] });
  checks.add('circle, centre x, printed', circle.point[0], 4.7398, 5e-5);
  checks.add('circle, centre y, printed', circle.point[1], 2.9835, 5e-5);
  checks.add('circle, radius, printed', circle.radius!, 4.7142, 5e-5);
  checks.add('circle, centre x', circle.point[0], 4.739782410906074, 1e-9);
  checks.add('circle, centre y', circle.point[1], 2.983532699292475, 1e-9);
  checks.add('circle, radius', circle.radius!, 4.71422603779211, 1e-9);
  checks.add('circle, sum of squares', circle.sumOfSquares, 1.227599078183656, 1e-9);
  return checks.list;
}

function pearson() {
  const checks = new Checks(
    GROUP,
    'Pearson, Phil. Mag. (6) 2 (1901) 559–572, worked example (points, 5.784 and −0.5456: value from memory; further digits recomputed)',
  );
  const x = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
  const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
  const xyz = Float64Array.from(x.flatMap((value, i) => [value, y[i]!, 0]));
  const line = associateLine({ xyz }, { kind: 'free', start: [1, 0, 0] });
  const slope = line.direction![1] / line.direction![0];
  const intercept = line.point[1] - slope * line.point[0];
  checks.add('line, slope, printed', slope, -0.5456, 5e-5);
  checks.add('line, intercept, printed', intercept, 5.784, 5e-4);
  checks.add('line, slope', slope, -0.545561197521, 1e-12);
  checks.add('line, intercept', intercept, 5.78404377453, 1e-11);
  checks.add('line, sum of squares', line.sumOfSquares, 0.618572759437, 1e-12);
  return checks.list;
}

function irises() {
  const checks = new Checks(
    GROUP,
    "Anderson's irises (Fisher 1936; R datasets::iris), first three columns; principal components by prcomp of R, 12 and 13 digits printed",
  );
  const rows = fixtureText('iris-three-columns.csv')
    .split('\n')
    .filter((row) => /^\d/.test(row));
  const xyz = Float64Array.from(rows.flatMap((row) => row.split(',').map(Number)));
  const plane = associatePlane({ xyz }, { kind: 'free', start: [-1, 1, 1] });
  const line = associateLine({ xyz }, { kind: 'free', start: [0, 0, 1] });
  const point = associatePoint({ xyz });
  const centroid: Vec3 = [5.843333333333, 3.057333333333, 3.758];
  checks.add('point, distance from the mean', distance(point.point, centroid), 0, 1e-12);
  checks.add('plane, distance of its point from the mean', distance(plane.point, centroid), 0, 1e-12);
  const normal: Vec3 = [-0.662890262992, 0.663009326109, 0.347843546329];
  checks.add('plane, angle of the normal', angleBetween(plane.direction!, normal), 0, 2e-12, 'rad');
  const axis: Vec3 = [0.3898334290298, -0.0910080129147, 0.9163773454184];
  checks.add('line, angle of the direction', angleBetween(line.direction!, axis), 0, 2e-12, 'rad');
  checks.add('plane, r.m.s. with n − 1', Math.sqrt(plane.sumOfSquares / 149), 0.243831337756, 1e-12);
  const across = Math.hypot(0.491301610814, 0.243831337756);
  checks.add('line, r.m.s. with n − 1', Math.sqrt(line.sumOfSquares / 149), across, 1e-12);
  return checks.list;
}

function constructed() {
  const all = fixture<Record<string, Constructed>>('constructed-elements.json');
  const checks = new Checks(
    GROUP,
    'Regression values: constructed points (5 decimals) fitted by SciPy 1.17.1 (least_squares, SVD); data/constructed-elements.json',
  );
  const xyzOf = (name: string) => Float64Array.from(all[name]!.points.flat());
  const take = (name: string, fit: SubstituteFeature, place: Vec3, direction: Vec3 | null): void => {
    const { radius, ssq } = all[name]!;
    checks.add(
      `${name}, distance of its point`,
      distance(fit.point, place),
      0,
      name === 'cone' ? 1e-7 : 1e-8,
      'mm',
    );
    if (direction) checks.add(`${name}, angle`, angleBetween(fit.direction!, direction), 0, 1e-9, 'rad');
    if (radius) checks.add(`${name}, radius`, fit.radius!, radius, 1e-8, 'mm');
    checks.add(`${name}, sum of squares`, fit.sumOfSquares, ssq, 1e-12, 'mm²');
  };
  const { line, plane, sphere, cylinder, cone } = all as Record<string, Required<Constructed>>;
  const free = (start: Vec3) => ({ kind: 'free', start }) as const;
  take('line', associateLine({ xyz: xyzOf('line') }, free(line!.direction)), line!.centroid, line!.direction);
  take('plane', associatePlane({ xyz: xyzOf('plane') }, free(plane!.normal)), plane!.centroid, plane!.normal);
  take('sphere', associateSphere({ xyz: xyzOf('sphere') }), sphere!.centre, null);
  const tube = associateCylinder({ xyz: xyzOf('cylinder') }, free(cylinder!.axis));
  take('cylinder', tube, cylinder!.axis_point_nearest_centroid, cylinder!.axis);
  const halfAngle = (cone!.half_angle_deg * Math.PI) / 180;
  const fit = associateCone({ xyz: xyzOf('cone') }, free(cone!.axis), { halfAngle: 0.25, radius: 20 });
  const place = addScaled(cone!.apex, cone!.axis, 20 / Math.tan(halfAngle));
  take('cone', fit, place, cone!.axis);
  checks.add('cone, half angle', fit.halfAngle!, halfAngle, 1e-9, 'rad');
  return checks.list;
}
