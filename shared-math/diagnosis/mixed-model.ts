/**
 * Linear mixed model of the station errors: e_k = X_k·β + d_k·ι_k + s_k + m_k with the own covariance C_k of each station's
 * measurement m_k, scatter s_k of variance σ_i² in each of the six errors, and a random index ι_k of variance τ².
 *
 * V_k = C_k + Σθ_i·g_i·g_iᵀ over seven directions: the six unit vectors, and d_k (the errors that a turn of the blade about
 * the disc axis makes). τ² is taken in only where the data show it (likelihood ratio): at few stations it would trade places with the
 * σ². θ ≥ 0 by restricted maximum likelihood with Fisher scoring; β by generalised least squares; its
 * covariance with the small-sample adjustment for estimated weights.
 *
 * Sources: S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (1992), 6.6, 8.3 (REML, Fisher scoring);
 * M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983–997 (adjusted covariance; Q_ij and P_i as there). From memory.
 */
import {
  adjustedCovariance,
  FEWEST_DEGREES,
  inverseOfFactor,
  invertInformation,
  RIDGE,
  sensitivitiesOf,
  widened,
} from './mixed-covariance.ts';
import {
  COMPONENTS,
  type Derivatives,
  derivatives,
  type Evaluation,
  evaluate,
  type FlatModel,
  flatten,
  type ModelStation,
} from './mixed-evaluation.ts';
import {
  addOuter,
  dotProduct,
  inverseDefinite,
  type ReadonlyRows,
  type Rows,
  times,
  zeros,
} from './symmetric.ts';

export interface MixedFit {
  /** σ_1² … σ_6², τ² (scaled²). */
  readonly components: readonly number[];
  /** Asymptotic covariance of `components`: inverse of the expected information. */
  readonly componentCovariance: ReadonlyRows;
  readonly beta: readonly number[];
  /** (XᵀV⁻¹X)⁻¹. */
  readonly covariance: ReadonlyRows;
  /** The same, adjusted for the estimated weights. */
  readonly adjusted: ReadonlyRows;
  /** σ_i² with the mean measurement of each of the six errors, and the degrees of freedom of that sum. */
  readonly errorVariances: readonly number[];
  readonly errorDegrees: readonly number[];
  /** B_i = XᵀV⁻¹G_iV⁻¹X: −∂(XᵀV⁻¹X)/∂θ_i. */
  readonly sensitivities: readonly ReadonlyRows[];
  /** V_k⁻¹ of each station. */
  readonly weights: readonly ReadonlyRows[];
  /** 6N − p. */
  readonly degreesOfFreedom: number;
  readonly iterations: number;
}

/** Variance (scaled²) that counts as none: (0.1 nm)², far below any measurement. It keeps V_k regular where C_k is zero. */
export const NO_VARIANCE = 1e-8;
const MOST_ITERATIONS = 60;
/** Twice this is what another step could still add to the logarithm of the likelihood. */
const SETTLED = 1e-6;
const MOST_HALVINGS = 12;

/**
 * Fits the model.
 *
 * @param start variance components to begin with; null: from the residuals of ordinary least squares.
 * @returns null where the design has not full rank.
 */
export function fitMixedModel(
  stations: readonly ModelStation[],
  start: readonly number[] | null = null,
): MixedFit | null {
  const model = flatten(stations);
  const begin = evaluate(model, withoutIndex(start ?? startFrom(stations)));
  if (begin === null) return null;
  // Where the index's own variance is not seen in the data, it would only trade places with the others.
  const plain = climb(model, begin, false);
  const full = plain.slopes.score[6]! > 0 ? climb(model, plain.at, true) : plain;
  const seen = 2 * (full.at.logLikelihood - plain.at.logLikelihood) > SEEN;
  const { at, slopes, iterations } = seen ? full : plain;
  const { theta, beta, weights } = at;
  const componentCovariance = invertInformation(slopes.information, theta[6]! > NO_VARIANCE);
  const errorVariances = [0, 1, 2, 3, 4, 5].map(
    (i) => theta[i]! + stations.reduce((sum, s) => sum + s.own[i]![i]!, 0) / stations.length,
  );
  const degrees = errorVariances.map((v, i) =>
    Math.max(FEWEST_DEGREES, (2 * v * v) / componentCovariance[i]![i]!),
  );
  const covariance = inverseOfFactor(at);
  const sensitivities = sensitivitiesOf(model, at);
  let adjusted: Rows | null = null;
  const settled = at;
  return {
    components: theta,
    componentCovariance,
    beta: [...beta],
    covariance,
    // Asked of the last fit of a disc only.
    get adjusted() {
      adjusted ??= adjustedCovariance(
        model,
        settled,
        covariance,
        sensitivities,
        widened(degrees, componentCovariance),
      );
      return adjusted;
    },
    errorVariances,
    errorDegrees: degrees,
    sensitivities,
    weights: stations.map((_, k) =>
      [0, 1, 2, 3, 4, 5].map((i) => [...weights.subarray(36 * k + 6 * i, 36 * k + 6 * i + 6)]),
    ),
    degreesOfFreedom: 6 * stations.length - beta.length,
    iterations,
  };
}

/**
 * Twice the gain in likelihood from which the index's variance counts as seen: 5 % of discs without it, a component at its bound having
 * half of χ² with one degree of freedom (S. G. Self, K.-Y. Liang, J. Amer. Statist. Assoc. 82 (1987) 605–610, from memory).
 */
const SEEN = 2.706;

interface Climbed {
  readonly at: Evaluation;
  readonly slopes: Derivatives;
  readonly iterations: number;
}

function withoutIndex(theta: readonly number[]): number[] {
  return [...theta.slice(0, 6), NO_VARIANCE];
}

/** Fisher scoring to the top of the restricted likelihood, the index's variance free or held. */
function climb(model: FlatModel, begin: Evaluation, freeIndex: boolean): Climbed {
  let at = begin;
  let slopes = derivatives(model, at);
  let iterations = 0;
  while (iterations < MOST_ITERATIONS) {
    iterations++;
    const step = scoringStep(at.theta, slopes, freeIndex);
    if (dotProduct(step, slopes.score) < SETTLED) break;
    const next = lineSearch(model, at, step);
    if (next === null) break;
    const gain = next.logLikelihood - at.logLikelihood;
    at = next;
    slopes = derivatives(model, at);
    if (gain < SETTLED) break;
  }
  return { at, slopes, iterations };
}

/** V_k of a station at given components. */
export function totalCovariance(own: ReadonlyRows, index: readonly number[], theta: readonly number[]): Rows {
  return own.map((row, i) =>
    row.map((c, j) => c + (i === j ? theta[i]! : 0) + theta[6]! * index[i]! * index[j]!),
  );
}

/** I⁻¹·score over the components that are free to move. */
function scoringStep(
  theta: readonly number[],
  { score, information }: Derivatives,
  freeIndex: boolean,
): number[] {
  let free = theta.map((t, i) => (i < 6 || freeIndex) && (t > NO_VARIANCE || score[i]! > 0));
  for (;;) {
    const at = free.flatMap((f, i) => (f ? [i] : []));
    const step = new Array<number>(COMPONENTS).fill(0);
    if (at.length === 0) return step;
    const inverted = inverseDefinite(
      at.map((i) => at.map((j) => information[i]![j]! * (i === j ? RIDGE : 1))),
    );
    if (inverted === null) return score.map((s, i) => (free[i] ? s / information[i]![i]! : 0));
    const solution = times(
      inverted.inverse,
      at.map((i) => score[i]!),
    );
    at.forEach((i, a) => {
      step[i] = solution[a]!;
    });
    // A component that already is zero cannot fall: hold it and solve for the others.
    const blocked = at.filter((i) => theta[i]! <= NO_VARIANCE && step[i]! < 0);
    if (blocked.length === 0) return step;
    free = free.map((f, i) => f && !blocked.includes(i));
  }
}

function lineSearch(model: FlatModel, state: Evaluation, step: readonly number[]): Evaluation | null {
  let length = 1;
  for (let h = 0; h <= MOST_HALVINGS; h++, length *= 0.5) {
    const theta = state.theta.map((t, i) => Math.max(NO_VARIANCE, t + length * step[i]!));
    const next = evaluate(model, theta);
    if (next !== null && next.logLikelihood > state.logLikelihood) return next;
  }
  return null;
}

/** Mean squares of ordinary least squares, measurement taken off. */
function startFrom(stations: readonly ModelStation[]): number[] {
  const p = stations[0]?.design[0]?.length ?? 0;
  const normal = zeros(p, p);
  const side = new Array<number>(p).fill(0);
  for (const { design, error } of stations)
    design.forEach((row, i) => {
      addOuter(normal, row, 1);
      row.forEach((x, c) => {
        side[c] = side[c]! + x * error[i]!;
      });
    });
  const beta = times(inverseDefinite(normal)?.inverse ?? zeros(p, p), side);
  const freedom = Math.max(0.1, 1 - p / (6 * stations.length));
  const mean = (of: (s: ModelStation) => number): number =>
    stations.reduce((sum, s) => sum + of(s), 0) / stations.length;
  const variances = [0, 1, 2, 3, 4, 5].map((i) => {
    const total = mean(({ design, error }) => (error[i]! - dotProduct(design[i]!, beta)) ** 2) / freedom;
    return Math.max(0.25 * total, total - mean(({ own }) => own[i]![i]!), NO_VARIANCE);
  });
  const lever = mean(({ index }) => dotProduct(index, index));
  return [...variances, Math.max(NO_VARIANCE, (0.1 * Math.min(...variances)) / lever)];
}
