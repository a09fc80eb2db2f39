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
  backward,
  COMPONENTS,
  type Derivatives,
  derivatives,
  directionsOf,
  type Evaluation,
  evaluate,
  type FlatModel,
  flatten,
  forward,
  type ModelStation,
} from './mixed-evaluation.ts';
import {
  addOuter,
  dotProduct,
  inverseDefinite,
  product,
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

/** Keeps the information regular where τ² and the σ² can hardly be told apart. */
const RIDGE = 1 + 1e-9;

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

/** Covariance of the components; zero for the index's variance where it is held at none. */
function invertInformation(information: ReadonlyRows, freeIndex: boolean): Rows {
  const at = freeIndex ? [0, 1, 2, 3, 4, 5, 6] : [0, 1, 2, 3, 4, 5];
  const scale = at.map((i) => Math.sqrt(information[i]![i]!));
  const unit = at.map((i, a) =>
    at.map((j, b) => (i === j ? RIDGE : information[i]![j]! / (scale[a]! * scale[b]!))),
  );
  const inverse = inverseDefinite(unit)?.inverse;
  const covariance = zeros(COMPONENTS, COMPONENTS);
  at.forEach((i, a) => {
    at.forEach((j, b) => {
      covariance[i]![j] = (inverse?.[a]?.[b] ?? (i === j ? 1 : 0)) / (scale[a]! * scale[b]!);
    });
  });
  return covariance;
}

/**
 * Covariance of the variance components for what hangs on their inverses. 2·v²/ν is the variance of an estimated variance v with ν
 * degrees of freedom, but weights go as 1/v, which spreads more: by ν/(ν − 2), as the mean of an inverse chi-squared does. With
 * many stations the factor is 1; below ten it keeps intervals from being too short (see test/coverage).
 */
function widened(degrees: readonly number[], covariance: ReadonlyRows): Rows {
  const factors = [...degrees.map((nu) => Math.sqrt(nu / (nu - 2))), 1];
  return covariance.map((row, i) => row.map((x, j) => x * factors[i]! * factors[j]!));
}

/** Of the variance of one error; a mean of its inverse exists beyond two only. */
const FEWEST_DEGREES = 3;

/** N⁻¹ from its factor. */
function inverseOfFactor({ factor, beta }: Evaluation): Rows {
  const p = beta.length;
  const inverse = zeros(p, p);
  const column = new Float64Array(p);
  for (let c = 0; c < p; c++) {
    column.fill(0);
    column[c] = 1;
    forward(factor, p, column, 0);
    backward(factor, p, column);
    for (let r = 0; r < p; r++) inverse[r]![c] = column[r]!;
  }
  return inverse;
}

/** B_i = Σ u·uᵀ over the stations. */
function sensitivitiesOf(model: FlatModel, at: Evaluation): Rows[] {
  const { columns: p, count } = model;
  const sensitivities = Array.from({ length: COMPONENTS }, () => zeros(p, p));
  const us = new Float64Array(COMPONENTS * p);
  const ws = new Float64Array(COMPONENTS * COMPONENTS);
  for (let k = 0; k < count; k++) {
    directionsOf(model, at, k, us, ws);
    for (let i = 0; i < COMPONENTS; i++) {
      const b = sensitivities[i]!;
      for (let r = 0; r < p; r++) {
        const u = us[i * p + r]!;
        if (u === 0) continue;
        const row = b[r]!;
        for (let c = 0; c < p; c++) row[c] = row[c]! + u * us[i * p + c]!;
      }
    }
  }
  return sensitivities;
}

/**
 * Φ + 2·Φ·{Σ W_ij·(Q_ij − B_i·Φ·B_j)}·Φ; V is linear in its components, so that the term of second derivatives is zero.
 */
function adjustedCovariance(
  model: FlatModel,
  at: Evaluation,
  covariance: ReadonlyRows,
  sensitivities: readonly ReadonlyRows[],
  componentCovariance: ReadonlyRows,
): Rows {
  const { columns: p, count } = model;
  const sum = zeros(p, p);
  const us = new Float64Array(COMPONENTS * p);
  const ws = new Float64Array(COMPONENTS * COMPONENTS);
  const mixed = new Float64Array(p);
  for (let k = 0; k < count; k++) {
    directionsOf(model, at, k, us, ws);
    for (let i = 0; i < COMPONENTS; i++) {
      // Σ_j W_ij·(g_iᵀV⁻¹g_j)·u_j.
      mixed.fill(0);
      for (let j = 0; j < COMPONENTS; j++) {
        const m = ws[COMPONENTS * i + j]! * componentCovariance[i]![j]!;
        for (let c = 0; c < p; c++) mixed[c] = mixed[c]! + m * us[j * p + c]!;
      }
      for (let r = 0; r < p; r++) {
        const u = us[i * p + r]!;
        if (u === 0) continue;
        const row = sum[r]!;
        for (let c = 0; c < p; c++) row[c] = row[c]! + u * mixed[c]!;
      }
    }
  }
  for (let i = 0; i < COMPONENTS; i++) {
    // Σ_j W_ij·B_j first: one product for each i.
    const together = zeros(p, p);
    for (let j = 0; j < COMPONENTS; j++) {
      const w = componentCovariance[i]![j]!;
      sensitivities[j]!.forEach((row, r) => {
        const target = together[r]!;
        for (let c = 0; c < p; c++) target[c] = target[c]! + w * row[c]!;
      });
    }
    const part = product(product(sensitivities[i]!, covariance), together);
    for (let r = 0; r < p; r++) for (let c = 0; c < p; c++) sum[r]![c] = sum[r]![c]! - part[r]![c]!;
  }
  const change = product(product(covariance, sum), covariance);
  return covariance.map((row, r) => row.map((x, c) => x + change[r]![c]! + change[c]![r]!));
}
