/**
 * Gradients of the distances of `alignment/nominal-distance` alone, written in place: for loops over very many points, where
 * an object a point would cost more than the arithmetic.
 */
import type { FeatureType, NominalFeature } from '../definition.ts';
import { cross, perpendicular } from '../geometry/vector.ts';

export interface DistanceGradients {
  /** Number of distances of a point. */
  readonly rows: number;
  /** x, y, z of the gradient of each distance, as `write` left them. */
  readonly gradients: Float64Array;
  /**
   * Writes the gradients at point `index` of these (interleaved x, y, z, mm, coordinates of the feature). The array and not its
   * numbers, which a call would make objects of.
   */
  readonly write: (xyz: Float64Array, index: number) => void;
}

/** @param nominal point, direction and half angle of the feature; its radius does not matter to a gradient. */
export function distanceGradients(
  type: FeatureType,
  nominal: Pick<NominalFeature, 'point' | 'direction' | 'halfAngle'>,
): DistanceGradients {
  const d = nominal.direction ?? ([0, 0, 1] as const);
  switch (type) {
    case 'plane':
    case 'midplane':
      return constant(d);
    case 'line': {
      const one = perpendicular(d);
      return constant([...one, ...cross(d, one)]);
    }
    case 'point':
      return constant([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    case 'sphere':
      return radial(nominal, [0, 0, 0], [0, 0, 1], 1, 0, 1);
    case 'cylinder':
      return radial(nominal, d, perpendicular(d), 1, 0, 1);
    case 'circle': {
      const inPlane = radial(nominal, d, perpendicular(d), 1, 0, 2);
      inPlane.gradients.set(d, 3);
      return inPlane;
    }
    case 'cone':
      return radial(
        nominal,
        d,
        perpendicular(d),
        Math.cos(nominal.halfAngle!),
        Math.sin(nominal.halfAngle!),
        1,
      );
  }
}

function constant(gradients: readonly number[]): DistanceGradients {
  return { rows: gradients.length / 3, gradients: Float64Array.from(gradients), write: () => {} };
}

/** First row: cosine × unit vector away from the point, or from the axis where there is one, − sine × axis. */
function radial(
  { point: [px, py, pz] }: Pick<NominalFeature, 'point'>,
  [ax, ay, az]: readonly number[],
  [ux, uy, uz]: readonly number[],
  cosine: number,
  sine: number,
  rows: number,
): DistanceGradients {
  const gradients = new Float64Array(3 * rows);
  const write = (xyz: Float64Array, index: number): void => {
    let dx = xyz[3 * index]! - px;
    let dy = xyz[3 * index + 1]! - py;
    let dz = xyz[3 * index + 2]! - pz;
    const height = dx * ax! + dy * ay! + dz * az!;
    dx -= height * ax!;
    dy -= height * ay!;
    dz -= height * az!;
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    if (length > 0) {
      dx /= length;
      dy /= length;
      dz /= length;
    } else {
      dx = ux!;
      dy = uy!;
      dz = uz!;
    }
    gradients[0] = cosine * dx - sine * ax!;
    gradients[1] = cosine * dy - sine * ay!;
    gradients[2] = cosine * dz - sine * az!;
  };
  return { rows, gradients, write };
}
