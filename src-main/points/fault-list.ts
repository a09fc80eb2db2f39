/** What is wrong with the rows of a point file, as far as anybody wants to read it, and what follows from it. */
import { rowFaultWords, sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note, NoteOf, RowFaultNote } from '../../shared-math/notes/notes.ts';
import type { ExcludedPoint } from '../../shared-math/result.ts';
import type { Problem } from '../api.ts';
import { describe, type Fault, shorten } from '../problems.ts';

/** Unreadable rows with a message of their own; later ones are listed under a common wording to bound the memory. */
const MOST_OWN_MESSAGES = 1000;
/** Problems kept for a refusal. */
const MOST_PROBLEMS = 20;

/** What is wrong with one cell. `found`: its text, or the row where it is too short. */
export interface RowFault {
  readonly code: string;
  readonly column: string;
  readonly found: string;
  readonly fault: RowFaultNote;
}

export class FaultList {
  /** Every row that gives no point, with its reason, in the order of the file. */
  readonly excluded: ExcludedPoint[] = [];
  /** First unreadable row of each station, and how many there are. */
  readonly unreadable = new Map<number, { readonly first: NoteOf<'unreadable-row'>; count: number }>();
  /** Each different reason of `excluded` with its note. */
  readonly reasons = new Map<string, Note>();
  /** First faults that refuse the file: unreadable hub rows and labels without meaning. */
  readonly fatal: Problem[] = [];
  fatalCount = 0;
  /** First faults of any row. */
  readonly first: Problem[] = [];
  count = 0;
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  /** A row that the plan does not know. */
  exclude(line: number, reason: string, note: Note): void {
    this.excluded.push({ line, reason });
    if (!this.reasons.has(reason)) this.reasons.set(reason, note);
  }

  /** A row that cannot be read. `owner`: its station, null for the hub, undefined where the row does not tell. */
  add(line: number, owner: number | null | undefined, { code, column, found, fault }: RowFault): void {
    const own = this.count < MOST_OWN_MESSAGES;
    this.count += 1;
    const { found: shown, ...words } = rowFaultWords(fault);
    const value = shown ?? found;
    const problem = describe({ code, column, value, ...words, file: this.#file, line });
    const row: NoteOf<'unreadable-row'> = {
      code: 'unreadable-row',
      values: { file: this.#file, line, column, found: shorten(value), fault },
    };
    if (this.first.length < MOST_PROBLEMS) this.first.push(problem);
    const note: Note = own ? row : { code: 'unreadable-cell', values: { column, fault } };
    this.exclude(line, sentenceOf(note), note);
    if (owner === null) this.#keepFatal(problem);
    if (owner === null || owner === undefined) return;
    const known = this.unreadable.get(owner);
    if (known === undefined) this.unreadable.set(owner, { first: row, count: 1 });
    else known.count += 1;
  }

  /** A row for which the whole file is refused. */
  addFatal(line: number, fault: Omit<Fault, 'file' | 'line'>): void {
    this.#keepFatal(describe({ ...fault, file: this.#file, line }));
  }

  #keepFatal(problem: Problem): void {
    this.fatalCount += 1;
    if (this.fatal.length < MOST_PROBLEMS) this.fatal.push(problem);
  }
}
