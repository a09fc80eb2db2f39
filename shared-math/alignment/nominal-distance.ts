/**
 * Distances of a point from a nominal feature, with their gradients: the residuals of whole-body fits.
 *
 * Signed distances: along +direction for planes, away from the axis or centre for round features. A line gives its two
 * components square to it, a circle an in-plane radial and an axial one, a point all three. Each face of a mid-plane
 * lies half a width from the nominal plane, and that width is free: `width` is the factor of the half width.
 */
import type { FeatureType, NominalFeature } from '../definition.ts';
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, combine, cross, dot, norm, perpendicular, scale, subtract } from '../geometry/vector.ts';

export interface DistanceRow {
  /** Distance, mm, probe offset taken off. */
  readonly value: number;
  /** Derivative of the distance with respect to the point. */
  readonly gradient: Vec3;
}

/**
 * The distance rows of point `q` (nominal coordinates, mm) from a nominal feature.
 *
 * @param offset signed distance at which the point should lie (tip radius); acts on planes and on the radial distance.
 */
export function distanceRows(
  type: FeatureType,
  nominal: NominalFeature,
  q: Vec3,
  offset: number,
): readonly DistanceRow[] {
  const v = subtract(q, nominal.point);
  const d = nominal.direction;
  switch (type) {
    case 'plane':
    case 'midplane':
      return [{ value: dot(d!, v) - offset, gradient: d! }];
    case 'sphere': {
      const r = norm(v);
      return [{ value: r - nominal.radius! - offset, gradient: unitOr(v, r, [0, 0, 1]) }];
    }
    case 'cylinder':
      return [radialRow(v, d!, nominal.radius! + offset)];
    case 'circle':
      return [radialRow(v, d!, nominal.radius! + offset), { value: dot(d!, v), gradient: d! }];
    case 'cone': {
      const height = dot(d!, v);
      const radial = radialRow(v, d!, nominal.radius! + height * Math.tan(nominal.halfAngle!));
      const cosine = Math.cos(nominal.halfAngle!);
      return [
        {
          value: cosine * radial.value - offset,
          gradient: combine(cosine, radial.gradient, -Math.sin(nominal.halfAngle!), d!),
        },
      ];
    }
    case 'line': {
      const one = perpendicular(d!);
      const two = cross(d!, one);
      return [
        { value: dot(one, v), gradient: one },
        { value: dot(two, v), gradient: two },
      ];
    }
    case 'point':
      return [
        { value: v[0], gradient: [1, 0, 0] },
        { value: v[1], gradient: [0, 1, 0] },
        { value: v[2], gradient: [0, 0, 1] },
      ];
  }
}

function radialRow(v: Vec3, axis: Vec3, radius: number): DistanceRow {
  const across = addScaled(v, axis, -dot(v, axis));
  const r = norm(across);
  return { value: r - radius, gradient: unitOr(across, r, perpendicular(axis)) };
}

function unitOr(v: Vec3, length: number, fallback: Vec3): Vec3 {
  return length > 0 ? scale(v, 1 / length) : fallback;
}
