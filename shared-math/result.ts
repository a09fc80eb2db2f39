/**
 * The result document, `hubtrue-result/1`. Lengths mm, rotations rad, station angles degrees.
 * Keys of the published contract keep their names; fields that no stage fills yet are null.
 */
import type {
  DatumType,
  DiscErrorName,
  ErrorName,
  LimitName,
  PatternFreedom,
  ZoneShape,
} from './definition.ts';
import type { Diagnosis } from './diagnosis/findings.ts';
import type { Freedom } from './frame/freedoms.ts';
import type { Mat3, Vec3 } from './geometry/types.ts';
import type { Note } from './notes/notes.ts';
import type { Settlement } from './uncertainty/what-would-settle.ts';

export type Verdict = 'conforming' | 'nonconforming' | 'unproven';

/** A substitute feature as reported: hub features in the disc frame, blade features in the nominal blade frame. */
export interface FeatureReport {
  readonly label: string;
  readonly feature: string;
  readonly type: DatumType;
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
  /** The same as data, one for each of `fixes`; absent in results kept by earlier versions. */
  readonly freedoms?: readonly Freedom[];
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
  /** Unit vector in the blade frame, planar zones only. */
  readonly direction: Vec3 | null;
  /** Position: diameter (or width) of the smallest zone of this shape that holds the point. */
  readonly value: number | null;
  /** One-sided upper quantile of the position at the stated coverage, minus the value. */
  readonly expanded: number | null;
  /** P(position ≤ tolerance). */
  readonly probability: number | null;
  /** Covariance of `displacement` (mm²), rows; draws the coverage ellipse. */
  readonly covariance: readonly Vec3[] | null;
  /** Effective degrees of freedom of the uncertainty; absent or null: so many that the normal distribution serves. */
  readonly degreesOfFreedom?: number | null;
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
  /** Effective degrees of freedom of the uncertainty; absent or null: so many that the normal distribution serves. */
  readonly degreesOfFreedom?: number | null;
  readonly checkPoints: readonly CheckPointResult[];
  /** What would settle an unproven position, in words; null where it is proven. */
  readonly settle: string | null;
  /** The same in numbers; absent in results kept by earlier versions. */
  readonly settlement?: Settlement | null;
}

export interface LimitResult {
  readonly name: LimitName;
  readonly value: number | null;
  readonly limit: number;
  readonly expanded: number | null;
  readonly probability: number | null;
  /** Effective degrees of freedom of the uncertainty; absent or null: so many that the normal distribution serves. */
  readonly degreesOfFreedom?: number | null;
  readonly verdict: Verdict;
  /** What would settle an unproven value, in words; null where it is proven. */
  readonly settle: string | null;
  /** The same in numbers; absent in results kept by earlier versions. */
  readonly settlement?: Settlement | null;
}

/** Where uncertainty comes from. `frame` is the hub datums' part; with `scale` and `temperature` it is shared by all stations. */
export type UncertaintySource = 'probing' | 'form' | 'frame' | 'scale' | 'temperature';

export interface UncertaintyShare {
  readonly source: UncertaintySource;
  /** Standard uncertainty that this source alone gives each of the six errors (mm, rad). */
  readonly standard: Readonly<Record<ErrorName, number>>;
  /** Its share (0 … 1) of the variance of the displacement at the check point that decides, along the displacement. */
  readonly share: number;
}

/** Half-widths of the coverage intervals at the stated coverage, and standard uncertainties; mm and rad. */
export interface StationUncertainty {
  readonly expanded: Readonly<Record<ErrorName | DiscErrorName, number | null>>;
  readonly standard: Readonly<Record<ErrorName | DiscErrorName, number | null>>;
  readonly sources: readonly UncertaintyShare[];
  /** The six errors that one standard uncertainty of the scale (machine and temperature together) makes, with signs; common to all stations. */
  readonly scaleEffect: readonly number[];
}

/** 6 × 6, rows, in the order of the six errors: mm², mm·rad, rad². */
export type Covariance6 = readonly (readonly number[])[];

export interface StationResult {
  readonly station: number;
  /** θ in degrees. */
  readonly angle: number;
  readonly error: SixErrors;
  readonly disc: DiscErrors;
  readonly position: PositionResult;
  readonly limits: readonly LimitResult[];
  readonly verdict: Verdict;
  /** Total, 6 × 6 in the order of `error` (mm, rad); null where a freedom is not observed or nothing is known of the points. */
  readonly covariance: Covariance6 | null;
  /** Part common to all stations: hub frame, scale, temperature. */
  readonly covarianceShared: Covariance6 | null;
  /** Part of the blade's own points. */
  readonly covarianceOwn: Covariance6 | null;
  readonly uncertainty: StationUncertainty | null;
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
  /** The reason as a code with values; absent in results kept by earlier versions. */
  readonly note?: Note;
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
  /** Of the frame's own displacement (mm) and turn (rad) about the disc origin, disc axes x y z; null where nothing is known of the points. */
  readonly covariance: Covariance6 | null;
}

/** The decision rule in force and what it means for this report. */
export interface DecisionResult {
  readonly rule: 'simple' | 'guarded';
  /** Conformance probability to be reached, `guarded` by probability. */
  readonly probability: number | null;
  /** Guard band as a multiple of the expanded uncertainty, `guarded` by factor. */
  readonly factor: number | null;
  /** Coverage probability of the intervals. */
  readonly coverage: number;
  /** What producer and consumer risk under this rule, one or two sentences. */
  readonly risk: string;
}

/** A point that the robust screen of its datum flagged. */
export interface ScreenedPoint {
  /** Station number, null for the hub. */
  readonly station: number | null;
  readonly feature: string;
  /** Number of the point in file order within its feature, from 1; points excluded by hand do not count. */
  readonly point: number;
  /** Line of the point in its file; the mathematics alone knows none. */
  readonly line?: number;
  /** Distance from the feature without the flagged points, mm; signed where the type has a sign. */
  readonly distance: number;
  /** Whether the plan had it left out; otherwise it is used. */
  readonly excluded: boolean;
}

/** A rigid motion p ↦ R·p + t of the disc frame: t (mm) and the rotation vector of R (rad), components along the disc axes. */
export type PatternMotion = Readonly<Record<PatternFreedom, number>>;

export interface PatternStation {
  readonly station: number;
  /** Largest position over the check points that were observed; null where none was. */
  readonly value: number | null;
  /** Name of that check point. */
  readonly at: string | null;
  /** Upper quantile of `value` at the stated coverage, minus `value`; null where nothing is known of the uncertainty. */
  readonly expanded: number | null;
  readonly probability: number | null;
  /** With the zones where `motion` puts them; the motion serves the worst blade, not the number of conforming ones. */
  readonly verdict: Verdict;
  readonly checkPoints: readonly { readonly name: string; readonly value: number | null }[];
}

/** Position of the blades relative to each other: the zones moved as one, so that the largest position is as small as can be. */
export interface PatternResult {
  readonly tolerance: number;
  readonly free: readonly PatternFreedom[];
  /** The motion of the pattern of zones against the hub frame. */
  readonly motion: PatternMotion;
  /** Free motions that no zone sees; they were left at zero. */
  readonly undetermined: readonly PatternFreedom[];
  /** Largest position left, full zone size; null where nothing was observed. */
  readonly value: number | null;
  readonly at: { readonly station: number; readonly checkPoint: string } | null;
  /** Proven: no motion near this one makes the largest position smaller than `value` − `gap`, mm. */
  readonly gap: number;
  /** Check points that hold the pattern where it is, with their share of the hold (together 1). */
  readonly contacts: readonly {
    readonly station: number;
    readonly checkPoint: string;
    readonly share: number;
  }[];
  /** One-sided upper quantile of the largest position at the stated coverage, minus `value`. */
  readonly expanded: number | null;
  /** P(a motion exists that brings every check point into its zone). */
  readonly probability: number | null;
  /** A pattern with a missing blade or an unobserved check point is never conforming. */
  readonly verdict: Verdict;
  readonly stations: readonly PatternStation[];
  /** For comparison: the motion with the least sum of squares of the positions, and the largest position it leaves. */
  readonly leastSquares: { readonly motion: PatternMotion; readonly value: number } | null;
}

/** What the mathematics returns; src-main adds `format` and `source` to make the document. */
export interface Reduction {
  readonly frame: FrameResult;
  readonly stations: readonly StationResult[];
  readonly summary: Summary;
  readonly warnings: readonly string[];
  /** One for each of `warnings`, as a code with values. */
  readonly notes: readonly Note[];
  readonly decision: DecisionResult;
  /** Second level of position; null where the plan asks for one level only. */
  readonly pattern: PatternResult | null;
  /** Every point that a robust screen flagged, hub first, then by station. */
  readonly screened: readonly ScreenedPoint[];
}

export interface ExcludedPoint {
  readonly line: number;
  readonly reason: string;
}

/** A reason of `ExcludedPoint`, word for word, with its note. */
export interface ExclusionReason {
  readonly reason: string;
  readonly note: Note;
}

export interface ResultSource {
  readonly points: {
    readonly name: string;
    readonly sha256: string;
    /** Data rows of the file. */
    readonly rows: number;
    readonly used: number;
    readonly excluded: readonly ExcludedPoint[];
    /** Each different reason of `excluded` as a code with values; absent in results kept by earlier versions. */
    readonly reasons?: readonly ExclusionReason[];
  };
  readonly plan: { readonly name: string; readonly sha256: string };
  /** Null without a weld order; absent in results kept by earlier versions. */
  readonly welds?: { readonly name: string; readonly sha256: string } | null;
  readonly software: string;
}

export interface ResultDocument extends Omit<Reduction, 'notes'> {
  readonly format: 'hubtrue-result/1';
  /** One for each of `warnings`, as a code with values; absent in results kept by earlier versions. */
  readonly notes?: readonly Note[];
  readonly source: ResultSource;
  /** Causes and corrections; null where there are too few stations, or nothing is known of their uncertainty. */
  readonly diagnosis: Diagnosis | null;
}
