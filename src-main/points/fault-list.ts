/** What is wrong with the rows of a point file, as far as anybody wants to read it, and what follows from it. */
import type { ExcludedPoint } from '../../shared-math/result.ts';
import type { Problem } from '../api.ts';
import { describe, type Fault } from '../problems.ts';

/** Unreadable rows with a message of their own; later ones are listed under a common wording to bound the memory. */
const MOST_OWN_MESSAGES = 1000;
/** Problems kept for a refusal. */
const MOST_PROBLEMS = 20;

export type RowFault = Omit<Fault, 'file' | 'line'>;

export class FaultList {
  /** Every row that gives no point, with its reason, in the order of the file. */
  readonly excluded: ExcludedPoint[] = [];
  /** First unreadable row of each station, and how many there are. */
  readonly unreadable = new Map<number, { readonly first: Problem; count: number }>();
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
  exclude(line: number, reason: string): void {
    this.excluded.push({ line, reason });
  }

  /** A row that cannot be read. `owner`: its station, null for the hub, undefined where the row does not tell. */
  add(line: number, owner: number | null | undefined, fault: RowFault): void {
    const own = this.count < MOST_OWN_MESSAGES;
    this.count += 1;
    const problem = describe({ ...fault, file: this.#file, line });
    if (this.first.length < MOST_PROBLEMS) this.first.push(problem);
    this.exclude(line, own ? problem.message : `column ${fault.column ?? ''}: ${fault.says}`);
    if (owner === null) this.#keepFatal(problem);
    if (owner === null || owner === undefined) return;
    const known = this.unreadable.get(owner);
    if (known === undefined) this.unreadable.set(owner, { first: problem, count: 1 });
    else known.count += 1;
  }

  /** A row for which the whole file is refused. */
  addFatal(line: number, fault: RowFault): void {
    this.#keepFatal(describe({ ...fault, file: this.#file, line }));
  }

  #keepFatal(problem: Problem): void {
    this.fatalCount += 1;
    if (this.fatal.length < MOST_PROBLEMS) this.fatal.push(problem);
  }
}
