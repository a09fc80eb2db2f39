/** Where the machine touches each kind of surface: nominal points with their normals out of the material, mm. */
import { add, cross, scale, type Triple, unit } from './motion.ts';

export interface SurfacePoint {
  at: Triple;
  normal: Triple;
  /** How far the true surface stands proud of nominal here (form error), mm. */
  form: number;
}

/** Concentric rings on a flat annulus; `form` is the amplitude of a two-lobed wave round it. */
export function annulus(spec: {
  centre: Triple;
  normal: Triple;
  radii: readonly number[];
  perRing: number;
  form?: number;
}): SurfacePoint[] {
  const [x, y] = across(spec.normal);
  return spec.radii.flatMap((radius, ring) =>
    evenly(spec.perRing, ring / spec.radii.length).map((angle) => ({
      at: add(spec.centre, scale(around(x, y, angle), radius)),
      normal: spec.normal,
      form: (spec.form ?? 0) * Math.cos(2 * angle),
    })),
  );
}

/** A grid on a flat rectangle of the given length along `along` and the given width square to it. */
export function rectangle(spec: {
  centre: Triple;
  normal: Triple;
  along: Triple;
  length: number;
  width: number;
  columns: number;
  rows: number;
}): SurfacePoint[] {
  const aside = cross(spec.normal, spec.along);
  return spaced(spec.length, spec.columns).flatMap((s) =>
    spaced(spec.width, spec.rows).map((t) => ({
      at: add(spec.centre, add(scale(spec.along, s), scale(aside, t))),
      normal: spec.normal,
      form: 0,
    })),
  );
}

/** Rings inside a bore or outside a shaft; `form` is the amplitude of a three-lobed wave round it. */
export function tube(spec: {
  point: Triple;
  axis: Triple;
  radius: number;
  side: 'inside' | 'outside';
  heights: readonly number[];
  perRing: number;
  form?: number;
}): SurfacePoint[] {
  const [x, y] = across(spec.axis);
  const sign = spec.side === 'inside' ? -1 : 1;
  return spec.heights.flatMap((height, ring) =>
    evenly(spec.perRing, ring / spec.heights.length).map((angle) => {
      const outward = around(x, y, angle);
      return {
        at: add(add(spec.point, scale(spec.axis, height)), scale(outward, spec.radius)),
        normal: scale(outward, sign),
        form: (spec.form ?? 0) * Math.cos(3 * angle),
      };
    }),
  );
}

/** The part of a ball that a probe coming along −pole can reach: the pole and rings at the given latitudes (degrees). */
export function ball(spec: {
  centre: Triple;
  radius: number;
  pole: Triple;
  latitudes: readonly number[];
  perRing: number;
}): SurfacePoint[] {
  const [x, y] = across(spec.pole);
  const rings = spec.latitudes.flatMap((degrees, ring) =>
    evenly(spec.perRing, ring / spec.latitudes.length).map((angle) => {
      const latitude = (degrees * Math.PI) / 180;
      return add(scale(around(x, y, angle), Math.cos(latitude)), scale(spec.pole, Math.sin(latitude)));
    }),
  );
  return [spec.pole, ...rings].map((normal) => ({
    at: add(spec.centre, scale(normal, spec.radius)),
    normal,
    form: 0,
  }));
}

/** Two unit vectors square to a direction and to each other. */
function across(direction: Triple): [Triple, Triple] {
  const helper: Triple = Math.abs(direction[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const x = unit(cross(helper, direction));
  return [x, cross(direction, x)];
}

function around(x: Triple, y: Triple, angle: number): Triple {
  return add(scale(x, Math.cos(angle)), scale(y, Math.sin(angle)));
}

/** n angles round the circle, turned by a fraction of one step. */
function evenly(n: number, fraction: number): number[] {
  return Array.from({ length: n }, (_, i) => (2 * Math.PI * (i + fraction)) / n);
}

/** n positions from −length/2 to +length/2. */
function spaced(length: number, n: number): number[] {
  return Array.from({ length: n }, (_, i) => (n === 1 ? 0 : length * (i / (n - 1) - 0.5)));
}
