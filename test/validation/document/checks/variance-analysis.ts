/** One-way analysis of variance of the NIST sets and of GUM H.5. */
import { oneWayAnalysis } from '../../../../shared-math/diagnosis/variance-analysis.ts';
import { type Chapter, type Check, Checks, fixture } from '../check.ts';

const GROUP = 'Analysis of variance';

interface Fixture {
  readonly sets: readonly {
    readonly name: string;
    readonly degreesOfFreedom: readonly [number, number];
    /** Sum of squares and mean square. */
    readonly between: readonly [number, number];
    readonly within: readonly [number, number];
    readonly statistic: number;
    readonly rSquared: number;
    readonly residualStandardDeviation: number;
    readonly statisticOfDoubles: number;
    readonly groups?: readonly (readonly string[])[];
    readonly patterns?: readonly { readonly first: string; readonly pair: readonly [string, string] }[];
    readonly pairs?: number;
  }[];
}

/**
 * Relative bounds against the certificate where the values themselves round: 1000000.4 by up to 6e-11, 1e12 + 0.4 by up to 6e-5, on
 * deviations of 0.1.
 */
const STORED: readonly (readonly [RegExp, number])[] = [
  [/SmLs0[456]/, 1e-9],
  [/SmLs0[789]/, 2e-4],
];
const RELATIVE = 1e-12;

export function varianceAnalysis(): Chapter {
  const { sets } = fixture<Fixture>('nist-anova.json');
  const checks = new Checks(
    GROUP,
    'NIST StRD, analysis of variance, SiRstv and SmLs01–SmLs09 (certified files as carried by SciPy)',
  );
  const exact = new Checks(GROUP, 'exact rational arithmetic on the stored values (Python, fractions)');
  const digits: string[] = [];
  for (const set of sets) {
    const groups = groupsOf(set).map((group) => group.map(Number));
    const ours = oneWayAnalysis(groups);
    const relative = STORED.find(([names]) => names.test(set.name))?.[1] ?? RELATIVE;
    const add = (name: string, value: number, certified: number): void =>
      checks.add(`${set.name}, ${name}`, value, certified, relative * certified);
    add('F', ours.statistic, set.statistic);
    add('sums and mean squares', ours.between.sumOfSquares, set.between[0]);
    add('sums and mean squares', ours.between.meanSquare, set.between[1]);
    add('sums and mean squares', ours.within.sumOfSquares, set.within[0]);
    add('sums and mean squares', ours.within.meanSquare, set.within[1]);
    add('R², residual standard deviation', ours.share, set.rSquared);
    add('R², residual standard deviation', ours.standardDeviation, set.residualStandardDeviation);
    const [between, within] = set.degreesOfFreedom;
    checks.add('degrees of freedom, all sets', ours.between.degreesOfFreedom, between, 0);
    checks.add('degrees of freedom, all sets', ours.within.degreesOfFreedom, within, 0);
    exact.add(
      'F of the values as doubles hold them, all sets',
      ours.statistic,
      set.statisticOfDoubles,
      1e-14 * set.statisticOfDoubles,
    );
    digits.push(`${set.name} ${digitsReached(ours.statistic, set.statistic)}`);
  }
  return {
    group: GROUP,
    text: `Bounds are relative: 1e-12; SmLs04–06 1e-9 and SmLs07–09 2e-4, because the data (0.1 apart, with 7 and 13 constant leading digits)
round by that much when they are stored as doubles. No arithmetic on doubles can do better, so F is also held against exact
arithmetic on the stored values, within 1e-14. Digits of the certified F that are reached: ${digits.join(', ')}. H.5 is computed from five values
a day that have the stated means and deviations.`,
    checks: [...checks.list, ...exact.list, ...voltage()],
  };
}

function groupsOf(set: Fixture['sets'][number]): readonly (readonly string[])[] {
  return (
    set.groups ??
    set.patterns!.map(({ first, pair }) => [first, ...Array.from({ length: set.pairs! }, () => pair).flat()])
  );
}

/** Significant digits that agree, at most the 15 of the certificate. */
function digitsReached(ours: number, certified: number): string {
  const difference = Math.abs(ours / certified - 1);
  return (difference === 0 ? 15 : Math.min(15, -Math.log10(difference))).toFixed(1);
}

function voltage(): readonly Check[] {
  const checks = new Checks(
    GROUP,
    'JCGM 100:2008, H.5, voltage on ten days (data and printed results: value from memory)',
  );
  const means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
  const deviations = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
  // −2 … 2 has the standard deviation √2.5.
  const days = means.map((m, j) => [-2, -1, 0, 1, 2].map((k) => m + (k * deviations[j]!) / Math.sqrt(2.5)));
  const { statistic, between, within, betweenDeviation } = oneWayAnalysis(days);
  // Printed F comes from the rounded deviations 57 and 85: 5·57²/85² = 2.25.
  checks.add('H.5, F, printed', statistic, 2.25, 0.02);
  const rows: readonly (readonly [string, number, number])[] = [
    ['F', statistic, 2.26152],
    ['s_a', Math.sqrt(between.meanSquare), 127.656],
    ['s_b', Math.sqrt(within.meanSquare), 84.887],
    ['s_B', betweenDeviation, 42.639],
    ['u of the mean', Math.sqrt(between.meanSquare / 50), 18.053],
  ];
  for (const [name, ours, reference] of rows)
    checks.add(
      `H.5, ${name}, recomputed`,
      ours,
      reference,
      name === 'F' ? 5e-6 : 5e-4,
      name === 'F' ? '' : 'µV',
    );
  return checks.list;
}
