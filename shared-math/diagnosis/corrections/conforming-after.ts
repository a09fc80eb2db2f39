import type { StationResult } from '../../result.ts';
import type { Correction } from './correction.ts';

/**
 * How many stations would conform after a correction: those that it predicts to, and those that it says nothing of as they
 * were measured.
 *
 * @param stations all measured stations of the disc.
 */
export function conformingAfter(
  { conforming, predicted }: Pick<Correction, 'conforming' | 'predicted'>,
  stations: readonly StationResult[],
): number {
  const told = new Set(predicted.map(({ station }) => station));
  const others = stations.filter(({ station, verdict }) => verdict === 'conforming' && !told.has(station));
  return conforming + others.length;
}
