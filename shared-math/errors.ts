/**
 * Typed errors of the mathematics: which feature of which station failed, why, and what to do.
 * The floors above turn them into messages with a file and a place.
 */

import { failureWords } from './notes/english.ts';
import type { FailureNote } from './notes/notes.ts';

export type ReductionFailure =
  | 'too-few-points'
  | 'degenerate-points'
  | 'not-finite'
  | 'not-converged'
  | 'missing-feature'
  | 'missing-side'
  | 'missing-normals'
  | 'mixed-probe-radius'
  | 'open-freedom'
  | 'redundant-datum'
  | 'alignment'
  | 'invalid-definition'
  | 'invalid-argument';

export interface FailurePlace {
  /** Station number, null for the hub, absent where the failure belongs to no feature. */
  readonly station?: number | null;
  readonly feature?: string;
  /** Datum letter of the plan. */
  readonly datum?: string;
}

export class ReductionError extends Error {
  readonly failure: ReductionFailure;
  readonly place: FailurePlace;
  /** What the person can do about it, one sentence. */
  readonly remedy: string;
  /** Message and remedy as a code with values, for other languages. */
  readonly note: FailureNote;

  /** @param note where a station can be missing for this failure: message and remedy are then its words (`ReductionError.of`). */
  constructor(
    failure: ReductionFailure,
    message: string,
    remedy = '',
    place: FailurePlace = {},
    note: FailureNote = { code: 'other', values: { kind: failure, message, remedy } },
  ) {
    super(message);
    this.name = 'ReductionError';
    this.failure = failure;
    this.place = place;
    this.remedy = remedy;
    this.note = note;
  }

  /** With the message and the remedy of a note. */
  static of(failure: ReductionFailure, note: FailureNote, place: FailurePlace = {}): ReductionError {
    const { message, remedy } = failureWords(note);
    return new ReductionError(failure, message, remedy, place, note);
  }

  /** The same failure with its place filled in by a caller that knows it. */
  at(place: FailurePlace): ReductionError {
    return new ReductionError(
      this.failure,
      this.message,
      this.remedy,
      { ...this.place, ...place },
      this.note,
    );
  }
}
