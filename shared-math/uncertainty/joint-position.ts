/**
 * Several check points of one blade: the probability that all lie in their zones, and the quantile of the largest position.
 *
 * The displacements are jointly normal (multivariate t where ν is finite, see position-distribution.ts), all from the one
 * covariance of the error motion. Where one check point decides, its exact distribution is used; otherwise all but one
 * coordinate of the shared randomness are sampled and the last is integrated exactly: for given others, every zone allows an
 * interval of it, and the probability of the common interval is a difference of two values of Φ. The last coordinate points
 * where the deciding check point is most sensitive, so that little is left to the sampling, which takes randomly shifted
 * Richtmyer points: the scatter between shifts is the standard error.
 *
 * Sources: A. Genz, F. Bretz, Computation of Multivariate Normal and t Probabilities (2009), 4.2 (conditioning, Richtmyer points,
 * random shifts, folding); R. Cranley, T. N. L. Patterson, SIAM J. Numer. Anal. 13 (1976) 904–914 (error from random shifts).
 */
import { ReductionError } from '../errors.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { type SampledProbabilities, sampleConditioned } from './conditioned-sample.ts';
import {
  type DisplacementDistribution,
  displacementDistribution,
  type ZonePoint,
} from './displacement-distribution.ts';
import { normalQuantile } from './distributions.ts';
import { positionCdf, positionQuantile, ROUGH } from './position-distribution.ts';
import { findRoot } from './root.ts';

export interface BladeUncertainty {
  /** E, the motion from the nominal to the measured blade in nominal blade axes. */
  readonly error: RigidMotion;
  /** 6 × 6, in the order of the six errors, mm and rad; the scale matrix of t where ν is finite. */
  readonly covariance: readonly (readonly number[])[];
  /** ν, default ∞. */
  readonly degreesOfFreedom?: number;
}

export interface SamplingOptions {
  /** Seed of the random shifts, default 1. */
  readonly seed?: number;
  /** Standard error of a probability at which sampling stops, default 4e-4. */
  readonly precision?: number;
  /**
   * mm: quantiles that differ by half of this need not be told apart, nor probabilities that differ by half of `precision`. Bounds
   * that are as close then serve, where sampling would take most of the time. Default 0.
   */
  readonly resolution?: number | undefined;
  /** Quantiles of the single check points where the caller knows them already, for the same covariance and ν. */
  readonly single?: readonly number[] | undefined;
}

export interface JointEstimate {
  readonly value: number;
  /** 0 where nothing was sampled; the probability is then exact to 1e-5. */
  readonly standardError: number;
  /** Sampled points, 0 where none were needed. */
  readonly trials: number;
}

/** Independent shifts: their scatter has fifteen degrees of freedom. */
const SHIFTS = 16;
/** Points of each shift at first; doubled until the standard error is small enough. It falls nearly as 1/points. */
const FEWEST_POINTS = 64;
/** Points of each shift at which sampling ends anyway (1 MB a shift), with the standard error reached. */
const MOST_POINTS = 16_384;
/** Well below the digits of a probability that anybody acts on. */
const PRECISION = 4e-4;
/** Check points that fail with less probability than this are left out: far below the precision of the sampling. */
const NEGLIGIBLE = 1e-5;
/** Standard errors that differ by less than this differ by rounding only, and no result should hang on that. */
const SAME_ERROR = 1e-12;
/** First width of the bracket of the quantile, in standard deviations: about how much a second check point moves it. */
const FIRST_STEP = 0.5;
/**
 * Where a displacement exceeds its own deviation this many times, squares in the sample lose its digits, and treating the
 * check points jointly would move the result by less than a deviation, then far below a nanometre: Boole's bound serves.
 */
const FAR_FROM_ZERO = 1e5;
/** A single quantile is found to this part of a resolution. */
const FINE = 1e-2;
/** Relative; far below the standard error of a sampled quantile. */
const QUANTILE_TOLERANCE = 1e-5;

/**
 * P(2·|δ_i| ≤ T_i for every check point).
 *
 * @throws ReductionError `invalid-argument` for a covariance that is none, or no check point.
 */
export function jointConformanceProbability(
  points: readonly ZonePoint[],
  blade: BladeUncertainty,
  options: SamplingOptions = {},
): JointEstimate {
  const { degreesOfFreedom = Number.POSITIVE_INFINITY } = blade;
  const distributions = distributionsOf(points, blade);
  const accuracy = accuracyOf(options);
  const failures = distributions.map(
    (d, i) => 1 - positionCdf(points[i]!.tolerance, d.mean, d.covariance, degreesOfFreedom, accuracy),
  );
  const { deciding, others } = decidingPoint(failures);
  if (others < NEGLIGIBLE || failures[deciding]! > 1 - NEGLIGIBLE)
    return { value: 1 - failures[deciding]!, standardError: 0, trials: 0 };
  if (distributions.some(isFar))
    return { value: Math.max(0, 1 - failures.reduce((sum, f) => sum + f, 0)), standardError: 0, trials: 0 };
  const { resolution = 0, precision = PRECISION } = options;
  // Between the bound of Boole and the deciding check point alone.
  if (resolution > 0 && others < precision)
    return { value: 1 - failures[deciding]! - others / 2, standardError: others / 2, trials: 0 };
  const limits = points.map((p) => p.tolerance / 2);
  const { estimates, trials } = sampled(distributions, deciding, blade, limits, options);
  const probabilities = estimates(limits);
  const value = Math.min(Math.max(mean(probabilities), 0), 1);
  return { value, standardError: honestError(probabilities, others, trials), trials };
}

/**
 * The v with P(2·|δ_i| ≤ v for every check point) = p: upper bound of the largest position, mm.
 *
 * @param p in (0, 1).
 * @throws ReductionError `invalid-argument` as above.
 */
export function largestPositionQuantile(
  p: number,
  points: readonly ZonePoint[],
  blade: BladeUncertainty,
  options: SamplingOptions = {},
): JointEstimate {
  const { degreesOfFreedom = Number.POSITIVE_INFINITY } = blade;
  const distributions = distributionsOf(points, blade);
  const { lower, deciding } = largestSingleQuantile(p, distributions, degreesOfFreedom, options);
  const accuracy = accuracyOf(options);
  const failures = distributions.map(
    (d) => 1 - positionCdf(lower, d.mean, d.covariance, degreesOfFreedom, accuracy),
  );
  const others = failures.reduce((sum, f, i) => (i === deciding ? sum : sum + f), 0);
  if (others < NEGLIGIBLE) return { value: lower, standardError: 0, trials: 0 };
  if (distributions.some(isFar)) {
    const share = 1 - (1 - p) / points.length;
    const bounds = distributions.map((d) => positionQuantile(share, d.mean, d.covariance, degreesOfFreedom));
    return { value: Math.max(...bounds), standardError: 0, trials: 0 };
  }

  const { resolution = 0 } = options;
  let wanted = options;
  if (resolution > 0) {
    const beyond = distributions.map(
      (d) => 1 - positionCdf(lower + resolution, d.mean, d.covariance, degreesOfFreedom, accuracy),
    );
    // Boole: there at the latest.
    if (beyond.reduce((sum, f) => sum + f, 0) <= 1 - p)
      return { value: lower + resolution / 2, standardError: resolution / 4, trials: 0 };
    const rise = failures[deciding]! - beyond[deciding]!;
    wanted = { ...options, precision: Math.max(options.precision ?? PRECISION, rise / 4) };
  }
  const at = (v: number): number[] => points.map(() => v / 2);
  const { estimates, trials } = sampled(distributions, deciding, blade, at(lower), wanted);
  // The search comes back to the ends of its bracket.
  const known = new Map<number, number[]>();
  const estimatesAt = (v: number): number[] => {
    const found = known.get(v) ?? estimates(at(v));
    known.set(v, found);
    return found;
  };
  // On the scale of normal scores the distribution function is nearly a straight line.
  const target = normalQuantile(p);
  const excess = (v: number): number =>
    normalQuantile(Math.min(Math.max(mean(estimatesAt(v)), 1e-300), 1 - 1e-16)) - target;
  const step =
    FIRST_STEP * Math.sqrt(Math.max(...distributions[deciding]!.covariance.map((row, i) => row[i]!)));
  // The sample may miss the lower bound by its own error.
  let from = lower;
  while (excess(from) > 0) from -= step;
  let to = lower + step;
  while (excess(to) < 0) to += step;
  const value =
    resolution > 0
      ? nearlyStraightRoot(excess, from, to, resolution / 8)
      : findRoot(excess, from, to, QUANTILE_TOLERANCE);
  const beyond = resolution > 0 ? to : value + step / 8;
  const density = (mean(estimatesAt(beyond)) - mean(estimatesAt(value))) / (beyond - value);
  return { value, standardError: honestError(estimatesAt(value), others, trials) / density, trials };
}

/** Root of a function that is nearly a straight line between the ends of its bracket, to an absolute accuracy. */
function nearlyStraightRoot(
  f: (x: number) => number,
  lower: number,
  upper: number,
  accuracy: number,
): number {
  let [a, b, fa, fb] = [lower, upper, f(lower), f(upper)];
  for (let i = 0; i < MOST_SECANTS; i++) {
    const x = a - (fa * (b - a)) / (fb - fa);
    if (!(x > lower && x < upper)) break;
    if (Math.min(Math.abs(x - a), Math.abs(x - b)) < accuracy) return x;
    [a, fa, b, fb] = [b, fb, x, f(x)];
  }
  return findRoot(f, lower, upper, QUANTILE_TOLERANCE);
}

const MOST_SECANTS = 6;

/** Largest quantile of a single check point. Most are seen to be smaller by one probability, without being found. */
function largestSingleQuantile(
  p: number,
  distributions: readonly DisplacementDistribution[],
  degreesOfFreedom: number,
  options: SamplingOptions,
): { readonly lower: number; readonly deciding: number } {
  const { single: known, resolution = 0 } = options;
  const accuracy = accuracyOf(options);
  const distances = distributions.map((d) => Math.hypot(...d.mean));
  const farthestFirst = distances.map((_, i) => i).sort((i, j) => distances[j]! - distances[i]!);
  let [lower, deciding] = [Number.NEGATIVE_INFINITY, 0];
  for (const i of farthestFirst) {
    const { mean, covariance } = distributions[i]!;
    if (
      known === undefined &&
      lower > 0 &&
      positionCdf(lower, mean, covariance, degreesOfFreedom, accuracy) >= p
    )
      continue;
    const quantile = known?.[i] ?? positionQuantile(p, mean, covariance, degreesOfFreedom, FINE * resolution);
    if (quantile > lower) [lower, deciding] = [quantile, i];
  }
  return { lower, deciding };
}

/** Of the probabilities of single check points. */
function accuracyOf({ resolution = 0 }: SamplingOptions): number | undefined {
  return resolution > 0 ? ROUGH : undefined;
}

function isFar({ mean, covariance }: DisplacementDistribution): boolean {
  const variance = covariance.reduce((sum, row, i) => sum + row[i]!, 0);
  return Math.hypot(...mean) > FAR_FROM_ZERO * Math.sqrt(variance);
}

function distributionsOf(points: readonly ZonePoint[], blade: BladeUncertainty): DisplacementDistribution[] {
  if (points.length === 0)
    throw new ReductionError('invalid-argument', 'A position needs at least one check point.');
  return points.map((point) => displacementDistribution(point, blade.error, blade.covariance));
}

function decidingPoint(failures: readonly number[]): { deciding: number; others: number } {
  const deciding = failures.indexOf(Math.max(...failures));
  return { deciding, others: failures.reduce((sum, f, i) => (i === deciding ? sum : sum + f), 0) };
}

/**
 * Estimates of the joint probability, one a shift, with as many points as the wanted precision at these limits takes.
 *
 * The same points estimate each single probability, which is known exactly; the error seen there is taken off the joint
 * estimate (control variates with coefficient 1) for the deciding check point or for all, whichever scatters least: with the
 * first only "the deciding one conforms and another fails" is left to the sampling, with the second only "two fail at once".
 */
function sampled(
  distributions: readonly DisplacementDistribution[],
  deciding: number,
  { covariance, degreesOfFreedom = Number.POSITIVE_INFINITY }: BladeUncertainty,
  limits: readonly number[],
  options: SamplingOptions,
): { estimates: (limits: readonly number[]) => number[]; trials: number } {
  const { seed = 1, precision = PRECISION } = options;
  const accuracy = accuracyOf(options);
  const all = distributions.map((_, i) => i);
  const exactProbability = (i: number, radii: readonly number[]): number =>
    positionCdf(
      2 * radii[i]!,
      distributions[i]!.mean,
      distributions[i]!.covariance,
      degreesOfFreedom,
      accuracy,
    );
  for (let points = FEWEST_POINTS; ; points *= 2) {
    const samples = sampleConditioned(
      distributions,
      deciding,
      covariance,
      degreesOfFreedom,
      seed,
      SHIFTS,
      points,
    );
    const estimates = (radii: readonly number[], controls: readonly number[]): number[] => {
      const exact = controls.map((i) => exactProbability(i, radii));
      return samples.map((sample) => controlled(sample.probabilities(radii), controls, exact));
    };
    const exact = all.map((i) => exactProbability(i, limits));
    const seen = samples.map((sample) => sample.probabilities(limits));
    const choices = [[], [deciding], all];
    const errors = choices.map((controls) =>
      standardError(
        seen.map((s) =>
          controlled(
            s,
            controls,
            controls.map((i) => exact[i]!),
          ),
        ),
      ),
    );
    const least = Math.min(...errors);
    if (least <= precision || points >= MOST_POINTS) {
      const controls = choices[errors.findIndex((error) => error <= least + SAME_ERROR)]!;
      return { estimates: (radii) => estimates(radii, controls), trials: SHIFTS * points };
    }
  }
}

/** The joint estimate less the error of the single ones that are known exactly. */
function controlled(
  { joint, single }: SampledProbabilities,
  controls: readonly number[],
  exact: readonly number[],
): number {
  return controls.reduce((sum, i, k) => sum + exact[k]! - single[i]!, joint);
}

/** Standard error between shifts, but not less than half the weight of a point: failures rarer than that may go unseen. */
function honestError(estimates: readonly number[], others: number, trials: number): number {
  return Math.max(standardError(estimates), Math.min(others, 0.5 / trials));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function standardError(values: readonly number[]): number {
  const centre = mean(values);
  const squares = values.reduce((sum, v) => sum + (v - centre) ** 2, 0);
  return Math.sqrt(squares / (values.length * (values.length - 1)));
}
