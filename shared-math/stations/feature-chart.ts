/** Two coordinates on a feature, so that its residuals can be drawn as a map or a trace. */
import type { Surface } from '../association/residuals.ts';
import type { Vec3 } from '../geometry/types.ts';
import { add, cross, dot, normalize, rejectFrom, scale, subtract } from '../geometry/vector.ts';

/** Right-handed: u × v = normal. `normal` is the feature's direction; of a sphere or a point the z axis. */
export interface FeatureAxes {
  readonly origin: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
  readonly normal: Vec3;
}

/** Cosine beyond which a direction counts as lying along x: about 26°, far from any loss of digits. */
const ALONG_X = 0.9;

/**
 * u lies as near to the x axis as the direction allows, or to the y axis where the direction lies along x. The origin is the
 * nominal point carried onto the situation feature (plane, line, axis; of a circle and a sphere their centre), so that it does
 * not move with the choice of points.
 *
 * @param nominal point of the nominal feature, in the coordinates of the surface
 */
export function featureAxes({ type, point, direction }: Surface, nominal: Vec3): FeatureAxes {
  const normal: Vec3 = direction ?? [0, 0, 1];
  const u = normalize(rejectFrom(Math.abs(normal[0]) > ALONG_X ? [0, 1, 0] : [1, 0, 0], normal));
  return { origin: originOn(type, point, normal, nominal), u, v: cross(normal, u), normal };
}

function originOn(type: Surface['type'], point: Vec3, normal: Vec3, nominal: Vec3): Vec3 {
  const along = scale(normal, dot(subtract(nominal, point), normal));
  switch (type) {
    case 'plane':
    case 'midplane':
      return subtract(nominal, along);
    case 'line':
    case 'cylinder':
    case 'cone':
      return add(point, along);
    case 'circle':
    case 'sphere':
    case 'point':
      return point;
  }
}

/**
 * Places of points on a feature, two numbers a point, interleaved:
 * plane, mid-plane: mm along u and v; line: mm along the direction, 0; circle, cylinder, cone: angle from u towards v (rad,
 * −π … π) and height along the axis (mm); sphere: that angle and the elevation above the u–v plane (rad); point: 0, 0.
 *
 * @param xyz interleaved, in the coordinates of the axes
 */
export function placesOn({ type }: Surface, axes: FeatureAxes, xyz: Float64Array): Float64Array {
  const places = new Float64Array((2 * xyz.length) / 3);
  const { origin, u, v, normal } = axes;
  for (let i = 0; 3 * i < xyz.length; i++) {
    const x = xyz[3 * i]! - origin[0];
    const y = xyz[3 * i + 1]! - origin[1];
    const z = xyz[3 * i + 2]! - origin[2];
    const alongU = x * u[0] + y * u[1] + z * u[2];
    const alongV = x * v[0] + y * v[1] + z * v[2];
    const height = x * normal[0] + y * normal[1] + z * normal[2];
    switch (type) {
      case 'plane':
      case 'midplane':
        places[2 * i] = alongU;
        places[2 * i + 1] = alongV;
        break;
      case 'line':
        places[2 * i] = height;
        break;
      case 'circle':
      case 'cylinder':
      case 'cone':
        places[2 * i] = Math.atan2(alongV, alongU);
        places[2 * i + 1] = height;
        break;
      case 'sphere':
        places[2 * i] = Math.atan2(alongV, alongU);
        places[2 * i + 1] = Math.atan2(height, Math.hypot(alongU, alongV));
        break;
      case 'point':
        break;
    }
  }
  return places;
}
