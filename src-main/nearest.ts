import { distance } from 'fastest-levenshtein';

/**
 * The known name that a mistyped one most likely means, or null where none is close.
 * Close: at most a third of the longer name has to change, case ignored; two characters where it has four or more (a
 * swap of neighbours counts as two), none where it has one or two, because x is no misspelling of y.
 */
export function nearest(word: string, known: readonly string[]): string | null {
  const lower = word.toLowerCase();
  let best: string | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const d = distance(lower, name.toLowerCase());
    if (d < bestDistance) {
      best = name;
      bestDistance = d;
    }
  }
  if (best === null) return null;
  const length = Math.max(word.length, best.length);
  const allowed = length < 3 ? 0 : length === 3 ? 1 : Math.max(2, Math.floor(length / 3));
  return bestDistance <= allowed ? best : null;
}

/** `a, b and c`. */
export function list(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
