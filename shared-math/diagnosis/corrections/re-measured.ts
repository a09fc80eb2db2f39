/**
 * Interval of the largest position of the corrected blades, measured again.
 *
 * The largest of many positions rises with any noise: where two measurements differ by less than their uncertainties say (form and
 * scale are in both, and a stated probing uncertainty is often a bound), it ends lower than all draws at full size. So the low end
 * is the lowest for any proportion of the noise, the high end that for all of it.
 */
import { applyToPoint, compose } from '../../geometry/rigid-motion.ts';
import type { Vec3 } from '../../geometry/types.ts';
import { dot, subtract } from '../../geometry/vector.ts';
import type { Blade, BladePoint } from './blades.ts';
import { motionBySettings } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/** Proportions of the noise for which the low end is looked for. */
const PROPORTIONS = [1, 0.75, 0.5, 0.25];

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
  const largest = (changes: Float64Array, proportion: number): number => {
    squares.fill(0);
    for (let j = 0; j < parts.length; j++) {
      const { point, mean } = parts[j]!;
      squares[point]! += (mean + proportion * changes[j]!) ** 2;
    }
    return 2 * Math.sqrt(squares.reduce((most, s) => Math.max(most, s), 0));
  };
  const changed = again.map((change) =>
    Float64Array.from(parts, ({ blade, slopes }) => {
      let sum = 0;
      for (let i = 0; i < 6; i++) sum += slopes[i]! * change[6 * blade + i]!;
      return sum;
    }),
  );
  const draws = PROPORTIONS.map((proportion) =>
    changed.map((changes) => largest(changes, proportion)).sort((a, b) => a - b),
  );
  const undisturbed = largest(new Float64Array(parts.length), 0);
  return {
    low: Math.min(undisturbed, ...draws.map((d) => quantile(d, (1 - coverage) / 2))),
    high: quantile(draws[0]!, (1 + coverage) / 2),
  };
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
