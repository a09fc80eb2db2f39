/** Worked examples of the GUM: budgets, correlated inputs, a fitted line. */
import { solveLeastSquares } from '../../../../shared-math/association/index.ts';
import { coverageFactor } from '../../../../shared-math/stations/known-uncertainty.ts';
import { bilinear } from '../../../../shared-math/uncertainty/displacement-distribution.ts';
import { studentTQuantile } from '../../../../shared-math/uncertainty/distributions.ts';
import { combinedUncertainty, type UncertaintyContribution } from '../../../support/uncertainty-budget.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'GUM worked examples';

interface Published {
  readonly endGauge: {
    readonly difference: readonly UncertaintyContribution[];
    readonly length: number;
    readonly standard: UncertaintyContribution;
    readonly expansionDifference: {
      halfWidth: number;
      degreesOfFreedom: number;
      sensitivityTemperature: number;
    };
    readonly temperatureDifference: { halfWidth: number; degreesOfFreedom: number; expansion: number };
    readonly printed: { contributions: number[]; combined: number; degreesOfFreedom: number; t99: number };
    readonly exact: {
      contributions: number[];
      combined: number;
      differenceDegreesOfFreedom: number;
      degreesOfFreedom: number;
      t99: number;
    };
  };
  readonly welchSatterthwaite: {
    readonly contributions: readonly UncertaintyContribution[];
    readonly printed: { degreesOfFreedom: number; expanded: number };
    readonly exact: { combined: number; degreesOfFreedom: number; t95: number; expanded: number };
  };
}

export function gum(): Chapter {
  return {
    group: GROUP,
    text: `Printed values have half a unit of their last digit as bound; values computed from the stated inputs one unit of the last digit given.
H.1: the printed u_c = 32 nm is rounded, the effective degrees of freedom follow from the unrounded 31.7; U₉₉ = 93 nm is printed from
figures rounded up (unrounded 92.48). H.2: the covariances of the means are plain arithmetic here; their propagation is the product's. H.5
is in the chapter on the analysis of variance.`,
    checks: [...endGauge(), ...welchSatterthwaite(), ...impedance(), ...thermometer()],
  };
}

function endGauge(): readonly Check[] {
  const { endGauge: e } = fixture<Published>('uncertainty-published.json');
  const checks = new Checks(
    GROUP,
    'JCGM 100:2008, H.1, end gauge (inputs as carried by cran/metRology GUM.H.1; printed results: value from memory)',
  );
  const difference = combinedUncertainty(e.difference);
  checks.add(
    'H.1, ν of the comparison',
    difference.degreesOfFreedom,
    e.exact.differenceDegreesOfFreedom,
    1e-3,
  );
  const combined = combinedUncertainty([
    e.standard,
    difference,
    {
      standardUncertainty: e.expansionDifference.halfWidth / Math.sqrt(3),
      sensitivity: e.length * e.expansionDifference.sensitivityTemperature,
      degreesOfFreedom: e.expansionDifference.degreesOfFreedom,
    },
    {
      standardUncertainty: e.temperatureDifference.halfWidth / Math.sqrt(3),
      sensitivity: e.length * e.temperatureDifference.expansion,
      degreesOfFreedom: e.temperatureDifference.degreesOfFreedom,
    },
  ]);
  const names = ['standard', 'comparison', 'difference of expansion', 'difference of temperature'];
  for (const [i, ours] of combined.contributions.entries()) {
    checks.add(`H.1, ${names[i]}, printed`, ours, e.printed.contributions[i]!, 0.05, 'nm');
    checks.add(`H.1, ${names[i]}`, ours, e.exact.contributions[i]!, 1e-8, 'nm');
  }
  checks.add('H.1, u_c, printed', combined.standardUncertainty, e.printed.combined, 0.5, 'nm');
  checks.add('H.1, u_c', combined.standardUncertainty, e.exact.combined, 1e-8, 'nm');
  // Printed 16.7 comes from rounded contributions, so a whole unit of its last digit.
  checks.add('H.1, ν_eff, printed', combined.degreesOfFreedom, 16.7, 0.1);
  checks.add('H.1, ν_eff', combined.degreesOfFreedom, e.exact.degreesOfFreedom, 1e-2);
  const nu = Math.floor(combined.degreesOfFreedom);
  checks.add('H.1, t₉₉(16), printed', studentTQuantile(0.995, nu), e.printed.t99, 5e-3);
  checks.add('H.1, U₉₉', coverageFactor(0.99, nu) * combined.standardUncertainty, 92.483, 1e-3, 'nm');
  return checks.list;
}

function welchSatterthwaite(): readonly Check[] {
  const { contributions, printed, exact } = fixture<Published>(
    'uncertainty-published.json',
  ).welchSatterthwaite;
  const checks = new Checks(GROUP, 'JCGM 100:2008, G.4 (inputs and printed results: value from memory)');
  const { standardUncertainty, degreesOfFreedom } = combinedUncertainty(contributions);
  checks.add('G.4, u_c', standardUncertainty, exact.combined, 1e-9, '%');
  checks.add('G.4, ν_eff, printed', degreesOfFreedom, printed.degreesOfFreedom, 0.5);
  checks.add('G.4, ν_eff', degreesOfFreedom, exact.degreesOfFreedom, 1e-6);
  const expanded = coverageFactor(0.95, printed.degreesOfFreedom) * standardUncertainty;
  checks.add('G.4, U₉₅, printed', expanded, printed.expanded, 0.05, '%');
  checks.add('G.4, U₉₅', expanded, exact.expanded, 1e-6, '%');
  return checks.list;
}

function impedance(): readonly Check[] {
  const printed = new Checks(
    GROUP,
    'JCGM 100:2008, H.2, resistance and reactance (data as carried by cran/propagate H.2; printed results: value from memory)',
  );
  const data = [
    [5.007, 4.994, 5.005, 4.99, 4.999],
    [19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3],
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  ];
  const n = 5;
  const means = data.map((v) => v.reduce((sum, x) => sum + x, 0) / n);
  const covariance = data.map((a, i) =>
    data.map(
      (b, j) => a.reduce((sum, x, k) => sum + (x - means[i]!) * (b[k]! - means[j]!), 0) / (n * (n - 1)),
    ),
  );
  const [v, i, phi] = means as [number, number, number];
  const [c, s] = [Math.cos(phi), Math.sin(phi)];
  const z = v / i;
  const gradients = [
    [c / i, (-z * c) / i, -z * s],
    [s / i, (-z * s) / i, z * c],
    [1 / i, -z / i, 0],
  ];
  const u = gradients.map((g) => Math.sqrt(bilinear(g, covariance, g)));
  const r = (a: number, b: number) => bilinear(gradients[a]!, covariance, gradients[b]!) / (u[a]! * u[b]!);
  const values = [z * c, z * s, z];
  const names = ['R', 'X', 'Z'];
  const recomputed = [
    [127.732169928, 0.071071407],
    [219.846511913, 0.295581677],
    [254.259701948, 0.23633613],
  ];
  const fromPrint = [
    [127.732, 0.071],
    [219.847, 0.295],
    [254.26, 0.236],
  ];
  for (const [k, name] of names.entries()) {
    printed.add(`H.2, ${name}, printed`, values[k]!, fromPrint[k]![0]!, 5e-4, 'Ω');
    // Printed 0.295 comes from the other of the two approaches of H.2; by this one 0.2956.
    printed.add(`H.2, u(${name}), printed`, u[k]!, fromPrint[k]![1]!, k === 1 ? 1e-3 : 5e-4, 'Ω');
    printed.add(`H.2, ${name} and u(${name}), recomputed`, values[k]!, recomputed[k]![0]!, 1e-9, 'Ω');
    printed.add(`H.2, ${name} and u(${name}), recomputed`, u[k]!, recomputed[k]![1]!, 1e-9, 'Ω');
  }
  for (const [name, ours, print, exact] of [
    ['r(R, X)', r(0, 1), -0.588, -0.588429784],
    ['r(R, Z)', r(0, 2), -0.485, -0.485259224],
    ['r(X, Z)', r(1, 2), 0.993, 0.992511649],
  ] as const) {
    printed.add(`H.2, ${name}, printed`, ours, print, 5e-4);
    printed.add('H.2, correlations, recomputed', ours, exact, 1e-9);
  }
  return printed.list;
}

function thermometer(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'JCGM 100:2008, H.3, thermometer line, t₀ = 20 °C (data as carried by cran/propagate H.3; printed results: value from memory)',
  );
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-171, -169, -166, -159, -164, -165, -156, -157, -159, -161, -160].map((k) => k / 1000);
  const fit = solveLeastSquares<readonly [number, number]>(
    {
      parameters: 2,
      evaluate: ([y1, y2], rows) => {
        t.forEach((x, k) => {
          rows.row.set([1, x - 20, y1 + y2 * (x - 20) - b[k]!]);
          rows.push();
        });
      },
      move: ([y1, y2], step) => [y1 + step[0]!, y2 + step[1]!],
    },
    [0, 0],
  );
  const variance = fit.sumOfSquares / (t.length - 2);
  const covariance = fit.cofactor.map((row) => row.map((x) => x * variance));
  const [y1, y2] = fit.state;
  const [u1, u2] = [Math.sqrt(covariance[0]![0]!), Math.sqrt(covariance[1]![1]!)];
  const at30 = [1, 10];
  const quantities: readonly (readonly [string, number, number, number, number, string])[] = [
    ['y₁', y1, -0.1712, 5e-5, -0.17120379, '°C'],
    ['u(y₁)', u1, 0.0029, 5e-5, 0.002877598, '°C'],
    ['y₂', y2, 0.00218, 5e-6, 0.002182698, ''],
    ['u(y₂)', u2, 0.00067, 5e-6, 0.000667939, ''],
    ['r(y₁, y₂)', covariance[0]![1]! / (u1 * u2), -0.93, 5e-4, -0.930429603, ''],
    ['s', Math.sqrt(variance), 0.0035, 5e-5, 0.003497564, '°C'],
    ['correction at 30 °C', y1 + 10 * y2, -0.1494, 5e-5, -0.149376813, '°C'],
    ['its u', Math.sqrt(bilinear(at30, covariance, at30)), 0.0041, 5e-5, 0.004138596, '°C'],
  ];
  for (const [name, ours, printed, half, exact, unit] of quantities) {
    checks.add(`H.3, ${name}, printed`, ours, printed, half, unit);
    checks.add('H.3, all, recomputed to nine decimals', ours, exact, 1e-9, '');
  }
  return checks.list;
}
