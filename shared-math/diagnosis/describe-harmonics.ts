/** Tested harmonics as findings: amplitude with its interval, phase, floor, and the orders that look alike. */
import { channelUnit } from './design.ts';
import type { Harmonic } from './findings.ts';
import type { HarmonicTest } from './harmonics.ts';
import { finiteDegrees, tFactor } from './inference.ts';
import { eigen, form } from './symmetric.ts';

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
