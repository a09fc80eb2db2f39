/**
 * Samples of jointly normal (or t) displacements in which one coordinate is left to exact integration.
 *
 * The displacements are δ = m + B·z/w, z standard normal with k independent coordinates, w = √(χ²_ν/ν). The coordinates are
 * turned so that the last one points where the deciding check point is most sensitive. For sampled z_1 … z_{k−1} and w, check
 * point i lies within r_i while |a_i + b_i·z_k| ≤ w·r_i, an interval of z_k; the probability of all is Φ(high) − Φ(low) of
 * the common interval. Sources: see joint-position.ts.
 */
import { covarianceFactor } from './covariance-factor.ts';
import { bilinear, type DisplacementDistribution } from './displacement-distribution.ts';
import { chiSquaredQuantile, normalCdf, normalQuantile } from './distributions.ts';
import { seededGenerator } from './random.ts';

export interface SampledProbabilities {
  /** Estimate of P(|δ_i| ≤ limit_i for all i). */
  readonly joint: number;
  /** Estimates of each P(|δ_i| ≤ limit_i) from the same points: known exactly, they show how this sample errs. */
  readonly single: readonly number[];
}

export interface ConditionedSample {
  /** Limits as radii (half zone sizes), mm. */
  readonly probabilities: (limits: readonly number[]) => SampledProbabilities;
}

/** Square roots of primes: their multiples fill the unit cube evenly (Richtmyer). At most five coordinates and w. */
const IRRATIONALS = [2, 3, 5, 7, 11, 13, 17].map(Math.sqrt);
/** From here t and normal probabilities differ by less than (z³ + z)·φ(z)/(4ν) < 2e-7. */
const PRACTICALLY_NORMAL = 1e6;

/**
 * Independent samples, one for each random shift.
 *
 * @param distributions of the check points, their coefficients with respect to the six errors.
 * @param deciding index of the check point that decides most of the probability.
 * @param covariance 6 × 6 of the six errors.
 * @param points of each sample.
 */
export function sampleConditioned(
  distributions: readonly DisplacementDistribution[],
  deciding: number,
  covariance: readonly (readonly number[])[],
  degreesOfFreedom: number,
  seed: number,
  shifts: number,
  points: number,
): ConditionedSample[] {
  const rows = distributions.flatMap((d) => d.coefficients);
  const factor = covarianceFactor(rows.map((a) => rows.map((b) => bilinear(a, covariance, b))));
  const ends: number[] = [];
  for (const { mean } of distributions) ends.push((ends.at(-1) ?? 0) + mean.length);
  const blocks = distributions.map(({ mean }, i) => factor.slice(ends[i]! - mean.length, ends[i]));
  const sensitive = sensitiveDirection(blocks[deciding]!, distributions[deciding]!.mean);
  const turned = blocks.map((block) => block.map((row) => reflectToLast(row, sensitive)));
  const generator = seededGenerator(seed);
  const scale = degreesOfFreedom < PRACTICALLY_NORMAL ? scaleQuantile(degreesOfFreedom) : null;
  const means = distributions.map((d) => d.mean);
  return Array.from({ length: shifts }, () => {
    const shift = IRRATIONALS.map(generator.uniform);
    return conditionedSample(means, turned, scale, shift, points);
  });
}

function conditionedSample(
  means: readonly (readonly number[])[],
  blocks: readonly (readonly (readonly number[])[])[],
  scale: ((score: number) => number) | null,
  shift: readonly number[],
  points: number,
): ConditionedSample {
  const last = blocks[0]![0]!.length - 1;
  const count = means.length;
  const lengths = blocks.map((block) => block.reduce((sum, row) => sum + row[last]! ** 2, 0));
  // Of each point and check point: where on the line of z_k it is closest to nominal, and the square of that distance.
  const closest = new Float64Array(points * count);
  const apart = new Float64Array(points * count);
  const widths = new Float64Array(points).fill(1);
  const scores = new Array<number>(last).fill(0);
  for (let n = 0; n < points; n++) {
    for (let j = 0; j < last; j++) scores[j] = folded(n, j, shift);
    if (scale) widths[n] = scale(folded(n, last, shift));
    for (let i = 0; i < count; i++) {
      let along = 0;
      let square = 0;
      for (let c = 0; c < means[i]!.length; c++) {
        const row = blocks[i]![c]!;
        let a = widths[n]! * means[i]![c]!;
        for (let j = 0; j < last; j++) a += row[j]! * scores[j]!;
        along += a * row[last]!;
        square += a * a;
      }
      const length = lengths[i]!;
      closest[n * count + i] = length > 0 ? -along / length : 0;
      apart[n * count + i] = length > 0 ? Math.max(square - (along * along) / length, 0) : square;
    }
  }
  const probabilities = (limits: readonly number[]): SampledProbabilities => {
    const single = new Array<number>(count).fill(0);
    let joint = 0;
    for (let n = 0; n < points; n++) {
      let below = 0;
      let within = 1;
      for (let i = 0; i < count; i++) {
        const room = (widths[n]! * limits[i]!) ** 2 - apart[n * count + i]!;
        if (room < 0) {
          within = 0;
          continue;
        }
        if (lengths[i]! === 0) {
          single[i]! += 1;
          continue;
        }
        const half = Math.sqrt(room / lengths[i]!);
        const low = boundedCdf(closest[n * count + i]! - half);
        const high = boundedCdf(closest[n * count + i]! + half);
        single[i]! += high - low;
        below = Math.max(below, low);
        within = Math.min(within, high);
      }
      joint += Math.max(within - below, 0);
    }
    return { joint: joint / points, single: single.map((sum) => sum / points) };
  };
  return { probabilities };
}

/** Scores beyond this have probabilities within 1e-15 of 0 or 1; most ends of intervals lie there. */
const CERTAIN = 8;

function boundedCdf(score: number): number {
  if (score < -CERTAIN) return 0;
  return score > CERTAIN ? 1 : normalCdf(score);
}

/** Normal score of coordinate j of the n-th shifted Richtmyer point, folded so that the sum is periodic. */
function folded(n: number, j: number, shift: readonly number[]): number {
  const x = (n + 1) * IRRATIONALS[j]! + shift[j]!;
  return normalQuantile(Math.abs(2 * (x - Math.floor(x)) - 1));
}

/**
 * Unit direction in z along which |δ| of a check point changes most: towards its mean where that stands out, else along its
 * largest deviation.
 */
function sensitiveDirection(block: readonly (readonly number[])[], mean: readonly number[]): number[] {
  const k = block[0]!.length;
  const strengths = block.map((row) => row.reduce((sum, b) => sum + b * b, 0));
  const far = mean.reduce((sum, m) => sum + m * m, 0) > Math.max(...strengths);
  const widest = strengths.indexOf(Math.max(...strengths));
  const weights = far ? mean : mean.map((_, c) => (c === widest ? 1 : 0));
  const direction = Array.from({ length: k }, (_, j) =>
    block.reduce((sum, row, c) => sum + weights[c]! * row[j]!, 0),
  );
  const length = Math.hypot(...direction);
  return length > 0 ? direction.map((d) => d / length) : direction.map((_, j) => (j === k - 1 ? 1 : 0));
}

/** The row in axes whose last one is the unit vector `direction` (a Householder reflection). */
function reflectToLast(row: readonly number[], direction: readonly number[]): number[] {
  const last = row.length - 1;
  const sign = direction[last]! > 0 ? -1 : 1;
  const normal = direction.map((d, j) => (j === last ? d - sign : d));
  const square = normal.reduce((sum, v) => sum + v * v, 0);
  const twice = (2 * row.reduce((sum, b, j) => sum + b * normal[j]!, 0)) / square;
  return row.map((b, j) => b - twice * normal[j]!);
}

/** Spacing and reach of the table of scores; w^(2/3) is nearly a straight line in the score (Wilson and Hilferty). */
const TABLE_STEP = 0.25;
const TABLE_REACH = 6;

/** Tables of the blades of a disc, which are asked for again and again: the last so many. */
const MOST_TABLES = 512;
const tables = new Map<number, readonly number[]>();

function scaleTable(degreesOfFreedom: number, size: number): readonly number[] {
  const known = tables.get(degreesOfFreedom);
  if (known !== undefined) return known;
  const table = Array.from({ length: size + 1 }, (_, i) => {
    const score = i * TABLE_STEP - TABLE_REACH;
    return Math.cbrt(chiSquaredQuantile(normalCdf(score), degreesOfFreedom) / degreesOfFreedom);
  });
  if (tables.size >= MOST_TABLES) tables.delete(tables.keys().next().value!);
  tables.set(degreesOfFreedom, table);
  return table;
}

/** w = √(χ²_ν/ν) as a function of its normal score, by cubic interpolation of w^(2/3) in a table of exact values. */
function scaleQuantile(degreesOfFreedom: number): (score: number) => number {
  const size = (2 * TABLE_REACH) / TABLE_STEP;
  const table = scaleTable(degreesOfFreedom, size);
  return (score) => {
    const x = Math.min(Math.max((score + TABLE_REACH) / TABLE_STEP, 0), size);
    const i = Math.min(Math.max(Math.floor(x) - 1, 0), size - 3);
    const t = x - i;
    const value =
      (-table[i]! * (t - 1) * (t - 2) * (t - 3)) / 6 +
      (table[i + 1]! * t * (t - 2) * (t - 3)) / 2 -
      (table[i + 2]! * t * (t - 1) * (t - 3)) / 2 +
      (table[i + 3]! * t * (t - 1) * (t - 2)) / 6;
    return value ** 1.5;
  };
}
