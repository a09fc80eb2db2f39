/**
 * Cylinders and cones at random poses: does the association find the lowest minimum?
 *
 * Configuration k is made from its own seed, so that any part of the run can be repeated alone: poses up to 10 m away, radii from
 * 0.5 mm to 5 m, arcs from 20°, the minimum number of points plus one (a third of all) to 60 points, noise from 1e-6 to 1e-3 of
 * the sagitta, started from no direction, from one 3° off, and from any. The outcome is held against a descent of our own
 * from the true feature.
 */
import {
  associateCone,
  associateCylinder,
  type LeastSquaresProblem,
  type Orientation,
  residualDistances,
  type SubstituteFeature,
  solveLeastSquares,
  tangentBasis,
} from '../../../shared-math/association/index.ts';
import { ReductionError } from '../../../shared-math/errors.ts';
import {
  add,
  addScaled,
  apply,
  applyToPoint,
  distance,
  dot,
  normalize,
  scale,
  subtract,
  type Vec3,
} from '../../../shared-math/geometry/index.ts';
import { randomSource } from '../../support/random.ts';

export const ORIENTATION_SEED = 40_000;
export const CONFIGURATIONS = 10_000;

/** A sum of squares above the one from the true pose by more than this share is another minimum, not rounding. */
const ANOTHER_MINIMUM = 1e-6;

/** What became of one configuration. */
export type Outcome =
  /** The same minimum as from the true pose, or a lower one. */
  | { readonly kind: 'lowest' }
  /** `excess`: sum of squares over that from the true pose, less one. */
  | { readonly kind: 'wrong'; readonly excess: number }
  /** The association refused, with the code of its error. */
  | { readonly kind: 'refused'; readonly code: string };

interface Surface {
  readonly point: Vec3;
  readonly direction: Vec3;
  readonly radius: number;
  readonly halfAngle: number;
}

interface Configuration {
  readonly type: 'cylinder' | 'cone';
  readonly xyz: Float64Array;
  readonly truth: Surface;
  readonly orientation: Orientation;
}

export function orientationConfiguration(k: number): Configuration {
  const random = randomSource(ORIENTATION_SEED + k);
  const conical = k % 2 === 1;
  const fewest = conical ? 6 : 5;
  const points = random.uniform() < 1 / 3 ? fewest + 1 : Math.floor(random.between(fewest + 2, 61));
  const radius = 0.5 * 10 ** random.between(0, 4);
  const arc = ((20 * 18 ** random.uniform()) / 180) * Math.PI;
  const halfAngle = conical ? random.between(0.05, 0.9) * (random.uniform() < 0.5 ? -1 : 1) : 0;
  const slope = Math.tan(halfAngle);
  // A cone stays short of its apex.
  const longest = conical ? Math.min(10, 1.6 / Math.abs(slope)) : 10;
  const length = radius * Math.min(longest, 10 ** random.between(-0.7, 1));
  const sagitta = radius * (1 - Math.cos(Math.min(arc, Math.PI) / 2));
  const noise = sagitta * 10 ** random.between(-6, -3);
  const motion = random.motion(10_000);
  const xyz = new Float64Array(3 * points);
  for (let i = 0; i < points; i++) {
    // Spread evenly with some play, as an inspector would.
    const t = (arc * (i + random.uniform())) / points;
    const z = length * (((i * 0.618_034 + 0.2 * random.uniform()) % 1) - 0.5);
    const d = noise * random.normal();
    const r = radius + z * slope + d * Math.cos(halfAngle);
    xyz.set(applyToPoint(motion, [r * Math.cos(t), r * Math.sin(t), z - d * Math.sin(halfAngle)]), 3 * i);
  }
  const direction = apply(motion.rotation, [0, 0, 1]);
  const starts = [null, normalize(addScaled(direction, random.direction(), 0.05)), random.direction()];
  return {
    type: conical ? 'cone' : 'cylinder',
    xyz,
    truth: { point: motion.translation, direction, radius, halfAngle },
    orientation: { kind: 'free', start: starts[k % 3]! },
  };
}

/** @param associate the association under test */
export function orientationOutcome(
  k: number,
  associate: (configuration: Configuration) => SubstituteFeature = associated,
): Outcome {
  const configuration = orientationConfiguration(k);
  const { type, xyz, truth } = configuration;
  let fit: SubstituteFeature;
  try {
    fit = associate(configuration);
  } catch (error) {
    if (error instanceof ReductionError) return { kind: 'refused', code: error.failure };
    throw error;
  }
  const fromTruth = sumOfSquares(type, descend(xyz, truth, type === 'cone'), xyz);
  // Places 10 m away are rounded to 4e-12 mm, which moves every distance by as much.
  const rounding = 1e-11 * Math.sqrt(xyz.length / 3);
  const excess = Math.max(0, Math.sqrt(fit.sumOfSquares) - rounding) ** 2 / fromTruth - 1;
  return excess > ANOTHER_MINIMUM ? { kind: 'wrong', excess } : { kind: 'lowest' };
}

function associated({ type, xyz, truth, orientation }: Configuration): SubstituteFeature {
  return type === 'cone'
    ? associateCone({ xyz }, orientation, truth)
    : associateCylinder({ xyz }, orientation);
}

function sumOfSquares(type: Configuration['type'], surface: Surface, xyz: Float64Array): number {
  return residualDistances({ type, ...surface }, { xyz }).reduce((sum, d) => sum + d * d, 0);
}

/** The minimum next to the true feature; the true feature itself where the descent does not settle. */
function descend(xyz: Float64Array, truth: Surface, conical: boolean): Surface {
  const points = Array.from(
    { length: xyz.length / 3 },
    (_, i): Vec3 => [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!],
  );
  const centre = scale(points.reduce(add), 1 / points.length);
  const size = Math.max(...points.map((p) => distance(p, centre)));
  const scaled = points.map((p) => scale(subtract(p, centre), 1 / size));
  // The axis point nearest the centroid, so that turns act about the patch.
  const along = dot(subtract(centre, truth.point), truth.direction);
  const anchor = scale(subtract(addScaled(truth.point, truth.direction, along), centre), 1 / size);
  const radius = (truth.radius + along * Math.tan(truth.halfAngle)) / size;
  const start: Surface = { ...truth, point: anchor, radius };
  try {
    const { state } = solveLeastSquares(surfaceProblem(scaled, conical), start);
    return { ...state, point: addScaled(centre, state.point, size), radius: state.radius * size };
  } catch (error) {
    if (error instanceof ReductionError) return truth;
    throw error;
  }
}

/** Distance ρ·cos α − s·sin α − r·cos α of a point at height s along and ρ off the axis. */
function surfaceProblem(points: readonly Vec3[], conical: boolean): LeastSquaresProblem<Surface> {
  return {
    parameters: conical ? 6 : 5,
    evaluate: ({ point, direction, radius, halfAngle }, rows) => {
      const [e1, e2] = tangentBasis(direction);
      const [c, s] = [Math.cos(halfAngle), Math.sin(halfAngle)];
      for (const p of points) {
        const q = subtract(p, point);
        const height = dot(q, direction);
        const across = addScaled(q, direction, -height);
        const rho = Math.hypot(...across);
        const [n1, n2] = [dot(across, e1) / rho, dot(across, e2) / rho];
        rows.row.set([
          -n1 * c,
          -n2 * c,
          -height * n1 * c - s * dot(q, e1),
          -height * n2 * c - s * dot(q, e2),
          -c,
        ]);
        if (conical) rows.row[5] = (radius - rho) * s - height * c;
        rows.row[conical ? 6 : 5] = (rho - radius) * c - height * s;
        rows.push();
      }
    },
    move: ({ point, direction, radius, halfAngle }, step) => {
      const [e1, e2] = tangentBasis(direction);
      return {
        point: addScaled(addScaled(point, e1, step[0]!), e2, step[1]!),
        direction: normalize(addScaled(addScaled(direction, e1, step[2]!), e2, step[3]!)),
        radius: radius + step[4]!,
        halfAngle: halfAngle + (conical ? step[5]! : 0),
      };
    },
  };
}
