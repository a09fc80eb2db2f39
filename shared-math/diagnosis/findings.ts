/**
 * What the diagnosis finds, as plain data: causes of the station errors, their sizes and significance, the budget they use up,
 * and corrections. Lengths mm, rotations rad unless a field says otherwise. Six-vectors are in the order of `error`:
 * oscillation, lateral, upset, about oscillation, about lateral, about upset, in the nominal blade frame.
 */
import type { ErrorName } from '../definition.ts';
import type { Note } from '../notes/notes.ts';
import type { Correction } from './corrections/correction.ts';

export type Vec6 = readonly [number, number, number, number, number, number];

/** The components of the errors around the disc, in the order in which they are separated. */
export type ComponentName =
  | 'ringShift'
  | 'common'
  | 'toolSetup'
  | 'toolChange'
  | 'wear'
  | 'index'
  | 'harmonics'
  | 'outliers'
  | 'scatter';

/** A size that stands in a text: what the text writes in µm or arc-seconds. */
export interface Figure {
  readonly kind: 'length' | 'rotation';
  /** mm or rad: one value, or the lower and upper end of an interval. */
  readonly values: readonly number[];
  /** Written with its sign even where it is positive. */
  readonly signed: boolean;
  /** As it stands in the text. */
  readonly text: string;
}

/** A value with its coverage interval. */
export interface Estimate {
  readonly value: number;
  /** Standard uncertainty; the shared part of the hub frame is in it where the hub can imitate the value. */
  readonly standard: number;
  readonly low: number;
  readonly high: number;
  /** Effective degrees of freedom of `standard`; null: so many that the normal distribution serves. */
  readonly degreesOfFreedom: number | null;
}

export interface Parameter extends Estimate {
  /** Stable key, e.g. `x`, `tiltX`, `axial`, `clocking`, `oscillation`, `rotUpset`, `amplitude`, `phase`. */
  readonly key: string;
  /** In words. */
  readonly name: string;
  readonly unit: 'mm' | 'rad' | 'mm/weld' | 'rad/weld' | 'degree';
  /** What it belongs to where a component has several of a kind: tool, station, order; else null. */
  readonly of: string | null;
}

/** One way to read parameters that cannot be told apart. */
export interface Reading {
  /** In words: what the cause would be. */
  readonly cause: string;
  /** In words: what would be corrected. */
  readonly remedy: string;
  readonly parameters: readonly Parameter[];
}

/** Test of a component against scatter. */
export interface SignificanceTest {
  readonly statistic: number;
  readonly numerator: number;
  /** Degrees of freedom of the scatter; null: unlimited. */
  readonly denominator: number | null;
  /** Probability of a statistic at least as large from scatter (and hub noise) alone. */
  readonly probability: number;
  /** The same, adjusted for all components tested (false discovery rate). */
  readonly adjusted: number;
}

export interface Component {
  readonly name: ComponentName;
  readonly title: string;
  /** Null where it was examined; else why it was not. */
  readonly notExamined: string | null;
  /** The same as a code; absent where it was examined, and in results of earlier versions. */
  readonly notExaminedNote?: Note;
  readonly significant: boolean;
  readonly test: SignificanceTest | null;
  /** Largest 2·|δ| at a check point that this component causes alone, mm, and where. */
  readonly size: Estimate | null;
  readonly at: { readonly station: number; readonly checkPoint: string } | null;
  /** Root mean square over stations of the same at each station's worst check point, mm. */
  readonly rms: number | null;
  /** Largest position (in the zones of the plan) that this component causes alone, mm. */
  readonly consumed: number | null;
  /** Sequential share of the weighted sum of squares; the shares of all components add up to 1. */
  readonly share: number;
  readonly sumOfSquares: number;
  /** Dimensions that it takes from the data in the sequence. */
  readonly dimensions: number;
  readonly parameters: readonly Parameter[];
  /** Where several causes make the same errors; else empty. */
  readonly readings: readonly Reading[];
  /** The six errors that this component causes at each station, joint fit. */
  readonly stations: readonly { readonly station: number; readonly error: Vec6 }[];
  /** One or two plain sentences, with sizes in µm and arc-seconds. */
  readonly sentence: string;
  /** The sizes in `sentence`, in their order; absent in results of earlier versions, here and elsewhere. */
  readonly figures?: readonly Figure[];
}

/** A combination of causes that the welded stations cannot tell apart, from the rank of the design. */
export interface Confounding {
  readonly between: readonly ComponentName[];
  /** In words, with both readings. */
  readonly words: string;
}

export type HarmonicChannel = 'index' | 'radial' | 'tangential' | 'axial' | 'lean' | 'sweep' | 'stagger';

/** amplitude·cos(order·θ − phase) of a quantity around the disc. */
export interface Harmonic {
  readonly channel: HarmonicChannel;
  readonly order: number;
  /** mm for displacements, rad for rotations and index. */
  readonly amplitude: Estimate;
  /** rad, in order·θ. */
  readonly phase: number;
  /** Amplitude that scatter alone exceeds with probability 1 − coverage. */
  readonly floor: number;
  readonly probability: number;
  readonly significant: boolean;
  /** Orders that the stations cannot tell from this one. */
  readonly aliases: readonly number[];
}

export interface IndexStation {
  readonly station: number;
  /** Planned angle, degrees. */
  readonly angle: number;
  /** Index deviation after components 1–5, rad about the disc axis, mean of all stations but outliers zero. */
  readonly deviation: Estimate;
  /** The same at the seat radius, mm. */
  readonly arc: number;
  /** Part in significant harmonics, and the rest that is this station's own, rad. */
  readonly harmonic: number;
  readonly rest: number;
  /** Pitch to the next station round the disc: measured minus planned, mm at the seat radius. */
  readonly singlePitch: number | null;
  /** Sum of the single pitch deviations from the first station to this one, mm. */
  readonly cumulativePitch: number | null;
}

/** Index of the stations, in the sense of ISO 1328-1 for the pitch deviations. */
export interface IndexFinding {
  readonly stations: readonly IndexStation[];
  /** Largest |single pitch deviation| and range of the cumulative ones, mm at the seat radius. */
  readonly singlePitch: number | null;
  readonly totalCumulativePitch: number | null;
  readonly repeatability: IndexRepeatability | null;
}

/**
 * ISO 230-2 sense; rad. Null fields where only one direction of approach was measured, or a direction only once: one run has no
 * standard deviation. Runs without a stated direction count as approached upwards.
 */
export interface IndexRepeatability {
  readonly runs: number;
  /** Largest |mean up − mean down| of a station, B, and the mean of the signed ones. */
  readonly reversal: number | null;
  readonly meanReversal: number | null;
  readonly repeatabilityUp: number | null;
  readonly repeatabilityDown: number | null;
  readonly repeatability: number | null;
  /** Range of the means, E: of both directions, of each, and of the mean of both (M). */
  readonly systematicDeviation: number;
  readonly systematicDeviationUp: number | null;
  readonly systematicDeviationDown: number | null;
  readonly meanDeviation: number | null;
  /** Range of means ± 2 standard deviations, A. */
  readonly accuracy: number | null;
  readonly accuracyUp: number | null;
  readonly accuracyDown: number | null;
  readonly targets: readonly {
    readonly station: number;
    readonly meanUp: number | null;
    readonly meanDown: number | null;
    readonly standardUp: number | null;
    readonly standardDown: number | null;
    readonly reversal: number | null;
  }[];
}

/** How much one error differs from tool to tool, wear taken out: a one-way analysis of variance. */
export interface ToolVariance {
  readonly error: ErrorName;
  /** Standard deviation of the tools' levels beyond what scatter explains, and of the welds of one tool; mm or rad. */
  readonly between: number;
  readonly within: number;
  readonly statistic: number;
  readonly numerator: number;
  readonly denominator: number;
  /** Of a statistic at least as large where all tools are alike. */
  readonly probability: number;
  /** Slope by the age of the tools, each weld counting alike, mm or rad a weld; null where all welds have one age. */
  readonly wear: Estimate | null;
}

/** Value and coverage interval of a line at a place of the weld sequence, between two welds where it is not whole. */
export interface BandPoint {
  readonly sequence: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Errors against the weld sequence. */
export interface SequenceFinding {
  readonly welds: readonly {
    readonly station: number;
    readonly sequence: number;
    readonly tool: string;
    /** Welds made with this tool before this one. */
    readonly age: number;
    /** Six errors with the components other than tool, tool change and wear taken out; null at stations not reduced. */
    readonly error: Vec6 | null;
  }[];
  /** First sequence number of each tool after the first. */
  readonly changes: readonly { readonly sequence: number; readonly from: string; readonly to: string }[];
  /** For each error: the fitted line of each tool, at its first and last weld, with the interval of its mean. */
  readonly lines: readonly {
    readonly error: ErrorName;
    readonly tool: string;
    readonly from: { readonly sequence: number } & Estimate;
    readonly to: { readonly sequence: number } & Estimate;
    /** The interval of the mean along the line, from its first to its last weld; absent in results of earlier versions. */
    readonly band?: readonly BandPoint[];
  }[];
  /** Empty with one tool or too few welds. */
  readonly toolToTool?: readonly ToolVariance[];
  /** Welds left with the last tool until wear alone uses its budget; null without budget or without significant wear. */
  readonly weldsLeft: { readonly value: number; readonly low: number; readonly high: number | null } | null;
}

export interface Outlier {
  readonly station: number;
  /** What remains at this station after all other components. */
  readonly error: Vec6;
  /** Robust distance in standard deviations of the scatter. */
  readonly distance: number;
  readonly probability: number;
  readonly adjusted: number;
  /** Largest 2·|δ| of the remaining error, mm. */
  readonly size: number;
  /** Turn about the disc axis nearest to the error, rad, where it explains it within scatter, or all but a little. */
  readonly index: number | null;
  /** In words: which errors stand out, or which error of the index explains them. */
  readonly words: string;
  /** The sizes in `words`. */
  readonly figures?: readonly Figure[];
}

export interface Scatter {
  /** Standard deviation of each error between stations, measurement taken off (mm, rad). */
  readonly process: Vec6;
  /** Standard uncertainty of each error from the station's own points, mean over stations. */
  readonly measurement: Vec6;
  /** Standard deviation of a station's index beyond the other errors' scatter, rad. */
  readonly index: number;
  readonly degreesOfFreedom: number;
}

export type BudgetLineName = 'toolSetup' | 'index' | 'frame' | 'wear' | 'toolChange' | 'scatter';

/** What uses up an allocation, and whether it keeps within. */
export interface BudgetUse {
  /** mm of position found; null: not examined. Its value is 0 where nothing is distinguishable from scatter. */
  readonly found: Estimate | null;
  /** found / allocated; null where either is missing or the allocation is 0. */
  readonly used: number | null;
  /** `over` only where the whole interval lies above the allocation, `within` only where none of it does. */
  readonly state: 'within' | 'undecided' | 'over' | 'unknown';
}

export interface BudgetLine extends BudgetUse {
  /** A line of the plan, a component that no line allows for, or the name of a line that the user added. */
  readonly name: string;
  readonly title: string;
  /** Components that use this line up; empty for lines that no point can show. */
  readonly components: readonly ComponentName[];
  /** mm of position; null: not allocated. */
  readonly allocated: number | null;
  /** False where what was found does not stand out from scatter: only its interval counts then. */
  readonly distinguishable: boolean;
  /** Whether `found` counts in the sums; outliers are set apart. */
  readonly counted: boolean;
  /** The line where a cause that cannot be told from another is booked the other way; else null. */
  readonly otherwise: (BudgetUse & { readonly words: string }) | null;
}

export interface BudgetFinding {
  /** The tightest position tolerance of the plan, mm. */
  readonly tolerance: number;
  readonly lines: readonly BudgetLine[];
  readonly allocated: { readonly worstCase: number; readonly rootSumSquare: number };
  readonly found: { readonly worstCase: number; readonly rootSumSquare: number };
  /** Tolerance left by what was found (negative: overspent). */
  readonly left: { readonly worstCase: number; readonly rootSumSquare: number };
  readonly sentence: string;
  /** The sizes in `sentence`. */
  readonly figures?: readonly Figure[];
}

export interface Diagnosis {
  /** The largest significant component of the joint fit; null: none is distinguishable from scatter. */
  readonly leading: ComponentName | null;
  /** All nine, in the order of separation. */
  readonly components: readonly Component[];
  readonly confounded: readonly Confounding[];
  readonly coverage: number;
  readonly falseDiscoveryRate: number;
  readonly sumOfSquares: number;
  readonly stations: readonly number[];
  readonly index: IndexFinding;
  readonly harmonics: readonly Harmonic[];
  readonly sequence: SequenceFinding | null;
  readonly outliers: readonly Outlier[];
  readonly scatter: Scatter;
  readonly budget: BudgetFinding;
  readonly corrections: readonly Correction[];
  /** Findings in order of importance, plain sentences. */
  readonly sentences: readonly string[];
  /** The sizes in each of `sentences`. */
  readonly sentenceFigures?: readonly (readonly Figure[])[];
  readonly warnings: readonly string[];
  /** One for each of `warnings`, as a code with values; absent in results kept by earlier versions. */
  readonly notes?: readonly Note[];
}
