/** What the validation document consists of. */
import { readFileSync } from 'node:fs';

/** One comparison; passes while |ours − reference| ≤ bound, or while ours keeps the limit that `reference` then is. */
export interface Check {
  readonly group: string;
  /** Checks of a group that share a name become one row of the document, which shows the worst of them. */
  readonly name: string;
  readonly source: string;
  readonly reference: number;
  readonly ours: number;
  readonly bound: number;
  /** Set where the reference is a limit: ours must be at least, or at most, that. The bound is then 0. */
  readonly limit?: 'least' | 'most';
  /** Empty for numbers without one. */
  readonly unit: string;
}

/** One chapter of the document. */
export interface Chapter {
  readonly group: string;
  /** Markdown above the table: what is compared, where the bound comes from, what does not pass. */
  readonly text: string;
  readonly checks: readonly Check[];
  /** Markdown below the table. */
  readonly appendix?: string;
}

/** Share of the bound that a check uses up; above 1 (or NaN) it fails. */
export function shareOfBound({ ours, reference, bound, limit }: Check): number {
  if (limit === 'least') return ours >= reference ? 0 : Number.POSITIVE_INFINITY;
  if (limit === 'most') return ours <= reference ? 0 : Number.POSITIVE_INFINITY;
  const difference = Math.abs(ours - reference);
  return difference === 0 ? 0 : difference / bound;
}

export function passes(check: Check): boolean {
  return shareOfBound(check) <= 1;
}

/** Stored values: test/validation/data/NAME. */
export function fixture<T>(name: string): T {
  return JSON.parse(fixtureText(name)) as T;
}

export function fixtureText(name: string): string {
  return readFileSync(new URL(`../data/${name}`, import.meta.url), 'utf8');
}

/** Adds checks of one group and source without repeating them. */
export class Checks {
  readonly list: Check[] = [];
  readonly #group: string;
  readonly #source: string;

  constructor(group: string, source: string) {
    this.#group = group;
    this.#source = source;
  }

  add(name: string, ours: number, reference: number, bound: number, unit = ''): void {
    this.list.push({ group: this.#group, name, source: this.#source, reference, ours, bound, unit });
  }

  /** A share (0 … 1) that must be at least or at most `reference`. */
  addLimit(name: string, ours: number, limit: 'least' | 'most', reference: number): void {
    const { list } = this;
    list.push({ group: this.#group, name, source: this.#source, reference, ours, bound: 0, limit, unit: '' });
  }
}
