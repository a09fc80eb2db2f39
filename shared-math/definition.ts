/**
 * What the drawing and the plan ask for, in the units of the mathematics (mm, rad, °C).
 * The plan file (degrees, optional keys) is turned into this by src-main/plan.
 */
import type { Vec3 } from './geometry/types.ts';

export type FeatureType = 'plane' | 'line' | 'circle' | 'sphere' | 'cylinder' | 'cone' | 'point' | 'midplane';

/** Where the material lies for round features: outside a bore (`inside` feature) or inside a shaft (`outside` feature). */
export type Side = 'inside' | 'outside';

export interface NominalFeature {
  readonly point: Vec3;
  /** Unit vector; null only for sphere and point. */
  readonly direction: Vec3 | null;
  /** For circle, sphere, cylinder, cone (a cone has this radius at `point`); null for the others. */
  readonly radius: number | null;
  /** Cone only: half of the apex angle. The radius grows along +direction for a positive half angle. */
  readonly halfAngle: number | null;
}

/** How a substitute feature is associated with its points; see association/criteria. */
export type Association =
  | 'gaussian'
  | 'gaussian-outer'
  | 'minimax'
  | 'maximum-inscribed'
  | 'minimum-circumscribed';

/** A robust screen of the points of a feature: it reports, and leaves points out only where asked to. */
export interface ScreenDefinition {
  readonly method: 'huber' | 'biweight';
  /** A point is flagged beyond this many robust standard deviations. */
  readonly cutoff: number;
  /** Whether flagged points are left out of everything that follows. */
  readonly exclude: boolean;
}

export interface DatumDefinition {
  readonly label: string;
  /** One feature name, or several that are associated together as one (a midplane: its two faces). */
  readonly features: readonly string[];
  readonly type: FeatureType;
  readonly nominal: NominalFeature;
  readonly side: Side | null;
  /** Planes: `negative` when `direction` points out of the material. */
  readonly material: 'negative' | 'positive';
  /** What this datum sets the clocking by, already resolved to its default. */
  readonly clocking: 'direction' | 'location';
  readonly weights: 'equal' | 'sigma';
  readonly association: Association;
  /** Null or absent: no screen. */
  readonly screen?: ScreenDefinition | null;
}

/**
 * Several features at stated places to each other (a bolt circle, coaxial bores, pads) as one datum: the rigid motion
 * that brings all of them nearest to their nominal places.
 */
export interface PatternDatum {
  readonly label: string;
  readonly type: 'pattern';
  /** Feature names of all members, in their order. */
  readonly features: readonly string[];
  /** `point`: mean of the members' nominal points; nothing else. */
  readonly nominal: NominalFeature;
  readonly members: readonly DatumDefinition[];
}

/** Anything that may stand in a list of datums. */
export type Datum = DatumDefinition | PatternDatum;
export type DatumType = Datum['type'];

export interface BladeSeat {
  readonly radius: number;
  readonly axial: number;
  /** φ: the stacking axis rises from the radial direction towards +Z by this angle. */
  readonly heightAngle: number;
  /** ξ: the oscillation direction turns from a towards +e_t by this angle. */
  readonly staggerAngle: number;
}

export type ZoneShape = 'cylindrical' | 'spherical' | 'planar';

export interface CheckPoint {
  readonly name: string;
  /** In the nominal blade frame. */
  readonly at: Vec3;
  readonly zone: ZoneShape;
  /** Full zone size (diameter, or width for planar). */
  readonly tolerance: number;
  /** Unit vector in the blade frame, planar zones only. */
  readonly direction: Vec3 | null;
}

export type ErrorName = 'oscillation' | 'lateral' | 'upset' | 'rotOscillation' | 'rotLateral' | 'rotUpset';
export type DiscErrorName = 'radial' | 'tangential' | 'axial' | 'lean' | 'sweep' | 'stagger';
export type LimitName = ErrorName | DiscErrorName;

export interface BladeRequirement {
  readonly checkPoints: readonly CheckPoint[];
  /** Limit on |value|: mm for displacements, rad for rotations. */
  readonly limits: Partial<Record<LimitName, number>>;
}

export interface StationDefinition {
  readonly station: number;
  /** θ, rad, about +Z from +X. */
  readonly angle: number;
  readonly seat: BladeSeat;
  readonly requirement: BladeRequirement;
}

export interface TemperatureDefinition {
  /** True: the file already holds 20 °C values. */
  readonly applied: boolean;
  /** Part temperature in °C; a temperature column wins over it. */
  readonly part: number;
  /** Coefficient of linear expansion, 1/K. */
  readonly expansion: number;
}

export interface UncertaintyDefinition {
  /** Standard uncertainty of a point, mm, where the file states none; null: not stated. */
  readonly probing: number | null;
  /** Relative standard uncertainty of the machine's scale. */
  readonly scale: number;
  /** Relative standard uncertainty of lengths from temperature and expansion. */
  readonly temperatureScale: number;
  /** Mean correlation of the form error between two points of a feature, 0 … 1. */
  readonly formCorrelation: number;
  /** Coverage probability of the intervals. */
  readonly coverage: number;
}

/** How a value and its uncertainty are held against a limit. */
export type DecisionDefinition =
  | { readonly rule: 'simple' }
  /** Conformity, or non-conformity, must be proven at this probability. */
  | { readonly rule: 'guarded'; readonly probability: number }
  /** A guard band of `factor` expanded uncertainties on either side of the limit. */
  | { readonly rule: 'guarded'; readonly factor: number };

/** Motions of a pattern of zones against the hub frame: displacements along, rotations about the axes of the disc frame. */
export type PatternFreedom = 'x' | 'y' | 'z' | 'rotX' | 'rotY' | 'rotZ';

/** Second level of position: the blades relative to each other, in zones that move together (ISO 5458; ASME Y14.5). */
export interface PatternRequirement {
  /** Full zone size at every check point (diameter, or width for planar), in the zone shapes of the first level. */
  readonly tolerance: number;
  /** Which motions of the whole pattern the requirement leaves open. */
  readonly free: readonly PatternFreedom[];
}

/** Planned allocations of the position tolerance, mm of position (full zone size). */
export interface BudgetDefinition {
  readonly lines: Partial<
    Record<'toolSetup' | 'index' | 'frame' | 'wear' | 'toolChange' | 'scatter', number>
  >;
  /** Lines that no point can show (deflection, clamp, thermal growth): allocated and, where known, found. */
  readonly others: readonly {
    readonly name: string;
    readonly allocated: number | null;
    readonly found: number | null;
  }[];
}

/** How far and in which steps something can be set; null: without bound, without steps. mm or rad. */
export interface AdjustmentRange {
  readonly limit: number | null;
  readonly step: number | null;
}

/** What can be set differently before the next disc. A freedom that is not listed cannot be adjusted. */
export interface AdjustmentDefinition {
  readonly tool: Partial<Record<ErrorName, AdjustmentRange>>;
  readonly hub: Partial<Record<PatternFreedom, AdjustmentRange>>;
  readonly index: AdjustmentRange | null;
}

export interface PartDefinition {
  readonly sense: 'counterclockwise' | 'clockwise';
  /** True where the plan lists explicit angles (then `sense` numbers nothing). */
  readonly explicitAngles: boolean;
  readonly hubDatums: readonly Datum[];
  readonly bladeDatums: readonly Datum[];
  readonly pose: 'datum' | 'bestfit';
  /** One per station, in station order, all planned stations. */
  readonly stations: readonly StationDefinition[];
  readonly temperature: TemperatureDefinition | null;
  readonly uncertainty: UncertaintyDefinition;
  readonly decision: DecisionDefinition;
  /** Absent or null: one level of position only. */
  readonly pattern?: PatternRequirement | null;
  readonly budget?: BudgetDefinition | null;
  /** Absent or null: everything can be adjusted, without bounds or steps. */
  readonly adjustments?: AdjustmentDefinition | null;
}
