/** Corrections for the next disc: what to set differently, and what the blades of this disc would then have shown. */
import type { PartDefinition } from '../../definition.ts';
import type { StationResult } from '../../result.ts';
import type { Correction, Scatter } from '../findings.ts';

/** What of a weld counts here. */
export interface WeldOrder {
  readonly station: number;
  readonly sequence: number;
  readonly tool: string;
}

export interface CorrectionInput {
  /** Reduced stations; those whose six errors were not all observed are left out of everything. */
  readonly stations: readonly StationResult[];
  readonly definition: PartDefinition;
  /** Null: one tool made all welds, as far as anybody knows. */
  readonly welds: readonly WeldOrder[] | null;
  /** Stations that are outliers: no correction is made for them, they stay in the predicted tables. */
  readonly outliers: readonly number[];
  /** Scatter between stations; null: not known, then only the measurement scatters. */
  readonly scatter: Scatter | null;
}

/** One correction for each kind that can be adjusted, and all of them together where there are several. */
export function corrections(_input: CorrectionInput): readonly Correction[] {
  return [];
}
