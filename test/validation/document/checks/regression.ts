/** Regression with standard deviations and intervals: NIST sets and the line of GUM H.3. */
import {
  fittedMean,
  linearRegression,
  type Regression,
} from '../../../../shared-math/diagnosis/regression.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Regression with intervals';

interface Fixture {
  readonly linear: readonly {
    readonly name: string;
    readonly y?: readonly number[];
    readonly terms?: readonly (readonly number[])[];
    readonly certified: readonly number[];
    readonly deviation: number;
  }[];
}

interface Certified {
  readonly deviations: readonly number[];
  /** Student's quantile at 0.975 for the residual degrees of freedom, SciPy 1.17.1. */
  readonly t: number;
  readonly relative: number;
}

const CERTIFIED: Readonly<Record<string, Certified>> = {
  Norris: { deviations: [0.232818234301152, 0.429796848199937e-3], t: 2.0322445093177186, relative: 1e-12 },
  Pontius: {
    deviations: [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16],
    t: 2.0261924630291093,
    relative: 1e-12,
  },
  Longley: {
    deviations: [
      890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675,
      0.22607320006937, 455.478499142212,
    ],
    t: 2.262157162798205,
    relative: 1e-11,
  },
};

export function regression(): Chapter {
  const { linear } = fixture<Fixture>('nist-statistics.json');
  const checks = new Checks(
    GROUP,
    'NIST StRD, linear regression: certified coefficients, their standard deviations (as carried by the GNU Scientific Library), data as in the chapter on univariate and linear sets',
  );
  for (const set of linear) {
    const certified = CERTIFIED[set.name];
    if (certified === undefined) continue;
    const { deviations, t, relative } = certified;
    const fit = linearRegression(set.terms!, set.y!);
    set.certified.forEach((value, j) => {
      const unit = set.certified.map((_, k) => (k === j ? 1 : 0));
      const ours = fittedMean(fit, unit, 0.95);
      checks.add(`${set.name}, coefficients`, ours.value, value, relative * Math.abs(value));
      checks.add(
        `${set.name}, their standard deviations`,
        ours.standard,
        deviations[j]!,
        relative * deviations[j]!,
      );
      const half = t * deviations[j]!;
      const bound = relative * (Math.abs(value) + half);
      checks.add(`${set.name}, 95 % intervals`, ours.low, value - half, bound);
      checks.add(`${set.name}, 95 % intervals`, ours.high, value + half, bound);
    });
    checks.add(
      `${set.name}, residual standard deviation`,
      fit.standardDeviation,
      set.deviation,
      relative * set.deviation,
    );
  }
  return {
    group: GROUP,
    text: `The regression that gives the slope of each error by the age of the tools. Bounds are relative: Norris and Pontius 1e-12, Longley 1e-11.
NIST certifies coefficients and standard deviations; the intervals are these with
Student's quantile. For H.3, a line with the uncertainty of slope and of a value off the data, printed values have half a unit
of their last digit as bound.`,
    checks: [...checks.list, ...thermometer()],
  };
}

function thermometer(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'JCGM 100:2008, H.3, thermometer line, t₀ = 20 °C (data as carried by cran/propagate H.3; printed results: value from memory)',
  );
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-171, -169, -166, -159, -164, -165, -156, -157, -159, -161, -160].map((k) => k / 1000);
  const fit: Regression = linearRegression(
    t.map((x) => [1, x - 20]),
    b,
  );
  const [y1, y2, at30] = [
    [1, 0],
    [0, 1],
    [1, 10],
  ].map((row) => fittedMean(fit, row, 0.95)) as [Level, Level, Level];
  const r = fit.covariance[0]![1]! / (y1.standard * y2.standard);
  const quantities: readonly (readonly [string, number, number, number, number, string])[] = [
    ['y₁', y1.value, -0.1712, 5e-5, -0.17120379, '°C'],
    ['u(y₁)', y1.standard, 0.0029, 5e-5, 0.002877598, '°C'],
    ['slope', y2.value, 0.00218, 5e-6, 0.002182698, ''],
    ['u(slope)', y2.standard, 0.00067, 5e-6, 0.000667939, ''],
    ['r(y₁, slope)', r, -0.93, 5e-4, -0.930429603, ''],
    ['s', fit.standardDeviation, 0.0035, 5e-5, 0.003497564, '°C'],
    ['correction at 30 °C', at30.value, -0.1494, 5e-5, -0.149376813, '°C'],
    ['its u', at30.standard, 0.0041, 5e-5, 0.004138596, '°C'],
  ];
  for (const [name, ours, printed, half, exact, unit] of quantities) {
    checks.add(`H.3, ${name}, printed`, ours, printed, half, unit);
    checks.add('H.3, all, recomputed to nine decimals', ours, exact, 1e-9, '');
  }
  // t(0.975, 9) = 2.262157163 (SciPy 1.17.1).
  checks.add('H.3, 95 % interval of the slope', y2.high, 0.002182698 + 2.262157163 * 0.000667939, 5e-9, '');
  return checks.list;
}

type Level = ReturnType<typeof fittedMean>;
