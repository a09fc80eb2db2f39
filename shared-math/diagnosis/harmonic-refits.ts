/**
 * Harmonics held against the scatter that is left once they are in the fit.
 *
 * A harmonic that the fit does not hold swells the scatter of the errors that it moves, which then count for little: the score test
 * sees it through the others. Those that one error alone shows as regression with one more term, by the share of that error's sum
 * of squares that they explain, are therefore fitted for their test, with variances of their own.
 *
 * Source: N. R. Draper, H. Smith, Applied Regression Analysis (1998), 6 (extra sum of squares), from memory.
 */
import { channelDirection, type DesignBlock, harmonicBlock } from './design.ts';
import type { HarmonicChannel } from './findings.ts';
import { type HarmonicTest, testFittedHarmonic } from './harmonics.ts';
import { residualsOf, type Separation } from './separation.ts';

/** Expected number of harmonics of chance that are fitted for each error that they move: many more than ever stand out. */
const EXPECTED_BY_CHANCE = 0.5;
const LARGEST_LEVEL = 0.1;

/** Of them the most promising are enough: the others have their turn once one of these is in the fit. */
const MOST = 6;

/**
 * The tests with those that may stand out made anew in a fit of their own.
 *
 * @param fitWith fits the model with one more block, or null where too little is left for scatter; such harmonics are left out.
 */
export function refitted(
  s: Separation,
  tests: readonly HarmonicTest[],
  fitWith: (block: DesignBlock) => Separation | null,
): HarmonicTest[] {
  const level = Math.min(LARGEST_LEVEL, EXPECTED_BY_CHANCE / tests.length);
  const screen = screening(s);
  const promise = tests.map((t) => (t.fitted ? 1 : Math.min(t.probability, screen(t))));
  const last = [...promise].sort((a, b) => a - b)[MOST - 1] ?? 1;
  return tests.flatMap((test, i) => {
    if (promise[i]! > Math.min(level, last)) return [test];
    const separation = fitWith(harmonicBlock(s.observations, test.channel, test.order));
    const block = separation?.blocks.at(-1);
    if (!separation || block === undefined) return [];
    const again = testFittedHarmonic(separation, block, test.channel, test.order);
    if (again === null) return [];
    // The turn of the index is seen in several errors, so that the score test is not blind to it: both must see it.
    const probability =
      test.channel === 'index' ? Math.max(again.probability, test.probability) : again.probability;
    return [{ ...again, probability, fitted: false }];
  });
}

/** Probability, for the error that shows it most, of explaining as much of the residuals of that error by chance. */
function screening(s: Separation): (test: HarmonicTest) => number {
  const all = residualsOf(s);
  const counted = s.observations.flatMap((o, k) => (s.counts[k] ? [{ o, residual: all[k]! }] : []));
  const squares = [0, 1, 2, 3, 4, 5].map((i) =>
    counted.reduce((sum, { residual }) => sum + residual[i]! ** 2, 0),
  );
  // Every order asks for the directions of its channel, every channel for the waves of an order.
  const directionsOf = remembered((channel: HarmonicChannel) =>
    counted.map(({ o }) => channelDirection(o, channel)),
  );
  const wavesOf = remembered((order: number) =>
    counted.map(({ o }) => [Math.cos(order * o.angle), Math.sin(order * o.angle)] as const),
  );
  return ({ channel, order }) => {
    const directions = directionsOf(channel);
    const waves = wavesOf(order);
    return Math.min(
      ...squares.map((whole, i) => {
        let [cc, ss, cs, cr, sr] = [0, 0, 0, 0, 0];
        counted.forEach(({ residual }, k) => {
          const along = directions[k]![i]!;
          const [cos, sin] = waves[k]!;
          const c = along * cos;
          const d = along * sin;
          const r = residual[i]!;
          cc += c * c;
          ss += d * d;
          cs += c * d;
          cr += c * r;
          sr += d * r;
        });
        // Where cos and sin are one column, half of the trace is the square of it.
        const determinant = cc * ss - cs * cs;
        const explained =
          determinant > SINGLE * cc * ss
            ? (ss * cr * cr - 2 * cs * cr * sr + cc * sr * sr) / determinant
            : cc + ss > 0
              ? (cr * cr + sr * sr) / (cc + ss)
              : 0;
        const left = Math.max(0, 1 - explained / whole);
        // F with two and ν − 2 degrees of freedom, in closed form.
        return whole > 0 ? left ** Math.max(0.5, (s.fit.errorDegrees[i]! - 2) / 2) : 1;
      }),
    );
  };
}

/** The function with its values kept. */
function remembered<K, V>(make: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    const value = known.get(key) ?? make(key);
    known.set(key, value);
    return value;
  };
}

const SINGLE = 1e-6;
