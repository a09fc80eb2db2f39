/**
 * Nonlinear least squares for a few parameters and any number of points: Gauss–Newton with Levenberg–Marquardt damping.
 *
 * The problem streams the rows [∂r/∂p₁ … ∂r/∂p_k | r] of its residuals once an iteration into a triangular factor,
 * so memory does not grow with the points and nothing is squared. Parameters are local: the state may be anything, and
 * `move` carries it along a step, so directions need neither angles nor constraints.
 *
 * Damping acts on parameters scaled by their Jacobian column norms. Once the gain a step promises is below what sums of
 * squares can resolve in double precision, steps are judged by their length alone, and taken undamped as long as they
 * shrink; that is where the last digits come from.
 *
 * Sources: Moré, "The Levenberg–Marquardt algorithm: implementation and theory", LNM 630 (1978) 105–116;
 * Madsen, Nielsen & Tingleff, Methods for Non-Linear Least Squares Problems, 2nd ed. (2004).
 */
import { ReductionError } from '../errors.ts';
import { smallSpectrum } from './small-spectrum.ts';
import { RANK_TOLERANCE, type Spectrum, spectrumOf, TriangularFactor } from './triangular-factor.ts';

export interface LeastSquaresProblem<State> {
  /** Number of local parameters p. */
  readonly parameters: number;
  /** Pushes one row of p derivatives and the residual, p + 1 numbers, for each residual. Weights: multiply by √w. */
  readonly evaluate: (state: State, rows: TriangularFactor) => void;
  /** The state after a step of the local parameters. */
  readonly move: (state: State, step: Float64Array) => State;
  /** Size of each parameter against which its step is judged; default 1 (scaled lengths, radians). */
  readonly parameterSizes?: (state: State) => ArrayLike<number>;
  /** Root sum of squares of the residuals that rounding alone can leave; default 0. */
  readonly roundingNorm?: number;
}

export interface SolverOptions {
  readonly maximumIterations?: number;
  /** First damping, relative to unit column norms; default 1e-4, for good starts. From far off begin with 1 … 100. */
  readonly damping?: number;
  /** Stop when every step is below this times its parameter size. */
  readonly stepTolerance?: number;
  /** Singular values below this fraction of the largest are left out of steps and of the cofactor. */
  readonly rankTolerance?: number;
}

export type StopReason = 'step' | 'gradient' | 'stalled-at-rounding';

export interface LeastSquaresSolution<State> extends Spectrum {
  readonly state: State;
  /** Σ r² at the last evaluation. */
  readonly sumOfSquares: number;
  readonly iterations: number;
  readonly stopReason: StopReason;
}

const EPSILON = 2.220446049250313e-16;
/** Sums of squares of like residuals agree to about this much; a smaller promised gain cannot be checked. */
const UNRESOLVED_GAIN = 1e-13;
/** Rounding moves a step by about ε·κ; a few times that is no longer progress. */
const ROUNDING_STEPS = 8;

/** Polishing steps in a row that fail to halve the shortest one before the fit stops. */
const PATIENCE = 12;
/**
 * This near the minimum (step relative to the parameter sizes) a step that does not lower the sum is no proof of overshoot:
 * rounding of the residuals themselves, far from the origin for instance, can hide a gain of 1e-14 of what they are.
 */
const NEAR_STEP = 1e-7;
/** Largest step, relative to the parameter sizes, at which a fit that improves no more counts as settled. */
const SETTLED_STEP = 1e-10;

/** Longest stretch of a step by acceleration. */
const MOST_ACCELERATION = 50;

/** An undamped step and the one taken in its place. */
interface Previous {
  readonly full: Float64Array;
  readonly taken: Float64Array;
}

/** The factor of [J | r], decomposed in column-scaled parameters. */
interface Linearisation {
  readonly cost: number;
  readonly scales: Float64Array;
  readonly singularValues: readonly number[];
  /** Columns of V by component. */
  readonly right: (component: number, k: number) => number;
  /** Uᵀ·(Qᵀr): the residual along each left singular vector. */
  readonly along: Float64Array;
  readonly rank: number;
}

/**
 * Minimises Σ r² from `start`.
 * @throws ReductionError `not-converged` when the iterations run out, `not-finite` when the start has no finite residuals
 */
export function solveLeastSquares<State>(
  problem: LeastSquaresProblem<State>,
  start: State,
  options: SolverOptions = {},
): LeastSquaresSolution<State> {
  const { maximumIterations = 200, stepTolerance = 1e-13, rankTolerance = RANK_TOLERANCE } = options;
  const p = problem.parameters;
  const rounding = problem.roundingNorm ?? 0;
  let damping = options.damping ?? 1e-4;
  let growth = 4;
  let factor = new TriangularFactor(p + 1);
  let spare = new TriangularFactor(p + 1);
  const scales = new Float64Array(p);
  let state = start;
  evaluate(problem, state, factor);
  if (!factor.isFinite()) {
    throw new ReductionError('not-finite', 'The fit starts from values that are not finite numbers.');
  }
  let lin = linearise(factor, scales, rankTolerance);
  let shortest = Number.POSITIVE_INFINITY;
  let stalls = 0;
  let polishing = false;
  let previous: Previous | null = null;

  const finish = (end: State, iterations: number, stopReason: StopReason): LeastSquaresSolution<State> => ({
    ...spectrumOf(factor.leading(p), rankTolerance),
    state: end,
    sumOfSquares: lin.cost,
    iterations,
    stopReason,
  });

  for (let iteration = 1; iteration <= maximumIterations; iteration++) {
    const promised = gain(lin, 0);
    const root = Math.sqrt(lin.cost);
    polishing ||= promised <= UNRESOLVED_GAIN * lin.cost + 4 * root * rounding || root <= rounding;
    // The undamped step tells how far the minimum is; a damped one may be short because of its damping.
    const full = stepOf(lin, 0);
    const size = stepSize(problem, state, full);
    if (size <= stepTolerance) return finish(problem.move(state, full), iteration, 'step');
    if (polishing) {
      if (Math.sqrt(promised) <= EPSILON * root) {
        return finish(problem.move(state, full), iteration, 'gradient');
      }
      if (size <= ROUNDING_STEPS * EPSILON * conditionOf(lin)) {
        return finish(problem.move(state, full), iteration, 'stalled-at-rounding');
      }
      stalls = size > 0.5 * shortest ? stalls + 1 : 0;
      if (stalls > PATIENCE && size > SETTLED_STEP) break;
      if (stalls > PATIENCE) return finish(state, iteration, 'stalled-at-rounding');
      shortest = Math.min(shortest, size);
    }
    const step: Float64Array = polishing ? accelerated(full, previous, lin.scales) : stepOf(lin, damping);
    previous = polishing ? { full, taken: step } : null;
    const next = problem.move(state, step);

    evaluate(problem, next, spare);
    const cost = spare.isFinite() ? costOf(spare) : Number.POSITIVE_INFINITY;
    const ratio = polishing ? 1 : (lin.cost - cost) / gain(lin, damping);
    if (Number.isFinite(cost) && ratio > 1e-4) {
      [factor, spare] = [spare, factor];
      state = next;
      lin = linearise(factor, scales, rankTolerance);
      if (polishing) continue;
      if (ratio > 0.9) damping /= 100;
      else if (ratio > 0.5) damping /= 5;
      else if (ratio < 0.2) damping *= 4;
      growth = 4;
    } else if (size < NEAR_STEP) {
      polishing = true;
    } else {
      // Not even the shortest step lowers the sum: its slope here is rounding.
      if (damping > 1e20) return finish(state, iteration, 'stalled-at-rounding');
      damping = Math.max(damping, 1e-10) * growth;
      growth *= 2;
    }
  }
  throw ReductionError.of('not-converged', { code: 'fit-not-settled', values: {} });
}

function evaluate<State>(problem: LeastSquaresProblem<State>, state: State, rows: TriangularFactor): void {
  rows.reset();
  problem.evaluate(state, rows);
  rows.finish();
}

/** Σ r²: the squared length of the last column of R. */
function costOf(factor: TriangularFactor): number {
  const p = factor.columns - 1;
  let sum = 0;
  for (let i = 0; i <= p; i++) sum += factor.at(i, p) ** 2;
  return sum;
}

function linearise(factor: TriangularFactor, scales: Float64Array, rankTolerance: number): Linearisation {
  const p = factor.columns - 1;
  for (let j = 0; j < p; j++) {
    let squares = 0;
    for (let i = 0; i <= j; i++) squares += factor.at(i, j) ** 2;
    // The largest norm met so far (Moré), so that damping keeps its grip where a column fades; a parameter that
    // acts on nothing is left at unit scale.
    scales[j] = Math.max(scales[j]!, Math.sqrt(squares));
  }
  const used = scales.map((value) => (value > 0 ? value : 1));
  const columns = factor.leadingColumns(p).map((column, j) => column.map((x) => x / used[j]!));
  const { singularValues, rightVectors, images } = smallSpectrum(columns);
  const along = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    const image = images[k]!;
    let sum = 0;
    for (let i = 0; i < p; i++) sum += image[i]! * factor.at(i, p);
    along[k] = singularValues[k]! > 0 ? sum / singularValues[k]! : 0;
  }
  const largest = singularValues[0] ?? 0;
  return {
    cost: costOf(factor),
    scales: used,
    singularValues,
    right: (component, k) => rightVectors[k]![component]!,
    along,
    rank: singularValues.filter((s) => s > rankTolerance * largest).length,
  };
}

/** The damped step −V·diag(s/(s² + λ))·Uᵀr in the problem's own parameters. */
function stepOf(lin: Linearisation, damping: number): Float64Array {
  const step = new Float64Array(lin.scales.length);
  for (let k = 0; k < lin.rank; k++) {
    const s = lin.singularValues[k]!;
    const amount = (-s * lin.along[k]!) / (s * s + damping);
    for (let j = 0; j < step.length; j++) step[j] = step[j]! + (amount * lin.right(j, k)) / lin.scales[j]!;
  }
  return step;
}

/**
 * Anderson acceleration of depth one (J. ACM 12 (1965) 547–560). Gauss–Newton leaves out the curvature of the residuals:
 * where those are large, undamped steps approach the minimum only linearly, or overshoot it more and more. Two
 * steps in a row tell the rate, and its effect is taken off.
 */
function accelerated(full: Float64Array, previous: Previous | null, scales: Float64Array): Float64Array {
  if (!previous) return full;
  let along = 0;
  let squares = 0;
  for (let j = 0; j < full.length; j++) {
    const change = (full[j]! - previous.full[j]!) * scales[j]!;
    along += full[j]! * scales[j]! * change;
    squares += change * change;
  }
  const share = along / squares;
  // Steps that hardly change between them would be carried too far.
  if (!(Math.abs(share) < MOST_ACCELERATION)) return full;
  return full.map((value, j) => value - share * (previous.taken[j]! + value - previous.full[j]!));
}

/** Reduction of Σ r² that the linear model promises for that step. */
function gain(lin: Linearisation, damping: number): number {
  let sum = 0;
  for (let k = 0; k < lin.rank; k++) {
    const s = lin.singularValues[k]!;
    const left = damping / (s * s + damping);
    sum += lin.along[k]! ** 2 * (1 - left * left);
  }
  return sum;
}

function conditionOf(lin: Linearisation): number {
  return lin.rank > 0 ? lin.singularValues[0]! / lin.singularValues[lin.rank - 1]! : 1;
}

function stepSize<State>(problem: LeastSquaresProblem<State>, state: State, step: Float64Array): number {
  const sizes = problem.parameterSizes?.(state);
  return step.reduce((most, value, j) => Math.max(most, Math.abs(value) / (sizes?.[j] ?? 1)), 0);
}
