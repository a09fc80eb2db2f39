/**
 * Harmonics of the errors around the disc: amplitude·cos(order·θ − phase), least squares on the actual angles, each tested as two
 * columns added to the joint fit (score test with its own degrees of freedom).
 */

import { degreesOfOneError, satterthwaite } from './contrast.ts';
import { channelDirection, channelUnit } from './design.ts';
import type { Harmonic, HarmonicChannel, SignificanceTest } from './findings.ts';
import { finiteDegrees, fSurvival, jointTest, tFactor } from './inference.ts';
import { COMPONENTS } from './mixed-evaluation.ts';
import { ALWAYS } from './plan-blocks.ts';
import { jointOf, residualsOf, type Separation, unitRow } from './separation.ts';
import {
  addOuter,
  dotProduct,
  eigen,
  form,
  product,
  quadratic,
  type ReadonlyRows,
  type Rows,
  times,
  zeros,
} from './symmetric.ts';

export const CHANNELS: readonly HarmonicChannel[] = [
  'index',
  'radial',
  'tangential',
  'axial',
  'lean',
  'sweep',
  'stagger',
];

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
  const weightedDesigns = counted.map((x, at) => product(s.fit.weights[at]!, x));
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
    readonly through: readonly number[];
    readonly size: number;
    readonly pull: number;
    /** V⁻¹·X. */
    readonly wx: ReadonlyRows;
  }[];
}

function prepareChannel(
  s: Separation,
  weightedDesigns: readonly ReadonlyRows[],
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
      const through = new Array<number>(s.fit.beta.length).fill(0);
      wx.forEach((row, i) => {
        const f = g[i]!;
        if (f !== 0) for (let c = 0; c < through.length; c++) through[c] = through[c]! + f * row[c]!;
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
  const across = [new Array<number>(p).fill(0), new Array<number>(p).fill(0)];
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
  const hx = across.map((c) => times(fit.covariance, c));
  const own = whole.map((row, i) => row.map((x, j) => x - dotProduct(across[i]!, hx[j]!)));
  const size = 0.5 * (whole[0]![0]! + whole[1]![1]!);
  const axes = eigen(own).filter((a) => a.value > OWN_SHARE * size);
  if (axes.length === 0) return null;
  // g_iᵀ·(P·Z·v) of station k: W·z·v − W·X·Φ·C·v.
  const taken = stations.map(({ wx }) => wx.map((row) => hx.map((h) => dotProduct(row, h))));
  const gradientOf = (v: readonly number[]): number[] => {
    const gradient = new Array<number>(COMPONENTS).fill(0);
    stations.forEach(({ wz, k }, a) => {
      const z = waves[a]!;
      const factor = z[0] * v[0]! + z[1] * v[1]!;
      const d = s.observations[k]!.motions[5]!;
      let along = 0;
      for (let i = 0; i < 6; i++) {
        const [x0, x1] = taken[a]![i] as [number, number];
        const y = factor * wz[i]! - x0 * v[0]! - x1 * v[1]!;
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

/** The finding of a tested harmonic, natural units. */
export function describeHarmonic(
  t: HarmonicTest,
  significant: boolean,
  coverage: number,
  aliases: readonly number[],
): Harmonic {
  const { scale } = channelUnit(t.channel);
  const [c = 0, s = 0] = t.coefficients;
  const amplitude = Math.hypot(c, s);
  const along = amplitude > 0 ? [c / amplitude, s / amplitude] : [1, 0];
  const standard = Math.sqrt(Math.max(0, form(along, t.covariance, along)));
  const degrees = t.degreesOf(along);
  const half = tFactor(coverage, degrees) * standard;
  const consistentWithNone = t.probability > 1 - coverage;
  return {
    channel: t.channel,
    order: t.order,
    amplitude: {
      value: amplitude * scale,
      standard: standard * scale,
      low: consistentWithNone ? 0 : Math.max(0, amplitude - half) * scale,
      high: (amplitude + half) * scale,
      degreesOfFreedom: finiteDegrees(degrees),
    },
    phase: Math.atan2(s, c),
    floor: noiseFloor(t, coverage, degrees) * scale,
    probability: t.probability,
    significant,
    aliases,
  };
}

/** Amplitude that scatter alone exceeds with probability 1 − coverage: F quantile with two degrees of freedom, in closed form. */
function noiseFloor({ covariance }: HarmonicTest, coverage: number, degrees: number): number {
  const values = eigen(covariance)
    .map((a) => a.value)
    .filter((v) => v > 0);
  const total = values.reduce((a, b) => a + b, 0);
  const single = Math.max(...values, 0) > (1 - 1e-9) * total;
  if (single) return tFactor(coverage, degrees) * Math.sqrt(total);
  const tail = 1 - coverage;
  const f = finiteDegrees(degrees) === null ? -Math.log(tail) : (degrees / 2) * (tail ** (-2 / degrees) - 1);
  return Math.sqrt(total * f);
}

/** Two orders look alike where their sum or difference turns a whole number of times from station to station. */
const SAME = 0.999;

/** For each order 1 … `orders` the other orders up to `highest` that the angles cannot tell from it. */
export function aliasesOf(
  angles: readonly number[],
  orders: number,
  highest: number,
): readonly (readonly number[])[] {
  const alike = Array.from({ length: orders + highest + 1 }, (_, m) => {
    const c = angles.reduce((sum, a) => sum + Math.cos(m * a), 0);
    const s = angles.reduce((sum, a) => sum + Math.sin(m * a), 0);
    return Math.hypot(c, s) > SAME * angles.length;
  });
  return Array.from({ length: orders }, (_, i) => {
    const order = i + 1;
    return Array.from({ length: highest }, (__, j) => j + 1).filter(
      (h) => h !== order && (alike[Math.abs(h - order)] || alike[h + order]),
    );
  });
}
