/** Cone of orthogonal least squares. */
import { ReductionError } from '../errors.ts';
import { addScaled } from '../geometry/vector.ts';
import { searchAxis } from './axis-search.ts';
import { cloudOf, degenerate, principalAxes, requireSpread } from './cloud.ts';
import { type DirectionFreedom, freedomOf, isReversed, tiltsOf } from './direction.ts';
import { inSense, type RevolutionState } from './revolution.ts';
import { substitute, transformCofactor } from './substitute.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

/** A half angle (rad) at which the radius does not change by more than rounding over the whole feature. */
const NO_TAPER = 1e-12;

export interface ConeNominal {
  /** Start of the half angle, rad, |halfAngle| < π/2; positive: the radius grows along +direction. */
  readonly halfAngle: number;
  /** Radius at the point that is returned, mm. */
  readonly radius: number;
}

/**
 * Fits a cone.
 *
 * Parameters of `cofactor` at the returned point, in the basis (e1, e2) = tangentBasis(direction): `shift1`, `shift2` across
 * the axis and `axial` along it (mm), `tilt1`, `tilt2` of the axis about that point or `azimuth` about the given axis
 * (rad), `halfAngle` (rad).
 * @param input at least 6 points, 5 where the axis may only turn about another axis, 4 where its direction is fixed;
 * offsets count away from the axis, square to the surface
 * @returns point: the axis point where the radius is `nominal.radius`; direction in the hemisphere of the start, the sign of
 * halfAngle follows it; without a start the sense that gives halfAngle the sign of the nominal
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points` (also: no taper), `not-converged`,
 * `invalid-argument`
 */
export function associateCone(
  input: AssociationInput,
  orientation: Orientation,
  nominal: ConeNominal,
): SubstituteFeature {
  if (!(Math.abs(nominal.halfAngle) < Math.PI / 2) || !Number.isFinite(nominal.radius)) {
    throw new ReductionError(
      'invalid-argument',
      `A cone of half angle ${nominal.halfAngle} rad and radius ${nominal.radius} mm cannot be.`,
      'Give a half angle between −90° and 90° and a finite radius.',
    );
  }
  const freedom = freedomOf(orientation);
  const cloud = cloudOf(input, 4 + freedom.size, 'cone');
  const axes = principalAxes(cloud);
  requireSpread(cloud, axes.spreads, 3, 'cone');
  const solution = searchAxis(cloud, axes, freedom, { halfAngle: nominal.halfAngle, radius: null });
  if (solution.rank < 4 + freedom.size) {
    throw degenerate('cone', 'several-around');
  }
  if (Math.abs(solution.state.halfAngle) < NO_TAPER) {
    throw degenerate('cone', 'no-taper');
  }
  const reverse = freedom.start
    ? isReversed(freedom, solution.state.direction)
    : solution.state.halfAngle * nominal.halfAngle < 0;
  const { state, cofactor } = inSense(solution, freedom, true, cloud.size, reverse);
  const along = alongAxis(state, nominal.radius / cloud.size);
  return substitute(
    {
      type: 'cone',
      point: addScaled(cloud.centroid, addScaled(state.anchor, state.direction, along), cloud.size),
      direction: state.direction,
      radius: nominal.radius,
      halfAngle: state.halfAngle,
    },
    input,
    {
      ...solution,
      parameters: ['shift1', 'shift2', 'axial', ...freedom.names, 'halfAngle'],
      cofactor: transformCofactor(
        cofactor,
        atStatedRadius(freedom, state, along * cloud.size, nominal.radius),
      ),
    },
  );
}

/** Axial position at which the radius is `radius`: r·cos α = gap + s·sin α. */
function alongAxis(state: RevolutionState, radius: number): number {
  return (radius * Math.cos(state.halfAngle) - state.gap) / Math.sin(state.halfAngle);
}

/**
 * Derivatives of the parameters at the returned point (shift1, shift2, axial, direction, α) by those at the anchor
 * (shift1, shift2, direction, gap, α); `along` and `radius` in mm.
 */
function atStatedRadius(
  freedom: DirectionFreedom,
  state: RevolutionState,
  along: number,
  radius: number,
): number[][] {
  const tilts = tiltsOf(freedom, state.direction);
  const none = tilts.map(() => 0);
  const sine = Math.sin(state.halfAngle);
  const cotangent = Math.cos(state.halfAngle) / sine;
  return [
    [1, 0, ...tilts.map(([t1]) => along * t1), 0, 0],
    [0, 1, ...tilts.map(([, t2]) => along * t2), 0, 0],
    [0, 0, ...none, -1 / sine, -radius - along * cotangent],
    ...tilts.map((_, k) => [0, 0, ...none.map((_, j) => (j === k ? 1 : 0)), 0, 0]),
    [0, 0, ...none, 0, 1],
  ];
}
