/**
 * Clocking by location: the turn about an axis that brings a nominal point onto a measured feature.
 *
 * Plane and mid-plane: the nominal point (at its nominal radius) turns until it lies in the measured plane. Features
 * with an axis along the turning axis, circles, spheres and points: by the azimuth of their centre. An axis that crosses
 * the turning direction (a radial pin): by the azimuth of the point where it has the nominal radius.
 *
 * Source: ISO 5459 situation features; the choice of location or direction is the plan's `clocking` key.
 */
import type { DatumDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { wrapAngle } from '../geometry/rotation.ts';
import type { Vec3 } from '../geometry/types.ts';
import { add, cross, dot, norm, rejectFrom, scale, subtract } from '../geometry/vector.ts';
import type { SituationFeature } from './datum-system.ts';
import { STRUCTURAL_SINE } from './freedoms.ts';

export interface ClockingCase {
  readonly datum: DatumDefinition;
  /** The associated feature, measured coordinates. */
  readonly feature: SituationFeature;
  /** Unit vector of the turn and a point on it, measured coordinates. */
  readonly axis: Vec3;
  readonly centre: Vec3;
  /** Image of the datum's nominal point under the motion built so far. */
  readonly place: Vec3;
}

/**
 * Signed turn (rad, right-hand about `axis`) that satisfies the datum by its location, the smaller of two where two
 * exist. Null where the feature cannot fix the turn by its location (its nominal point has no lever about the axis, or
 * its surface is square to the axis).
 *
 * @throws ReductionError `degenerate-points` where the measured feature lies out of reach of its nominal point.
 */
export function clockingTurn(c: ClockingCase): number | null {
  const lever = rejectFrom(subtract(c.place, c.centre), c.axis);
  const radius = norm(lever);
  if (radius <= STRUCTURAL_SINE * Math.max(1, norm(c.datum.nominal.point))) return null;
  const { direction } = c.feature;
  switch (c.datum.type) {
    case 'plane':
    case 'midplane':
      return direction === null ? null : turnIntoPlane(c, direction, lever);
    case 'sphere':
    case 'point':
    case 'circle':
    case 'cone':
      return azimuth(lever, rejectFrom(subtract(c.feature.point, c.centre), c.axis), c.axis);
    case 'line':
    case 'cylinder':
      return direction === null ? null : turnOntoAxis(c, direction, lever, radius);
  }
}

function turnIntoPlane(c: ClockingCase, normal: Vec3, lever: Vec3): number | null {
  // n·(centre − q + along + cos α·lever + sin α·(axis × lever)) = 0, with `along` the part of the place along the axis.
  const side = cross(c.axis, lever);
  const cosine = dot(normal, lever);
  const sine = dot(normal, side);
  if (Math.abs(sine) <= STRUCTURAL_SINE * norm(lever)) return null;
  const along = scale(c.axis, dot(subtract(c.place, c.centre), c.axis));
  const constant = -dot(normal, add(subtract(c.centre, c.feature.point), along));
  const amplitude = Math.hypot(cosine, sine);
  if (Math.abs(constant) > amplitude) throw outOfReach(c);
  const phase = Math.atan2(sine, cosine);
  const half = Math.acos(constant / amplitude);
  return [wrapAngle(phase + half), wrapAngle(phase - half)].sort((a, b) => Math.abs(a) - Math.abs(b))[0]!;
}

function turnOntoAxis(c: ClockingCase, direction: Vec3, lever: Vec3, radius: number): number {
  const start = rejectFrom(subtract(c.feature.point, c.centre), c.axis);
  const run = rejectFrom(direction, c.axis);
  if (norm(run) < STRUCTURAL_SINE) return azimuth(lever, start, c.axis);
  // |start + s·run| = radius: the solution on the side of the nominal point.
  const a = dot(run, run);
  const b = dot(start, run);
  const discriminant = b * b - a * (dot(start, start) - radius * radius);
  if (discriminant < 0) throw outOfReach(c);
  const turns = [1, -1].map((sign) => {
    const s = (-b + sign * Math.sqrt(discriminant)) / a;
    return azimuth(lever, add(start, scale(run, s)), c.axis);
  });
  return turns.sort((p, q) => Math.abs(p) - Math.abs(q))[0]!;
}

function azimuth(from: Vec3, to: Vec3, axis: Vec3): number {
  return Math.atan2(dot(axis, cross(from, to)), dot(from, to));
}

function outOfReach({ datum }: ClockingCase): ReductionError {
  return ReductionError.of(
    'degenerate-points',
    { code: 'clocking-off-axis', values: { datum: datum.label, features: datum.features } },
    { datum: datum.label, feature: datum.features.join(', ') },
  );
}
