/** Choosing several stations together, as lists of a desktop do it. */

/** Adds a station or takes it out. The selected station counts as chosen where it stood alone. */
export function toggled(
  marked: readonly number[],
  selected: number | null,
  station: number,
): readonly number[] {
  const now = marked.length === 0 && selected !== null && selected !== station ? [selected] : marked;
  return now.includes(station) ? now.filter((one) => one !== station) : [...now, station];
}

/** All rows between two stations, both with them, in the order of the table. */
export function rangeBetween(
  order: readonly number[],
  anchor: number | null,
  station: number,
): readonly number[] {
  const to = order.indexOf(station);
  if (to < 0) return [];
  const from = anchor === null ? -1 : order.indexOf(anchor);
  return from < 0 ? [station] : order.slice(Math.min(from, to), Math.max(from, to) + 1);
}
