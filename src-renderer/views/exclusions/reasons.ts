import type { ExcludedPoint } from '../../../shared-math/result.ts';

export interface ReasonGroup {
  readonly reason: string;
  readonly lines: readonly number[];
  /** The first lines, as text. */
  readonly words: string;
}

/** Lines that are named before the rest is only counted. */
const NAMED = 6;

/** Points by the reason for which they are not used, in the order of the first. */
export function byReason(excluded: readonly ExcludedPoint[]): readonly ReasonGroup[] {
  const groups = new Map<string, number[]>();
  for (const { line, reason } of excluded) {
    const lines = groups.get(reason) ?? [];
    lines.push(line);
    groups.set(reason, lines);
  }
  return [...groups].map(([reason, lines]) => ({
    reason,
    lines,
    words:
      lines.length <= NAMED
        ? lines.join(', ')
        : `${lines.slice(0, NAMED).join(', ')} and ${lines.length - NAMED} more`,
  }));
}
