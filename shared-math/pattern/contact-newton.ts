/**
 * Newton's method on the optimality conditions of the longest vectors, for the last digits of a solution whose contacts are
 * known: with r_j = a_j + B_j·x, over the contacts
 *
 *   Σ μ_j·B_jᵀ·r_j = 0,   |r_j| = t,   Σ μ_j = 1,   and u_j = μ_j·r_j/t.
 *
 * Contacts that leave some of x open (other x are as good), or more contacts than needed, make the system singular: the
 * shortest Newton step is taken then. Source: S. Boyd, L. Vandenberghe, Convex Optimization (2004), 5.5.3 (conditions), 10.2
 * (Newton's method with equality constraints).
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import type { NormProblem } from './norm-problem.ts';

export interface Polished {
  readonly step: Float64Array;
  /** u, length 3·m. */
  readonly weights: Float64Array;
}

const STEPS = 12;
/** Steps that no longer shrink below this share of the unknowns (of order 1) are rounding. */
const ROUNDING = 1e-15;
/** Singular values below this share of the largest belong to directions that the contacts leave open. */
const OPEN = 1e-11;

/**
 * @param working the vectors among which contacts are looked for.
 * @param weights of a point near the optimum: a vector is a contact where its weight is larger than its slack.
 * @returns null where there is no contact, or Newton's steps do not shrink.
 */
export function contactNewton(
  problem: NormProblem,
  working: readonly number[],
  start: Float64Array,
  weights: Float64Array,
): Polished | null {
  const { size } = problem;
  const x = start.slice();
  const first = evaluate(problem, working, x);
  let t = Math.max(...first.map((v) => v.length));
  if (!(t > 0)) return null;
  const contacts = working.filter((j, k) => {
    const weight = Math.hypot(weights[3 * j]!, weights[3 * j + 1]!, weights[3 * j + 2]!);
    return weight > 1 - first[k]!.length / t;
  });
  if (contacts.length === 0) return null;
  const mu = contacts.map((j) => Math.hypot(weights[3 * j]!, weights[3 * j + 1]!, weights[3 * j + 2]!));
  let previous = Number.POSITIVE_INFINITY;
  for (let steps = 0; steps < STEPS; steps++) {
    const vectors = evaluate(problem, contacts, x);
    const { system, rest } = conditions(problem, contacts, vectors, mu, t);
    const change = shortestSolution(system, rest);
    const length = Math.hypot(...change);
    if (!(length < 0.9 * previous) && length > 1e-9) return null;
    for (let p = 0; p < size; p++) x[p]! -= change[p]!;
    t -= change[size]!;
    for (let k = 0; k < mu.length; k++) mu[k]! -= change[size + 1 + k]!;
    if (length < ROUNDING || length >= previous) break;
    previous = length;
  }
  return { step: x, weights: weightsOf(problem, contacts, x, mu) };
}

interface ContactVector {
  /** r_j. */
  readonly r: readonly [number, number, number];
  readonly length: number;
  /** B_jᵀ·r_j, length n. */
  readonly pull: Float64Array;
}

function evaluate(
  { size, offsets, rows }: NormProblem,
  indices: readonly number[],
  x: Float64Array,
): ContactVector[] {
  return indices.map((j) => {
    const r = [0, 1, 2].map((c) => {
      let sum = offsets[3 * j + c]!;
      for (let p = 0; p < size; p++) sum += rows[(3 * j + c) * size + p]! * x[p]!;
      return sum;
    }) as [number, number, number];
    const pull = new Float64Array(size);
    for (let c = 0; c < 3; c++)
      for (let p = 0; p < size; p++) pull[p]! += rows[(3 * j + c) * size + p]! * r[c]!;
    return { r, length: Math.hypot(...r), pull };
  });
}

/** The conditions and their derivatives by (x, t, μ). */
function conditions(
  { size, rows }: NormProblem,
  contacts: readonly number[],
  vectors: readonly ContactVector[],
  mu: readonly number[],
  t: number,
): { readonly system: Matrix; readonly rest: number[] } {
  const order = size + 1 + contacts.length;
  const system = Matrix.zeros(order, order);
  const rest = new Array<number>(order).fill(0);
  const add = (row: number, column: number, value: number): void => {
    system.set(row, column, system.get(row, column) + value);
  };
  rest[size] = -1;
  vectors.forEach(({ length, pull }, k) => {
    const at = size + 1 + k;
    for (let p = 0; p < size; p++) {
      rest[p]! += mu[k]! * pull[p]!;
      add(p, at, pull[p]!);
      add(at, p, pull[p]!);
      for (let c = 0; c < 3; c++) {
        const row = (3 * contacts[k]! + c) * size;
        for (let q = 0; q < size; q++) add(p, q, mu[k]! * rows[row + p]! * rows[row + q]!);
      }
    }
    rest[size]! += mu[k]!;
    add(size, at, 1);
    add(at, size, -t);
    rest[at] = 0.5 * (length - t) * (length + t);
  });
  return { system, rest };
}

function shortestSolution(system: Matrix, rest: readonly number[]): number[] {
  const svd = new SingularValueDecomposition(system, { autoTranspose: true });
  const { diagonal: values, leftSingularVectors: u, rightSingularVectors: v } = svd;
  const floor = OPEN * Math.max(...values);
  const solution = new Array<number>(rest.length).fill(0);
  values.forEach((value, i) => {
    if (value <= floor) return;
    const along = rest.reduce((sum, x, k) => sum + u.get(k, i) * x, 0) / value;
    for (let k = 0; k < solution.length; k++) solution[k]! += along * v.get(k, i);
  });
  return solution;
}

/** Negative multipliers are no contacts, their weights zero. */
function weightsOf(
  problem: NormProblem,
  contacts: readonly number[],
  x: Float64Array,
  mu: readonly number[],
): Float64Array {
  const weights = new Float64Array(3 * problem.count);
  evaluate(problem, contacts, x).forEach(({ r, length }, k) => {
    for (let c = 0; c < 3; c++) weights[3 * contacts[k]! + c] = (Math.max(0, mu[k]!) * r[c]!) / (length || 1);
  });
  return weights;
}
