/** Interval of the largest position of the corrected blades, measured again. */
import { applyToPoint, compose } from '../../geometry/rigid-motion.ts';
import type { Vec3 } from '../../geometry/types.ts';
import { dot, subtract } from '../../geometry/vector.ts';
import type { Blade, BladePoint } from './blades.ts';
import { motionBySettings } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/**
 * Two-sided coverage interval of the largest position, mm, over the served blades.
 *
 * @param again draws of the change of the measured six errors, see disturbances.ts.
 */
export function intervalAgain(
  blades: readonly Blade[],
  points: readonly BladePoint[],
  unknowns: readonly Unknown[],
  values: Float64Array,
  again: readonly Float64Array[],
  coverage: number,
): { readonly low: number; readonly high: number } {
  const moved = blades.map((b) => compose(motionBySettings(b, unknowns, values), b.error));
  const parts = points.flatMap(({ blade, at, directions }, point) =>
    directions.map((d) => ({
      point,
      blade,
      mean: dot(d, subtract(applyToPoint(moved[blade]!, at), at)),
      slopes: errorSlopes(d, at),
    })),
  );
  const squares = new Float64Array(points.length);
  const largest = again.map((change) => {
    squares.fill(0);
    for (const { point, blade, mean, slopes } of parts) {
      let along = mean;
      for (let i = 0; i < 6; i++) along += slopes[i]! * change[6 * blade + i]!;
      squares[point]! += along * along;
    }
    return 2 * Math.sqrt(Math.max(...squares));
  });
  largest.sort((a, b) => a - b);
  return { low: quantile(largest, (1 - coverage) / 2), high: quantile(largest, (1 + coverage) / 2) };
}

/** Derivatives of n·δ by the six errors, rotations being small: n and p × n. */
export function errorSlopes(n: Vec3, p: Vec3): readonly number[] {
  return [...n, p[1] * n[2] - p[2] * n[1], p[2] * n[0] - p[0] * n[2], p[0] * n[1] - p[1] * n[0]];
}

/** Of sorted draws, linear between them. */
export function quantile(sorted: readonly number[], probability: number): number {
  const place = probability * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
}
