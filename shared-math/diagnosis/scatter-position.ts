/** The position that scatter between stations uses up: of the six errors, and of the index. */
import type { CheckPoint, StationDefinition } from '../definition.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import { applyTransposed, skew } from '../geometry/matrix.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import type { Vec3 } from '../geometry/types.ts';
import { cross, dot } from '../geometry/vector.ts';
import { chiSquaredQuantile } from '../uncertainty/distributions.ts';
import { positionQuantile, zoneDirections } from '../uncertainty/position-distribution.ts';
import { displacedBy } from './budget-position.ts';
import type { Estimate, IndexStation, Scatter, Vec6 } from './findings.ts';

/** Share of blades that keep within the position stated for scatter: common practice, no source. */
const SCATTER_QUANTILE = 0.95;

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
  const bounds = process.map((s, k) => deviationBounds(s, measurement[k]!, degrees, coverage));
  const bound = (end: 0 | 1): Vec6 => bounds.map((pair) => pair[end]) as unknown as Vec6;
  const value = largestQuantile(process, stations);
  return {
    value,
    // First order: the relative standard deviation of a standard deviation.
    standard: value / Math.sqrt(2 * degrees),
    low: Math.min(value, largestQuantile(bound(0), stations)),
    high: Math.max(value, largestQuantile(bound(1), stations)),
    degreesOfFreedom: degrees,
  };
}

export interface IndexPosition extends Pick<Estimate, 'value' | 'low' | 'high'> {
  readonly scatterStandsOut: boolean;
}

/**
 * The position that the index keeps within for 95 % of the blades where it uses most, mm: the significant harmonics as they
 * are, and about them the scatter of single stations.
 *
 * @param deviation standard deviation of a station's index, rad, as in Scatter. It counts where it stands out of what the other errors'
 *   scatter and measurement make of the index, at the coverage; where it does not, its interval counts all the same.
 * @param index deviations of the stations, whose standard uncertainties say what that is.
 * @param harmonics six errors of each station from significant harmonics; empty without any.
 * @param degrees of freedom of `deviation`. @param coverage of the interval.
 */
export function indexPosition(
  deviation: number,
  index: readonly IndexStation[],
  harmonics: ReadonlyMap<number, Vec6>,
  stations: readonly StationDefinition[],
  degrees: number,
  coverage: number,
): IndexPosition {
  const hidden = Math.sqrt(
    index.reduce((sum, s) => sum + s.deviation.standard ** 2, 0) / Math.max(1, index.length),
  );
  const [low, high] = deviationBounds(deviation, hidden, Math.max(1, degrees), coverage);
  const quantile = (turn: number): number =>
    Math.max(
      0,
      ...stations
        .filter(({ station }) => index.some((s) => s.station === station))
        .flatMap((station) =>
          station.requirement.checkPoints.map((point) =>
            indexQuantile(turn, harmonics.get(station.station) ?? NO_ERROR, station, point),
          ),
        ),
    );
  return {
    value: quantile(low > 0 ? deviation : 0),
    low: quantile(low),
    high: quantile(high),
    scatterStandsOut: low > 0,
  };
}

const NO_ERROR: Vec6 = [0, 0, 0, 0, 0, 0];

/** 95 % quantile of position where an error is joined by a random turn about the disc axis, to first order. */
function indexQuantile(
  turn: number,
  error: Vec6,
  { angle, seat }: StationDefinition,
  point: CheckPoint,
): number {
  const nominal = nominalBladeFrame(angle, seat);
  const perRad: Vec3 = applyTransposed(nominal.rotation, cross([0, 0, 1], applyToPoint(nominal, point.at)));
  const directions = zoneDirections(point);
  const mean = displacedBy(error, point.at);
  // The random part has one direction: with m its mean and s its deviation, the quantile of |m + s·x| along it, and what stands
  // square to it as it is. The 95 % of |m + s·x| are the 95 % of the position, which grows with it.
  const along = directions.map((d) => turn * dot(d, perRad));
  const centre = directions.map((d) => dot(d, mean));
  const spread = Math.hypot(...along);
  if (spread === 0) return 2 * Math.hypot(...centre);
  const unit = along.map((x) => x / spread);
  const m = centre.reduce((sum, x, i) => sum + x * unit[i]!, 0);
  const square = Math.sqrt(Math.max(0, Math.hypot(...centre) ** 2 - m * m));
  return 2 * Math.hypot(positionQuantile(SCATTER_QUANTILE, [m], [[spread ** 2]]) / 2, square);
}

/**
 * Bounds of a standard deviation that was found beside measurement: the variance seen follows a chi-squared distribution, the
 * measurement's part is taken off.
 */
function deviationBounds(
  deviation: number,
  measurement: number,
  degrees: number,
  coverage: number,
): readonly [low: number, high: number] {
  const bound = (probability: number): number => {
    const factor = degrees / chiSquaredQuantile(probability, degrees);
    return Math.sqrt(Math.max(0, (deviation ** 2 + measurement ** 2) * factor - measurement ** 2));
  };
  return [bound((1 + coverage) / 2), bound((1 - coverage) / 2)];
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
