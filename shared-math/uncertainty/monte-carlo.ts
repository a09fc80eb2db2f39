/**
 * Propagation of distributions by Monte Carlo with the adaptive stopping rule.
 * Source: JCGM 101:2008, 7.5–7.7 (results of the trials), 7.9 (adaptive procedure, numerical tolerance), 5.3.4 (shortest
 * coverage interval).
 */
import { ReductionError } from '../errors.ts';
import { type RandomGenerator, seededGenerator } from './random.ts';

export interface MonteCarloOptions {
  readonly seed: number;
  /** Coverage probability p of the interval, default 0.95. */
  readonly coverage?: number;
  /** `symmetric` leaves (1 − p)/2 outside on each side, `upper` only 1 − p above, `shortest` is the narrowest. */
  readonly interval?: 'symmetric' | 'upper' | 'shortest';
  /** Significant digits of the standard uncertainty to be stable, default 2. */
  readonly significantDigits?: number;
  /** Numerical tolerance itself, instead of the one that the digits give. */
  readonly tolerance?: number;
  /** Trials after which an unstable result is handed back as such, default 4,000,000 (32 MB). */
  readonly mostTrials?: number;
}

export interface MonteCarloResult {
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** Coverage interval. */
  readonly low: number;
  readonly high: number;
  /** Standard errors of the four numbers above, from their scatter over the batches. */
  readonly standardErrors: {
    readonly estimate: number;
    readonly standardUncertainty: number;
    readonly low: number;
    readonly high: number;
  };
  readonly trials: number;
  /** Numerical tolerance δ; `stable` says whether twice each standard error came below it. */
  readonly tolerance: number;
  readonly stable: boolean;
  /** All model values, ascending. */
  readonly values: Float64Array;
}

/** Fewest trials of a batch (JCGM 101, 7.9.4 b). */
const BATCH = 10_000;

/**
 * Runs batches of trials until mean, standard deviation and both ends of the coverage interval are stable to the numerical
 * tolerance; then all trials together give the result.
 *
 * @param model one trial: draws its inputs from the generator and returns the value of the output quantity.
 * @throws ReductionError `not-finite` where the model gives a value that is not finite, `invalid-argument` for options without
 * meaning.
 */
export function adaptiveMonteCarlo(
  model: (generator: RandomGenerator) => number,
  options: MonteCarloOptions,
): MonteCarloResult {
  const {
    seed,
    coverage = 0.95,
    interval = 'symmetric',
    significantDigits = 2,
    mostTrials = 4_000_000,
  } = options;
  if (!(coverage > 0 && coverage < 1) || !(significantDigits >= 1))
    throw new ReductionError(
      'invalid-argument',
      'Monte Carlo needs a coverage within (0, 1) and at least one digit.',
    );
  const batch = Math.max(BATCH, Math.ceil(100 / (1 - coverage)));
  const generator = seededGenerator(seed);
  const batches: Summary[] = [];
  const all: Float64Array[] = [];
  for (;;) {
    const values = new Float64Array(batch);
    for (let i = 0; i < batch; i++) {
      values[i] = model(generator);
      if (!Number.isFinite(values[i]!))
        throw new ReductionError('not-finite', 'A Monte Carlo trial gave a value that is not finite.');
    }
    all.push(values.sort());
    batches.push(summarise(values, coverage, interval));
    if (batches.length < 2) continue;
    const errors = standardErrors(batches);
    const deviation = Math.sqrt(mean(batches.map((b) => b.standardUncertainty ** 2)));
    const tolerance = options.tolerance ?? numericalTolerance(deviation, significantDigits);
    const stable = Object.values(errors).every((error) => 2 * error <= tolerance);
    if (!stable && (batches.length + 1) * batch <= mostTrials) continue;
    const pooled = new Float64Array(batches.length * batch);
    for (const [i, part] of all.entries()) pooled.set(part, i * batch);
    pooled.sort();
    return {
      ...summarise(pooled, coverage, interval),
      standardErrors: errors,
      trials: pooled.length,
      tolerance,
      stable,
      values: pooled,
    };
  }
}

/**
 * δ = ½·10^l where u = c·10^l and c has the given number of digits (JCGM 101, 7.9.2); 0 where u is 0.
 */
export function numericalTolerance(standardUncertainty: number, significantDigits: number): number {
  if (standardUncertainty === 0) return 0;
  // Rounding to the digits first: 0.0996 has c = 10, not 99, at two digits.
  const exponent = Number(standardUncertainty.toExponential(significantDigits - 1).split('e')[1]);
  return 0.5 * 10 ** (exponent - (significantDigits - 1));
}

interface Summary {
  readonly estimate: number;
  readonly standardUncertainty: number;
  readonly low: number;
  readonly high: number;
}

function summarise(
  ascending: Float64Array,
  coverage: number,
  interval: NonNullable<MonteCarloOptions['interval']>,
): Summary {
  const count = ascending.length;
  const estimate = mean(ascending);
  let squares = 0;
  for (const value of ascending) squares += (value - estimate) ** 2;
  // In the counting of the source, from 1: the interval is [y(r), y(r + q)], one-sided [y(1), y(q)].
  const q = Math.floor(coverage * count + 0.5);
  let r = Math.floor((count - q) / 2 + 0.5);
  if (interval === 'shortest') {
    r = 1;
    for (let first = 1; first <= count - q; first++)
      if (ascending[first + q - 1]! - ascending[first - 1]! < ascending[r + q - 1]! - ascending[r - 1]!)
        r = first;
  }
  return {
    estimate,
    standardUncertainty: Math.sqrt(squares / (count - 1)),
    low: interval === 'upper' ? ascending[0]! : ascending[r - 1]!,
    high: interval === 'upper' ? ascending[q - 1]! : ascending[r + q - 1]!,
  };
}

function standardErrors(batches: readonly Summary[]): Summary {
  const error = (key: keyof Summary): number => {
    const values = batches.map((b) => b[key]);
    const centre = mean(values);
    const squares = values.reduce((sum, v) => sum + (v - centre) ** 2, 0);
    return Math.sqrt(squares / (values.length * (values.length - 1)));
  };
  return {
    estimate: error('estimate'),
    standardUncertainty: error('standardUncertainty'),
    low: error('low'),
    high: error('high'),
  };
}

function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}
