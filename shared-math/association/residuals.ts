/**
 * Orthogonal distances of points from a substitute feature, and their summary.
 *
 * Signs: planes and mid-planes along +direction; circle (in its plane), sphere, cylinder and cone away from the axis or
 * centre; line and point have no sign and give the distance itself. Offsets are taken off.
 */
import type { Vec3 } from '../geometry/types.ts';
import { tangentBasis } from './direction.ts';
import type { AssociationInput, SubstituteFeature } from './types.ts';

export type Surface = Pick<SubstituteFeature, 'type' | 'point' | 'direction' | 'radius' | 'halfAngle'>;

export interface ResidualSummary {
  readonly sumOfSquares: number;
  readonly rms: number;
  readonly form: number;
}

const CHUNK = 2048;

/** Signed residual distances (mm) of all points, length n. */
export function residualDistances(feature: Surface, input: AssociationInput): Float64Array {
  const distances = new Float64Array(input.xyz.length / 3);
  fillDistances(feature, input, 0, distances.length, distances);
  return distances;
}

/** Weighted sum of squares, unweighted rms and form of the residual distances, without storing them. */
export function summarizeResiduals(feature: Surface, input: AssociationInput): ResidualSummary {
  const points = input.xyz.length / 3;
  const weights = input.weights ?? null;
  const chunk = new Float64Array(Math.min(CHUNK, points));
  let [sum, squares, least, most] = [0, 0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let from = 0; from < points; from += CHUNK) {
    const to = Math.min(points, from + CHUNK);
    fillDistances(feature, input, from, to, chunk);
    let [chunkSum, chunkSquares] = [0, 0];
    for (let i = from; i < to; i++) {
      const d = chunk[i - from]!;
      chunkSquares += d * d;
      chunkSum += (weights ? weights[i]! : 1) * d * d;
      if (d < least) least = d;
      if (d > most) most = d;
    }
    sum += chunkSum;
    squares += chunkSquares;
  }
  const unsigned = feature.type === 'line' || feature.type === 'point';
  return { sumOfSquares: sum, rms: Math.sqrt(squares / points), form: unsigned ? most : most - least };
}

function fillDistances(
  f: Surface,
  input: AssociationInput,
  from: number,
  to: number,
  out: Float64Array,
): void {
  const { xyz } = input;
  const offsets = input.offsets ?? null;
  const [px, py, pz] = f.point;
  const a: Vec3 = f.direction ?? [0, 0, 1];
  const [[e1x, e1y, e1z], [e2x, e2y, e2z]] = tangentBasis(a);
  const [ax, ay, az] = a;
  const planar = f.type === 'plane' || f.type === 'midplane';
  const centred = f.type === 'sphere' || f.type === 'point';
  const radius = f.radius ?? 0;
  const cosine = f.type === 'cone' ? Math.cos(f.halfAngle ?? 0) : 1;
  const sine = f.type === 'cone' ? Math.sin(f.halfAngle ?? 0) : 0;
  for (let i = from; i < to; i++) {
    const x = xyz[3 * i]! - px;
    const y = xyz[3 * i + 1]! - py;
    const z = xyz[3 * i + 2]! - pz;
    const s = x * ax + y * ay + z * az;
    let d: number;
    if (planar) d = s;
    else if (centred) d = Math.sqrt(x * x + y * y + z * z) - radius;
    else {
      const u = x * e1x + y * e1y + z * e1z;
      const v = x * e2x + y * e2y + z * e2z;
      d = (Math.sqrt(u * u + v * v) - radius) * cosine - s * sine;
    }
    out[i - from] = offsets ? d - offsets[i]! : d;
  }
}
