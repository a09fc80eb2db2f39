import type { Standing } from '../../format/format.ts';
import type { TableRow } from './rows.ts';

export interface TableFilter {
  /** Verdicts that are hidden. */
  readonly hidden: readonly Standing[];
  /** Numbers and ranges of stations as written, e.g. `3, 7-9`; empty: all. */
  readonly numbers: string;
}

export const noFilter: TableFilter = { hidden: [], numbers: '' };

/** Ranges that a text names; null where it is none. Empty text names nothing, which stands for all. */
export function parseNumbers(text: string): readonly (readonly [number, number])[] | null {
  const parts = text.split(/[\s,;]+/).filter((part) => part !== '');
  const ranges: (readonly [number, number])[] = [];
  for (const part of parts) {
    const found = /^(\d+)(?:[-–](\d*))?$/.exec(part);
    if (found === null) return null;
    const from = Number(found[1]);
    // While a range is being typed its end is still open.
    const to = found[2] === undefined ? from : found[2] === '' ? Number.POSITIVE_INFINITY : Number(found[2]);
    ranges.push([Math.min(from, to), Math.max(from, to)]);
  }
  return ranges;
}

/** What is not understood as numbers hides nothing; the field says so. */
export function filterRows(rows: readonly TableRow[], { hidden, numbers }: TableFilter): readonly TableRow[] {
  const ranges = parseNumbers(numbers) ?? [];
  return rows.filter(
    ({ station, standing }) =>
      !hidden.includes(standing) &&
      (ranges.length === 0 || ranges.some(([from, to]) => station >= from && station <= to)),
  );
}
