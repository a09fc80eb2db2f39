/**
 * Linear mixed model of the station errors: e_k = X_k·β + d_k·ι_k + s_k + m_k with the own covariance C_k of each station's
 * measurement m_k, scatter s_k of variance σ_i² in each of the six errors, and a random index ι_k of variance τ².
 *
 * V_k = C_k + Σθ_i·g_i·g_iᵀ over seven directions: the six unit vectors, and d_k (the errors that a turn of the blade about
 * the disc axis makes). θ ≥ 0 by restricted maximum likelihood with Fisher scoring; β by generalised least squares; its
 * covariance with the small-sample adjustment for estimated weights.
 *
 * Sources: S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (1992), 6.6, 8.3 (REML, Fisher scoring);
 * M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983–997 (adjusted covariance; Q_ij and P_i as there). From memory.
 */
import {
  addOuter,
  dotProduct,
  form,
  inverseDefinite,
  product,
  type ReadonlyRows,
  type Rows,
  times,
  zeros,
} from './symmetric.ts';

/** Data of one station, scaled. */
export interface ModelStation {
  readonly error: readonly number[];
  readonly own: ReadonlyRows;
  /** d_k. */
  readonly index: readonly number[];
  /** X_k, six rows of p entries. */
  readonly design: ReadonlyRows;
}

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

export const COMPONENTS = 7;
/** Variance (scaled²) that counts as none: (0.1 nm)², far below any measurement. It keeps V_k regular where C_k is zero. */
export const NO_VARIANCE = 1e-8;
const MOST_ITERATIONS = 60;
/** Twice this is what another step could still add to the logarithm of the likelihood. */
const SETTLED = 1e-7;
const MOST_HALVINGS = 12;

/** One evaluation of likelihood, score and information at given variance components. */
interface State {
  readonly theta: readonly number[];
  readonly logLikelihood: number;
  readonly score: number[];
  readonly information: Rows;
  readonly beta: number[];
  readonly h: Rows;
  readonly b: Rows[];
  readonly weights: Rows[];
  /** A_k = V_k⁻¹·X_k. */
  readonly weighted: Rows[];
}

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
  let state = evaluate(stations, start ?? startFrom(stations));
  if (state === null) return null;
  let iterations = 0;
  while (iterations < MOST_ITERATIONS) {
    iterations++;
    const step = scoringStep(state);
    if (dotProduct(step, state.score) < SETTLED) break;
    const next = lineSearch(stations, state, step);
    if (next === null) break;
    const gain = next.logLikelihood - state.logLikelihood;
    state = next;
    if (gain < SETTLED) break;
  }
  const componentCovariance = invertInformation(state.information);
  const errorVariances = [0, 1, 2, 3, 4, 5].map(
    (i) => state.theta[i]! + stations.reduce((sum, s) => sum + s.own[i]![i]!, 0) / stations.length,
  );
  const degrees = errorVariances.map((v, i) =>
    Math.max(FEWEST_DEGREES, (2 * v * v) / componentCovariance[i]![i]!),
  );
  return {
    components: state.theta,
    componentCovariance,
    beta: state.beta,
    covariance: state.h,
    adjusted: adjustedCovariance(stations, state, widened(degrees, componentCovariance)),
    errorVariances,
    errorDegrees: degrees,
    sensitivities: state.b,
    weights: state.weights,
    degreesOfFreedom: 6 * stations.length - state.beta.length,
    iterations,
  };
}

/** V_k of a station at given components. */
export function totalCovariance(own: ReadonlyRows, index: readonly number[], theta: readonly number[]): Rows {
  return own.map((row, i) =>
    row.map((c, j) => c + (i === j ? theta[i]! : 0) + theta[6]! * index[i]! * index[j]!),
  );
}

function evaluate(stations: readonly ModelStation[], theta: readonly number[]): State | null {
  const p = stations[0]?.design[0]?.length ?? 0;
  const weights: Rows[] = [];
  const weighted: Rows[] = [];
  const normal = zeros(p, p);
  const side = new Array<number>(p).fill(0);
  let logDeterminant = 0;
  for (const { own, index, design, error } of stations) {
    const inverted = inverseDefinite(totalCovariance(own, index, theta));
    if (inverted === null) return null;
    const { inverse } = inverted;
    logDeterminant += inverted.logDeterminant;
    const a = product(inverse, design);
    weights.push(inverse);
    weighted.push(a);
    for (let i = 0; i < 6; i++) {
      const ai = a[i]!;
      const xi = design[i]!;
      for (let r = 0; r < p; r++) {
        const x = xi[r]!;
        if (x === 0) continue;
        const row = normal[r]!;
        for (let c = 0; c < p; c++) row[c] = row[c]! + x * ai[c]!;
      }
      for (let c = 0; c < p; c++) side[c] = side[c]! + ai[c]! * error[i]!;
    }
  }
  const solved = inverseDefinite(normal);
  if (solved === null) return null;
  const h = solved.inverse;
  const beta = times(h, side);

  const b = Array.from({ length: COMPONENTS }, () => zeros(p, p));
  const score = new Array<number>(COMPONENTS).fill(0);
  const information = zeros(COMPONENTS, COMPONENTS);
  let square = 0;
  stations.forEach(({ index, design, error }, k) => {
    const w = weights[k]!;
    const a = weighted[k]!;
    const residual = error.map((e, i) => e - dotProduct(design[i]!, beta));
    const weightedResidual = times(w, residual);
    square += dotProduct(residual, weightedResidual);
    const us = [...a, combineRows(index, a)];
    const hus = us.map((u) => times(h, u));
    const ws = gram(w, index);
    for (let i = 0; i < COMPONENTS; i++) {
      const pull = i < 6 ? weightedResidual[i]! : dotProduct(index, weightedResidual);
      addOuter(b[i]!, us[i]!, 1);
      score[i] = score[i]! - 0.5 * (ws[i]![i]! - dotProduct(us[i]!, hus[i]!) - pull * pull);
      for (let j = 0; j <= i; j++) {
        const v = ws[i]![j]!;
        information[i]![j] = information[i]![j]! + v * v - 2 * v * dotProduct(us[i]!, hus[j]!);
      }
    }
  });
  const hb = b.map((m) => product(h, m));
  for (let i = 0; i < COMPONENTS; i++)
    for (let j = 0; j <= i; j++) {
      const value = 0.5 * (information[i]![j]! + traceOfProduct(hb[i]!, hb[j]!));
      information[i]![j] = value;
      information[j]![i] = value;
    }
  return {
    theta,
    logLikelihood: -0.5 * (logDeterminant + solved.logDeterminant + square),
    score,
    information,
    beta,
    h,
    b,
    weights,
    weighted,
  };
}

/** g_iᵀ·W·g_j over the seven directions. */
function gram(w: ReadonlyRows, index: readonly number[]): Rows {
  const wd = times(w, index);
  const rows = w.map((row, i) => [...row, wd[i]!]);
  return [...rows, [...wd, dotProduct(index, wd)]];
}

function combineRows(factors: readonly number[], rows: ReadonlyRows): number[] {
  const out = new Array<number>(rows[0]?.length ?? 0).fill(0);
  factors.forEach((f, i) => {
    if (f !== 0) for (let c = 0; c < out.length; c++) out[c] = out[c]! + f * rows[i]![c]!;
  });
  return out;
}

function traceOfProduct(a: ReadonlyRows, b: ReadonlyRows): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) for (let j = 0; j < a.length; j++) sum += a[i]![j]! * b[j]![i]!;
  return sum;
}

/** I⁻¹·score over the components that are free to move. */
function scoringStep({ theta, score, information }: State): number[] {
  let free = theta.map((t, i) => t > NO_VARIANCE || score[i]! > 0);
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

function lineSearch(stations: readonly ModelStation[], state: State, step: readonly number[]): State | null {
  let length = 1;
  for (let h = 0; h <= MOST_HALVINGS; h++, length *= 0.5) {
    const theta = state.theta.map((t, i) => Math.max(NO_VARIANCE, t + length * step[i]!));
    const next = evaluate(stations, theta);
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

function invertInformation(information: ReadonlyRows): Rows {
  const scale = information.map((row, i) => Math.sqrt(row[i]! * 1));
  const unit = information.map((row, i) =>
    row.map((x, j) => (i === j ? 1 + 1e-9 : x / (scale[i]! * scale[j]!))),
  );
  const inverted = inverseDefinite(unit);
  if (inverted === null) return information.map((row, i) => row.map((x, j) => (i === j ? 1 / x : 0)));
  return inverted.inverse.map((row, i) => row.map((x, j) => x / (scale[i]! * scale[j]!)));
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

/** Φ + 2·Φ·{Σ W_ij·(Q_ij − B_i·Φ·B_j)}·Φ; V is linear in its components, so that the term of second derivatives is zero. */
function adjustedCovariance(
  stations: readonly ModelStation[],
  { h, b, weights, weighted }: State,
  componentCovariance: ReadonlyRows,
): Rows {
  const p = h.length;
  const sum = zeros(p, p);
  stations.forEach(({ index }, k) => {
    const a = weighted[k]!;
    const us = [...a, combineRows(index, a)];
    const ws = gram(weights[k]!, index);
    // Σ_ij W_ij·(g_iᵀV⁻¹g_j)·u_i·u_jᵀ = Uᵀ·M·U.
    const m = ws.map((row, i) => row.map((v, j) => v * componentCovariance[i]![j]!));
    const mu = product(m, us);
    us.forEach((u, i) => {
      const row = mu[i]!;
      for (let r = 0; r < p; r++) {
        const x = u[r]!;
        if (x === 0) continue;
        const target = sum[r]!;
        for (let c = 0; c < p; c++) target[c] = target[c]! + x * row[c]!;
      }
    });
  });
  for (let i = 0; i < COMPONENTS; i++) {
    // Σ_j W_ij·B_j first: one product for each i.
    const mixed = zeros(p, p);
    for (let j = 0; j < COMPONENTS; j++) {
      const w = componentCovariance[i]![j]!;
      b[j]!.forEach((row, r) => {
        for (let c = 0; c < p; c++) mixed[r]![c] = mixed[r]![c]! + w * row[c]!;
      });
    }
    const part = product(product(b[i]!, h), mixed);
    for (let r = 0; r < p; r++) for (let c = 0; c < p; c++) sum[r]![c] = sum[r]![c]! - part[r]![c]!;
  }
  const change = product(product(h, sum), h);
  return h.map((row, r) => row.map((x, c) => x + change[r]![c]! + change[c]![r]!));
}

/** A linear function lᵀβ with its variance and what that variance owes to the variance components. */
export interface Contrast {
  readonly value: number;
  readonly variance: number;
  /** Satterthwaite: 2·variance²/(gᵀ·cov θ·g); ∞ where the variance does not hang on θ. */
  readonly degreesOfFreedom: number;
}

/**
 * @param shared covariance of β from disturbances common to all stations, p × p; taken as known.
 * @param extra a variance that is not of β (a new station's), and its derivatives by θ.
 */
export function contrast(
  fit: MixedFit,
  shared: ReadonlyRows,
  l: readonly number[],
  extra: { readonly variance: number; readonly gradient: readonly number[] } | null = null,
): Contrast {
  const y = times(fit.covariance, l);
  const variance = Math.max(0, form(l, fit.adjusted, l) + form(l, shared, l)) + (extra?.variance ?? 0);
  const gradient = fit.sensitivities.map((b, i) => form(y, b, y) + (extra?.gradient[i] ?? 0));
  return {
    value: dotProduct(l, fit.beta),
    variance,
    degreesOfFreedom: satterthwaite(variance, gradient, fit),
  };
}

/**
 * Degrees of freedom of an estimated variance: F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110–114, from memory.
 *
 * Where several errors share in a value, their variances pool and the degrees of freedom exceed those of one error, ν. That holds for
 * known weights; weights estimated with few degrees of freedom pool less well, so the excess counts by (ν − 2)/(ν + 2) only. With one
 * error and with many stations this is Satterthwaite's value (see test/coverage).
 */
export function satterthwaite(
  variance: number,
  gradient: readonly number[],
  {
    componentCovariance,
    errorVariances,
    errorDegrees,
  }: Pick<MixedFit, 'componentCovariance' | 'errorVariances' | 'errorDegrees'>,
): number {
  const spread = form(gradient, componentCovariance, gradient);
  if (!(spread > 0 && variance > 0)) return Number.POSITIVE_INFINITY;
  const pooled = (2 * variance * variance) / spread;
  const parts = errorVariances.map((v, i) => Math.max(0, gradient[i]! * v));
  const whole = parts.reduce((a, b) => a + b, 0);
  if (!(whole > 0)) return Math.max(1, pooled);
  const one = parts.reduce((sum, part, i) => sum + (part / whole) * errorDegrees[i]!, 0);
  return Math.max(1, pooled <= one ? pooled : one + ((pooled - one) * (one - 2)) / (one + 2));
}
