/** What the coverage experiment demands of the shares it counts. */
import type { Counts } from './experiment.ts';

export const BOUNDS = {
  /** Intervals of the six errors and the disc-frame quantities. */
  interval: [0.935, 0.965],
  /** Upper bound of the position, at every truth. */
  positionAtLeast: 0.935,
  /** Share of guarded acceptances at a true position just outside the limit: 1 − p + 1.5 %. */
  acceptedAtMost: 0.065,
} as const;

/** One sentence for each share beyond its bound; `slack` standard errors are forgiven. */
export function failures(report: ReturnType<Counts['report']>, slack = 0): readonly string[] {
  const [low, high] = BOUNDS.interval;
  const percent = (share: number): string => `${(100 * share).toFixed(2)} %`;
  const intervals = Object.entries(report.intervals).flatMap(
    ([name, { share, standardErrorByDiscs: error }]) =>
      share < low - slack * error || share > high + slack * error
        ? [`${name}: ${percent(share)} of the intervals hold the truth.`]
        : [],
  );
  const position = report.position.flatMap(({ truth, share, standardErrorByDiscs: error }) =>
    share < BOUNDS.positionAtLeast - slack * error
      ? [`position: ${percent(share)} of the upper bounds hold a true position of ${truth} tolerances.`]
      : [],
  );
  const accepted = Object.entries(report.acceptedJustOutside).flatMap(
    ([rule, { share, standardErrorByDiscs: error }]) =>
      share > BOUNDS.acceptedAtMost + slack * error
        ? [`guarded ${rule}: ${percent(share)} of the positions just outside the limit are accepted.`]
        : [],
  );
  return [...intervals, ...position, ...accepted];
}
