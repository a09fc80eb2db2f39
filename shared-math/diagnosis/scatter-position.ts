/** The position that scatter between stations uses up. */
import type { StationDefinition } from '../definition.ts';
import { skew } from '../geometry/matrix.ts';
import { chiSquaredQuantile } from '../uncertainty/distributions.ts';
import { positionQuantile, zoneDirections } from '../uncertainty/position-distribution.ts';
import type { Estimate, Scatter, Vec6 } from './findings.ts';

/** Share of blades that keep within the position stated for scatter: common practice, no source. */
export const SCATTER_QUANTILE = 0.95;

/**
 * The position that scatter alone keeps within for 95 % of the blades, mm, at the check point where it is largest.
 *
 * The six errors of a blade scatter independently with the standard deviations of `process`; measurement is taken off. The interval
 * comes from the variance seen, process and measurement together, whose estimate follows a chi-squared distribution: the measurement's
 * part, known beforehand, is taken off its bounds. So scatter that measurement hides has an upper bound above 0. One factor serves all
 * six errors, as for one estimated scale.
 *
 * @param coverage of the interval.
 */
export function scatterPosition(
  scatter: Scatter,
  stations: readonly StationDefinition[],
  coverage: number,
): Estimate {
  const { process, measurement, degreesOfFreedom } = scatter;
  const degrees = Math.max(1, degreesOfFreedom);
  const bound = (probability: number): Vec6 => {
    const factor = degrees / chiSquaredQuantile(probability, degrees);
    return process.map((s, k) =>
      Math.sqrt(Math.max(0, (s * s + measurement[k]! ** 2) * factor - measurement[k]! ** 2)),
    ) as unknown as Vec6;
  };
  const value = largestQuantile(process, stations);
  return {
    value,
    // First order: the relative standard deviation of a standard deviation.
    standard: value / Math.sqrt(2 * degrees),
    low: Math.min(value, largestQuantile(bound((1 + coverage) / 2), stations)),
    high: Math.max(value, largestQuantile(bound((1 - coverage) / 2), stations)),
    degreesOfFreedom: degrees,
  };
}

/** 95 % quantile of position at the worst check point, for six errors with these standard deviations. */
function largestQuantile(deviations: Vec6, stations: readonly StationDefinition[]): number {
  if (deviations.every((s) => s === 0)) return 0;
  const seen = new Map<string, number>();
  for (const { requirement } of stations)
    for (const point of requirement.checkPoints) {
      // Check points are mostly the same at all stations.
      const key = JSON.stringify([point.at, point.zone, point.direction]);
      if (seen.has(key)) continue;
      // δ = t + ρ × p = t − [p]×·ρ.
      const lever = skew(point.at);
      const rows = zoneDirections(point).map((d) => [
        ...d,
        ...[0, 1, 2].map((k) => -(d[0] * lever[0][k]! + d[1] * lever[1][k]! + d[2] * lever[2][k]!)),
      ]);
      const covariance = rows.map((a) =>
        rows.map((b) => a.reduce((sum, x, k) => sum + x * b[k]! * deviations[k]! ** 2, 0)),
      );
      seen.set(
        key,
        positionQuantile(
          SCATTER_QUANTILE,
          rows.map(() => 0),
          covariance,
        ),
      );
    }
  return Math.max(...seen.values());
}
