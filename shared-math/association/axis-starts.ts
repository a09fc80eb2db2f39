/** Starting states for a cylinder or cone of given direction: axis position, radius and half angle in closed form. */
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, normalize } from '../geometry/vector.ts';
import { backSubstitute } from './algebraic.ts';
import { type Cloud, FLAT_RATIO, forEachScaled, type PrincipalAxes } from './cloud.ts';
import { tangentBasis } from './direction.ts';
import { type RevolutionState, reanchored } from './revolution.ts';
import { TriangularFactor } from './triangular-factor.ts';

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

/** Orders candidates by their sums of squares, best first. */
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
