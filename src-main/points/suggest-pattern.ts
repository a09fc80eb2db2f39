/** Patterns that could take the labels of a file apart, for a file without a plan that names its features. */
import type { PatternChoice } from '../api.ts';
import { anchored, commonPatterns, matchLabel, stationNumber } from './label-pattern.ts';

/** No disc has more stations; the plan has the same bound. */
const MOST_STATIONS = 10_000;
/** A blade feature is measured at several stations: from this many on a name counts as one. */
const RECURS = 2;

/**
 * The common patterns that explain any of these labels, best first: the one whose features recur at the most stations.
 * A hub feature with a number (`BOLT_3`) looks like a blade's, so a name that occurs once speaks for no pattern.
 */
export function labelPatterns(labels: readonly string[]): readonly PatternChoice[] {
  return commonPatterns
    .map((pattern) => explained(pattern, labels))
    .filter((choice) => choice !== null)
    .sort((a, b) => b.recurring - a.recurring || b.choice.matched - a.choice.matched)
    .map(({ choice }) => choice);
}

/** What a pattern makes of the labels; null where it explains none, or is no regular expression. */
export function explained(
  pattern: string,
  labels: readonly string[],
): { readonly choice: PatternChoice; readonly recurring: number } | null {
  let expression: RegExp;
  try {
    expression = anchored(pattern);
  } catch {
    return null;
  }
  const stationsOf = new Map<string, Set<number>>();
  let example: PatternChoice['example'] | null = null;
  let matched = 0;
  for (const label of labels) {
    const match = matchLabel(expression, label.trim());
    const station = match === null ? null : stationNumber(match.station, MOST_STATIONS);
    if (match === null || station === null) continue;
    matched += 1;
    example ??= { label: label.trim(), station, feature: match.feature };
    const stations = stationsOf.get(match.feature) ?? new Set();
    stationsOf.set(match.feature, stations.add(station));
  }
  if (example === null) return null;
  let recurring = 0;
  for (const { size } of stationsOf.values()) if (size >= RECURS) recurring += size;
  return { choice: { pattern, example, matched, labels: labels.length }, recurring };
}
