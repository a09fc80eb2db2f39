/**
 * Measured points of a disc of known truth, made from the definitions of the frames and errors alone: nothing here calls
 * the mathematics that is under test. Lengths mm, angles rad.
 */
import type { BladeSeat, DatumDefinition, DiscErrorName, ErrorName } from '../../shared-math/definition.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type { RandomSource } from '../support/random.ts';

/** x ↦ Σ axes[k]·x_k + origin: the axes are the images of the coordinate directions. */
export interface Placement {
  readonly axes: readonly [Vec3, Vec3, Vec3];
  readonly origin: Vec3;
}

/** The six errors of a blade: displacement and rotation vector in the nominal blade frame. */
export interface BladeTruth {
  readonly displacement: Vec3;
  readonly rotation: Vec3;
}

/** Where a feature is probed, about its nominal point. */
export type Patch =
  | { readonly shape: 'rectangle'; readonly length: number; readonly width: number; readonly points: number }
  | { readonly shape: 'ring'; readonly inner: number; readonly outer: number; readonly points: number }
  | { readonly shape: 'barrel'; readonly length: number; readonly points: number }
  | { readonly shape: 'cap'; readonly points: number };

/** Half the distance of the two faces of a mid-plane. */
const HALF_WIDTH = 8;

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const sum = (...terms: readonly (readonly [number, Vec3])[]): Vec3 => {
  const of = (k: 0 | 1 | 2): number => terms.reduce((s, [f, v]) => s + f * v[k], 0);
  return [of(0), of(1), of(2)];
};

/** Turns a vector by a rotation vector (Rodrigues). */
export function turned(rotation: Vec3, v: Vec3): Vec3 {
  const angle = Math.hypot(...rotation);
  if (angle === 0) return v;
  const axis = sum([1 / angle, rotation]);
  const c = Math.cos(angle);
  return sum([c, v], [Math.sin(angle), cross(axis, v)], [(1 - c) * dot(axis, v), axis]);
}

export function place(at: Placement, p: Vec3): Vec3 {
  return sum([p[0], at.axes[0]], [p[1], at.axes[1]], [p[2], at.axes[2]], [1, at.origin]);
}

function turnedBy(at: Placement, d: Vec3): Vec3 {
  return sum([d[0], at.axes[0]], [d[1], at.axes[1]], [d[2], at.axes[2]]);
}

/** A placement with a random rotation. */
export function randomPlacement(random: RandomSource, reach: number): Placement {
  const angle = random.between(-Math.PI, Math.PI);
  const rotation = sum([angle, random.direction()]);
  const axis = (v: Vec3): Vec3 => turned(rotation, v);
  const along = (): number => random.between(-reach, reach);
  return { axes: [axis([1, 0, 0]), axis([0, 1, 0]), axis([0, 0, 1])], origin: [along(), along(), along()] };
}

/** The nominal blade frame in the disc, from station angle and seat. */
export function bladePlacement(theta: number, seat: BladeSeat): Placement {
  const { r, t, z, a, u } = cylindrical(theta, seat);
  const o = sum([Math.cos(seat.staggerAngle), a], [Math.sin(seat.staggerAngle), t]);
  return { axes: [o, cross(u, o), u], origin: sum([seat.radius, r], [seat.axial, z]) };
}

function cylindrical(theta: number, { heightAngle }: BladeSeat) {
  const r: Vec3 = [Math.cos(theta), Math.sin(theta), 0];
  const z: Vec3 = [0, 0, 1];
  const u = sum([Math.cos(heightAngle), r], [Math.sin(heightAngle), z]);
  const a = sum([-Math.sin(heightAngle), r], [Math.cos(heightAngle), z]);
  return { r, t: cross(z, r), z, a, u };
}

/** Where a blade of these errors carries a point of its nominal frame. */
export function moved({ displacement, rotation }: BladeTruth, p: Vec3): Vec3 {
  return sum([1, turned(rotation, p)], [1, displacement]);
}

/** The six errors and the disc-frame quantities of a truth. */
export function trueErrors(
  truth: BladeTruth,
  theta: number,
  seat: BladeSeat,
): Readonly<Record<ErrorName | DiscErrorName, number>> {
  const { displacement: d, rotation: rho } = truth;
  const { r, t, z, a, u } = cylindrical(theta, seat);
  const blade = bladePlacement(theta, seat);
  const shift = turnedBy(blade, d);
  const stacking = turnedBy(blade, turned(rho, [0, 0, 1]));
  const angle = Math.hypot(...rho);
  // Twist about the upset axis of the swing–twist split: 2·atan2(q_z, q_w) of the unit quaternion.
  const sine = angle === 0 ? 0 : (rho[2] / angle) * Math.sin(angle / 2);
  return {
    oscillation: d[0],
    lateral: d[1],
    upset: d[2],
    rotOscillation: rho[0],
    rotLateral: rho[1],
    rotUpset: rho[2],
    radial: dot(shift, r),
    tangential: dot(shift, t),
    axial: dot(shift, z),
    lean: Math.atan2(dot(stacking, t), dot(stacking, u)),
    sweep: Math.atan2(dot(stacking, a), dot(stacking, u)),
    stagger: -2 * Math.atan2(sine, Math.cos(angle / 2)),
  };
}

export interface Probing {
  /** Standard deviation of every coordinate of the next point, mm. */
  readonly sigma: () => number;
  readonly statesSigma: boolean;
  /** Probe tip radius, mm, where the file holds tip centres; null: surface points. */
  readonly tip: number | null;
  readonly statesNormals: boolean;
  /** Relative scale error of the machine, about the disc's origin. */
  readonly scale: number;
  readonly machine: Placement;
}

/** Probes a feature: one block for each of its names, machine coordinates. */
export function probe(
  datum: DatumDefinition,
  patch: Patch,
  station: number | null,
  toDisc: (nominal: Vec3) => Vec3,
  { sigma, statesSigma, tip, statesNormals, scale, machine }: Probing,
  random: RandomSource,
): readonly PointBlock[] {
  return datum.features.map((feature, face): PointBlock => {
    const n = patch.points;
    const xyz = new Float64Array(3 * n);
    const normals = new Float64Array(3 * n);
    const sigmas = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const { point, normal } = surfacePoint(datum, patch, face, i, random);
      const surface = toDisc(point);
      const outward = sum([1, toDisc(sum([1, point], [1, normal]))], [-1, surface]);
      const centre = sum([1, surface], [tip ?? 0, outward]);
      const seen = place(machine, sum([1 + scale, centre]));
      sigmas[i] = sigma();
      xyz.set(
        seen.map((c) => c + sigmas[i]! * random.normal()),
        3 * i,
      );
      normals.set(turnedBy(machine, outward), 3 * i);
    }
    return {
      station,
      feature,
      xyz,
      normals: statesNormals ? normals : null,
      tipRadius: tip === null ? null : new Float64Array(n).fill(tip),
      sigma: statesSigma ? sigmas : null,
      temperature: null,
    };
  });
}

/** A random point of the patch, spread evenly enough that every feature is determined, with the normal out of the material. */
function surfacePoint(
  { nominal, type, side }: DatumDefinition,
  patch: Patch,
  face: number,
  i: number,
  random: RandomSource,
): { readonly point: Vec3; readonly normal: Vec3 } {
  const along = nominal.direction ?? [0, 0, 1];
  const [one, two] = squareTo(along);
  const out = side === 'inside' ? -1 : 1;
  const share = (i + random.uniform()) / patch.points;
  const around = (angle: number): Vec3 => sum([Math.cos(angle), one], [Math.sin(angle), two]);
  switch (patch.shape) {
    case 'rectangle': {
      // Strata along the length, random across.
      const [x, y] = [patch.length * (share - 0.5), patch.width * (random.uniform() - 0.5)];
      const height = type === 'midplane' ? (face === 0 ? HALF_WIDTH : -HALF_WIDTH) : 0;
      // The faces of a slot look at each other.
      const sense = type === 'midplane' ? (face === 0 ? -1 : 1) : 1;
      return {
        point: sum([1, nominal.point], [x, two], [y, one], [height, along]),
        normal: sum([sense, along]),
      };
    }
    case 'ring': {
      const radius = random.between(patch.inner, patch.outer);
      return { point: sum([1, nominal.point], [radius, around(2 * Math.PI * share)]), normal: along };
    }
    case 'barrel': {
      const radial = around(2 * Math.PI * share);
      const height = patch.length * (random.uniform() - 0.5);
      return {
        point: sum([1, nominal.point], [nominal.radius!, radial], [height, along]),
        normal: sum([out, radial]),
      };
    }
    case 'cap': {
      // A golden-angle spiral over the upper hemisphere.
      const z = share;
      const radial = sum([Math.sqrt(1 - z * z), around(2.399963 * i)], [z, along]);
      return { point: sum([1, nominal.point], [nominal.radius!, radial]), normal: sum([out, radial]) };
    }
  }
}

/** Two unit vectors square to d and to each other; the second is the one nearer z, or x where d is near z. */
function squareTo(d: Vec3): readonly [Vec3, Vec3] {
  const reference: Vec3 = Math.abs(d[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const two = sum([1, reference], [-dot(reference, d), d]);
  const unit = sum([1 / Math.hypot(...two), two]);
  return [cross(unit, d), unit];
}
