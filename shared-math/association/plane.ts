/**
 * Plane of orthogonal least squares. The normal is the direction of least spread of the points about their centroid
 * (Pearson, "On lines and planes of closest fit to systems of points in space", Phil. Mag. (6) 2 (1901) 559–572),
 * taken from the singular values of the centred points, never from their squares.
 */
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, negate } from '../geometry/vector.ts';
import {
  type Cloud,
  cloudOf,
  degenerate,
  FLAT_RATIO,
  type PrincipalAxes,
  principalAxes,
  requireSpread,
} from './cloud.ts';
import {
  azimuthFan,
  type DirectionFreedom,
  freedomOf,
  isReversed,
  oriented,
  tangentBasis,
  tiltsOf,
  turn,
} from './direction.ts';
import { type LeastSquaresProblem, solveLeastSquares } from './solver.ts';
import { cofactorOf, type FitRecord, substitute } from './substitute.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

/** Spreads this close (relative) leave the normal of a plane, or the direction of a line, without meaning. */
export const EQUAL_SPREADS = 1e-9;

/** Steps of the azimuth in the search for the lowest minimum; the sum has at most two in a turn. */
const AZIMUTH_STEPS = 36;

/**
 * Fits a plane.
 *
 * Parameters of `cofactor`, in the basis (e1, e2) = tangentBasis(direction): `offset` along the direction at the
 * returned point (mm), `tilt1`, `tilt2` of the normal towards e1, e2 (rad), or `azimuth` about the given axis (rad).
 * @param input at least 3 points; 2 where the normal may only turn about an axis; 1 where it is fixed
 * @returns point: the centroid carried onto the plane; direction: unit normal in the hemisphere of the start, else
 * with its largest component positive (with unequal offsets and no start: of the better sense)
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points` (coincident, collinear), `invalid-argument`
 */
export function associatePlane(input: AssociationInput, orientation: Orientation): SubstituteFeature {
  const freedom = freedomOf(orientation);
  const cloud = cloudOf(input, 1 + freedom.size, 'plane');
  const axes = principalAxes(cloud);
  const normal = normalOf(cloud, axes, freedom, 'plane');
  const { direction } = normal;
  const point = addScaled(cloud.centroid, direction, -cloud.meanOffset);
  const { cofactor, conditionNumber } = cofactorOf(
    [
      [Math.sqrt(cloud.totalWeight), ...freedom.names.map(() => 0)],
      ...tiltRows(axes, freedom, direction).map((row) => [0, ...row]),
    ],
    [1, ...freedom.names.map(() => 1 / cloud.size)],
  );
  return substitute({ type: 'plane', point, direction, radius: null, halfAngle: null }, input, {
    ...normal,
    parameters: ['offset', ...freedom.names],
    cofactor,
    conditionNumber,
  });
}

type NormalFit = Pick<FitRecord, 'iterations' | 'stopReason'> & { readonly direction: Vec3 };

/**
 * The allowed direction n that minimises Σ w (n·x − o)² over the centred points x and offsets o of `axes`.
 * @throws ReductionError `degenerate-points` where the points do not determine it
 */
export function normalOf(
  cloud: Cloud,
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
  what: 'plane' | 'circle-plane' | 'normal',
): NormalFit {
  if (freedom.size === 0) return { direction: freedom.start!, iterations: 0, stopReason: 'closed-form' };
  requireSpread(cloud, axes.spreads, freedom.size, what);
  const { factor, spreads } = axes;
  const unequalOffsets = [0, 1, 2, 3].some((i) => factor.at(i, 3) !== 0);
  if (freedom.size === 2 && !unequalOffsets) {
    if (spreads[1] - spreads[2] <= EQUAL_SPREADS * spreads[1]) {
      throw degenerate(what, 'alike');
    }
    return { direction: oriented(freedom, axes.axes[2]), iterations: 0, stopReason: 'closed-form' };
  }
  const solutions = normalStarts(axes, freedom).map((start) =>
    solveLeastSquares(normalProblem(axes, freedom), start, { damping: 1e-6 }),
  );
  const best = solutions.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a));
  const lever = Math.hypot(...tiltRows(axes, freedom, best.state).map(([tilt = 0]) => tilt));
  if (lever <= FLAT_RATIO * spreads[0]) {
    throw degenerate(what, 'no-effect');
  }
  const reversed = !unequalOffsets && isReversed(freedom, best.state);
  return {
    direction: reversed ? negate(best.state) : best.state,
    iterations: best.iterations,
    stopReason: best.stopReason,
  };
}

function normalStarts(axes: PrincipalAxes, freedom: DirectionFreedom): Vec3[] {
  if (freedom.size === 2) {
    const normal = oriented(freedom, axes.axes[2]);
    return freedom.start ? [normal] : [normal, negate(normal)];
  }
  const { factor } = axes;
  const sum = (n: Vec3): number =>
    [0, 1, 2, 3].reduce((total, i) => total + (dot(rowOf(axes, i), n) - factor.at(i, 3)) ** 2, 0);
  return [azimuthFan(freedom, AZIMUTH_STEPS).reduce((a, b) => (sum(b) < sum(a) ? b : a))];
}

/** Row i of the triangular factor: all that the sum of squares needs to know about the points. */
function rowOf(axes: PrincipalAxes, i: number): Vec3 {
  return [axes.factor.at(i, 0), axes.factor.at(i, 1), axes.factor.at(i, 2)];
}

function normalProblem(axes: PrincipalAxes, freedom: DirectionFreedom): LeastSquaresProblem<Vec3> {
  return {
    parameters: freedom.size,
    evaluate: (n, rows) => {
      tiltRows(axes, freedom, n).forEach((tilts, i) => {
        rows.row.set([...tilts, dot(rowOf(axes, i), n) - axes.factor.at(i, 3)]);
        rows.push();
      });
    },
    move: (n, step) => turn(freedom, n, step, 0),
    roundingNorm: 1e-15 * axes.spreads[0],
  };
}

/** Derivatives of the four compressed distances by the parameters of the direction. */
export function tiltRows(axes: PrincipalAxes, freedom: DirectionFreedom, direction: Vec3): number[][] {
  const [e1, e2] = tangentBasis(direction);
  const tilts = tiltsOf(freedom, direction);
  return [0, 1, 2, 3].map((i) => {
    const row = rowOf(axes, i);
    return tilts.map(([t1, t2]) => t1 * dot(row, e1) + t2 * dot(row, e2));
  });
}
