/**
 * The least-squares feature moved to the outermost point of the material: direction and place of the axis or centre stay,
 * the plane's offset or the radius follows (ISO 5459: the default contact association of a datum plane is external to
 * the material).
 */
import { addScaled } from '../../geometry/vector.ts';
import { residualDistances } from '../residuals.ts';
import { substitute } from '../substitute.ts';
import type { AssociationInput, Orientation } from '../types.ts';
import { leastSquaresFeature } from './least-squares.ts';
import type { CriterionFeature, CriterionFeatureType } from './types.ts';

/**
 * @param outward sign of the surface's signed distance that points out of the material: of a plane along +direction (as
 * returned: give a start or a fixed direction), of a round feature away from the axis or centre (1 shaft, −1 bore)
 * @param radius start of a cylinder's radius, mm, or null
 * @returns cofactor: that of the least-squares fit, without the scatter of the outermost point; certificate: the outermost
 * point with multiplier 1 and gap 0, which is exact, because the size is the only thing sought
 * @throws ReductionError as the least-squares association
 */
export function associateGaussianOuter(
  type: Exclude<CriterionFeatureType, 'line'>,
  input: AssociationInput,
  orientation: Orientation,
  outward: 1 | -1,
  radius: number | null,
): CriterionFeature {
  const fit = leastSquaresFeature(type, input, orientation, radius);
  const residuals = residualDistances(fit, input);
  let outermost = 0;
  for (let i = 1; i < residuals.length; i++) {
    if (outward * residuals[i]! > outward * residuals[outermost]!) outermost = i;
  }
  const shift = residuals[outermost]!;
  const surface =
    type === 'plane'
      ? { ...fit, point: addScaled(fit.point, fit.direction!, shift) }
      : { ...fit, radius: fit.radius! + shift };
  const { point, direction, halfAngle } = surface;
  return {
    ...substitute({ type, point, direction, radius: surface.radius, halfAngle }, input, fit),
    criterion: 'gaussian-outer',
    certificate: { contacts: [outermost], multipliers: [1], gap: 0 },
    zoneWidth: null,
    alternatives: [],
  };
}
