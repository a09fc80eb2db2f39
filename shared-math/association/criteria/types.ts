/** What the associations by other criteria than least squares give. Lengths mm, angles rad. */
import type { FeatureType } from '../../definition.ts';
import type { Vec3 } from '../../geometry/types.ts';
import type { SubstituteFeature } from '../types.ts';

export type AssociationCriterion =
  /** Least-squares direction and place, moved to the outermost point of the material (ISO 5459). */
  | 'gaussian-outer'
  /** Smallest greatest distance: the minimum zone (Chebyshev). */
  | 'minimax'
  /** Largest circle, sphere or cylinder that no point lies within. */
  | 'maximum-inscribed'
  /** Smallest circle, sphere or cylinder that holds all points. */
  | 'minimum-circumscribed';

/** Feature types that have at least one of the criteria. */
export type CriterionFeatureType = Extract<FeatureType, 'plane' | 'line' | 'circle' | 'sphere' | 'cylinder'>;

/**
 * Why no neighbouring feature is better. With f_j the signed distances that the criterion holds down and t the largest,
 * the multipliers λ ≥ 0 add up to 1 and make Σ λ_j ∇f_j vanish over the contacts, where f_j = t (Karush, Kuhn & Tucker).
 */
export interface Certificate {
  /** Indices of the points that touch, ascending. */
  readonly contacts: readonly number[];
  /** λ of each contact, > 0. */
  readonly multipliers: readonly number[];
  /**
   * Σ λ_j (t − f_j) + L·‖Σ λ_j ∇f_j‖₁ in mm, L the size of the feature (about half the diagonal of the points' box):
   * the most that t could still fall, to first order, by shifts up to L and tilts up to 1 rad. Where the criterion is
   * convex (minimum circumscribed circle, sphere and cylinder of given direction) this bounds the distance from the
   * least value of all. It is never more than t itself where t cannot fall below zero.
   */
  readonly gap: number;
}

/** Another local optimum that is nearly as good: its contacts may be the true ones. */
export interface AlternativeOptimum {
  readonly point: Vec3;
  readonly direction: Vec3 | null;
  readonly radius: number | null;
  /** Width of its zone (minimax) or its radius, mm. */
  readonly size: number;
}

/**
 * A substitute feature by one of the criteria. Meanings are those of SubstituteFeature, with these differences:
 * `cofactor` is empty except for `gaussian-outer` (the feature hangs on a few points, so its covariance does not follow
 * from a Jacobian of all of them; use Monte Carlo); `conditionNumber` is that of the contact system; `weights` of the
 * input count in `sumOfSquares`, in the centroid and in least-squares parts only.
 */
export interface CriterionFeature extends SubstituteFeature {
  readonly criterion: AssociationCriterion;
  readonly certificate: Certificate;
  /** Minimax: width of the zone, mm; for a line the diameter of the cylinder, 2·form. Null for other criteria. */
  readonly zoneWidth: number | null;
  /** Near-equal optima found from other starts, best first. */
  readonly alternatives: readonly AlternativeOptimum[];
}
