/**
 * Minimises the largest of many smooth distances: a sequence of linear programs in a trust region picks the contacts,
 * Newton's method on the contacts' optimality conditions gives the last digits, and points that break through are
 * exchanged into a small working set until none of all points does.
 *
 * A minimum with as many contacts as unknowns is a vertex, where the linear programs alone converge quadratically. With
 * fewer contacts (a sphere held between two points) curvature decides, hence the Newton step; it may also lead to a
 * saddle, which is left along its downward direction.
 *
 * Sources: Madsen, J. Inst. Maths Applics 16 (1975) 321–328 (minimax by linear programs in a trust region);
 * Fletcher & Sainz de la Maza, Math. Programming 43 (1989) 235–256 (contacts from a linear program, then a Newton step);
 * Stiefel 1959 (exchange).
 */
import { ReductionError } from '../../errors.ts';
import {
  contactCondition,
  contactNewtonStep,
  downwardDirection,
  type Evaluation,
  type ExtremalProblem,
  evaluate,
  gradientRows,
  levellingStep,
  type Optimality,
  optimalityOf,
  parametersOf,
} from './contact-set.ts';
import { linearMinimax } from './linear-minimax.ts';
import type { Placement } from './placement.ts';

export interface ExtremalSolution {
  readonly placement: Placement;
  /** Level of the zone, 0 for one-sided problems, scaled. */
  readonly level: number;
  /** Largest function: half the zone's width, the radius around, or minus the radius within, scaled. */
  readonly most: number;
  /** Keys as in contact-set.ts. */
  readonly contacts: readonly number[];
  readonly multipliers: readonly number[];
  /** As `Certificate.gap`, scaled. */
  readonly gap: number;
  readonly conditionNumber: number;
  readonly iterations: number;
}

/** Distances in scaled units are right to about this. */
const ROUNDING = 2e-15;
/** A point beyond the zone by more than this is exchanged in; 1e-14 of the feature is far below any probe. */
const BREAKTHROUGH = 1e-14;
/** Blocks of the scan; each offers its worst point to the working set, so that it is taken from all over. */
const BLOCKS = 64;
const MAXIMUM_EXCHANGES = 60;
const MAXIMUM_STEPS = 300;
/** Newton steps longer than this (scaled, rad) have left the feature. */
const LONGEST_NEWTON = 0.5;
/** Trust regions below this make no difference to distances. */
const LEAST_REGION = 1e-13;
/** Largest gap (of the feature's size) of a certified solution. */
export const CERTIFIED_GAP = 1e-10;
/** The level of a zone may follow larger moves than the placement's. */
const LEVEL_REACH = 8;

/**
 * @param working contact keys to begin with; grows, so that searches from other starts are quick
 * @param isNear whether a placement still belongs to the feature
 * @returns null where the placement leaves `isNear`
 * @throws ReductionError `not-converged` where the solution cannot be certified
 */
export function solveExtremal(
  problem: ExtremalProblem,
  start: Placement,
  working: Set<number>,
  isNear: (placement: Placement) => boolean,
): ExtremalSolution | null {
  const distances = new Float64Array(problem.points);
  let placement = start;
  let iterations = 0;
  problem.model.distances(placement, distances);
  exchange(problem, distances, null, working);
  for (let exchanges = 0; exchanges < MAXIMUM_EXCHANGES; exchanges++) {
    const keys = [...working];
    const found = descend(problem, keys, placement, isNear);
    if (!found) return null;
    placement = found.now.placement;
    iterations += found.steps;
    problem.model.distances(placement, distances);
    if (exchange(problem, distances, found.now, working) > 0) continue;
    return certified(problem, keys, found, iterations);
  }
  throw uncertified();
}

function certified(problem: ExtremalProblem, keys: readonly number[], found: Descent, iterations: number) {
  const { now, rows, optimality } = found;
  const gap = problem.neverNegative ? Math.min(optimality.gap, now.most) : optimality.gap;
  if (!(gap <= CERTIFIED_GAP)) throw uncertified();
  const order = optimality.active.map((_, a) => a).sort((a, b) => keyAt(a) - keyAt(b));
  function keyAt(a: number): number {
    return keys[optimality.active[a]!]!;
  }
  return {
    placement: now.placement,
    level: now.level,
    most: now.most,
    contacts: order.map(keyAt),
    multipliers: order.map((a) => optimality.multipliers[a]!),
    gap,
    conditionNumber: contactCondition(rows, optimality.active, parametersOf(problem)),
    iterations,
  };
}

function uncertified(): ReductionError {
  return ReductionError.of('not-converged', { code: 'contacts-uncertain', values: {} });
}

/** Adds the points that break through (all block extremes where `now` is null) and returns how many there were. */
function exchange(
  problem: ExtremalProblem,
  distances: Float64Array,
  now: Evaluation | null,
  working: Set<number>,
): number {
  const before = working.size;
  const high = now ? now.level + now.most + BREAKTHROUGH : Number.NEGATIVE_INFINITY;
  const low = now ? now.level - now.most - BREAKTHROUGH : Number.POSITIVE_INFINITY;
  const n = distances.length;
  const blocks = Math.min(BLOCKS, n);
  for (let b = 0; b < blocks; b++) {
    const to = Math.floor(((b + 1) * n) / blocks);
    let [highest, lowest, top, bottom] = [-1, -1, high, low];
    for (let i = Math.floor((b * n) / blocks); i < to; i++) {
      const g = distances[i]!;
      if (g > top) {
        top = g;
        highest = i;
      }
      if (g < bottom) {
        bottom = g;
        lowest = i;
      }
    }
    if (highest >= 0 && problem.sides !== 'inner') working.add(2 * highest);
    if (lowest >= 0 && problem.sides !== 'outer') working.add(2 * lowest + 1);
  }
  return working.size - before;
}

interface Descent {
  readonly now: Evaluation;
  readonly rows: Float64Array;
  readonly optimality: Optimality;
  readonly steps: number;
}

/** A local minimum over the working set. */
function descend(
  problem: ExtremalProblem,
  keys: readonly number[],
  start: Placement,
  isNear: (placement: Placement) => boolean,
): Descent | null {
  const k = parametersOf(problem);
  let now = evaluate(problem, keys, start);
  let rows = gradientRows(problem, keys, now);
  let region = Math.max(1e-9, 2 * (problem.sides === 'both' ? now.most : spreadOf(now.values)));
  let polished = Number.POSITIVE_INFINITY;
  let steps = 0;
  const accept = (next: Evaluation): void => {
    now = next;
    rows = gradientRows(problem, keys, now);
  };
  while (steps < MAXIMUM_STEPS) {
    steps++;
    if (!isNear(now.placement)) return null;
    const box = Array.from({ length: k }, (_, d) => (d < problem.model.size ? region : LEVEL_REACH * region));
    const shifted = now.values.map((value) => value - now.most);
    const program = linearMinimax(shifted, rows, box);
    const promised = -program.value;
    const newton = contactNewtonStep(problem, keys, now, rows, program);
    const length = newton ? lengthOf(newton.step) : Number.POSITIVE_INFINITY;
    let taken = false;
    if (newton && length > 0 && length < LONGEST_NEWTON) {
      const next = afterNewton(problem, keys, now, rows, program.active, newton.step);
      const gained = now.most - next.most;
      // Near the end the gain is too small to see: steps that shrink and cost nothing are taken on trust, provided that
      // the contacts are the highest of all (then the promised change of height is as small as the step).
      const topmost = Math.abs(newton.height) < 10 * length + ROUNDING;
      const polishing = topmost && length < 1e-3 && length < 0.5 * polished && gained > -ROUNDING;
      if (gained > Math.max(0.1 * promised, ROUNDING) || polishing) {
        if (polishing) polished = length;
        accept(next);
        taken = true;
        region = polishing && length < ROUNDING ? 0 : Math.max(region, 2 * length);
      }
    }
    if (!taken) {
      const next = evaluate(problem, keys, problem.model.move(now.placement, program.step));
      const gained = now.most - next.most;
      if (promised > ROUNDING && gained > 0.1 * promised) {
        const reached = lengthOf(program.step) > 0.9 * region;
        accept(next);
        if (gained > 0.7 * promised && reached) region *= 3;
      } else region *= promised > ROUNDING ? 0.25 : 0.01;
    }
    if (region > LEAST_REGION) continue;
    const optimality = optimalityOf(problem, now, rows);
    const lower = leaveSaddle(problem, keys, now, rows, optimality);
    if (!lower) return { now, rows, optimality, steps };
    accept(lower.next);
    region = lower.length;
    polished = Number.POSITIVE_INFINITY;
  }
  return { now, rows, optimality: optimalityOf(problem, now, rows), steps };
}

/** The place after a Newton step, or after that step levelled, whichever is lower. */
function afterNewton(
  problem: ExtremalProblem,
  keys: readonly number[],
  now: Evaluation,
  rows: Float64Array,
  active: readonly number[],
  step: Float64Array,
): Evaluation {
  const plain = evaluate(problem, keys, problem.model.move(now.placement, step));
  const levelling = levellingStep(problem, plain, rows, active);
  if (!levelling) return plain;
  const both = step.map((value, d) => value + levelling[d]!);
  const corrected = evaluate(problem, keys, problem.model.move(now.placement, both));
  return corrected.most < plain.most ? corrected : plain;
}

/** A lower place along the downward direction of a saddle; null at a minimum. */
function leaveSaddle(
  problem: ExtremalProblem,
  keys: readonly number[],
  now: Evaluation,
  rows: Float64Array,
  optimality: Optimality,
): { readonly next: Evaluation; readonly length: number } | null {
  const direction = downwardDirection(problem, keys, now, rows, optimality);
  if (!direction) return null;
  for (const length of [0.1, 0.01, 1e-3, 1e-4, 1e-5]) {
    for (const sign of [1, -1]) {
      const step = direction.map((value) => sign * length * value);
      const next = evaluate(problem, keys, problem.model.move(now.placement, step));
      if (next.most < now.most - 10 * ROUNDING) return { next, length };
    }
  }
  return null;
}

function lengthOf(step: Float64Array): number {
  return step.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

function spreadOf(values: Float64Array): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high - low;
}
