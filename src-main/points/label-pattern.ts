/** Labels that hold station and feature in one, such as `B07_SEAT`. */

/**
 * Patterns that are tried where the plan gives none: station before feature, after it, and without a separator.
 * The words around the number (`B`, `Blade `) may be anything.
 */
export const commonPatterns: readonly string[] = [
  '[A-Za-z]*[ _.:-]?(?<station>\\d+)[ _.:/-]+(?<feature>.+)',
  '(?<feature>.+?)[ _.:/-]+[A-Za-z]*[ _.:-]?(?<station>\\d+)',
  '[A-Za-z]*(?<station>\\d+)(?<feature>[A-Za-z].*)',
];

/** No label is longer; keeps a hostile pattern from running for ever. */
const LONGEST_LABEL = 256;

/** The pattern held against the whole label. */
export function anchored(pattern: string): RegExp {
  return new RegExp(`^(?:${pattern})$`);
}

export function matchLabel(pattern: RegExp, label: string): { station: string; feature: string } | null {
  if (label.length > LONGEST_LABEL) return null;
  const { station, feature } = pattern.exec(label)?.groups ?? {};
  return station === undefined || feature === undefined ? null : { station, feature };
}

/**
 * The common pattern that explains the most of these labels as a planned station with a known blade feature, or null
 * where none explains any.
 */
export function detectPattern(
  labels: readonly string[],
  bladeFeatures: ReadonlySet<string>,
  stations: number,
): string | null {
  let best: string | null = null;
  let bestCount = 0;
  for (const candidate of commonPatterns) {
    const pattern = anchored(candidate);
    const explained = labels.filter((label) => {
      const match = matchLabel(pattern, label.trim());
      return (
        match !== null && bladeFeatures.has(match.feature) && stationNumber(match.station, stations) !== null
      );
    }).length;
    if (explained > bestCount) {
      best = candidate;
      bestCount = explained;
    }
  }
  return best;
}

/** A planned station number from its text (`7`, `07`, `7.0`), or null. */
export function stationNumber(text: string, stations: number): number | null {
  if (!/^0*[0-9]{1,6}(?:[.,]0*)?$/.test(text)) return null;
  const station = Number.parseInt(text, 10);
  return station >= 1 && station <= stations ? station : null;
}
