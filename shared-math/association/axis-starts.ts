/**
 * Starting states for the axis of a cylinder or cone: directions worth trying, and for each the axis position, radius and
 * half angle in closed form.
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, normalize, rejectFrom } from '../geometry/vector.ts';
import { backSubstitute } from './algebraic.ts';
import { type Cloud, FLAT_RATIO, type PrincipalAxes } from './cloud.ts';
import { allowedNear, azimuthFan, type DirectionFreedom, tangentBasis } from './direction.ts';
import { type RevolutionState, reanchored } from './revolution.ts';
import { spectrumOf, TriangularFactor } from './triangular-factor.ts';

/** Directions on the hemisphere: neighbours about 14° apart. */
const FAN = 96;
/** Directions around the mean surface normal. */
const SLANTED = 48;
/** Azimuths about a given axis. */
const AZIMUTHS = 72;
/** Tilts (rad) of the narrow fan about a given start. */
const NEAR_TILTS = [0.01, 0.03, 0.08];
const NEAR_STARTS = 3;
/** 1 − cos of 8°: starts closer than this, in space and in the stretched cloud, are the same start. */
const TWIN = 0.01;

/** What the plan says about the size of the feature. */
export interface AxisNominal {
  /** Cone: start of the half angle, rad; null: a cylinder. */
  readonly halfAngle: number | null;
  /** Cylinder: start of the radius, mm; null: unknown. */
  readonly radius: number | null;
}

/** A state for the given direction, with the sum of squares it leaves. */
export interface Rated {
  readonly state: RevolutionState;
  readonly sum: number;
}

export function bySum(a: Rated, b: Rated): number {
  return a.sum - b.sum;
}

/** The first `count` whose directions differ: those that rate alike and lie together would end together. */
export function apart(rated: readonly Rated[], axes: PrincipalAxes, count: number): Rated[] {
  const kept: { readonly rated: Rated; readonly direction: Vec3; readonly stretched: Vec3 }[] = [];
  for (const candidate of rated) {
    if (kept.length >= count) break;
    if (!Number.isFinite(candidate.sum)) continue;
    const { direction } = candidate.state;
    const stretched = normalize([
      dot(direction, axes.axes[0]) / axes.spreads[0],
      dot(direction, axes.axes[1]) / axes.spreads[1],
      dot(direction, axes.axes[2]) / Math.max(axes.spreads[2], FLAT_RATIO * axes.spreads[1]),
    ]);
    const twin = kept.some(
      (k) =>
        1 - Math.abs(dot(k.direction, direction)) < TWIN && 1 - Math.abs(dot(k.stretched, stretched)) < TWIN,
    );
    if (!twin) kept.push({ rated: candidate, direction, stretched });
  }
  return kept.map((k) => k.rated);
}

/** Directions worth trying, the most telling first. */
export function candidateDirections(
  sample: Cloud,
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
  halfAngle: number | null,
): Vec3[] {
  if (freedom.size === 1) {
    const special = [...axes.axes, ...quadricAxes(sample), ...patchAxes(sample, axes, halfAngle ?? 0)];
    const near = special.map((d) => allowedNear(freedom, d)).filter((d) => d !== null);
    return [...azimuthFan(freedom, AZIMUTHS), ...near.filter((d) => dot(d, freedom.start!) >= 0)];
  }
  const fan = hemisphereFan(FAN);
  const stretched = fan.map(([x, y, z]) =>
    normalize(
      addScaled(
        addScaled(addScaled([0, 0, 0], axes.axes[0], x * axes.spreads[0]), axes.axes[1], y * axes.spreads[1]),
        axes.axes[2],
        z * axes.spreads[2],
      ),
    ),
  );
  const slope = halfAngle ?? 0;
  return [
    ...axes.axes,
    ...quadricAxes(sample),
    ...patchAxes(sample, axes, slope),
    ...slantedFan(axes, slope),
    ...fan,
    ...stretched,
  ];
}

/** Evenly spread unit vectors with z > 0 (golden-angle spiral of equal areas). */
function hemisphereFan(count: number): Vec3[] {
  const turnAngle = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, k) => {
    const z = (k + 0.5) / count;
    const across = Math.sqrt(1 - z * z);
    return [across * Math.cos(k * turnAngle), across * Math.sin(k * turnAngle), z] as const;
  });
}

/**
 * Axes from the curvature of a short arc: the height of the points over their mean plane is fitted by a quadratic; a
 * generator runs where it does not curve, and the axis leaves the generator by the half angle. Empty with fewer
 * than the six points a quadratic needs.
 */
function patchAxes(cloud: Cloud, { axes }: PrincipalAxes, halfAngle: number): Vec3[] {
  if (cloud.points < 6) return [];
  const [first, second, normal] = axes;
  const rows = new TriangularFactor(7);
  forEachScaled(cloud, (x, y, z, w) => {
    const p: Vec3 = [x, y, z];
    const a = dot(p, first);
    const b = dot(p, second);
    rows.row.set([w, w * a, w * b, w * a * a, 2 * w * a * b, w * b * b, w * dot(p, normal)]);
    rows.push();
  });
  const [, slopeA, slopeB, aa, ab, bb] = backSubstitute(rows.finish()) as unknown as number[];
  const azimuth = 0.5 * Math.atan2(2 * ab!, aa! - bb!);
  return [azimuth, azimuth + Math.PI / 2].flatMap((angle) => {
    const [ca, cb] = [Math.cos(angle), Math.sin(angle)];
    const flat = addScaled(addScaled([0, 0, 0], first, ca), second, cb);
    const generator = normalize(addScaled(flat, normal, slopeA! * ca + slopeB! * cb));
    const outward = normalize(rejectFrom(normal, generator));
    return [halfAngle, -halfAngle].map((tilt) =>
      addScaled(addScaled([0, 0, 0], generator, Math.cos(tilt)), outward, Math.sin(tilt)),
    );
  });
}

/** Axes of surfaces whose slope is the stated one where the points are: a short arc is nearly flat there. */
function slantedFan({ axes }: PrincipalAxes, halfAngle: number): Vec3[] {
  const [first, second, normal] = axes;
  return Array.from({ length: SLANTED }, (_, k) => {
    const azimuth = (2 * Math.PI * k) / SLANTED;
    const flat = addScaled(addScaled([0, 0, 0], first, Math.cos(azimuth)), second, Math.sin(azimuth));
    return addScaled(addScaled([0, 0, 0], normal, Math.sin(halfAngle)), flat, Math.cos(halfAngle));
  });
}

/**
 * Principal axes of the general quadric nearest to the points (algebraically); one of them is the axis of a cylinder
 * or cone. Empty with fewer than the nine points a quadric needs.
 */
function quadricAxes(cloud: Cloud): Vec3[] {
  if (cloud.points < 9) return [];
  const rows = new TriangularFactor(10);
  forEachScaled(cloud, (x, y, z, w) => {
    rows.row.set(
      [x * x, y * y, z * z, 2 * x * y, 2 * x * z, 2 * y * z, x, y, z, 1].map((value) => w * value),
    );
    rows.push();
  });
  const { rightVectors } = spectrumOf(rows.finish().leading(10));
  const [xx, yy, zz, xy, xz, yz] = rightVectors[9] as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const quadric = new Matrix([
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ]);
  const { eigenvectorMatrix } = new EigenvalueDecomposition(quadric, { assumeSymmetric: true });
  return [0, 1, 2].map((k) => normalize(eigenvectorMatrix.getColumn(k) as unknown as Vec3));
}

/** Calls `visit(x, y, z, √w, offset)` with centred, scaled coordinates. */
function forEachScaled(
  cloud: Cloud,
  visit: (x: number, y: number, z: number, w: number, offset: number) => void,
): void {
  const { points, xyz, offsets, weights, centroid, size } = cloud;
  for (let i = 0; i < points; i++) {
    visit(
      (xyz[3 * i]! - centroid[0]) / size,
      (xyz[3 * i + 1]! - centroid[1]) / size,
      (xyz[3 * i + 2]! - centroid[2]) / size,
      weights ? Math.sqrt(weights[i]!) : 1,
      offsets ? offsets[i]! / size : 0,
    );
  }
}

/** States for one direction, one for each way of finding them. */
export function statesAlong(sample: Cloud, direction: Vec3, nominal: AxisNominal): Rated[] {
  if (nominal.halfAngle !== null) {
    return [
      coneOfAngle(sample, direction, nominal.halfAngle),
      coneOfAngle(sample, direction, -nominal.halfAngle),
      coneAlong(sample, direction),
    ];
  }
  const circle = cylinderAlong(sample, direction);
  if (nominal.radius === null) return [circle];
  // On a short noisy arc the linear circle comes out too small: the same arc at the stated radius is tried as well.
  const { anchor, gap } = circle.state;
  const [e1, e2] = tangentBasis(direction);
  const stretch = nominal.radius / sample.size / gap;
  return [circle, levelled(sample, direction, stretch * dot(anchor, e1), stretch * dot(anchor, e2), 0)];
}

/** The best states of a narrow fan about a given start: a stated direction is mostly right to degrees. */
export function startsAround(start: Vec3, rate: (direction: Vec3) => Rated[]): Rated[] {
  const [e1, e2] = tangentBasis(start);
  const near = NEAR_TILTS.flatMap((tilt) =>
    Array.from({ length: 8 }, (_, k) => {
      const azimuth = (Math.PI * k) / 4;
      return rate(
        normalize(addScaled(addScaled(start, e1, tilt * Math.cos(azimuth)), e2, tilt * Math.sin(azimuth))),
      );
    }),
  );
  return ranked(near).flatMap((states) => states.slice(0, NEAR_STARTS));
}

/**
 * The states by the way they were found, best first. Each way is ranked by itself: a start with the stated half
 * angle rates badly beside one that was fitted to its direction, yet often lies in the right valley.
 */
export function ranked(rated: readonly (readonly Rated[])[]): Rated[][] {
  return rated[0]?.map((_, way) => rated.map((states) => states[way]!).sort(bySum)) ?? [];
}

/** Linear circle through the projection along `direction`. */
function cylinderAlong(cloud: Cloud, direction: Vec3): Rated {
  return coneOfAngle(cloud, direction, 0);
}

/**
 * Axis position and radius for a given direction and half angle, linear in the squares:
 * u² + v² − (s·t)² = 2·(u·u0 + v·v0) + 2·r·t·s + (r² − u0² − v0²), t = tan α.
 */
function coneOfAngle(cloud: Cloud, direction: Vec3, halfAngle: number): Rated {
  const t = Math.tan(halfAngle);
  const conical = t !== 0;
  const rows = new TriangularFactor(conical ? 5 : 4);
  forEachProjected(cloud, direction, (u, v, s, w) => {
    rows.row[0] = 2 * w * u;
    rows.row[1] = 2 * w * v;
    if (conical) rows.row[2] = 2 * w * s * t;
    rows.row[conical ? 3 : 2] = w;
    rows.row[conical ? 4 : 3] = w * (u * u + v * v - s * s * t * t);
    rows.push();
  });
  const solution = backSubstitute(rows.finish());
  return levelled(cloud, direction, solution[0]!, solution[1]!, halfAngle);
}

/** The same with the half angle free: t² and r·t as unknowns of their own; t then comes from a line fit of ρ over s. */
function coneAlong(cloud: Cloud, direction: Vec3): Rated {
  const rows = new TriangularFactor(6);
  forEachProjected(cloud, direction, (u, v, s, w) => {
    rows.row[0] = 2 * w * u;
    rows.row[1] = 2 * w * v;
    rows.row[2] = w;
    rows.row[3] = 2 * w * s;
    rows.row[4] = w * s * s;
    rows.row[5] = w * (u * u + v * v);
    rows.push();
  });
  const [u0, v0] = backSubstitute(rows.finish()) as unknown as [number, number];
  const straight = coneOfAngle(cloud, direction, 0);
  const [e1, e2] = tangentBasis(direction);
  const sloped = [
    [u0, v0] as const,
    [dot(straight.state.anchor, e1), dot(straight.state.anchor, e2)] as const,
  ].map(([cu, cv]) => levelled(cloud, direction, cu, cv, slopeAbout(cloud, direction, cu, cv)));
  return sloped.sort(bySum)[0]!;
}

/** Half angle of the straight line that best fits ρ over s. */
function slopeAbout(cloud: Cloud, direction: Vec3, u0: number, v0: number): number {
  const rows = new TriangularFactor(3);
  forEachProjected(cloud, direction, (u, v, s, w, offset) => {
    rows.row[0] = w;
    rows.row[1] = w * s;
    rows.row[2] = w * (Math.hypot(u - u0, v - v0) - offset);
    rows.push();
  });
  return Math.atan(backSubstitute(rows.finish())[1]!);
}

/** The state with the gap that makes the mean residual zero, and the sum of squares that remains. */
function levelled(cloud: Cloud, direction: Vec3, u0: number, v0: number, halfAngle: number): Rated {
  const cosine = Math.cos(halfAngle);
  const sine = Math.sin(halfAngle);
  let [weight, sum, squares] = [0, 0, 0];
  forEachProjected(cloud, direction, (u, v, s, w, offset) => {
    const d = Math.hypot(u - u0, v - v0) * cosine - s * sine - offset;
    weight += w * w;
    sum += w * w * d;
    squares += w * w * d * d;
  });
  const gap = sum / weight;
  const [e1, e2] = tangentBasis(direction);
  const anchor = addScaled(addScaled([0, 0, 0], e1, u0), e2, v0);
  const rest = squares - weight * gap * gap;
  return {
    state: reanchored({ anchor, direction, gap, halfAngle }),
    sum: Number.isFinite(rest) ? Math.max(0, rest) : Number.POSITIVE_INFINITY,
  };
}

/** Calls `visit(u, v, s, √w, offset)`: scaled coordinates across (e1, e2) and along the direction. */
function forEachProjected(
  cloud: Cloud,
  direction: Vec3,
  visit: (u: number, v: number, s: number, w: number, offset: number) => void,
): void {
  const [[e1x, e1y, e1z], [e2x, e2y, e2z]] = tangentBasis(direction);
  const [ax, ay, az] = direction;
  forEachScaled(cloud, (x, y, z, w, offset) => {
    visit(x * e1x + y * e1y + z * e1z, x * e2x + y * e2y + z * e2z, x * ax + y * ay + z * az, w, offset);
  });
}
