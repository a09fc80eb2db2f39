/**
 * The distances that the criteria hold down, with first and second derivatives, for planes, axes and centres.
 *
 * A placement is what a surface is without its size. g_i is the distance of point i from it: along the normal (from the
 * plane through the centroid), from the axis or from the centre, less the offset of the point. Scaled units about the
 * centroid, as in `Cloud`. Local parameters are re-based at each placement, in (e1, e2) = tangentBasis(direction):
 *
 *   plane   the turning of the normal
 *   axis    shift1, shift2 of the anchor, then the turning
 *   centre  x, y, z
 *
 * With k = shift + s·tilt, û the unit radial direction and ρ its length, a point at axial position s has
 * ρ(p) = ρ − û·k + ½((û⊥·k)²/ρ − ρ(û·tilt)²) + O(p³).
 */
import type { Vec3 } from '../../geometry/types.ts';
import { addScaled, dot } from '../../geometry/vector.ts';
import type { Cloud } from '../cloud.ts';
import { type DirectionFreedom, tangentBasis, tiltsOf, turn } from '../direction.ts';

export interface Placement {
  /** Relative to the centroid, scaled: axis point nearest the centroid, or the centre; zero for planes. */
  readonly anchor: Vec3;
  /** Unit; of no meaning for a centre. */
  readonly direction: Vec3;
}

export interface DistanceModel {
  /** Number of local parameters. */
  readonly size: number;
  /** All g_i, into `out` of length n. */
  readonly distances: (placement: Placement, out: Float64Array) => void;
  /** Derivatives of the distances of single points at a placement. */
  readonly derivatives: (placement: Placement) => PointDerivatives;
  readonly move: (placement: Placement, step: ArrayLike<number>) => Placement;
}

export interface PointDerivatives {
  readonly distance: (i: number) => number;
  /** Writes factor·∂g_i at `at`. */
  readonly gradient: (i: number, factor: number, out: Float64Array, at: number) => void;
  /** Adds factor·∂²g_i to a matrix whose rows have `stride` entries. */
  readonly curvature: (i: number, factor: number, out: Float64Array, stride: number) => void;
}

/** How the tilts (t1, t2) follow the turning parameters: first derivatives, and the second of `azimuth`. */
interface Turning {
  readonly tilts: readonly (readonly [number, number])[];
  readonly bend: readonly [number, number];
}

function turningOf(freedom: DirectionFreedom, direction: Vec3): Turning {
  const tilts = tiltsOf(freedom, direction);
  if (freedom.size !== 1) return { tilts, bend: [0, 0] };
  const [e1, e2] = tangentBasis(direction);
  const along = dot(freedom.axis!, direction);
  return { tilts, bend: [along * dot(freedom.axis!, e1), along * dot(freedom.axis!, e2)] };
}

/** Scaled coordinates of point i along three directions, from `anchor`. */
function coordinatesIn(
  cloud: Cloud,
  anchor: Vec3,
  [e1, e2, e3]: readonly [Vec3, Vec3, Vec3],
): (i: number) => Vec3 {
  const { xyz, centroid, size } = cloud;
  return (i) => {
    const p: Vec3 = [
      (xyz[3 * i]! - centroid[0]) / size - anchor[0],
      (xyz[3 * i + 1]! - centroid[1]) / size - anchor[1],
      (xyz[3 * i + 2]! - centroid[2]) / size - anchor[2],
    ];
    return [dot(p, e1), dot(p, e2), dot(p, e3)];
  };
}

const offsetOf = (cloud: Cloud, i: number): number => (cloud.offsets ? cloud.offsets[i]! / cloud.size : 0);

function withOffsets(cloud: Cloud, out: Float64Array): void {
  const { offsets, size } = cloud;
  if (offsets) for (let i = 0; i < out.length; i++) out[i] = out[i]! - offsets[i]! / size;
}

/** Distance along a normal, from the plane through the centroid. */
export function planeModel(cloud: Cloud, freedom: DirectionFreedom): DistanceModel {
  return {
    size: freedom.size,
    distances: ({ direction: [ax, ay, az] }, out) => {
      const { xyz, centroid, size } = cloud;
      const [cx, cy, cz] = centroid;
      for (let i = 0; i < out.length; i++) {
        out[i] =
          ((xyz[3 * i]! - cx) / size) * ax +
          ((xyz[3 * i + 1]! - cy) / size) * ay +
          ((xyz[3 * i + 2]! - cz) / size) * az;
      }
      withOffsets(cloud, out);
    },
    derivatives: ({ direction }) => {
      const { tilts, bend } = turningOf(freedom, direction);
      const at = coordinatesIn(cloud, [0, 0, 0], [...tangentBasis(direction), direction]);
      return {
        distance: (i) => at(i)[2] - offsetOf(cloud, i),
        gradient: (i, factor, out, from) => {
          const [u, v] = at(i);
          for (const [d, [t1, t2]] of tilts.entries()) out[from + d] = factor * (t1 * u + t2 * v);
        },
        curvature: (i, factor, out, stride) => {
          const [u, v, s] = at(i);
          for (const [d, [a1, a2]] of tilts.entries()) {
            for (const [e, [b1, b2]] of tilts.entries()) {
              const bent = bend[0] * u + bend[1] * v;
              out[d * stride + e] = out[d * stride + e]! + factor * (bent - s * (a1 * b1 + a2 * b2));
            }
          }
        },
      };
    },
    move: ({ anchor, direction }, step) => ({ anchor, direction: turn(freedom, direction, step, 0) }),
  };
}

/** Distance from an axis: lines, cylinders, and circles as axes of given direction. */
export function axisModel(cloud: Cloud, freedom: DirectionFreedom): DistanceModel {
  const size = 2 + freedom.size;
  return {
    size,
    distances: ({ anchor, direction }, out) => {
      const { xyz, centroid } = cloud;
      const [cx, cy, cz] = centroid;
      const [qx, qy, qz] = anchor;
      const [[e1x, e1y, e1z], [e2x, e2y, e2z]] = tangentBasis(direction);
      for (let i = 0; i < out.length; i++) {
        const x = (xyz[3 * i]! - cx) / cloud.size - qx;
        const y = (xyz[3 * i + 1]! - cy) / cloud.size - qy;
        const z = (xyz[3 * i + 2]! - cz) / cloud.size - qz;
        const u = x * e1x + y * e1y + z * e1z;
        const v = x * e2x + y * e2y + z * e2z;
        out[i] = Math.sqrt(u * u + v * v);
      }
      withOffsets(cloud, out);
    },
    derivatives: ({ anchor, direction }) => {
      const { tilts, bend } = turningOf(freedom, direction);
      const at = coordinatesIn(cloud, anchor, [...tangentBasis(direction), direction]);
      const across = new Float64Array(size);
      const turned = new Float64Array(size);
      return {
        distance: (i) => {
          const [u, v] = at(i);
          return Math.sqrt(u * u + v * v) - offsetOf(cloud, i);
        },
        gradient: (i, factor, out, from) => {
          const [u, v, s] = at(i);
          const rho = Math.sqrt(u * u + v * v);
          const times = rho > 0 ? -factor / rho : 0;
          out[from] = times * u;
          out[from + 1] = times * v;
          for (const [d, [t1, t2]] of tilts.entries()) out[from + 2 + d] = times * s * (t1 * u + t2 * v);
        },
        curvature: (i, factor, out, stride) => {
          const [u, v, s] = at(i);
          const rho = Math.sqrt(u * u + v * v);
          if (!(rho > 0)) return;
          across[0] = -v / rho;
          across[1] = u / rho;
          for (const [d, [t1, t2]] of tilts.entries()) {
            across[2 + d] = (s * (t2 * u - t1 * v)) / rho;
            turned[2 + d] = (t1 * u + t2 * v) / rho;
          }
          for (let d = 0; d < size; d++) {
            for (let e = 0; e < size; e++) {
              const bent = d > 1 && e > 1 ? -(s * (bend[0] * u + bend[1] * v)) / rho : 0;
              out[d * stride + e] =
                out[d * stride + e]! +
                factor * ((across[d]! * across[e]!) / rho - rho * turned[d]! * turned[e]! + bent);
            }
          }
        },
      };
    },
    move: ({ anchor, direction }, step) => {
      const [e1, e2] = tangentBasis(direction);
      const moved = addScaled(addScaled(anchor, e1, step[0]!), e2, step[1]!);
      const turned = turn(freedom, direction, step, 2);
      return { anchor: addScaled(moved, turned, -dot(moved, turned)), direction: turned };
    },
  };
}

/** Distance from a centre. */
export function centreModel(cloud: Cloud): DistanceModel {
  const basis = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ] as const;
  return {
    size: 3,
    distances: ({ anchor }, out) => {
      const { xyz, centroid, size } = cloud;
      const [cx, cy, cz] = centroid;
      const [qx, qy, qz] = anchor;
      for (let i = 0; i < out.length; i++) {
        const x = (xyz[3 * i]! - cx) / size - qx;
        const y = (xyz[3 * i + 1]! - cy) / size - qy;
        const z = (xyz[3 * i + 2]! - cz) / size - qz;
        out[i] = Math.sqrt(x * x + y * y + z * z);
      }
      withOffsets(cloud, out);
    },
    derivatives: ({ anchor }) => {
      const at = coordinatesIn(cloud, anchor, basis);
      return {
        distance: (i) => Math.sqrt(dot(at(i), at(i))) - offsetOf(cloud, i),
        gradient: (i, factor, out, from) => {
          const p = at(i);
          const rho = Math.sqrt(dot(p, p));
          for (let d = 0; d < 3; d++) out[from + d] = rho > 0 ? (-factor * p[d]!) / rho : 0;
        },
        curvature: (i, factor, out, stride) => {
          const p = at(i);
          const rho = Math.sqrt(dot(p, p));
          if (!(rho > 0)) return;
          for (let d = 0; d < 3; d++) {
            for (let e = 0; e < 3; e++) {
              const flat = (d === e ? 1 : 0) - (p[d]! * p[e]!) / (rho * rho);
              out[d * stride + e] = out[d * stride + e]! + (factor * flat) / rho;
            }
          }
        },
      };
    },
    move: ({ anchor, direction }, step) => ({
      anchor: [anchor[0] + step[0]!, anchor[1] + step[1]!, anchor[2] + step[2]!],
      direction,
    }),
  };
}
