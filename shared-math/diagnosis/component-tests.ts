/** Which components stand out from scatter: one test for each, adjusted for all of them. */
import type { ComponentName, SignificanceTest } from './findings.ts';
import type { HarmonicTest } from './harmonics.ts';
import { adjustForFalseDiscoveries, jointTest, simes } from './inference.ts';
import type { StationTest } from './outliers.ts';
import { coefficientsOf, jointOf, type Separation, unitRow } from './separation.ts';

export const FALSE_DISCOVERY_RATE = 0.05;

/** In which components are separated. */
export const ORDER: readonly ComponentName[] = [
  'ringShift',
  'common',
  'toolSetup',
  'toolChange',
  'wear',
  'index',
  'harmonics',
  'outliers',
  'scatter',
];

/** Tests of the family, in the order of separation, adjusted for false discoveries. */
export function familyTests(
  s: Separation,
  harmonicTests: readonly HarmonicTest[],
  stationTests: readonly StationTest[],
  notExamined: ReadonlyMap<ComponentName, unknown>,
): ReadonlyMap<ComponentName, SignificanceTest> {
  const raw = new Map<ComponentName, Omit<SignificanceTest, 'adjusted'>>();
  for (const name of ORDER) {
    if (name === 'scatter' || notExamined.has(name)) continue;
    if (name === 'outliers') raw.set(name, ofMany(stationTests.map((t) => t.probability)));
    else if (name === 'index' || name === 'harmonics')
      raw.set(
        name,
        ofMany(
          harmonicTests
            .filter((t) => (t.channel === 'index') === (name === 'index'))
            .map((t) => t.probability),
        ),
      );
    else {
      const { values, covariance, degreesOf } = jointOf(
        s,
        coefficientsOf(s, name).map((c) => unitRow(s, c)),
      );
      raw.set(name, jointTest(values, covariance, degreesOf));
    }
  }
  const names = [...raw.keys()];
  const adjusted = adjustForFalseDiscoveries(names.map((n) => raw.get(n)!.probability));
  return new Map(names.map((n, i) => [n, { ...raw.get(n)!, adjusted: adjusted[i]! }]));
}

/** Simes' test has no statistic of its own: the number of hypotheses stands as numerator. */
function ofMany(probabilities: readonly number[]): Omit<SignificanceTest, 'adjusted'> {
  const probability = simes(probabilities);
  return {
    statistic: -Math.log10(Math.max(probability, 1e-300)),
    numerator: probabilities.length,
    denominator: null,
    probability,
  };
}
