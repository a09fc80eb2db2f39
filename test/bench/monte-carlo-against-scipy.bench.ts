/**
 * Distribution of the largest position of a blade over two check points: Monte Carlo here against NumPy and SciPy with as many
 * trials of the same model, and the route that the product takes (exact, or conditioned sampling) beside both.
 * Run: npx tsx test/bench/monte-carlo-against-scipy.bench.ts
 *
 * Both sides draw, propagate, sort and summarise, one thread each, start-up not counted, medians. A ratio counts only where
 * mean, standard uncertainty and upper bound agree to five standard errors.
 */
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type * as Joint from '../../shared-math/uncertainty/joint-position.ts';
import type * as Simulated from '../../shared-math/uncertainty/simulated-position.ts';
import { asShipped } from './as-shipped.ts';
import { medianMilliseconds, runPython, tableLine } from './measuring.ts';

const TRIALS = 1_000_000;
const REPEATS = 5;
const COVERAGE = 0.95;
const SHIFT = [0.008, -0.006, 0.01] as const;
const TURN = [4e-5, 3e-5, -2e-4] as const;
/** Standard uncertainties of the six errors with some correlation: mm, rad. */
const DEVIATIONS = [0.0012, 0.0015, 0.001, 2e-5, 1.5e-5, 5e-5];
const CORRELATION = 0.3;
const covariance = DEVIATIONS.map((a, i) => DEVIATIONS.map((b, j) => (i === j ? 1 : CORRELATION) * a * b));
const zone = { zone: 'cylindrical', tolerance: 0.05, direction: null } as const;
const points = [
  { at: [0, 0, 0], ...zone },
  { at: [0, 0, 160], ...zone },
] as const;
const blade = {
  error: { rotation: rotationFromVector(TURN), translation: SHIFT },
  covariance,
};

interface Theirs {
  readonly milliseconds: number;
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly high: number;
}

const { simulateLargestPosition } = await asShipped<typeof Simulated>(
  'shared-math/uncertainty/simulated-position.ts',
);
const { largestPositionQuantile } = await asShipped<typeof Joint>(
  'shared-math/uncertainty/joint-position.ts',
);
const { numpy, scipy, results } = runPython('monte_carlo.py', {
  shift: SHIFT,
  turn: TURN,
  covariance,
  checkPoints: points.map((p) => p.at),
  coverage: COVERAGE,
  trials: TRIALS,
  repeats: REPEATS,
}) as { numpy: string; scipy: string; results: Record<'linear' | 'exact', Theirs> };

console.log(
  `Node ${process.version}, NumPy ${numpy}, SciPy ${scipy}; ${TRIALS} trials, medians of ${REPEATS}\n`,
);
const widths = [32, 10, 10, 6, 12];
console.log(tableLine(['largest position', 'ours, ms', 'NumPy, ms', 'ratio', 'bound, mm'], widths));
for (const motion of ['linear', 'exact'] as const) {
  // A tolerance that is never reached: all trials are made.
  const options = { seed: 3, coverage: COVERAGE, tolerance: 0, mostTrials: TRIALS, motion };
  const run = () => simulateLargestPosition(points, blade, options);
  const ours = medianMilliseconds(run, REPEATS, 1);
  const found = run();
  const theirs = results[motion];
  for (const key of ['estimate', 'standardUncertainty', 'high'] as const) {
    const error = Math.SQRT2 * found.standardErrors[key];
    if (!(Math.abs(found[key] - theirs[key]) <= 5 * error))
      throw new Error(`${motion}, ${key}: ${found[key]} here, ${theirs[key]} by NumPy.`);
  }
  const ratio = (ours / theirs.milliseconds).toFixed(2);
  const columns = [
    `${motion} motion`,
    ours.toFixed(0),
    theirs.milliseconds.toFixed(0),
    ratio,
    found.high.toFixed(6),
  ];
  console.log(tableLine(columns, widths));
}
const route = () => largestPositionQuantile(COVERAGE, points, blade);
const time = medianMilliseconds(route, 21, 5);
const ratio = (time / results.linear.milliseconds).toFixed(3);
console.log(
  tableLine(
    [
      "the product's route",
      time.toFixed(2),
      results.linear.milliseconds.toFixed(0),
      ratio,
      route().value.toFixed(6),
    ],
    widths,
  ),
);
