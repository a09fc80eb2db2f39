/**
 * One evaluation of the mixed model at given variance components: generalised least squares, restricted likelihood, and from
 * them score and expected information. Flat arrays: this runs many times for each disc.
 *
 * With N = XᵀV⁻¹X = L·Lᵀ and û = L⁻¹·XᵀV⁻¹g for each direction g of each station, every trace that score and information need is a sum
 * of products of the û: gᵀV⁻¹X·N⁻¹·XᵀV⁻¹g' = û·û'.
 *
 * Source: S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (1992), 6.6, 8.3, from memory.
 */
import { backward, choleskyInto, forward } from './flat-cholesky.ts';
import type { ReadonlyRows } from './symmetric.ts';

/** The six unit vectors and the index direction. */
export const COMPONENTS = 7;

/** Data of one station, scaled. */
export interface ModelStation {
  readonly error: readonly number[];
  readonly own: ReadonlyRows;
  /** d_k. */
  readonly index: readonly number[];
  /** X_k, six rows of p entries. */
  readonly design: ReadonlyRows;
}

/** The stations as flat arrays, station after station. */
export interface FlatModel {
  readonly count: number;
  readonly columns: number;
  readonly error: Float64Array;
  readonly own: Float64Array;
  readonly index: Float64Array;
  readonly design: Float64Array;
}

/** @param stations one at least; their designs all have the same number of columns. */
export function flatten(stations: readonly ModelStation[]): FlatModel {
  const count = stations.length;
  const columns = stations[0]?.design[0]?.length ?? 0;
  const error = new Float64Array(6 * count);
  const own = new Float64Array(36 * count);
  const index = new Float64Array(6 * count);
  const design = new Float64Array(6 * columns * count);
  stations.forEach((s, k) => {
    error.set(s.error, 6 * k);
    index.set(s.index, 6 * k);
    for (let i = 0; i < 6; i++) {
      own.set(s.own[i]!, 36 * k + 6 * i);
      design.set(s.design[i]!, (6 * k + i) * columns);
    }
  });
  return { count, columns, error, own, index, design };
}

/** Generalised least squares at some variance components. */
export interface Evaluation {
  readonly theta: readonly number[];
  readonly logLikelihood: number;
  readonly beta: Float64Array;
  /** V_k⁻¹, 36 entries a station. */
  readonly weights: Float64Array;
  /** V_k⁻¹·X_k, 6·p entries a station. */
  readonly weighted: Float64Array;
  /** L, p × p by rows, lower triangle. */
  readonly factor: Float64Array;
  /** V_k⁻¹·(e_k − X_k·β). */
  readonly pulls: Float64Array;
}

/** @returns null where V or N is not positive definite. */
export function evaluate(model: FlatModel, theta: readonly number[]): Evaluation | null {
  const { count, columns: p, error, own, index, design } = model;
  const weights = new Float64Array(36 * count);
  const weighted = new Float64Array(6 * p * count);
  const factor = new Float64Array(p * p);
  const beta = new Float64Array(p);
  const v = new Float64Array(36);
  let logDeterminant = 0;
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++)
        v[6 * i + j] =
          own[36 * k + 6 * i + j]! +
          (i === j ? theta[i]! : 0) +
          theta[6]! * index[6 * k + i]! * index[6 * k + j]!;
    const logarithm = invertInto(v, weights, 36 * k);
    if (Number.isNaN(logarithm)) return null;
    logDeterminant += logarithm;
    const x0 = 6 * p * k;
    for (let i = 0; i < 6; i++) {
      const a0 = x0 + i * p;
      for (let j = 0; j < 6; j++) {
        const w = weights[36 * k + 6 * i + j]!;
        const r0 = x0 + j * p;
        for (let c = 0; c < p; c++) weighted[a0 + c] = weighted[a0 + c]! + w * design[r0 + c]!;
      }
    }
    for (let i = 0; i < 6; i++) {
      const r0 = x0 + i * p;
      const e = error[6 * k + i]!;
      for (let r = 0; r < p; r++) {
        const x = design[r0 + r]!;
        beta[r] = beta[r]! + weighted[r0 + r]! * e;
        if (x === 0) continue;
        const n0 = r * p;
        for (let c = 0; c <= r; c++) factor[n0 + c] = factor[n0 + c]! + x * weighted[r0 + c]!;
      }
    }
  }
  const normal = choleskyInto(factor, p);
  if (Number.isNaN(normal)) return null;
  forward(factor, p, beta, 0);
  backward(factor, p, beta);
  const pulls = new Float64Array(6 * count);
  let square = 0;
  const residual = new Float64Array(6);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < 6; i++) {
      let r = error[6 * k + i]!;
      const r0 = (6 * k + i) * p;
      for (let c = 0; c < p; c++) r -= design[r0 + c]! * beta[c]!;
      residual[i] = r;
    }
    for (let i = 0; i < 6; i++) {
      let sum = 0;
      for (let j = 0; j < 6; j++) sum += weights[36 * k + 6 * i + j]! * residual[j]!;
      pulls[6 * k + i] = sum;
      square += sum * residual[i]!;
    }
  }
  return {
    theta,
    logLikelihood: -0.5 * (logDeterminant + normal + square),
    beta,
    weights,
    weighted,
    factor,
    pulls,
  };
}

/** Derivatives of the restricted likelihood by the variance components. */
export interface Derivatives {
  readonly score: number[];
  /** Expected information, 7 × 7. */
  readonly information: number[][];
}

/** Score and expected information of the restricted likelihood at an evaluation; see the head of this file. */
export function derivatives(model: FlatModel, e: Evaluation): Derivatives {
  const { count, columns: p, index } = model;
  const score = new Array<number>(COMPONENTS).fill(0);
  const information = Array.from({ length: COMPONENTS }, () => new Array<number>(COMPONENTS).fill(0));
  const triangle = (p * (p + 1)) / 2;
  const sums = new Float64Array(COMPONENTS * triangle);
  const us = new Float64Array(COMPONENTS * p);
  const ws = new Float64Array(COMPONENTS * COMPONENTS);
  for (let k = 0; k < count; k++) {
    directionsOf(model, e, k, us, ws);
    for (let i = 0; i < COMPONENTS; i++) forward(e.factor, p, us, i * p);
    let indexPull = 0;
    for (let i = 0; i < 6; i++) indexPull += index[6 * k + i]! * e.pulls[6 * k + i]!;
    for (let i = 0; i < COMPONENTS; i++) {
      for (let j = 0; j <= i; j++) {
        let overlap = 0;
        for (let c = 0; c < p; c++) overlap += us[i * p + c]! * us[j * p + c]!;
        const w = ws[COMPONENTS * i + j]!;
        information[i]![j] = information[i]![j]! + 0.5 * (w * w - 2 * w * overlap);
        if (i !== j) continue;
        const pull = i < 6 ? e.pulls[6 * k + i]! : indexPull;
        score[i] = score[i]! - 0.5 * (w - overlap - pull * pull);
      }
      let at = i * triangle;
      for (let r = 0; r < p; r++) {
        const u = us[i * p + r]!;
        for (let c = 0; c <= r; c++, at++) sums[at] = sums[at]! + u * us[i * p + c]!;
      }
    }
  }
  for (let i = 0; i < COMPONENTS; i++)
    for (let j = 0; j <= i; j++) {
      let trace = 0;
      let at = 0;
      for (let r = 0; r < p; r++)
        for (let c = 0; c <= r; c++, at++) {
          const term = sums[i * triangle + at]! * sums[j * triangle + at]!;
          trace += r === c ? term : 2 * term;
        }
      information[i]![j] = information[i]![j]! + 0.5 * trace;
      information[j]![i] = information[i]![j]!;
    }
  return { score, information };
}

/** Rows u_i = g_iᵀ·V⁻¹·X and the products g_iᵀ·V⁻¹·g_j of one station. */
export function directionsOf(
  { columns: p, index }: FlatModel,
  { weights, weighted }: Evaluation,
  k: number,
  us: Float64Array,
  ws: Float64Array,
): void {
  const a0 = 6 * p * k;
  us.set(weighted.subarray(a0, a0 + 6 * p));
  us.fill(0, 6 * p);
  let whole = 0;
  for (let i = 0; i < 6; i++) {
    const d = index[6 * k + i]!;
    for (let c = 0; c < p; c++) us[6 * p + c] = us[6 * p + c]! + d * weighted[a0 + i * p + c]!;
    let across = 0;
    for (let j = 0; j < 6; j++) {
      const w = weights[36 * k + 6 * i + j]!;
      ws[COMPONENTS * i + j] = w;
      across += w * index[6 * k + j]!;
    }
    ws[COMPONENTS * i + 6] = across;
    ws[COMPONENTS * 6 + i] = across;
    whole += d * across;
  }
  ws[COMPONENTS * 6 + 6] = whole;
}

/** Inverse of a 6 × 6 covariance; the logarithm of its determinant, NaN where it is not positive definite. */
function invertInto(v: Float64Array, out: Float64Array, at: number): number {
  const logarithm = choleskyInto(v, 6);
  if (Number.isNaN(logarithm)) return logarithm;
  const column = new Float64Array(6);
  for (let c = 0; c < 6; c++) {
    column.fill(0);
    column[c] = 1;
    forward(v, 6, column, 0);
    backward(v, 6, column);
    for (let r = 0; r < 6; r++) out[at + 6 * r + c] = column[r]!;
  }
  return logarithm;
}
