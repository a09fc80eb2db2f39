/**
 * What the result says in sentences, as codes with named values: warnings, why a station is missing, why a row was left out.
 *
 * The English text is composed from these by `english.ts`; a report in another language composes its own. A phrasebook is
 * typed by the values, so a code that a language lacks does not compile. Lengths mm, angles rad, line numbers from 1.
 */
import type { DatumType, FeatureType } from '../definition.ts';
import type { ReductionFailure } from '../errors.ts';

/** Whose feature: a station number, or null for the hub. */
export type Owner = number | null;
export type DecimalSign = '.' | ',';
type NoValues = Readonly<Record<never, never>>;

/** Points of one feature far from the others, largest distance first. */
export interface WildFeature {
  readonly feature: string;
  /** Counted in file order from 1; distance in mm. */
  readonly points: readonly { readonly point: number; readonly off: number }[];
  /** How many more there are. */
  readonly more: number;
}

/** Rows or points left out for one reason. */
interface LeftOut {
  readonly file: string;
  readonly count: number;
  /** The first of their lines. */
  readonly lines: readonly number[];
}

export interface NoteValues {
  // Why a station is missing
  'no-points-of-station': NoValues;
  /** `feature` where the failure does not name it. */
  'station-failed': { readonly feature: string | null; readonly failure: FailureNote };
  /** `more`: further unreadable rows of the station. */
  'station-unreadable': { readonly row: NoteOf<'unreadable-row'>; readonly more: number };
  /** `reason`: words of the person. */
  'feature-excluded': { readonly feature: string; readonly reason: string };

  // Why a row is left out
  'unreadable-row': {
    readonly file: string;
    readonly line: number;
    readonly column: string;
    /** As it stands in the file, shortened. */
    readonly found: string;
    readonly fault: RowFaultNote;
  };
  'unreadable-cell': { readonly column: string; readonly fault: RowFaultNote };
  'station-set-aside': { readonly station: number; readonly line: number };
  'station-cell-empty': { readonly feature: string };
  'unknown-station': { readonly station: string; readonly last: number };
  'hub-feature-at-station': { readonly feature: string; readonly station: number };
  /** `near`: the known name that is probably meant. */
  'unknown-feature': {
    readonly owner: 'hub' | 'blade';
    readonly feature: string;
    readonly near: string | null;
    readonly known: readonly string[];
  };
  /** `reason`: words of the person. */
  'by-hand': { readonly reason: string };

  // Warnings of the reading
  'unit-contradicts-size': {
    readonly file: string;
    readonly source: 'plan' | 'header';
    readonly stated: string;
    readonly fits: string;
  };
  'unit-of-plan-taken': { readonly file: string; readonly header: string; readonly planned: string };
  'unit-unknown': { readonly file: string };
  /** `reason` null: rows that cannot be read, each with a fault of its own. */
  'rows-left-out': LeftOut & { readonly reason: Note | null };
  'points-left-out': LeftOut & { readonly reason: Note };
  'unknown-direction': {
    readonly file: string;
    readonly text: string;
    readonly line: number;
    readonly more: number;
  };
  /** `planned`: whether the plan uses the feature. */
  'idle-exclusion': {
    readonly file: string;
    readonly feature: string;
    readonly station: Owner;
    readonly planned: boolean;
  };

  // Warnings of the reduction
  'no-uncertainty': { readonly stations: readonly number[] };
  'no-probing': NoValues;
  /** `spread` in K. */
  'temperature-spread': { readonly station: Owner; readonly feature: string; readonly spread: number };
  'hub-datum-off': { readonly datum: string; readonly features: readonly string[]; readonly off: number };
  'wild-points': { readonly station: Owner; readonly features: readonly WildFeature[] };
  'rough-feature': {
    readonly station: Owner;
    readonly feature: string;
    readonly type: DatumType;
    readonly points: number;
    readonly form: number;
  };
  /** `tips`: the points are tip centres. */
  'inward-normals': {
    readonly station: Owner;
    readonly feature: string;
    readonly datum: string;
    readonly tips: boolean;
  };
  'screened-points': {
    readonly station: Owner;
    readonly feature: string;
    readonly points: readonly { readonly point: number; readonly distance: number }[];
    readonly more: number;
    readonly total: number;
    readonly excluded: boolean;
  };

  // Warnings of the diagnosis
  'too-few-for-diagnosis': { readonly needed: number; readonly whole: number };
  'causes-undetermined': NoValues;
  'not-in-diagnosis': { readonly stations: readonly number[] };
  'scatter-unknown': NoValues;
  'mean-uncertainty': { readonly stations: readonly number[] };
  'hub-uncertainty-unknown': NoValues;

  // Why a cause was not examined
  'no-welds-file': NoValues;
  'welds-lack-stations': { readonly stations: readonly number[] };
  /** So many that they are counted. */
  'welds-lack-many': { readonly missing: number; readonly measured: number };
  'welds-name-no-tool': NoValues;
  'one-tool': NoValues;
  'one-weld-a-tool': NoValues;
  'cause-not-separable': NoValues;
  'too-few-for-cause': NoValues;
}

/** What a fit could not make of its points. */
export type Fitted = FeatureType | 'face' | 'feature' | 'normal' | 'circle-plane';

/** Why points do not determine a feature. */
export type Degeneracy =
  | 'same-place'
  | 'one-line'
  | 'one-plane'
  | 'line-along-direction'
  | 'several-around'
  | 'several-out'
  | 'no-taper'
  | 'not-surrounded'
  | 'far-optimum'
  | 'alike'
  | 'no-effect'
  | 'no-main-direction';

/** Failures of the mathematics that a station may be missing for. */
export interface FailureValues {
  'feature-without-points': { readonly station: Owner; readonly feature: string; readonly datum: string };
  'too-few-points': { readonly what: Fitted; readonly needed: number; readonly found: number };
  'too-few-on-faces': { readonly needed: number; readonly found: number };
  /** `by`: the criterion where it is named. */
  degenerate: {
    readonly what: Fitted;
    readonly by: 'maximum-inscribed' | 'criterion' | null;
    readonly why: Degeneracy;
  };
  'directions-not-settled': { readonly what: 'cone' | 'cylinder' };
  'fit-not-settled': NoValues;
  'contacts-uncertain': NoValues;
  'exchange-endless': NoValues;
  'tips-without-side': { readonly what: 'line' | 'point' };
  'side-unknown': { readonly datum: string; readonly feature: string };
  'tips-without-normals': { readonly datum: string; readonly feature: string; readonly type: FeatureType };
  'mixed-tips': { readonly datum: string; readonly features: readonly string[] };
  'sigma-missing': { readonly datum: string; readonly feature: string };
  'outer-side-unknown': { readonly datum: string; readonly type: FeatureType };
  'pattern-undetermined': { readonly datum: string };
  'clocking-off-axis': { readonly datum: string; readonly features: readonly string[] };
  /** Any other: the kind of failure, and its English message and remedy. */
  other: { readonly kind: ReductionFailure; readonly message: string; readonly remedy: string };
}

/** What is wrong with a row of a point file. `decimal`: the sign that the file uses. */
export interface RowFaultValues {
  'empty-cell': { readonly decimal: DecimalSign };
  'no-finite-number': { readonly decimal: DecimalSign };
  'number-too-large': { readonly decimal: DecimalSign };
  'other-decimal-sign': { readonly decimal: DecimalSign; readonly fromPlan: boolean };
  'grouped-number': { readonly decimal: DecimalSign };
  'dash-for-minus': { readonly decimal: DecimalSign };
  'no-number': { readonly decimal: DecimalSign };
  'no-unit-normal': { readonly length: number };
  'points-differ': { readonly wanted: 'normal' | 'no-normal' | 'value' | 'empty-cell' };
  'temperature-range': { readonly coldest: number; readonly hottest: number };
  'negative-radius': NoValues;
  'sigma-not-positive': NoValues;
  'row-too-short': { readonly cells: number; readonly of: number };
  'row-too-long': { readonly cells: number; readonly of: number };
}

export type NoteCode = keyof NoteValues;
export type FailureCode = keyof FailureValues;
export type RowFaultCode = keyof RowFaultValues;

type Coded<Values, Code extends keyof Values> = {
  readonly [C in Code]: { readonly code: C; readonly values: Values[C] };
}[Code];

export type NoteOf<C extends NoteCode> = Coded<NoteValues, C>;
export type Note = NoteOf<NoteCode>;
export type FailureNote = Coded<FailureValues, FailureCode>;
export type RowFaultNote = Coded<RowFaultValues, RowFaultCode>;

/** How a language writes numbers. */
export interface NumberWords {
  readonly fixed: (value: number, decimals: number) => string;
  /** At most four significant digits. */
  readonly brief: (value: number) => string;
}

/** Says the parts that a sentence is made of. */
export interface Say extends NumberWords {
  readonly note: (note: Note) => string;
  readonly failure: (note: FailureNote) => FailureWords;
  readonly rowFault: (note: RowFaultNote) => RowFaultWords;
}

/** Complete sentences; the remedy may be empty. */
export interface FailureWords {
  readonly message: string;
  readonly remedy: string;
}

/** Parts of a sentence, without capital letter and full stop; `found` where it is not the text of the cell. */
export interface RowFaultWords {
  readonly says: string;
  readonly found?: string;
  readonly expected: string;
  readonly remedy: string;
}

/** All sentences of one language. */
export interface Phrasebook {
  readonly notes: { readonly [C in NoteCode]: (values: NoteValues[C], say: Say) => string };
  readonly failures: { readonly [C in FailureCode]: (values: FailureValues[C], say: Say) => FailureWords };
  readonly rowFaults: {
    readonly [C in RowFaultCode]: (values: RowFaultValues[C], say: Say) => RowFaultWords;
  };
}

/**
 * Says notes by a phrasebook.
 *
 * @param numbers how the language writes numbers; values go in as the notes hold them (mm, rad, K).
 * @returns functions that throw TypeError for a code that the phrasebook lacks, which only a note of unknown origin can have.
 */
export function speaker({ notes, failures, rowFaults }: Phrasebook, numbers: NumberWords): Say {
  const by = <Values, Words>(
    words: { readonly [C in keyof Values]: (values: Values[C], say: Say) => Words },
    { code, values }: { readonly code: keyof Values; readonly values: Values[keyof Values] },
  ): Words => {
    // A note may come from a file that somebody made up, and what every object inherits is no code.
    if (!Object.hasOwn(words, code)) throw new TypeError(`No words for the code ${String(code)}.`);
    return words[code](values, say);
  };
  const say: Say = {
    ...numbers,
    note: (note) => by<NoteValues, string>(notes, note),
    failure: (note) => by<FailureValues, FailureWords>(failures, note),
    rowFault: (note) => by<RowFaultValues, RowFaultWords>(rowFaults, note),
  };
  return say;
}
