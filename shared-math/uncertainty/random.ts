/**
 * Seeded random numbers: the same seed gives the same numbers on every machine.
 *
 * Sources: D. Blackman, S. Vigna, Scrambled linear pseudorandom number generators, ACM TOMS 47 (2021) 36 (xoshiro128++,
 * period 2^128 − 1); G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014 (the mixing
 * that spreads a seed over the state); L. Devroye, Non-Uniform Random Variate Generation (1986), II.2 (inversion), III.
 */
import { normalQuantile } from './distributions.ts';

export interface RandomGenerator {
  /** Next 32 random bits as an integer from 0 to 2^32 − 1. */
  readonly bits: () => number;
  /** Uniform in the open interval (0, 1), 52 bits, symmetric about ½. */
  readonly uniform: () => number;
  /** Standard normal, by inversion of `uniform`. */
  readonly normal: () => number;
}

/**
 * The generator of a seed.
 *
 * @param seed any integer; its low 32 bits count.
 */
export function seededGenerator(seed: number): RandomGenerator {
  let s = seed >>> 0;
  const mixed = (): number => {
    s = (s + 0x9e3779b9) >>> 0;
    let z = s;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return (z ^ (z >>> 16)) >>> 0;
  };
  return generatorFromState([mixed(), mixed(), mixed(), mixed()]);
}

/** xoshiro128++ from its four words of state, not all zero. */
export function generatorFromState(state: readonly [number, number, number, number]): RandomGenerator {
  let [a, b, c, d] = state;
  const bits = (): number => {
    const sum = (a + d) | 0;
    const result = (((sum << 7) | (sum >>> 25)) + a) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result;
  };
  const uniform = (): number => {
    const high = bits() >>> 6;
    const low = bits() >>> 6;
    return (high * 67108864 + low + 0.5) / 4503599627370496;
  };
  return { bits, uniform, normal: () => normalQuantile(uniform()) };
}

/**
 * A chi-squared variate with ν > 0 degrees of freedom.
 * Source: G. Marsaglia, W. W. Tsang, A simple method for generating gamma variables, ACM TOMS 26 (2000) 363–372.
 */
export function sampleChiSquared(generator: RandomGenerator, degreesOfFreedom: number): number {
  const shape = degreesOfFreedom / 2;
  if (shape < 1)
    return sampleChiSquared(generator, degreesOfFreedom + 2) * generator.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = generator.normal();
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(generator.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return 2 * d * v;
  }
}

/**
 * A vector with the given mean and covariance factor·factorᵀ, normal.
 *
 * @param factor n rows of k entries, see `covarianceFactor`.
 * @param scale divides the deviations: w = √(χ²_ν/ν) makes the vector multivariate t.
 */
export function sampleNormalVector(
  generator: RandomGenerator,
  mean: readonly number[],
  factor: readonly (readonly number[])[],
  scale = 1,
): number[] {
  const scores = Array.from({ length: factor[0]?.length ?? 0 }, generator.normal);
  return mean.map((m, i) => m + factor[i]!.reduce((sum, entry, j) => sum + entry * scores[j]!, 0) / scale);
}
