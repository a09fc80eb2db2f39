/** A correction as plain data: what to set differently for the next disc, and what this disc would then have shown. mm, rad. */
import type { ErrorName, PatternFreedom } from '../../definition.ts';
import type { Verdict } from '../../result.ts';
import type { Figure, Vec6 } from '../findings.ts';

export type HubFreedom = PatternFreedom;

/** One thing that can be set differently before the next disc. */
export interface Setting {
  readonly kind: 'tool' | 'hub' | 'index';
  /** Freedom: an error name for tools, x … rotZ for the hub, `index` for stations. */
  readonly freedom: ErrorName | HubFreedom | 'index';
  /** Tool name or station number where there are several; else null. */
  readonly of: string | null;
  /** Error found and the change to be made, opposite in sign; mm or rad. */
  readonly found: number;
  readonly change: number;
  /** Change before rounding to the step. */
  readonly exact: number;
  readonly step: number | null;
  readonly limit: number | null;
  readonly atLimit: boolean;
}

/** Largest position of a disc that is yet to be made, mm: half of all discs lie below `expected`. */
export interface Outlook {
  readonly expected: number;
  readonly low: number;
  readonly high: number;
}

/** The next disc, with the causes that were found and fresh scatter: as things are set now, and with the correction. */
export interface NextDisc {
  readonly unchanged: Outlook;
  readonly corrected: Outlook;
}

export type CorrectionKind = 'tool' | 'hub' | 'index' | 'all';

/** What would be set differently for the next disc, and what the blades of this disc would then have shown. */
export interface Correction {
  readonly kind: CorrectionKind;
  readonly title: string;
  readonly settings: readonly Setting[];
  /** Stations left out of the optimisation (outliers), still shown in the table. */
  readonly leftOut: readonly number[];
  /** Largest position over the stations it serves: as measured, at the exact optimum, rounded; mm. */
  readonly before: number;
  readonly optimum: number;
  readonly after: number;
  /** Proven: no setting within the bounds makes the largest position smaller than `optimum` − `gap`. */
  readonly gap: number;
  /** Coverage interval of the largest position after the rounded correction, from the measurement uncertainty. */
  readonly interval: { readonly low: number; readonly high: number };
  readonly predicted: readonly {
    readonly station: number;
    readonly error: Vec6;
    readonly position: number | null;
    readonly at: string | null;
    readonly expanded: number | null;
    readonly probability: number | null;
    readonly verdict: Verdict;
  }[];
  readonly conforming: number;
  readonly nonconforming: number;
  readonly unproven: number;
  /** Gain that scatter alone would offer a correction with as many settings, mm; null where not simulated. */
  readonly noiseGain: number | null;
  /** What of the gain would come back on the next disc; null where the causes were not separated. */
  readonly next: NextDisc | null;
  /** The gain lies inside what scatter offers, or less than half of it would recur on the next disc. */
  readonly chasesNoise: boolean;
  readonly sentence: string;
  /** The sizes in `sentence`. */
  readonly figures?: readonly Figure[];
}
