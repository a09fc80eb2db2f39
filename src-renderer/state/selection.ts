import type { ReducedDisc } from '../../src-main/api.ts';

/** All planned stations, reduced or missing, in the order of their numbers. */
export function stationOrder(disc: ReducedDisc): readonly number[] {
  const { stations, summary } = disc.result;
  return [...stations.map((entry) => entry.station), ...summary.missing.map((entry) => entry.station)].sort(
    (a, b) => a - b,
  );
}

/** The neighbour of a station on the ring (the last is followed by the first), or the first or last of all. */
export function stepStation(
  order: readonly number[],
  now: number | null,
  by: number | 'first' | 'last',
): number | null {
  if (order.length === 0) return null;
  if (by === 'first') return order[0] ?? null;
  if (by === 'last') return order.at(-1) ?? null;
  const index = now === null ? -1 : order.indexOf(now);
  if (index < 0) return order[0] ?? null;
  return order[(index + by + order.length) % order.length] ?? null;
}

/** Whether a chart sets a station off: the selected one, and those chosen together with it. */
export function isChosen(station: number, selected: number | null, marked: readonly number[]): boolean {
  return station === selected || marked.includes(station);
}
