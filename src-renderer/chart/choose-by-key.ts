import type { KeyboardEvent } from 'react';

/** Up, Down, Home and End choose among the rows of a chart. */
export function chooseByKey<T>(
  event: KeyboardEvent,
  rows: readonly T[],
  chosen: T | null,
  onChoose: (row: T) => void,
): void {
  const now = chosen === null ? -1 : rows.indexOf(chosen);
  const last = rows.length - 1;
  const to = {
    ArrowDown: Math.min(now + 1, last),
    ArrowUp: Math.max(now - 1, 0),
    Home: 0,
    End: last,
  }[event.key];
  const row = to === undefined ? undefined : rows[to];
  if (row === undefined) return;
  event.preventDefault();
  onChoose(row);
}
