/**
 * Repeatability of the index from repeated runs, in the sense of ISO 230-2: each station is a target, approached several times
 * upwards and downwards. With s the standard deviation of n approaches (n − 1) and x̄ their mean:
 *
 *   reversal B_i = x̄↑ − x̄↓, B the largest |B_i|;  repeatability R↑ = 4·s↑ and R↓ = 4·s↓, the largest of all targets, and
 *   R_i = max(2·s↑ + 2·s↓ + |B_i|, 4·s↑, 4·s↓);  systematic deviation E: range of all x̄↑ and x̄↓;  M: range of (x̄↑ + x̄↓)/2;
 *   accuracy A: highest x̄ + 2·s less lowest x̄ − 2·s.
 *
 * (Definitions: value from memory, the standard was not at hand.)
 */
import type { PartDefinition, StationDefinition } from '../definition.ts';
import { bladeDirections } from '../frame/blade-frame.ts';
import { dot } from '../geometry/vector.ts';
import type { RepeatPose } from '../stations/repeat-poses.ts';
import type { IndexRepeatability, Vec6 } from './findings.ts';
import type { IndexDeviation } from './pitch.ts';

/** Deviations of one target in its approaches, any unit. */
export interface TargetApproaches {
  readonly station: number;
  readonly up: readonly number[];
  readonly down: readonly number[];
}

/** Coverage factor of ISO 230-2. */
const FACTOR = 2;

/**
 * @param targets with at least one approach in all; a target without approaches in a direction adds nothing to what that
 *   direction gives. @param runs number of runs to report.
 * @returns null without any approach.
 */
export function repeatability(targets: readonly TargetApproaches[], runs: number): IndexRepeatability | null {
  const approached = targets.filter(({ up, down }) => up.length + down.length > 0);
  if (approached.length === 0) return null;
  const found = approached.map(({ station, up, down }) => {
    const [meanUp, meanDown] = [mean(up), mean(down)];
    return {
      station,
      meanUp,
      meanDown,
      standardUp: standardDeviation(up),
      standardDown: standardDeviation(down),
      reversal: meanUp === null || meanDown === null ? null : meanUp - meanDown,
    };
  });
  const up = found.map((t): Spread => [t.meanUp, t.standardUp]);
  const down = found.map((t): Spread => [t.meanDown, t.standardDown]);
  const reversals = known(found.map((t) => t.reversal));
  return {
    runs,
    reversal: largest(reversals.map(Math.abs)),
    meanReversal: mean(reversals),
    repeatabilityUp: largest(known(up.map(([, s]) => s && 2 * FACTOR * s))),
    repeatabilityDown: largest(known(down.map(([, s]) => s && 2 * FACTOR * s))),
    repeatability: largest(known(found.map(targetRepeatability))),
    systematicDeviation: range(known([...up, ...down].map(([x]) => x)))!,
    systematicDeviationUp: range(known(up.map(([x]) => x))),
    systematicDeviationDown: range(known(down.map(([x]) => x))),
    meanDeviation: range(known(found.map((t) => t.reversal !== null && (t.meanUp! + t.meanDown!) / 2))),
    accuracy: accuracy([...up, ...down]),
    accuracyUp: accuracy(up),
    accuracyDown: accuracy(down),
    targets: found,
  };
}

/**
 * Repeatability of the index of the stations.
 *
 * @param poses of the single runs; null gives null.
 * @param deviations of the stations from all runs together, rad: a run's deviation is this plus its distance from the mean of
 *   the station's runs, so that ring shift and tool set-up do not count as index.
 * @param definition where the seats are: the index of a run is the tangential displacement of the blade origin over the seat
 *   radius.
 */
export function indexRepeatability(
  poses: readonly RepeatPose[] | null,
  deviations: readonly IndexDeviation[],
  definition: Pick<PartDefinition, 'stations'>,
): IndexRepeatability | null {
  if (poses === null) return null;
  const planned = new Map(definition.stations.map((station) => [station.station, station]));
  const targets = deviations.map(({ station, deviation }): TargetApproaches => {
    const own = poses
      .filter((pose) => pose.station === station)
      .map(({ direction, error }) => ({ direction, index: indexAtSeat(planned.get(station)!, error) }));
    const centre = mean(own.map(({ index }) => index)) ?? 0;
    const approaches = (down: boolean): number[] =>
      own
        .filter(({ direction }) => (direction === -1) === down)
        .map(({ index }) => deviation + index - centre);
    return { station, up: approaches(false), down: approaches(true) };
  });
  return repeatability(targets, new Set(poses.map(({ run }) => run)).size);
}

function indexAtSeat({ angle, seat }: StationDefinition, error: Vec6): number {
  const { oscillation, lateral, upset, tangential } = bladeDirections(angle, seat);
  const along =
    error[0] * dot(oscillation, tangential) +
    error[1] * dot(lateral, tangential) +
    error[2] * dot(upset, tangential);
  return along / seat.radius;
}

/** Mean and standard deviation of the approaches in one direction. */
type Spread = readonly [mean: number | null, standardDeviation: number | null];

function targetRepeatability(target: IndexRepeatability['targets'][number]): number | null {
  const { standardUp, standardDown, reversal } = target;
  if (reversal === null) {
    const single = standardUp ?? standardDown;
    return single === null ? null : 2 * FACTOR * single;
  }
  if (standardUp === null || standardDown === null) return null;
  const both = FACTOR * (standardUp + standardDown) + Math.abs(reversal);
  return Math.max(both, 2 * FACTOR * standardUp, 2 * FACTOR * standardDown);
}

/** Null where a mean has no standard deviation: the bound around it is not known. */
function accuracy(spreads: readonly Spread[]): number | null {
  const bounds: number[] = [];
  for (const [x, s] of spreads) {
    if (x === null) continue;
    if (s === null) return null;
    bounds.push(x - FACTOR * s, x + FACTOR * s);
  }
  return range(bounds);
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, x) => sum + x, 0) / values.length;
}

/** With n − 1; null below two values. */
function standardDeviation(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const centre = mean(values)!;
  return Math.sqrt(values.reduce((sum, x) => sum + (x - centre) ** 2, 0) / (values.length - 1));
}

function known(values: readonly (number | null | false)[]): number[] {
  return values.filter((x): x is number => typeof x === 'number');
}

function largest(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values);
}

function range(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values) - Math.min(...values);
}
