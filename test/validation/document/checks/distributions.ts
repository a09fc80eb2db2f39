/** Distribution functions and quantiles, and the distribution of position. */
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  chiSquaredSurvival,
  fDistribution,
  normalCdf,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
} from '../../../../shared-math/uncertainty/distributions.ts';
import { positionCdf, positionQuantile } from '../../../../shared-math/uncertainty/position-distribution.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Distributions';

/** Relative bounds, as test/validation/uncertainty-distributions.test.ts explains them. */
const NORMAL_QUANTILE = 5e-15;
const INCOMPLETE = 5e-13;
const POSITION_PROBABILITY = 1e-12;
const POSITION_QUANTILE = 1e-9;

type Tables = Record<
  'normal' | 'normalQuantile' | 't' | 'tQuantile' | 'chiSquared' | 'chiSquaredQuantile' | 'f',
  readonly (readonly number[])[]
>;

export function distributions(): Chapter {
  return {
    group: GROUP,
    text: `Bounds are relative for the first seven rows (normal distribution function 1e-15 + x²·ε, its quantile 5e-15, the others 5e-13; probabilities
down to 1e-290), absolute 1e-12 for the probability of position and relative 1e-9 for its quantile.`,
    checks: [...standard(), ...position()],
  };
}

function standard(): readonly Check[] {
  const tables = fixture<Tables>('uncertainty-distributions.json');
  const checks = new Checks(
    GROUP,
    'mpmath at 60 digits; test/validation/scripts/uncertainty-distributions.py',
  );
  /** Ours against the last columns of each row. */
  const compare = (
    name: string,
    rows: readonly (readonly number[])[],
    ours: (...row: number[]) => readonly number[],
    relative: (row: readonly number[]) => number,
  ): void => {
    for (const row of rows) {
      const values = ours(...row);
      for (const [i, value] of values.entries()) {
        const expected = row[row.length - values.length + i]!;
        checks.add(name, value, expected, relative(row) * Math.abs(expected || 1));
      }
    }
  };
  const incomplete = () => INCOMPLETE;
  compare(
    'normal',
    tables.normal,
    (x) => [normalCdf(x!)],
    ([x]) => 1e-15 + x! * x! * Number.EPSILON,
  );
  compare(
    'normal quantile',
    tables.normalQuantile,
    (p) => [normalQuantile(p!)],
    () => NORMAL_QUANTILE,
  );
  compare('Student t', tables.t, (t, nu) => [studentTCdf(t!, nu!)], incomplete);
  compare('Student t quantile', tables.tQuantile, (p, nu) => [studentTQuantile(p!, nu!)], incomplete);
  compare(
    'chi-squared and its complement',
    tables.chiSquared,
    (x, nu) => [chiSquaredCdf(x!, nu!), chiSquaredSurvival(x!, nu!)],
    incomplete,
  );
  compare(
    'chi-squared quantile',
    tables.chiSquaredQuantile,
    (p, nu) => [chiSquaredQuantile(p!, nu!)],
    incomplete,
  );
  compare(
    'F and its complement',
    tables.f,
    (x, n1, n2) => {
      const { cdf, survival } = fDistribution(x!, n1!, n2!);
      return [cdf, survival];
    },
    incomplete,
  );
  return checks.list;
}

interface General {
  readonly mean: number[];
  readonly covariance: number[][];
  readonly degreesOfFreedom: number | null;
  readonly radius: number;
  readonly probability: number;
}

function position(): readonly Check[] {
  const reference = fixture<{ isotropic: number[][]; riceQuantiles: number[][]; general: General[] }>(
    'uncertainty-position.json',
  );
  const rice = new Checks(
    GROUP,
    'SciPy 1.17.1, Rice and noncentral chi-squared distributions; test/validation/scripts/uncertainty-position.py',
  );
  for (const [components, deviation, length, radius, expected] of reference.isotropic) {
    const [mean, covariance] = isotropic(components!, deviation!, length!);
    rice.add(
      'position, isotropic',
      positionCdf(2 * radius!, mean, covariance),
      expected!,
      POSITION_PROBABILITY,
    );
  }
  for (const [deviation, length, p, radius] of reference.riceQuantiles) {
    const [mean, covariance] = isotropic(2, deviation!, length!);
    const expected = 2 * radius!;
    rice.add(
      'position, quantile',
      positionQuantile(p!, mean, covariance),
      expected,
      POSITION_QUANTILE * expected,
    );
  }
  const general = new Checks(
    GROUP,
    'Integration of the normal and t densities in polar and spherical coordinates (NumPy 2.4.6), agreeing to 3e-14; the same script',
  );
  for (const { mean, covariance, degreesOfFreedom, radius, probability } of reference.general) {
    const ours = positionCdf(2 * radius, mean, covariance, degreesOfFreedom ?? Number.POSITIVE_INFINITY);
    general.add('position, any covariance, normal and t', ours, probability, POSITION_PROBABILITY);
  }
  return [...rice.list, ...general.list];
}

/** A mean of this length in a direction that is no axis, and an isotropic covariance. */
function isotropic(components: number, deviation: number, length: number): [number[], number[][]] {
  const direction = [[1], [0.6, -0.8], [2 / 3, -1 / 3, 2 / 3]][components - 1]!;
  const covariance = direction.map((_, i) => direction.map((_, j) => (i === j ? deviation * deviation : 0)));
  return [direction.map((d) => d * length), covariance];
}
