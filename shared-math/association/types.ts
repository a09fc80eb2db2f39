/** What an association (a fit of a substitute feature to points) takes and gives. Lengths mm, angles rad. */
import type { FeatureType } from '../definition.ts';
import type { Vec3 } from '../geometry/types.ts';

export interface AssociationInput {
  /** Interleaved coordinates, length 3n. */
  readonly xyz: Float64Array;
  /**
   * Signed distance at which each point lies from the surface sought, length n; null or absent means 0.
   * Positive along +direction for planes, away from the axis or centre for round features. This carries tip radii:
   * the association minimises Σ w (d_i − offset_i)².
   */
  readonly offsets?: Float64Array | null;
  /** Factors of d_i² in the sum, length n, all positive; null or absent means 1. */
  readonly weights?: Float64Array | null;
}

/** What earlier datums leave of a feature's direction. */
export type Orientation =
  /** Nothing fixed. `start` (any length > 0) gives the sense and the starting direction; null: unknown. */
  | { readonly kind: 'free'; readonly start: Vec3 | null }
  /** The direction may only turn about `axis`, keeping the angle that `start` makes with it. */
  | { readonly kind: 'about'; readonly axis: Vec3; readonly start: Vec3 }
  /** The direction is given. */
  | { readonly kind: 'fixed'; readonly direction: Vec3 };

export interface SubstituteFeature {
  readonly type: FeatureType;
  /**
   * Plane: the centroid of the points projected onto it. Line, cylinder: the point of the axis nearest the centroid.
   * Circle, sphere, point: the centre. Cone: the point of the axis where the radius equals the stated one.
   * Midplane: the midpoint of the two faces at the common centroid.
   */
  readonly point: Vec3;
  /** Unit; in the hemisphere of the start direction where one is given. Null for sphere and point. */
  readonly direction: Vec3 | null;
  readonly radius: number | null;
  readonly halfAngle: number | null;
  /** Number of points. */
  readonly points: number;
  /** Σ w d² of the residual distances, offsets taken off. */
  readonly sumOfSquares: number;
  /** √(Σd²/n), unweighted. */
  readonly rms: number;
  /** Largest minus smallest residual distance (for line and point, which have no sign: the largest distance). */
  readonly form: number;
  readonly degreesOfFreedom: number;
  /** Names of the local parameters, in the order of `cofactor`. */
  readonly parameters: readonly string[];
  /** (JᵀWJ)⁻¹ in those parameters: their covariance for points of unit variance. Rows. */
  readonly cofactor: readonly (readonly number[])[];
  /** Ratio of the largest to the smallest singular value of the Jacobian in scaled parameters. */
  readonly conditionNumber: number;
  readonly iterations: number;
  readonly stopReason: 'closed-form' | 'step' | 'gradient' | 'stalled-at-rounding';
}
