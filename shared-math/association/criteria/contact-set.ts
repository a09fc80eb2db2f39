/**
 * The functions that a criterion holds down, on a working set of points, and the optimality of their maximum.
 *
 * Contact key 2i stands for f = g_i − c (the point presses outwards), 2i + 1 for f = c − g_i (inwards). The level c is a
 * parameter of the minimum zone only, the last one; elsewhere it is 0.
 */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { spectrumOf } from '../triangular-factor.ts';
import { solveInPlace } from './dense.ts';
import { linearMinimax } from './linear-minimax.ts';
import type { DistanceModel, Placement, PointDerivatives } from './placement.ts';

/** Which distances are held down: the largest, the smallest (from below), or both about a free level. */
export type Sides = 'outer' | 'inner' | 'both';

export interface ExtremalProblem {
  readonly model: DistanceModel;
  readonly points: number;
  readonly sides: Sides;
  /** Whether the largest function cannot fall below zero: the width of a zone, the reach of a line's cylinder. */
  readonly neverNegative: boolean;
}

/** Parameters of a problem: those of the placement and, for a zone, its level. */
export function parametersOf(problem: ExtremalProblem): number {
  return problem.model.size + (problem.sides === 'both' ? 1 : 0);
}

/** The functions of a working set at one placement. */
export interface Evaluation {
  readonly placement: Placement;
  readonly level: number;
  readonly values: Float64Array;
  /** Largest of `values`. */
  readonly most: number;
  readonly derivatives: PointDerivatives;
}

/** The functions of some contacts at a placement, of a zone about the level that holds them lowest. @param keys see the head of this file. */
export function evaluate(
  problem: ExtremalProblem,
  keys: readonly number[],
  placement: Placement,
): Evaluation {
  const derivatives = problem.model.derivatives(placement);
  const distances = keys.map((key) => derivatives.distance(key >> 1));
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  keys.forEach((key, j) => {
    if (key % 2 === 0) high = Math.max(high, distances[j]!);
    else low = Math.min(low, distances[j]!);
  });
  const level = problem.sides === 'both' ? 0.5 * (low + high) : 0;
  const values = Float64Array.from(distances, (g, j) => (keys[j]! % 2 === 0 ? g - level : level - g));
  const most = problem.sides === 'both' ? 0.5 * (high - low) : problem.sides === 'outer' ? high : -low;
  return { placement, level, values, most, derivatives };
}

/** Derivatives of the functions by all parameters, row by row. */
export function gradientRows(
  problem: ExtremalProblem,
  keys: readonly number[],
  { derivatives }: Evaluation,
): Float64Array {
  const k = parametersOf(problem);
  const rows = new Float64Array(keys.length * k);
  keys.forEach((key, j) => {
    const sign = key % 2 === 0 ? 1 : -1;
    derivatives.gradient(key >> 1, sign, rows, j * k);
    if (problem.sides === 'both') rows[j * k + k - 1] = -sign;
  });
  return rows;
}

/** Contacts (positions in `keys`) with multipliers, and what they leave of the optimality conditions. */
export interface Optimality {
  readonly active: readonly number[];
  readonly multipliers: readonly number[];
  /** Σ λ (most − f) + ‖Σ λ ∇f‖₁, scaled units. */
  readonly gap: number;
}

/** Box (scaled) within which contacts are looked for: their slack must stay below rounding times this. */
const CONTACT_BOX = 1e-6;
/** A solved multiplier this far below zero means a wrong contact; closer is rounding and becomes zero. */
const NEGATIVE_MULTIPLIER = 1e-7;

/** The contacts with their multipliers and how far from optimal the placement can be. @param rows derivatives of `now`, one row a point. */
export function optimalityOf(problem: ExtremalProblem, now: Evaluation, rows: Float64Array): Optimality {
  const k = parametersOf(problem);
  const shifted = now.values.map((value) => value - now.most);
  const program = linearMinimax(shifted, rows, new Array(k).fill(CONTACT_BOX));
  const rough = { active: program.active, multipliers: unitSum(program.multipliers) };
  const gapOf = ({ active, multipliers }: Pick<Optimality, 'active' | 'multipliers'>): number => {
    let gap = 0;
    active.forEach((j, a) => {
      gap -= multipliers[a]! * shifted[j]!;
    });
    for (let d = 0; d < k; d++) {
      gap += Math.abs(active.reduce((sum, j, a) => sum + multipliers[a]! * rows[j * k + d]!, 0));
    }
    return gap;
  };
  const solved = solveMultipliers(program.active, rows, k);
  const candidates = [rough, ...(solved ? [solved] : [])].map((c) => ({ ...c, gap: gapOf(c) }));
  return candidates.reduce((a, b) => (b.gap < a.gap ? b : a));
}

function unitSum(multipliers: readonly number[]): readonly number[] {
  const sum = multipliers.reduce((a, b) => a + b, 0);
  return multipliers.map((multiplier) => multiplier / sum);
}

/** Multipliers that solve Σ λ ∇f = 0, Σ λ = 1 in the least-squares sense over the given contacts. */
function solveMultipliers(
  active: readonly number[],
  rows: Float64Array,
  k: number,
): Pick<Optimality, 'active' | 'multipliers'> | null {
  const m = active.length;
  // Augmented system [I A; Aᵀ 0]: the least-squares solution without squaring A.
  const order = k + 1 + m;
  const system = new Float64Array(order * order);
  const right = new Float64Array(order);
  for (let d = 0; d <= k; d++) {
    system[d * order + d] = 1;
    active.forEach((j, a) => {
      const value = d < k ? rows[j * k + d]! : 1;
      system[d * order + k + 1 + a] = value;
      system[(k + 1 + a) * order + d] = value;
    });
  }
  right[k] = 1;
  const solution = solveInPlace(system, right);
  if (!solution) return null;
  const multipliers = [...solution.subarray(k + 1)];
  if (multipliers.some((multiplier) => !(multiplier > -NEGATIVE_MULTIPLIER))) return null;
  const kept = active.map((_, a) => a).filter((a) => multipliers[a]! > 0);
  return { active: kept.map((a) => active[a]!), multipliers: unitSum(kept.map((a) => multipliers[a]!)) };
}

/** Σ λ ∂²f over the contacts, by all parameters (the level is linear). */
function lagrangianCurvature(
  problem: ExtremalProblem,
  keys: readonly number[],
  { derivatives }: Evaluation,
  { active, multipliers }: Pick<Optimality, 'active' | 'multipliers'>,
): Float64Array {
  const k = parametersOf(problem);
  const curvature = new Float64Array(k * k);
  active.forEach((j, a) => {
    const key = keys[j]!;
    derivatives.curvature(key >> 1, (key % 2 === 0 ? 1 : -1) * multipliers[a]!, curvature, k);
  });
  return curvature;
}

/** A move of all parameters, and the height that the contacts then share to first order, relative to the largest now. */
export interface ContactStep {
  readonly step: Float64Array;
  readonly height: number;
}

/**
 * Newton's step to the nearest point where the contacts are level and stationary:
 * H p + Σ λ ∇f = 0, Σ λ = 1, f + ∇f·p = τ. Null where the system is singular or a contact would pull.
 */
export function contactNewtonStep(
  problem: ExtremalProblem,
  keys: readonly number[],
  now: Evaluation,
  rows: Float64Array,
  contacts: Pick<Optimality, 'active' | 'multipliers'>,
): ContactStep | null {
  const k = parametersOf(problem);
  const { active } = contacts;
  const curvature = lagrangianCurvature(problem, keys, now, contacts);
  const solution = solveContactSystem(curvature, now, rows, active, 1);
  if (!solution) return null;
  if (solution.subarray(k + 1).some((multiplier) => multiplier < -NEGATIVE_MULTIPLIER)) return null;
  return { step: solution.slice(0, k), height: solution[k]! };
}

/**
 * The shortest step that makes the contacts level at `next`, with the gradients of an earlier point. Added to a Newton
 * step it takes off what the curvature of each single distance undid (second-order correction; Fletcher, LNM 912 (1982)
 * 85–114).
 */
export function levellingStep(
  problem: ExtremalProblem,
  next: Evaluation,
  rows: Float64Array,
  active: readonly number[],
): Float64Array | null {
  const k = parametersOf(problem);
  const identity = Float64Array.from({ length: k * k }, (_, at) => (at % (k + 1) === 0 ? 1 : 0));
  return solveContactSystem(identity, next, rows, active, 0)?.slice(0, k) ?? null;
}

/** Solves H p + Σ λ ∇f = 0, Σ λ = sum, ∇f·p − τ = most − f for (p, τ, λ). */
function solveContactSystem(
  curvature: Float64Array,
  at: Evaluation,
  rows: Float64Array,
  active: readonly number[],
  sum: number,
): Float64Array | null {
  const k = Math.round(Math.sqrt(curvature.length));
  const order = k + 1 + active.length;
  const system = new Float64Array(order * order);
  const right = new Float64Array(order);
  for (let d = 0; d < k; d++) {
    for (let e = 0; e < k; e++) system[d * order + e] = curvature[d * k + e]!;
  }
  active.forEach((j, a) => {
    const row = k + 1 + a;
    for (let d = 0; d < k; d++) {
      system[d * order + row] = rows[j * k + d]!;
      system[row * order + d] = rows[j * k + d]!;
    }
    system[k * order + row] = 1;
    system[row * order + k] = -1;
    right[row] = at.most - at.values[j]!;
  });
  right[k] = sum;
  const solution = solveInPlace(system, right);
  return solution?.every(Number.isFinite) ? solution : null;
}

/**
 * A direction along which the contacts stay level and the Lagrangian curves downwards: the place is then a saddle unless
 * other contacts block it. Null where there is none.
 */
export function downwardDirection(
  problem: ExtremalProblem,
  keys: readonly number[],
  now: Evaluation,
  rows: Float64Array,
  contacts: Pick<Optimality, 'active' | 'multipliers'>,
): Float64Array | null {
  const k = parametersOf(problem);
  const { active } = contacts;
  if (active.length > k) return null;
  const last = active[active.length - 1]!;
  const differences = Matrix.zeros(k, k);
  active.slice(0, -1).forEach((j, a) => {
    for (let d = 0; d < k; d++) differences.set(a, d, rows[j * k + d]! - rows[last * k + d]!);
  });
  const { rightVectors } = spectrumOf(differences);
  const level = new Matrix(rightVectors.slice(active.length - 1).map((v) => [...v])).transpose();
  const curvature = new Matrix(k, k);
  const entries = lagrangianCurvature(problem, keys, now, contacts);
  entries.forEach((value, at) => {
    curvature.set(Math.floor(at / k), at % k, value);
  });
  const reduced = level.transpose().mmul(curvature).mmul(level);
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(reduced, {
    assumeSymmetric: true,
  });
  const lowest = realEigenvalues.indexOf(Math.min(...realEigenvalues));
  if (!(realEigenvalues[lowest]! < -1e-9 * curvature.norm('frobenius'))) return null;
  return Float64Array.from(level.mmul(eigenvectorMatrix.getColumnVector(lowest)).getColumn(0));
}

/** Ratio of the singular values of the contact system (∇f, 1): how far errors of the contacts are magnified. */
export function contactCondition(rows: Float64Array, active: readonly number[], k: number): number {
  const system = new Matrix(active.map((j) => [...Array.from({ length: k }, (_, d) => rows[j * k + d]!), 1]));
  return spectrumOf(active.length > k ? system : system.transpose()).conditionNumber;
}
