/**
 * Harmonics of the errors around the disc: amplitude·cos(order·θ − phase), least squares on the actual angles, each tested as two
 * columns added to the joint fit (score test with its own degrees of freedom).
 */

import { DISC_ERRORS } from '../pose/error-names.ts';
import { degreesOfOneError, satterthwaite } from './contrast.ts';
import { channelDirection } from './design.ts';
import type { HarmonicChannel, SignificanceTest } from './findings.ts';
import { fSurvival, jointTest } from './inference.ts';
import { COMPONENTS } from './mixed-evaluation.ts';
import { ALWAYS } from './plan-blocks.ts';
import { jointOf, residualsOf, type Separation, unitRow } from './separation.ts';
import {
  addOuter,
  dotProduct,
  eigen,
  product,
  quadratic,
  type ReadonlyRows,
  type Rows,
  times,
  zeros,
} from './symmetric.ts';

export const CHANNELS: readonly HarmonicChannel[] = ['index', ...DISC_ERRORS];

/** A harmonic in scaled units before it is known whether it is significant. */
export interface HarmonicTest {
  readonly channel: HarmonicChannel;
  readonly order: number;
  /** Whether its columns are in the joint fit. */
  readonly fitted: boolean;
  /** Coefficients of cos and sin, and their covariance; scaled. */
  readonly coefficients: readonly number[];
  readonly covariance: ReadonlyRows;
  readonly degreesOf: (v: readonly number[]) => number;
  readonly probability: number;
}

/** Less of a harmonic's own than this share, once the fitted causes are taken out, tells nothing of it. */
const OWN_SHARE = 0.05;

/** All orders 1 … ⌊N/2⌋ of all channels that the fitted causes leave something of, in order of channel and order. */
export function testHarmonics(s: Separation, orders: number): HarmonicTest[] {
  const residuals = residualsOf(s);
  const counted = s.design.filter((_, k) => s.counts[k]);
  // Flat: every order of every channel goes through them.
  const weightedDesigns = counted.map((x, at) => Float64Array.from(product(s.fit.weights[at]!, x).flat()));
  return CHANNELS.flatMap((channel) => {
    const prepared = prepareChannel(s, weightedDesigns, residuals, channel);
    return Array.from({ length: orders }, (_, i) => i + 1).flatMap((order) => {
      const block = s.blocks.find((b) => b.harmonic?.channel === channel && b.harmonic.order === order);
      const test =
        block === undefined
          ? addedHarmonic(s, prepared, order)
          : testFittedHarmonic(s, block, channel, order);
      return test === null ? [] : [test];
    });
  });
}

/** By its columns in the joint fit; null where the stations do not tell it from the causes before. */
export function testFittedHarmonic(
  s: Separation,
  block: Separation['blocks'][number],
  channel: HarmonicChannel,
  order: number,
): HarmonicTest | null {
  if (block.dimensions === 0) return null;
  const unit = Array.from({ length: block.dimensions }, (_, i) => unitRow(s, block.first + i));
  const tested = jointOf(s, unit);
  const { statistic, numerator, denominator } = jointTest(tested.values, tested.covariance, tested.degreesOf);
  const searched = channel !== 'index' || order > ALWAYS;
  const single = searched ? Math.min(...unit.map((l) => singleDegrees(s, l))) : Number.POSITIVE_INFINITY;
  const rows = block.map.map((row) => {
    const l = s.fit.beta.map(() => 0);
    row.forEach((x, i) => {
      l[block.first + i] = x;
    });
    return l;
  });
  const { values, covariance, degreesOf } = jointOf(s, rows);
  return {
    channel,
    order,
    fitted: true,
    coefficients: values,
    covariance,
    degreesOf,
    probability: fSurvival(statistic, numerator, Math.min(denominator ?? single, single)),
  };
}

/**
 * Degrees of freedom of one error in a contrast: of many harmonics searched the most extreme counts, and far out in the tail the pooling of
 * several errors with estimated weights is worth little.
 */
function singleDegrees({ fit }: Separation, l: readonly number[]): number {
  const y = times(fit.covariance, l);
  const gradient = fit.sensitivities.map((b) => quadratic(y, b));
  return degreesOfOneError(gradient, fit) ?? Number.POSITIVE_INFINITY;
}

/** What every order of a channel shares: of each station in the fit W·g, XᵀW·g, gᵀW·g and gᵀW·r. */
interface Channel {
  readonly channel: HarmonicChannel;
  readonly stations: readonly {
    readonly k: number;
    readonly angle: number;
    readonly wz: readonly number[];
    readonly through: Float64Array;
    readonly size: number;
    readonly pull: number;
    /** V⁻¹·X, row after row. */
    readonly wx: Float64Array;
  }[];
}

function prepareChannel(
  s: Separation,
  weightedDesigns: readonly Float64Array[],
  residuals: readonly (readonly number[])[],
  channel: HarmonicChannel,
): Channel {
  const counted = s.observations.flatMap((o, k) => (s.counts[k] ? [{ o, k }] : []));
  return {
    channel,
    stations: counted.map(({ o, k }, at) => {
      const g = channelDirection(o, channel);
      const wz = times(s.fit.weights[at]!, g);
      const wx = weightedDesigns[at]!;
      const p = s.fit.beta.length;
      const through = new Float64Array(p);
      g.forEach((f, i) => {
        if (f !== 0) for (let c = 0; c < p; c++) through[c]! += f * wx[i * p + c]!;
      });
      return {
        k,
        angle: o.angle,
        wz,
        through,
        size: dotProduct(g, wz),
        pull: dotProduct(wz, residuals[k]!),
        wx,
      };
    }),
  };
}

/** ZᵀPZ·b = ZᵀPe of two added columns Z with P = V⁻¹ − V⁻¹XΦXᵀV⁻¹. */
function addedHarmonic(s: Separation, { channel, stations }: Channel, order: number): HarmonicTest | null {
  const { fit } = s;
  const p = fit.beta.length;
  const across = [new Array<number>(p).fill(0), new Array<number>(p).fill(0)] as const;
  const whole = zeros(2, 2);
  const side = [0, 0];
  const waves = stations.map(({ angle }) => [Math.cos(order * angle), Math.sin(order * angle)] as const);
  stations.forEach(({ through, size, pull }, a) => {
    const z = waves[a]!;
    addOuter(whole, z, size);
    for (const j of [0, 1] as const) {
      side[j] = side[j]! + z[j] * pull;
      const target = across[j]!;
      for (let c = 0; c < p; c++) target[c] = target[c]! + z[j] * through[c]!;
    }
  });
  const [h0, h1] = [times(fit.covariance, across[0]), times(fit.covariance, across[1])];
  const hx = [h0, h1] as const;
  const own = whole.map((row, i) => row.map((x, j) => x - dotProduct(across[i]!, hx[j]!)));
  const size = 0.5 * (whole[0]![0]! + whole[1]![1]!);
  const axes = eigen(own).filter((a) => a.value > OWN_SHARE * size);
  if (axes.length === 0) return null;
  // g_iᵀ·(P·Z·v) of station k: W·z·v − W·X·Φ·C·v.
  const taken = new Float64Array(12 * stations.length);
  stations.forEach(({ wx }, a) => {
    for (let i = 0; i < 6; i++) {
      let [x0, x1] = [0, 0];
      for (let c = 0; c < p; c++) {
        const x = wx[i * p + c]!;
        x0 += x * h0[c]!;
        x1 += x * h1[c]!;
      }
      taken[12 * a + 2 * i] = x0;
      taken[12 * a + 2 * i + 1] = x1;
    }
  });
  const gradientOf = (v: readonly number[]): number[] => {
    const gradient = new Array<number>(COMPONENTS).fill(0);
    stations.forEach(({ wz, k }, a) => {
      const z = waves[a]!;
      const factor = z[0] * v[0]! + z[1] * v[1]!;
      const d = s.observations[k]!.motions[5]!;
      let along = 0;
      for (let i = 0; i < 6; i++) {
        const y = factor * wz[i]! - taken[12 * a + 2 * i]! * v[0]! - taken[12 * a + 2 * i + 1]! * v[1]!;
        gradient[i] = gradient[i]! + y * y;
        along += d[i]! * y;
      }
      gradient[6] = gradient[6]! + along * along;
    });
    return gradient;
  };
  const pulls = axes.map((a) => dotProduct(a.vector, side));
  const gradients = axes.map((a) => gradientOf(a.vector));
  const degrees = axes.map((a, i) => satterthwaite(a.value, gradients[i]!, fit));
  const single = Math.min(...gradients.map((g) => degreesOfOneError(g, fit) ?? Number.POSITIVE_INFINITY));
  const scoreTest = jointTest(
    pulls,
    axes.map((a, i) => axes.map((_, j) => (i === j ? a.value : 0))),
    (v) => degrees[v.reduce((best, x, i) => (Math.abs(x) > Math.abs(v[best]!) ? i : best), 0)]!,
  );
  const { probability, remaining } = withoutItself(scoreTest, single);
  const coefficients = [0, 1].map((j) =>
    axes.reduce((sum, a, i) => sum + (a.vector[j]! * pulls[i]!) / a.value, 0),
  );
  const covariance: Rows = zeros(2, 2);
  for (const a of axes) addOuter(covariance, a.vector, remaining / a.value);
  const fewest = Math.min(...degrees);
  return { channel, order, fitted: false, coefficients, covariance, degreesOf: () => fewest, probability };
}

/**
 * The score test holds a harmonic against scatter that it has itself inflated: of the ν degrees of freedom, r = q·F/ν is the share of
 * the harmonic in the sum of squares. Taken out, F' = (r/q)/((1 − r)/(ν − q)), as for regression with one more term.
 *
 * @param single degrees of freedom of one error, see `singleDegrees`.
 * @returns the probability of F', and the factor by which the variance of the scatter falls.
 */
function withoutItself(
  { statistic, numerator: q, denominator, probability }: Omit<SignificanceTest, 'adjusted'>,
  single: number,
): { readonly probability: number; readonly remaining: number } {
  if (denominator === null || denominator < q + FEWEST_LEFT) return { probability, remaining: 1 };
  // Measurement is known and not part of the sum of squares, so that the share can come out above one.
  const share = Math.min(MOST_SHARE, (q * statistic) / denominator);
  const left = denominator - q;
  return {
    probability: fSurvival(share / q / ((1 - share) / left), q, Math.max(1, Math.min(left, single - q))),
    remaining: ((1 - share) * denominator) / left,
  };
}

const MOST_SHARE = 0.98;
/** With fewer degrees of freedom left, a variance that happens to be small would make harmonics of chance. */
const FEWEST_LEFT = 5;
