/**
 * The barrier path of the convex problem in norm-minimax.ts: from any x to one whose longest vector is the shortest within a wanted
 * gap, with the weights that prove it. Where several x are as good it ends in their middle, the analytic centre.
 *
 * Unknowns may be kept between bounds; each bound is one more term of the barrier.
 *
 * Source: S. Boyd, L. Vandenberghe, Convex Optimization (2004), 9.5 (Newton's method), 11.3 (the barrier method), 11.6.
 */
import { lengthOver, type NormProblem, residuals, tripleLength } from './norm-problem.ts';
import { choleskySolve } from './small-cholesky.ts';

/** Growth of the barrier's weight from stage to stage (Boyd & Vandenberghe, 11.3.1: 10 to 20 are about equally good). */
const GROWTH = 15;
const NEWTON_STEPS = 60;

export interface BarrierPoint {
  readonly step: Float64Array;
  /** Weights of the barrier, length 3·m: nearly balanced, the better the more exactly the path is followed. */
  readonly weights: Float64Array;
}

/** Bounds of the unknowns, lower_p < upper_p, all finite. */
export interface Bounds {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/**
 * Minimises κ·t − Σ log(t² − |a_j + B_j·x|²) − Σ log(x_p − lower_p) − Σ log(upper_p − x_p) for growing κ until the gap
 * 2·(number of vectors + number of bounded unknowns)/κ is below `target`.
 *
 * @param start strictly between the bounds.
 * @param bounds none where left out.
 */
export function followBarrier(
  problem: NormProblem,
  working: readonly number[],
  start: Float64Array,
  target: number,
  bounds: Bounds | null = null,
): BarrierPoint {
  const { size } = problem;
  const order = size + 1;
  const cones = 2 * working.length + (bounds === null ? 0 : 2 * size);
  const r = new Float64Array(3 * working.length);
  const z = new Float64Array(order);
  z.set(start);
  const longestNow = lengthOver(problem, start, working);
  z[size] = 1.1 * longestNow + target;
  let kappa = cones / Math.max(z[size]!, target);
  for (;;) {
    kappa = Math.min(kappa, cones / (0.5 * target));
    const last = cones / kappa <= 0.6 * target;
    centre(problem, working, z, kappa, r, last ? 1e-10 : 1e-2, bounds);
    if (last) break;
    kappa *= GROWTH;
  }
  const weights = new Float64Array(3 * problem.count);
  residuals(problem, working, z, r);
  working.forEach((j, k) => {
    const length = tripleLength(r, 3 * k);
    const factor = 2 / (kappa * (z[size]! - length) * (z[size]! + length));
    for (let c = 0; c < 3; c++) weights[3 * j + c] = factor * r[3 * k + c]!;
  });
  return { step: z.slice(0, size), weights };
}

/** Newton's method with backtracking for one κ; z = (x, t) is changed in place. */
function centre(
  problem: NormProblem,
  working: readonly number[],
  z: Float64Array,
  kappa: number,
  r: Float64Array,
  precision: number,
  bounds: Bounds | null,
): void {
  const { size, rows } = problem;
  const order = size + 1;
  const gradient = new Float64Array(order);
  const hessian = new Float64Array(order * order);
  const cone = new Float64Array(order);
  const movers = moversOf(problem, working);
  const trial = new Float64Array(order);
  let height = barrier(problem, working, movers, z, kappa, r, bounds);
  for (let steps = 0; steps < NEWTON_STEPS; steps++) {
    gradient.fill(0);
    hessian.fill(0);
    gradient[size] = kappa;
    const t = z[size]!;
    for (let k = 0; k < working.length; k++) {
      const j = working[k]!;
      const length = tripleLength(r, 3 * k);
      const inverse = 2 / ((t - length) * (t + length));
      // Most unknowns move few of the vectors.
      const own = movers[k]!;
      for (let a = 0; a < own.length; a++) cone[own[a]!] = 0;
      cone[size] = -inverse * t;
      for (let c = 0; c < 3; c++) {
        const at = (3 * j + c) * size;
        const force = inverse * r[3 * k + c]!;
        for (let a = 0; a < own.length; a++) {
          const p = own[a]!;
          const b = rows[at + p]!;
          if (b === 0) continue;
          cone[p]! += force * b;
          const scaled = inverse * b;
          for (let e = 0; e <= a; e++) hessian[p * order + own[e]!]! += scaled * rows[at + own[e]!]!;
        }
      }
      hessian[size * order + size]! -= inverse;
      for (let a = 0; a < own.length; a++) {
        const p = own[a]!;
        gradient[p]! += cone[p]!;
        for (let e = 0; e <= a; e++) hessian[p * order + own[e]!]! += cone[p]! * cone[own[e]!]!;
        hessian[size * order + p]! += cone[size]! * cone[p]!;
      }
      gradient[size]! += cone[size]!;
      hessian[size * order + size]! += cone[size]! * cone[size]!;
    }
    if (bounds !== null) addBounds(bounds, z, gradient, hessian);
    const direction = choleskySolve(hessian, gradient, order);
    let decrement = 0;
    for (let p = 0; p < order; p++) decrement += gradient[p]! * direction[p]!;
    if (!(decrement > precision)) return;
    let length = 1;
    for (;;) {
      for (let p = 0; p < order; p++) trial[p] = z[p]! - length * direction[p]!;
      const next = barrier(problem, working, movers, trial, kappa, r, bounds);
      if (next <= height - 0.1 * length * decrement) {
        height = next;
        z.set(trial);
        break;
      }
      length *= 0.5;
      // Heights no longer tell the steps apart: as central as this arithmetic gets.
      if (length < 1e-6) {
        barrier(problem, working, movers, z, kappa, r, bounds);
        return;
      }
    }
  }
}

/** The unknowns that move each of the vectors, ascending. */
function moversOf({ size, rows }: NormProblem, working: readonly number[]): readonly (readonly number[])[] {
  return working.map((j) => {
    const own: number[] = [];
    for (let p = 0; p < size; p++)
      if (
        rows[3 * j * size + p] !== 0 ||
        rows[(3 * j + 1) * size + p] !== 0 ||
        rows[(3 * j + 2) * size + p] !== 0
      )
        own.push(p);
    return own;
  });
}

function addBounds(
  { lower, upper }: Bounds,
  z: Float64Array,
  gradient: Float64Array,
  hessian: Float64Array,
): void {
  const order = gradient.length;
  for (let p = 0; p < lower.length; p++) {
    const below = 1 / (z[p]! - lower[p]!);
    const above = 1 / (upper[p]! - z[p]!);
    gradient[p]! += above - below;
    hessian[p * order + p]! += above * above + below * below;
  }
}

/** The barrier function, infinite outside the cones and bounds; leaves the residuals in r. */
function barrier(
  problem: NormProblem,
  working: readonly number[],
  movers: readonly (readonly number[])[],
  z: Float64Array,
  kappa: number,
  r: Float64Array,
  bounds: Bounds | null,
): number {
  const { size, offsets, rows } = problem;
  for (let k = 0; k < working.length; k++) {
    const own = movers[k]!;
    for (let c = 0; c < 3; c++) {
      const row = 3 * working[k]! + c;
      let along = offsets[row]!;
      for (let a = 0; a < own.length; a++) along += rows[row * size + own[a]!]! * z[own[a]!]!;
      r[3 * k + c] = along;
    }
  }
  const t = z[problem.size]!;
  let sum = kappa * t;
  if (bounds !== null)
    for (let p = 0; p < problem.size; p++) {
      const below = z[p]! - bounds.lower[p]!;
      const above = bounds.upper[p]! - z[p]!;
      if (!(below > 0 && above > 0)) return Number.POSITIVE_INFINITY;
      sum -= Math.log(below) + Math.log(above);
    }
  for (let k = 0; k < working.length; k++) {
    const length = tripleLength(r, 3 * k);
    if (!(length < t)) return Number.POSITIVE_INFINITY;
    sum -= Math.log((t - length) * (t + length));
  }
  return sum;
}
