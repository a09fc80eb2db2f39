/** Counts of verdicts and the worst position of a disc. */
import type { MissingStation, StationResult, Summary } from '../result.ts';

/** Counts by verdict, and the station with the largest position, mm. */
export function summarise(stations: readonly StationResult[], missing: readonly MissingStation[]): Summary {
  const count = (verdict: StationResult['verdict']): number =>
    stations.filter((s) => s.verdict === verdict).length;
  const judged = stations.filter((s) => s.position.value !== null);
  const worst = judged.reduce<StationResult | null>(
    (a, b) => (a === null || b.position.value! > a.position.value! ? b : a),
    null,
  );
  return {
    stations: stations.length + missing.length,
    conforming: count('conforming'),
    nonconforming: count('nonconforming'),
    unproven: count('unproven'),
    missing,
    worst: worst === null ? null : { station: worst.station, position: worst.position.value! },
  };
}
