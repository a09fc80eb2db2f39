/** Cylinder of orthogonal least squares: the surface of revolution with half angle zero. */
import { addScaled } from '../geometry/vector.ts';
import { searchAxis } from './axis-search.ts';
import { cloudOf, degenerate, principalAxes, requireSpread, requireSpreadAcross } from './cloud.ts';
import { freedomOf } from './direction.ts';
import { inSense } from './revolution.ts';
import { substitute } from './substitute.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

export interface CylinderNominal {
  /** Start of the radius, mm. */
  readonly radius?: number | null;
}

/**
 * Fits a cylinder.
 *
 * Parameters of `cofactor`, in the basis (e1, e2) = tangentBasis(direction): `shift1`, `shift2` of the axis at the returned
 * point (mm), `tilt1`, `tilt2` of its direction about that point or `azimuth` about the given axis (rad), `radius` (mm).
 * @param input at least 5 points, 4 where the axis may only turn about another axis, 3 where its direction is fixed;
 * offsets count away from the axis
 * @returns point: the axis point nearest the centroid; direction in the hemisphere of the start, else with its largest
 * component positive. The lowest minimum found, whatever the start; see axis-search.ts for the one exception
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points`, `not-converged`, `invalid-argument`
 */
export function associateCylinder(
  input: AssociationInput,
  orientation: Orientation,
  nominal: CylinderNominal = {},
): SubstituteFeature {
  const freedom = freedomOf(orientation);
  const cloud = cloudOf(input, 3 + freedom.size, 'cylinder');
  const axes = principalAxes(cloud);
  requireSpread(cloud, axes.spreads, freedom.size === 0 ? 2 : 3, 'cylinder');
  if (freedom.size === 0) requireSpreadAcross(axes, freedom.start!, 'cylinder');
  const solution = searchAxis(cloud, axes, freedom, { halfAngle: null, radius: nominal.radius ?? null });
  if (solution.rank < 3 + freedom.size) {
    throw degenerate('cylinder', 'several-around');
  }
  const { state, cofactor } = inSense(solution, freedom, false, cloud.size);
  return substitute(
    {
      type: 'cylinder',
      point: addScaled(cloud.centroid, state.anchor, cloud.size),
      direction: state.direction,
      radius: state.gap * cloud.size,
      halfAngle: null,
    },
    input,
    { ...solution, parameters: ['shift1', 'shift2', ...freedom.names, 'radius'], cofactor },
  );
}
