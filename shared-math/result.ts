/**
 * The result document, `hubtrue-result/1`. Lengths mm, rotations rad, station angles degrees.
 * Keys of the published contract keep their names; fields that no stage fills yet are null.
 */
import type { DiscErrorName, ErrorName, FeatureType, LimitName, ZoneShape } from './definition.ts';
import type { Mat3, Vec3 } from './geometry/types.ts';

export type Verdict = 'conforming' | 'nonconforming' | 'unproven';

/** A substitute feature as reported: hub features in the disc frame, blade features in the nominal blade frame. */
export interface FeatureReport {
  readonly label: string;
  readonly feature: string;
  readonly type: FeatureType;
  readonly points: number;
  /** √(Σd²/n) of the orthogonal distances. */
  readonly rms: number;
  /** Peak to valley of the orthogonal distances. */
  readonly form: number;
  readonly point: Vec3;
  readonly direction: Vec3 | null;
  readonly radius: number | null;
  /** Cone only. */
  readonly halfAngle: number | null;
  readonly degreesOfFreedom: number;
  readonly conditionNumber: number;
  readonly iterations: number;
  /** Freedoms this datum fixed in its frame, in words; empty for features of a best-fit pose. */
  readonly fixes: readonly string[];
}

/** Null where the pose cannot observe the freedom (best fit only); the reason is in `unobservable`. */
export type SixErrors = Readonly<Record<ErrorName, number | null>>;
export type DiscErrors = Readonly<Record<DiscErrorName, number | null>>;

export interface CheckPointResult {
  readonly name: string;
  readonly at: Vec3;
  readonly zone: ZoneShape;
  readonly tolerance: number;
  /** δ = E·p − p in the nominal blade frame (oscillation, lateral, upset); null where a freedom is not observed. */
  readonly displacement: Vec3 | null;
  /** Position: diameter (or width) of the smallest zone of this shape that holds the point. */
  readonly value: number | null;
  readonly verdict: Verdict;
}

export interface PositionResult {
  readonly value: number | null;
  /** Name of the check point with the largest position. */
  readonly at: string;
  readonly expanded: number | null;
  readonly probability: number | null;
  readonly verdict: Verdict;
  readonly tolerance: number;
  readonly checkPoints: readonly CheckPointResult[];
}

export interface LimitResult {
  readonly name: LimitName;
  readonly value: number | null;
  readonly limit: number;
  readonly expanded: number | null;
  readonly probability: number | null;
  readonly verdict: Verdict;
}

export interface StationResult {
  readonly station: number;
  /** θ in degrees. */
  readonly angle: number;
  readonly error: SixErrors;
  readonly disc: DiscErrors;
  readonly position: PositionResult;
  readonly limits: readonly LimitResult[];
  readonly verdict: Verdict;
  readonly covariance: null;
  readonly covarianceShared: null;
  readonly covarianceOwn: null;
  readonly features: readonly FeatureReport[];
  readonly unobservable: readonly { readonly freedom: ErrorName; readonly reason: string }[];
  /** Nominal blade frame in the disc frame: rows of `rotation` are the oscillation, lateral and upset directions. */
  readonly nominal: { readonly origin: Vec3; readonly axes: Mat3 };
}

export interface MissingStation {
  readonly station: number;
  /** Planned angle in degrees. */
  readonly angle: number;
  readonly reason: string;
}

export interface Summary {
  readonly stations: number;
  readonly conforming: number;
  readonly nonconforming: number;
  readonly unproven: number;
  readonly missing: readonly MissingStation[];
  readonly worst: { readonly station: number; readonly position: number } | null;
}

export interface FrameResult {
  /** Disc axes as rows: disc = rotation · (machine − origin). */
  readonly rotation: Mat3;
  readonly origin: Vec3;
  readonly datums: readonly FeatureReport[];
}

/** What the mathematics returns; src-main adds `format` and `source` to make the document. */
export interface Reduction {
  readonly frame: FrameResult;
  readonly stations: readonly StationResult[];
  readonly summary: Summary;
  readonly warnings: readonly string[];
  /** The rule that was applied, which may differ from the one the plan asks for (then there is a warning). */
  readonly decision: { readonly requested: 'simple' | 'guarded'; readonly applied: 'simple' };
}

export interface ExcludedPoint {
  readonly line: number;
  readonly reason: string;
}

export interface ResultSource {
  readonly points: {
    readonly name: string;
    readonly sha256: string;
    /** Data rows of the file. */
    readonly rows: number;
    readonly used: number;
    readonly excluded: readonly ExcludedPoint[];
  };
  readonly plan: { readonly name: string; readonly sha256: string };
  readonly software: string;
}

export interface ResultDocument extends Reduction {
  readonly format: 'hubtrue-result/1';
  readonly source: ResultSource;
  readonly diagnosis: null;
}
