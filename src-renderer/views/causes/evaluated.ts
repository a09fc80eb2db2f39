/** Of how many stations a count speaks, in words: those of the plan, and why some of them have no say. */
import type { ReducedDisc } from '../../../src-main/api.ts';
import { countOf, formatCount } from '../../format/format.ts';

function named(stations: readonly number[]): string {
  return `${stations.length === 1 ? 'station' : 'stations'} ${stations.join(', ')}`;
}

/**
 * @param evaluated stations that the count looks at.
 * @param leftOut those that somebody left out of a trial.
 * @returns e.g. `15 of 16 stations evaluated; station 13 missing`; null where all stations of the plan are.
 */
export function evaluatedWords(
  { result }: ReducedDisc,
  evaluated: readonly number[],
  leftOut: readonly number[] = [],
): string | null {
  const { summary, stations } = result;
  const without = stations
    .map(({ station }) => station)
    .filter((station) => !evaluated.includes(station) && !leftOut.includes(station));
  const missing = summary.missing.map(({ station }) => station);
  const reasons = [
    ...(missing.length === 0 ? [] : [`${named(missing)} missing`]),
    ...(leftOut.length === 0 ? [] : [`${named(leftOut)} left out`]),
    ...(without.length === 0 ? [] : [`${named(without)} without all six errors`]),
  ];
  if (reasons.length === 0) return null;
  return `${formatCount(evaluated.length)} of ${countOf(summary.stations, 'station')} evaluated; ${reasons.join('; ')}`;
}
