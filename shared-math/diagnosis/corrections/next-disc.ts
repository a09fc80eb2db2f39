/**
 * What a correction brings on the next disc: the causes found come back, the scatter of this disc does not.
 *
 * Settings are fitted to the blades of this disc, their scatter included. On the next disc the same tools, welded in the same order,
 * make the errors that the causes make, changed by the settings, and every blade gets scatter of its own, drawn from what the
 * diagnosis found. The largest position over many such discs, with and without the settings and with the same draws, tells what
 * of the predicted gain would recur.
 */
import { applyToPoint, compose } from '../../geometry/rigid-motion.ts';
import { rotationFromVector } from '../../geometry/rotation.ts';
import type { RigidMotion } from '../../geometry/types.ts';
import { dot, subtract } from '../../geometry/vector.ts';
import type { Vec6 } from '../findings.ts';
import type { Blade, BladePoint } from './blades.ts';
import type { NextDisc, Outlook } from './correction.ts';
import { errorSlopes, quantile } from './re-measured.ts';
import { motionBySettings } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/**
 * Largest position (mm) of the served blades on the next disc.
 *
 * @param values settings, mm and rad.
 * @param causes six errors that the causes found make at each station; a station that is absent has none.
 * @param scattered draws of scatter, hub frame and measurement: six errors of every blade in a row, one array a disc.
 */
export function nextDisc(
  blades: readonly Blade[],
  points: readonly BladePoint[],
  unknowns: readonly Unknown[],
  values: Float64Array,
  causes: ReadonlyMap<number, Vec6>,
  scattered: readonly Float64Array[],
  coverage: number,
): NextDisc {
  const recurring = blades.map(({ measured }) => motionOf(causes.get(measured.station) ?? NOTHING));
  const outlook = (changed: readonly RigidMotion[]): Outlook => {
    const largest = largestPositions(changed, points, scattered);
    return {
      expected: quantile(largest, 0.5),
      low: quantile(largest, (1 - coverage) / 2),
      high: quantile(largest, (1 + coverage) / 2),
    };
  };
  return {
    unchanged: outlook(recurring),
    corrected: outlook(
      recurring.map((error, k) => compose(motionBySettings(blades[k]!, unknowns, values), error)),
    ),
  };
}

const NOTHING: Vec6 = [0, 0, 0, 0, 0, 0];

function motionOf([x, y, z, a, b, c]: Vec6): RigidMotion {
  return { rotation: rotationFromVector([a, b, c]), translation: [x, y, z] };
}

/** One a draw, sorted. */
function largestPositions(
  errors: readonly RigidMotion[],
  points: readonly BladePoint[],
  scattered: readonly Float64Array[],
): readonly number[] {
  const parts = points.flatMap(({ blade, at, directions }, point) =>
    directions.map((d) => ({
      point,
      blade,
      mean: dot(d, subtract(applyToPoint(errors[blade]!, at), at)),
      slopes: errorSlopes(d, at),
    })),
  );
  const squares = new Float64Array(points.length);
  return scattered
    .map((draw) => {
      squares.fill(0);
      for (const { point, blade, mean, slopes } of parts) {
        let sum = mean;
        for (let i = 0; i < 6; i++) sum += slopes[i]! * draw[6 * blade + i]!;
        squares[point]! += sum * sum;
      }
      return 2 * Math.sqrt(squares.reduce((most, s) => Math.max(most, s), 0));
    })
    .sort((a, b) => a - b);
}
