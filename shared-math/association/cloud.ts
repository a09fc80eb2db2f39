/** The points of one association: checked, with their centroid and size. Nothing is copied but samples. */
import { Matrix } from 'ml-matrix';
import { ReductionError } from '../errors.ts';
import type { Vec3 } from '../geometry/types.ts';
import { dot } from '../geometry/vector.ts';
import type { Degeneracy, Fitted } from '../notes/notes.ts';
import { tangentBasis } from './direction.ts';
import { spectrumOf, spectrumOfColumns, TriangularFactor } from './triangular-factor.ts';
import type { AssociationInput } from './types.ts';

export interface Cloud {
  readonly points: number;
  readonly xyz: Float64Array;
  readonly offsets: Float64Array | null;
  readonly weights: Float64Array | null;
  /** Weighted centroid. */
  readonly centroid: Vec3;
  /** A power of two (scaling by it is exact) near half the diagonal of the points' box, mm. */
  readonly size: number;
  readonly totalWeight: number;
  /** Weighted mean of the offsets. */
  readonly meanOffset: number;
  /** Largest |coordinate|. */
  readonly reach: number;
}

/**
 * Ratio of neighbouring principal spreads below which points count as lying on a line (or in a plane). Points on a
 * line 30 mm long, rounded to the micrometre as exports do, spread sideways by 3e-5 of their length; an arc of
 * 20° by 4e-2.
 */
export const FLAT_RATIO = 5e-5;

/** Points closer together than this fraction of their coordinates are the same point up to rounding. */
const COINCIDENT_RATIO = 64 * 2.220446049250313e-16;

/** Block length of sums: rounding grows with √(n / block) instead of √n, for free. */
const SUM_BLOCK = 1024;

/**
 * Checks the input and measures its centroid and size in one pass.
 * @throws ReductionError `invalid-argument`, `too-few-points`, `not-finite`
 */
export function cloudOf(input: AssociationInput, minimum: number, what: Fitted): Cloud {
  const { xyz } = input;
  const points = xyz.length / 3;
  const offsets = input.offsets ?? null;
  const weights = input.weights ?? null;
  checkLengths(points, offsets, weights);
  if (points < minimum) {
    throw ReductionError.of('too-few-points', {
      code: 'too-few-points',
      values: { what, needed: minimum, found: points },
    });
  }
  const [x0, y0, z0] = [xyz[0]!, xyz[1]!, xyz[2]!];
  let [sx, sy, sz, so, sw] = [0, 0, 0, 0, 0];
  let [lowX, lowY, lowZ] = [x0, y0, z0];
  let [highX, highY, highZ] = [x0, y0, z0];
  for (let from = 0; from < points; from += SUM_BLOCK) {
    const to = Math.min(points, from + SUM_BLOCK);
    let [bx, by, bz, bo, bw] = [0, 0, 0, 0, 0];
    for (let i = from; i < to; i++) {
      const x = xyz[3 * i]!;
      const y = xyz[3 * i + 1]!;
      const z = xyz[3 * i + 2]!;
      const w = weights ? weights[i]! : 1;
      bx += w * (x - x0);
      by += w * (y - y0);
      bz += w * (z - z0);
      bw += w;
      if (offsets) bo += w * offsets[i]!;
      if (x < lowX) lowX = x;
      else if (x > highX) highX = x;
      if (y < lowY) lowY = y;
      else if (y > highY) highY = y;
      if (z < lowZ) lowZ = z;
      else if (z > highZ) highZ = z;
    }
    sx += bx;
    sy += by;
    sz += bz;
    so += bo;
    sw += bw;
  }
  if (!Number.isFinite(sx + sy + sz + so + sw)) throw notFinite(xyz, offsets, weights);
  if (weights && !weights.every((w) => w > 0)) {
    throw new ReductionError(
      'invalid-argument',
      'A weight is not a positive number.',
      'Give positive weights.',
    );
  }
  const reach = Math.max(
    Math.abs(lowX),
    Math.abs(highX),
    Math.abs(lowY),
    Math.abs(highY),
    Math.abs(lowZ),
    Math.abs(highZ),
  );
  const half = 0.5 * Math.hypot(highX - lowX, highY - lowY, highZ - lowZ);
  return {
    points,
    xyz,
    offsets,
    weights,
    centroid: [x0 + sx / sw, y0 + sy / sw, z0 + sz / sw],
    size: half > 0 ? 2 ** Math.round(Math.log2(half)) : 1,
    totalWeight: sw,
    meanOffset: so / sw,
    reach,
  };
}

function checkLengths(points: number, offsets: Float64Array | null, weights: Float64Array | null): void {
  if (
    Number.isInteger(points) &&
    (offsets?.length ?? points) === points &&
    (weights?.length ?? points) === points
  ) {
    return;
  }
  throw new ReductionError(
    'invalid-argument',
    `The arrays of an association do not fit together: ${3 * points} coordinates, ${offsets?.length ?? 'no'} offsets, ${weights?.length ?? 'no'} weights.`,
    'Give three coordinates, one offset and one weight for each point.',
  );
}

function notFinite(
  xyz: Float64Array,
  offsets: Float64Array | null,
  weights: Float64Array | null,
): ReductionError {
  const bad = xyz.findIndex((value) => !Number.isFinite(value));
  const what =
    bad >= 0
      ? `coordinate ${'xyz'[bad % 3]} of point ${Math.floor(bad / 3) + 1} is ${xyz[bad]}`
      : !(offsets?.every(Number.isFinite) ?? true)
        ? 'an offset is not a finite number'
        : !(weights?.every(Number.isFinite) ?? true)
          ? 'a weight is not a finite number'
          : 'the coordinates are too large to add up';
  return new ReductionError('not-finite', `The fit cannot start: ${what}.`, 'Correct or remove this point.');
}

/** At most `count` points of the cloud, picked without pattern but always the same; centroid and size are kept. */
export function sampleOf(cloud: Cloud, count: number): Cloud {
  if (cloud.points <= count) return cloud;
  const xyz = new Float64Array(3 * count);
  const offsets = cloud.offsets ? new Float64Array(count) : null;
  const weights = cloud.weights ? new Float64Array(count) : null;
  let totalWeight = 0;
  // A multiplicative generator: a regular stride could fall in step with the scan lines of the machine.
  let seed = 20_117;
  for (let k = 0; k < count; k++) {
    seed = (seed * 48_271) % 2_147_483_647;
    // One pick from each of `count` equal stretches, so the whole scan is covered.
    const i = Math.min(cloud.points - 1, Math.floor(((k + seed / 2_147_483_647) * cloud.points) / count));
    xyz.set(cloud.xyz.subarray(3 * i, 3 * i + 3), 3 * k);
    if (offsets) offsets[k] = cloud.offsets![i]!;
    if (weights) weights[k] = cloud.weights![i]!;
    totalWeight += weights ? weights[k]! : 1;
  }
  return { ...cloud, points: count, xyz, offsets, weights, totalWeight };
}

/** Calls `visit(x, y, z, √w, offset)` with centred, scaled coordinates. */
export function forEachScaled(
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

/** Principal spreads of the points about their centroid, in units of the cloud's size. */
export interface PrincipalAxes {
  /** Factor of the rows √w·[x, y, z, offset] about their means, scaled. */
  readonly factor: TriangularFactor;
  /** Singular values of the coordinates, largest first. */
  readonly spreads: Vec3;
  readonly axes: readonly [Vec3, Vec3, Vec3];
}

/** Streams the centred, scaled rows of `clouds` (each about its own centroid) into one factor. */
export function principalAxes(...clouds: readonly Cloud[]): PrincipalAxes {
  const rows = clouds.reduce((n, cloud) => n + cloud.points, 0);
  const withOffsets = clouds.some((cloud) => cloud.offsets !== null);
  const factor = new TriangularFactor(4, rows, withOffsets ? 4 : 3);
  const size = clouds[0]!.size;
  for (const cloud of clouds) {
    const { points, xyz, offsets, weights, centroid, meanOffset } = cloud;
    const [cx, cy, cz] = centroid;
    const { row } = factor;
    for (let i = 0; i < points; i++) {
      const w = (weights ? Math.sqrt(weights[i]!) : 1) / size;
      row[0] = w * (xyz[3 * i]! - cx);
      row[1] = w * (xyz[3 * i + 1]! - cy);
      row[2] = w * (xyz[3 * i + 2]! - cz);
      if (withOffsets) row[3] = offsets ? w * (offsets[i]! - meanOffset) : 0;
      factor.push();
    }
  }
  factor.finish();
  const { singularValues, rightVectors } = spectrumOfColumns(factor.leadingColumns(3));
  return {
    factor,
    spreads: singularValues as unknown as Vec3,
    axes: rightVectors as unknown as readonly [Vec3, Vec3, Vec3],
  };
}

/**
 * Refuses points that coincide, and with `dimensions` 2 or 3 points on a line or in a plane.
 * @throws ReductionError `degenerate-points`
 */
export function requireSpread(cloud: Cloud, spreads: Vec3, dimensions: 1 | 2 | 3, what: Fitted): void {
  const [first, second, third] = spreads;
  const floor = (COINCIDENT_RATIO * cloud.reach * Math.sqrt(cloud.totalWeight)) / cloud.size;
  if (!(first > floor)) throw degenerate(what, 'same-place');
  if (dimensions >= 2 && second <= FLAT_RATIO * first) {
    throw degenerate(what, 'one-line');
  }
  if (dimensions >= 3 && third <= FLAT_RATIO * second) {
    throw degenerate(what, 'one-plane');
  }
}

/**
 * Refuses points that lie on one line when seen along the unit `direction`: no circle or cylinder goes through them.
 * @throws ReductionError `degenerate-points`
 */
export function requireSpreadAcross({ factor }: PrincipalAxes, direction: Vec3, what: Fitted): void {
  const [e1, e2] = tangentBasis(direction);
  const rows = [0, 1, 2].map((i) => {
    const row: Vec3 = [factor.at(i, 0), factor.at(i, 1), factor.at(i, 2)];
    return [dot(row, e1), dot(row, e2)];
  });
  const [first = 0, second = 0] = spectrumOf(new Matrix(rows)).singularValues;
  if (second <= FLAT_RATIO * first) {
    throw degenerate(what, 'line-along-direction');
  }
}

/** @param by the criterion where the message names it. */
export function degenerate(
  what: Fitted,
  why: Degeneracy,
  by: 'maximum-inscribed' | 'criterion' | null = null,
): ReductionError {
  return ReductionError.of('degenerate-points', { code: 'degenerate', values: { what, by, why } });
}
