/** One way in to all criteria other than least squares. */
import type { FeatureType } from '../../definition.ts';
import { ReductionError } from '../../errors.ts';
import type { AssociationInput, Orientation } from '../types.ts';
import { associateExtremal } from './extremal.ts';
import { associateGaussianOuter } from './gaussian-outer.ts';
import type { AssociationCriterion, CriterionFeature, CriterionFeatureType } from './types.ts';

export interface CriterionOptions {
  /** Start of a cylinder's radius, mm. */
  readonly radius?: number | null;
  /**
   * Sign of the surface's signed distance that points out of the material: along +direction for planes, away from the
   * axis or centre for round features (1 shaft, −1 bore). Needed by `gaussian-outer` only.
   */
  readonly outward?: 1 | -1 | null;
}

/** Feature types that each criterion is defined for. */
export const CRITERION_TYPES: Readonly<Record<AssociationCriterion, readonly CriterionFeatureType[]>> = {
  'gaussian-outer': ['plane', 'circle', 'sphere', 'cylinder'],
  minimax: ['plane', 'line', 'circle', 'sphere', 'cylinder'],
  'maximum-inscribed': ['circle', 'sphere', 'cylinder'],
  'minimum-circumscribed': ['circle', 'sphere', 'cylinder'],
};

/**
 * Associates a feature by a criterion other than least squares.
 *
 * - `minimax`: smallest max |d_i|. The feature lies in the middle of the zone, whose width is `form` (a line: `form` is the
 *   radius of the smallest cylinder around the points, `zoneWidth` its diameter).
 * - `minimum-circumscribed`, `maximum-inscribed`: residuals d_i ≤ 0 or ≥ 0 throughout.
 * - `gaussian-outer`: see associateGaussianOuter.
 *
 * Offsets (tip radii) and orientation act as in the least-squares associations. A circle is sought in the plane that its
 * least-squares association would use. Planes keep clear of steep alternatives: only directions within 45° of
 * the least-squares one are searched.
 *
 * Every result carries its certificate; an optimum without one is refused. For the minimum circumscribed circle, sphere and
 * cylinder of given direction the optimum is global. The others have local optima: the search starts from the
 * least-squares feature and several places around it, returns the best optimum found, and lists near-equal ones.
 *
 * @param input at least as many points as the least-squares association needs
 * @throws ReductionError `invalid-argument` for combinations that do not exist, or `gaussian-outer` without `outward`;
 * `degenerate-points`, `not-converged`, and what the least-squares association throws
 */
export function associateByCriterion(
  criterion: AssociationCriterion,
  type: FeatureType,
  input: AssociationInput,
  orientation: Orientation,
  options: CriterionOptions = {},
): CriterionFeature {
  const known = CRITERION_TYPES[criterion].find((candidate) => candidate === type);
  if (!known) {
    throw new ReductionError(
      'invalid-argument',
      `There is no ${type} by the criterion "${criterion}".`,
      `This criterion is defined for: ${CRITERION_TYPES[criterion].join(', ')}.`,
    );
  }
  const radius = options.radius ?? null;
  if (criterion !== 'gaussian-outer') return associateExtremal(criterion, known, input, orientation, radius);
  const { outward } = options;
  if (!outward || known === 'line') {
    throw new ReductionError(
      'invalid-argument',
      `A ${type} by the criterion "gaussian-outer" needs to know on which side the material lies.`,
      'State the material side of this feature.',
    );
  }
  return associateGaussianOuter(known, input, orientation, outward, radius);
}
