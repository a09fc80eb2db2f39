/**
 * One-way analysis of variance.
 *
 * Sums of squares are formed from deviations: first from one of the values, which is exact where leading digits are common to all,
 * then from the means. So constant leading digits cost no more than what storing the values has already cost. Source of the method:
 * NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3; between-group component as in JCGM 100:2008, H.5.
 */
import { ReductionError } from '../errors.ts';
import { fDistribution } from '../uncertainty/distributions.ts';

export interface VarianceSource {
  readonly degreesOfFreedom: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
}

export interface VarianceAnalysis {
  readonly between: VarianceSource;
  readonly within: VarianceSource;
  /** Mean square between over mean square within; ∞ where nothing varies within, 0 where nothing varies at all. */
  readonly statistic: number;
  /** Probability of a statistic at least as large from variation within groups alone. */
  readonly probability: number;
  /** Share of the sum of squares that lies between groups, R². */
  readonly share: number;
  /** Standard deviation within groups. */
  readonly standardDeviation: number;
  /** Standard deviation of the groups' true means, by the mean squares; 0 where they differ no more than values within do. */
  readonly betweenDeviation: number;
}

/**
 * @param groups values of each group; at least two groups that have values, and more values than groups and `fitted` together.
 * @param fitted parameters fitted to the values beforehand within the groups, such as a slope common to all: they are taken off
 *   the degrees of freedom within.
 * @throws ReductionError `too-few-points`.
 */
export function oneWayAnalysis(groups: readonly (readonly number[])[], fitted = 0): VarianceAnalysis {
  const filled = groups.filter((group) => group.length > 0);
  const count = filled.reduce((sum, group) => sum + group.length, 0);
  const free = count - filled.length - fitted;
  if (filled.length < 2 || free < 1)
    throw new ReductionError(
      'too-few-points',
      `An analysis of variance needs two groups and more values than groups, not ${count} values in ${filled.length} groups.`,
    );
  const origin = filled[0]![0]!;
  const shifted = filled.map((group) => group.map((value) => value - origin));
  const grand = mean(shifted.flat());
  const means = shifted.map(mean);
  const between = source(
    total(means.map((m, k) => shifted[k]!.length * (m - grand) ** 2)),
    filled.length - 1,
  );
  const within = source(
    total(shifted.flatMap((group, k) => group.map((value) => (value - means[k]!) ** 2))),
    free,
  );
  const statistic = between.meanSquare === 0 ? 0 : between.meanSquare / within.meanSquare;
  // Mean group size as it enters the expected mean square of unequal groups.
  const size = (count - total(filled.map((group) => group.length ** 2)) / count) / (filled.length - 1);
  return {
    between,
    within,
    statistic,
    probability: fDistribution(statistic, between.degreesOfFreedom, free).survival,
    share:
      between.sumOfSquares === 0 ? 0 : between.sumOfSquares / (between.sumOfSquares + within.sumOfSquares),
    standardDeviation: Math.sqrt(within.meanSquare),
    betweenDeviation: Math.sqrt(Math.max(0, (between.meanSquare - within.meanSquare) / size)),
  };
}

function source(sumOfSquares: number, degreesOfFreedom: number): VarianceSource {
  return { degreesOfFreedom, sumOfSquares, meanSquare: sumOfSquares / degreesOfFreedom };
}

/** Mean with one correction by the mean of the deviations, which takes out the rounding of the first sum. */
function mean(values: readonly number[]): number {
  const first = total(values) / values.length;
  return first + total(values.map((value) => value - first)) / values.length;
}

/** Sum with the rounding error of each addition carried along (Neumaier, ZAMM 54 (1974) 39–51). */
function total(values: readonly number[]): number {
  let sum = 0;
  let carry = 0;
  for (const value of values) {
    const next = sum + value;
    carry += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + carry;
}
