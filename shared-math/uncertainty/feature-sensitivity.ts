/**
 * How an associated feature answers to small disturbances of its points and of the direction that earlier datums hold.
 *
 * The feature moves as a rigid body with a twist about its reported point: turn ω (rad) and shift v (mm), plus its size.
 * A point at q with distance gradient g sees the distance change by −g·(v + ω × (q − point)). With J these rows for the
 * parameters that the association fits (P) and H those for the held turn, stationarity of the sum of squares gives
 *   β = −(JᵀWJ)⁻¹·(JᵀWε + JᵀWH·ω_held), ε the disturbances of the distances.
 * Second derivatives of the distances times residuals are left out: they change the result by residual over feature size.
 *
 * Sources: JCGM 102:2011, 6.3 (implicit multivariate models); Forbes, NPL Report DITC 140/89 (least-squares elements).
 */
import { leverSize } from '../association/lever-size.ts';
import { spectrumOf, TriangularFactor } from '../association/triangular-factor.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from '../association/types.ts';
import type { FeatureType } from '../definition.ts';
import type { Vec3 } from '../geometry/types.ts';
import { cross, norm, perpendicular, rejectFrom } from '../geometry/vector.ts';
import { distanceGradients } from './distance-gradients.ts';

/** A fitted parameter: what a unit of it does to the feature. */
export interface Parameter {
  readonly turn: Vec3;
  readonly shift: Vec3;
  /** `radius` and `halfAngle` move the surface; `halfWidth` moves the two faces of a mid-plane apart. */
  readonly size: 'none' | 'radius' | 'halfAngle' | 'halfWidth';
}

export interface FeatureSensitivity {
  /** For each parameter β_k: the turn and the shift of the feature that a unit of it makes. */
  readonly turns: readonly Vec3[];
  readonly shifts: readonly Vec3[];
  /** β = own disturbance + response·ω_held; rows by parameter, columns by x, y, z of the held turn. */
  readonly response: readonly Vec3[];
  /** Covariance of the own disturbance of β for points of unit variance (or of variance `variances`), rows. */
  readonly covariance: readonly (readonly number[])[];
  /**
   * β for a unit relative scale disturbance about the feature's reported point; absent where that leaves the feature as
   * it is but for its size.
   */
  readonly scaleResponse?: readonly number[];
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const NO: Vec3 = [0, 0, 0];

/** Below this sine a direction that may turn about an axis lies along it: its turn moves nothing. */
const ALONG_AXIS = 1e-6;

/**
 * @param feature as associated, in the coordinates of the inputs (mm).
 * @param inputs one for each feature name (two for a mid-plane); their weights are those of the association.
 * @param orientation what was held when it was associated.
 * @param variances of each point, one array for each input, relative to the variance sought; null: all 1.
 */
export function featureSensitivity(
  feature: SubstituteFeature,
  inputs: readonly AssociationInput[],
  orientation: Orientation,
  variances: readonly (Float64Array | null)[] | null = null,
): FeatureSensitivity {
  const parameters = parametersOf(feature, orientation);
  const p = parameters.length;
  const size = leverSize(inputs, feature.point);
  const scales = parameters.map(({ turn }) => (turn === NO ? 1 : 1 / size));
  const sizes = parameters.map((q) => (q.size === 'halfAngle' ? 1 / size : 1));
  const factor = new TriangularFactor(p + 3);
  const noise = variances?.some((v) => v !== null) ? new TriangularFactor(p) : null;
  const { rows, gradients, write } = distanceGradients(feature.type, feature);
  const [px, py, pz] = feature.point;
  // Columns of the rows: −(gradient·shift + (lever × gradient)·turn)·scale, flat so that the loop makes no objects.
  const moves = Float64Array.from(
    parameters.flatMap(({ turn, shift }, k) => [...turn, ...shift].map((c) => -c * scales[k]!)),
  );
  const sizeAt = parameters.findIndex((q) => q.size !== 'none');
  const kind = sizeAt < 0 ? 'none' : parameters[sizeAt]!.size;
  const sizeFactor = sizeAt < 0 ? 0 : sizes[sizeAt]!;
  const { row } = factor;

  inputs.forEach(({ xyz, weights }, face) => {
    const side = face === 0 ? 1 : -1;
    const own = variances?.[face] ?? null;
    for (let i = 0; 3 * i < xyz.length; i++) {
      const lx = xyz[3 * i]! - px;
      const ly = xyz[3 * i + 1]! - py;
      const lz = xyz[3 * i + 2]! - pz;
      write(xyz, i);
      const root = weights ? Math.sqrt(weights[i]!) : 1;
      const deviation = root * (own ? Math.sqrt(own[i]!) : 1);
      for (let component = 0; component < rows; component++) {
        const gx = gradients[3 * component]!;
        const gy = gradients[3 * component + 1]!;
        const gz = gradients[3 * component + 2]!;
        const tx = ly * gz - lz * gy;
        const ty = lz * gx - lx * gz;
        const tz = lx * gy - ly * gx;
        for (let k = 0; k < p; k++) {
          const m = 6 * k;
          row[k] =
            root *
            (moves[m]! * tx +
              moves[m + 1]! * ty +
              moves[m + 2]! * tz +
              moves[m + 3]! * gx +
              moves[m + 4]! * gy +
              moves[m + 5]! * gz);
        }
        if (sizeAt >= 0)
          row[sizeAt] = root * sizeFactor * sizeDerivative(feature, kind, lx, ly, lz, side, component);
        row[p] = (-root * tx) / size;
        row[p + 1] = (-root * ty) / size;
        row[p + 2] = (-root * tz) / size;
        factor.push();
        if (noise) {
          for (let k = 0; k < p; k++) noise.row[k] = deviation * row[k]!;
          noise.push();
        }
      }
    }
  });
  factor.finish();
  const leading = factor.leading(p + 3);
  const { cofactor } = spectrumOf(factor.leading(p));
  const cross3 = (k: number): Vec3 =>
    [0, 1, 2].map((a) => innerColumns(leading, k, p + a, p)) as unknown as Vec3;
  const units = parameters.map((_, k) => scales[k]! * sizes[k]!);
  const response = parameters.map((_, k): Vec3 => {
    const row: [number, number, number] = [0, 0, 0];
    for (let j = 0; j < p; j++) {
      const c = cross3(j);
      for (const a of [0, 1, 2] as const) row[a] -= cofactor[k]![j]! * c[a] * units[k]! * size;
    }
    return row;
  });
  const own = noise ? sandwich(cofactor, noise.finish().leading(p), p) : cofactor;
  return {
    turns: parameters.map((q) => q.turn),
    shifts: parameters.map((q) => q.shift),
    response,
    covariance: own.map((row, i) => row.map((x, j) => x * units[i]! * units[j]!)),
  };
}

/** Σ over rows of column i times column j of the triangular factor: an entry of JᵀWJ or JᵀWH. */
function innerColumns(r: { get(i: number, j: number): number }, i: number, j: number, p: number): number {
  let sum = 0;
  for (let k = 0; k <= Math.min(i, p - 1); k++) sum += r.get(k, i) * r.get(k, j);
  return sum;
}

/** C·(RᵀR)·C with R the triangular factor of the weighted, noise-scaled rows. */
function sandwich(
  c: readonly (readonly number[])[],
  r: { get(i: number, j: number): number },
  p: number,
): readonly (readonly number[])[] {
  const half = Array.from({ length: p }, (_, k) =>
    Array.from({ length: p }, (_, j) => {
      let sum = 0;
      for (let i = k; i < p; i++) sum += r.get(k, i) * c[i]![j]!;
      return sum;
    }),
  );
  return Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (_, j) => half.reduce((sum, row) => sum + row[i]! * row[j]!, 0)),
  );
}

/** The parameters that an association of this type and orientation fits, in the order of its sensitivity. */
export function parametersOf(feature: SubstituteFeature, orientation: Orientation): readonly Parameter[] {
  const { type, direction } = feature;
  const turns =
    direction === null
      ? []
      : freeTurns(direction, orientation).map((turn) => ({ turn, shift: NO, size: 'none' as const }));
  const shifts = shiftsOf(type, direction).map((shift) => ({ turn: NO, shift, size: 'none' as const }));
  return [...turns, ...shifts, ...sizesOf(type).map((size) => ({ turn: NO, shift: NO, size }))];
}

function freeTurns(direction: Vec3, orientation: Orientation): readonly Vec3[] {
  if (orientation.kind === 'fixed') return [];
  if (orientation.kind === 'about')
    return norm(rejectFrom(direction, orientation.axis)) < ALONG_AXIS ? [] : [orientation.axis];
  const one = perpendicular(direction);
  return [one, cross(direction, one)];
}

function shiftsOf(type: FeatureType, direction: Vec3 | null): readonly Vec3[] {
  switch (type) {
    case 'plane':
    case 'midplane':
      return [direction!];
    case 'line':
    case 'cylinder': {
      const one = perpendicular(direction!);
      return [one, cross(direction!, one)];
    }
    default:
      return AXES;
  }
}

function sizesOf(type: FeatureType): readonly ('radius' | 'halfAngle' | 'halfWidth')[] {
  if (type === 'circle' || type === 'sphere' || type === 'cylinder') return ['radius'];
  if (type === 'cone') return ['halfAngle'];
  return type === 'midplane' ? ['halfWidth'] : [];
}

/** Change of a distance for a unit of the size that the feature has. */
function sizeDerivative(
  feature: SubstituteFeature,
  kind: Parameter['size'],
  lx: number,
  ly: number,
  lz: number,
  side: 1 | -1,
  component: number,
): number {
  if (kind === 'halfWidth') return -side;
  // The second row of a circle is its axial distance, which does not know the radius.
  if (kind === 'radius') return component === 0 ? -1 : 0;
  const [dx, dy, dz] = feature.direction!;
  const height = dx * lx + dy * ly + dz * lz;
  const rho = Math.hypot(lx - height * dx, ly - height * dy, lz - height * dz);
  return -(rho - feature.radius!) * Math.sin(feature.halfAngle!) - height * Math.cos(feature.halfAngle!);
}
