/**
 * Line of orthogonal least squares: through the centroid, along the direction of largest spread
 * (Pearson 1901, as for the plane), by singular values of the centred points.
 */
import type { Vec3 } from '../geometry/types.ts';
import { dot, norm } from '../geometry/vector.ts';
import { cloudOf, degenerate, type PrincipalAxes, principalAxes, requireSpread } from './cloud.ts';
import {
  azimuthFan,
  type DirectionFreedom,
  freedomOf,
  oriented,
  tangentBasis,
  tiltsOf,
  turn,
} from './direction.ts';
import { EQUAL_SPREADS } from './plane.ts';
import { type LeastSquaresProblem, solveLeastSquares } from './solver.ts';
import { cofactorOf, type FitRecord, refuseOffsets, substitute } from './substitute.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

/** The sum has at most two minima in a turn of the azimuth. */
const AZIMUTH_STEPS = 36;

/**
 * Fits a line to points in space; each point has two residual components, so degreesOfFreedom = 2n − parameters.
 *
 * Parameters of `cofactor`, in the basis (e1, e2) = tangentBasis(direction): `shift1`, `shift2` of the line at the
 * returned point (mm), `tilt1`, `tilt2` of its direction (rad) or `azimuth` about the given axis (rad).
 * @param input at least 2 points; 1 where the direction is fixed; no offsets
 * @returns point: the centroid; direction in the hemisphere of the start, else with its largest component positive
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points` (coincident points, no main direction),
 * `missing-normals` (offsets), `invalid-argument`
 */
export function associateLine(input: AssociationInput, orientation: Orientation): SubstituteFeature {
  const freedom = freedomOf(orientation);
  refuseOffsets(input, 'line');
  const cloud = cloudOf(input, freedom.size === 0 ? 1 : 2, 'line');
  const axes = principalAxes(cloud);
  if (freedom.size !== 0) requireSpread(cloud, axes.spreads, 1, 'line');
  const fit = mostSpread(axes, freedom);
  const { direction } = fit;
  const along = norm([0, 1, 2].map((i) => dot(rowOf(axes, i), direction)) as unknown as Vec3);
  const root = Math.sqrt(cloud.totalWeight);
  const none = freedom.names.map(() => 0);
  const tilts = tiltsOf(freedom, direction);
  const { cofactor, conditionNumber } = cofactorOf(
    [
      [root, 0, ...none],
      [0, root, ...none],
      [0, 0, ...tilts.map(([t1]) => along * t1)],
      [0, 0, ...tilts.map(([, t2]) => along * t2)],
    ],
    [1, 1, ...freedom.names.map(() => 1 / cloud.size)],
  );
  return substitute(
    { type: 'line', point: cloud.centroid, direction, radius: null, halfAngle: null },
    input,
    { ...fit, parameters: ['shift1', 'shift2', ...freedom.names], cofactor, conditionNumber },
    2,
  );
}

function mostSpread(
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
): Pick<FitRecord, 'iterations' | 'stopReason'> & { readonly direction: Vec3 } {
  const { spreads } = axes;
  if (freedom.size === 0) return { direction: freedom.start!, iterations: 0, stopReason: 'closed-form' };
  if (freedom.size === 2) {
    if (spreads[0] - spreads[1] <= EQUAL_SPREADS * spreads[0]) {
      throw degenerate('line', 'no-main-direction');
    }
    return { direction: oriented(freedom, axes.axes[0]), iterations: 0, stopReason: 'closed-form' };
  }
  const alongSquares = (d: Vec3): number =>
    [0, 1, 2].reduce((sum, i) => sum + dot(rowOf(axes, i), d) ** 2, 0);
  const start = azimuthFan(freedom, AZIMUTH_STEPS).reduce((a, b) =>
    alongSquares(b) > alongSquares(a) ? b : a,
  );
  const solution = solveLeastSquares(directionProblem(axes, freedom), start, { damping: 1e-6 });
  return { ...solution, direction: oriented(freedom, solution.state) };
}

/** The two components square to the direction, of each row of the triangular factor. */
function directionProblem(axes: PrincipalAxes, freedom: DirectionFreedom): LeastSquaresProblem<Vec3> {
  return {
    parameters: freedom.size,
    evaluate: (d, rows) => {
      const basis = tangentBasis(d);
      const tilts = tiltsOf(freedom, d);
      for (const i of [0, 1, 2]) {
        const x = rowOf(axes, i);
        for (const component of [0, 1] as const) {
          rows.row.set([...tilts.map((t) => -t[component] * dot(x, d)), dot(x, basis[component])]);
          rows.push();
        }
      }
    },
    move: (d, step) => turn(freedom, d, step, 0),
    roundingNorm: 1e-15 * axes.spreads[0],
  };
}

function rowOf(axes: PrincipalAxes, i: number): Vec3 {
  return [axes.factor.at(i, 0), axes.factor.at(i, 1), axes.factor.at(i, 2)];
}
