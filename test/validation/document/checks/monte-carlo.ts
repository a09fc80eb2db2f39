/** Worked examples of JCGM 101 by the product's adaptive Monte Carlo, and its comparison loss by the distribution of position. */
import {
  adaptiveMonteCarlo,
  type MonteCarloOptions,
} from '../../../../shared-math/uncertainty/monte-carlo.ts';
import { positionCdf, positionQuantile } from '../../../../shared-math/uncertainty/position-distribution.ts';
import { type RandomGenerator, sampleChiSquared } from '../../../../shared-math/uncertainty/random.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Propagation of distributions';

type Model = (g: RandomGenerator) => number;

interface Example {
  readonly model: Model;
  readonly options: MonteCarloOptions;
  /** Rounding and sampling error of the printed values: half their last digit, more where the printed run was small. */
  readonly printedBounds: readonly [number, number, number, number];
  /** One unit of the last digit of the exact values. */
  readonly exactBound: number;
  readonly unit: string;
}

const rectangular = (g: RandomGenerator, low: number, high: number): number =>
  low + (high - low) * g.uniform();
const student = (g: RandomGenerator, nu: number): number =>
  g.normal() / Math.sqrt(sampleChiSquared(g, nu) / nu);

/** Rectangular between limits that are themselves rectangular within ±d (JCGM 101, 6.4.3). */
function curvilinear(g: RandomGenerator, a: number, b: number, d: number): number {
  const from = a - d + 2 * d * g.uniform();
  return from + (a + b - 2 * from) * g.uniform();
}

const sumOfRectangular =
  (...deviations: readonly number[]): Model =>
  (g) =>
    deviations.reduce((sum, s) => sum + rectangular(g, -s * Math.sqrt(3), s * Math.sqrt(3)), 0);

const massComparison: Model = (g) => {
  const reference = 100_000 + 0.05 * g.normal() + 1.234 + 0.02 * g.normal();
  const air = rectangular(g, 1.1, 1.3);
  const buoyancy = 1 / rectangular(g, 7000, 9000) - 1 / rectangular(g, 7950, 8050);
  return reference * (1 + (air - 1.2) * buoyancy) - 100_000;
};

const comparisonLoss =
  (x1: number): Model =>
  (g) =>
    1e6 * ((x1 + 0.005 * g.normal()) ** 2 + (0.005 * g.normal()) ** 2);

const gaugeBlock: Model = (g) => {
  const standard = 50_000_623 + 25 * student(g, 18);
  const difference = 215 + 6 * student(g, 24) + 4 * student(g, 5) + 7 * student(g, 8);
  const expansion = rectangular(g, 9.5e-6, 13.5e-6);
  const temperature = -0.1 + 0.2 * g.normal() + 0.5 * Math.sin(2 * Math.PI * g.uniform());
  const expansionDifference = curvilinear(g, -1e-6, 1e-6, 0.1e-6);
  const temperatureDifference = curvilinear(g, -0.05, 0.05, 0.025);
  const thermal = standard * (expansionDifference * temperature + expansion * temperatureDifference);
  return standard + difference - thermal - 50_000_000;
};

/** Looser numerical tolerances than two digits give where the printed ends carry no more. */
const EXAMPLES: Readonly<Record<string, Example>> = {
  '9.2.2': {
    model: (g) => g.normal() + g.normal() + g.normal() + g.normal(),
    options: { seed: 2 },
    printedBounds: [0.05, 0.05, 0.005, 0.005],
    exactBound: 1e-6,
    unit: '',
  },
  '9.2.3': {
    model: sumOfRectangular(1, 1, 1, 1),
    options: { seed: 3 },
    printedBounds: [0.05, 0.05, 0.005, 0.005],
    exactBound: 1e-6,
    unit: '',
  },
  '9.2.4': {
    model: sumOfRectangular(1, 1, 1, 10),
    options: { seed: 4 },
    printedBounds: [0.05, 0.05, 0.05, 0.05],
    exactBound: 5e-4,
    unit: '',
  },
  '9.3': {
    model: massComparison,
    options: { seed: 5, interval: 'shortest', tolerance: 0.001 },
    // The shortest interval of a flat-topped distribution shifts easily along it.
    printedBounds: [0.0005, 0.0005, 0.003, 0.003],
    exactBound: Number.NaN,
    unit: 'mg',
  },
  '9.4, x1 = 0': {
    model: comparisonLoss(0),
    options: { seed: 6, interval: 'shortest' },
    printedBounds: [0.5, 0.5, 0.5, 0.5],
    exactBound: 0.05,
    unit: '× 1e-6',
  },
  '9.4, x1 = 0.010': {
    model: comparisonLoss(0.01),
    options: { seed: 7, interval: 'shortest', tolerance: 1 },
    printedBounds: [0.5, 0.5, 0.5, 1.5],
    exactBound: 0.05,
    unit: '× 1e-6',
  },
  '9.4, x1 = 0.050': {
    model: comparisonLoss(0.05),
    options: { seed: 8, interval: 'shortest', tolerance: 5 },
    printedBounds: [1.5, 1, 3, 3],
    exactBound: 0.5,
    unit: '× 1e-6',
  },
  '9.5': {
    model: gaugeBlock,
    options: { seed: 9, coverage: 0.99, interval: 'shortest', tolerance: 1 },
    printedBounds: [0.5, 0.5, 1, 1],
    exactBound: Number.NaN,
    unit: 'nm',
  },
};

/** Standard errors of our own run that a bound allows for. */
const STANDARD_ERRORS = 5;

export function monteCarlo(): Chapter {
  return {
    group: GROUP,
    text: `Adaptive Monte Carlo with a fixed seed. The bound is the rounding (and own sampling error) of the printed value, or one unit of the last
digit of the exact one, plus five standard errors of our run as it reports them. The comparison loss X₁² + X₂² of 9.4 is the square of a
distance, so the distribution of position answers it without simulation: P within the printed ends, and the exact moments' quantile.`,
    checks: [...simulated(), ...lossByPosition()],
  };
}

function simulated(): readonly Check[] {
  const { rows } = fixture<{
    monteCarlo: { rows: readonly { case: string; printed: number[]; exact: number[] | null }[] };
  }>('uncertainty-published.json').monteCarlo;
  const printedChecks = new Checks(
    GROUP,
    'JCGM 101:2008, 9.2 to 9.5, printed results (value from memory; inputs as carried by cran/propagate)',
  );
  const exactChecks = new Checks(
    GROUP,
    'Exact moments and intervals of the same models (closed forms, SciPy 1.17.1)',
  );
  for (const { case: name, printed, exact } of rows) {
    const { model, options, printedBounds, exactBound, unit } = EXAMPLES[name]!;
    const result = adaptiveMonteCarlo(model, options);
    const { standardErrors } = result;
    for (const [i, key] of (['estimate', 'standardUncertainty', 'low', 'high'] as const).entries()) {
      const error = STANDARD_ERRORS * standardErrors[key];
      const label = ['estimate', 'u', 'lower end', 'upper end'][i];
      printedChecks.add(`${name}, ${label}`, result[key], printed[i]!, printedBounds[i]! + error, unit);
      if (exact) exactChecks.add(`${name}, all four`, result[key], exact[i]!, exactBound + error, unit);
    }
    // 1 where the stopping rule was met.
    exactChecks.add('runs that met their stopping rule', result.stable ? 1 : 0, 1, 0);
  }
  return [...printedChecks.list, ...exactChecks.list];
}

/** δ = (x1, 0) ± 0.005; Y = |δ|², so P(Y ≤ y) = P(2|δ| ≤ 2√y). */
function lossByPosition(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'JCGM 101:2008, 9.4, tables of the comparison loss for r = 0 and 0.9 (value from memory): probability within the printed shortest 95 % interval',
  );
  const variance = 0.005 ** 2;
  for (const [r, x1, low, high] of [
    [0, 0, 0, 150],
    [0, 0.01, 0, 367],
    [0, 0.05, 1590, 3543],
    [0.9, 0, 0, 185],
    [0.9, 0.01, 13, 398],
    [0.9, 0.05, 1628, 3555],
  ] as const) {
    const covariance = [
      [variance, r * variance],
      [r * variance, variance],
    ];
    const below = (y: number) => (y === 0 ? 0 : positionCdf(2 * Math.sqrt(y * 1e-6), [x1, 0], covariance));
    checks.add(`9.4, r = ${r}, x1 = ${x1}, P within the interval`, below(high) - below(low), 0.95, 1e-3);
  }
  const exact = new Checks(GROUP, 'Exact: |δ|² exponential with mean 5e-5 where x1 = 0');
  const quantile = positionQuantile(
    0.95,
    [0, 0],
    [
      [variance, 0],
      [0, variance],
    ],
  );
  exact.add(
    '9.4, r = 0, x1 = 0, upper 95 % end',
    (quantile / 2) ** 2 * 1e6,
    -50 * Math.log(0.05),
    1e-6,
    '× 1e-6',
  );
  return [...checks.list, ...exact.list];
}
