/**
 * Settings that make the largest position as small as possible.
 *
 * Positions are norms of functions nearly affine in the settings (they bend by position times turn), so the convex problem of
 * box-minimax.ts is solved about the settings found so far, exactly evaluated, until they move no more. What is minimised is the
 * largest share of the tolerance, which is the largest position where all check points have the same tolerance.
 *
 * Settings that do the same errors as others: a constant tool offset imitates an axial shift and a turn of the hub about the axis,
 * and either of them a common index offset. Tool goes before hub, hub before index: a setting that earlier ones make up for
 * stays exactly 0, and what index offsets of a tool's stations have in common goes into that tool. Where an earlier setting ends at
 * its limit, the later one is let in again.
 */
import type { Bounds } from '../../pattern/norm-barrier.ts';
import { choleskySolve } from '../../pattern/small-cholesky.ts';
import type { Blade, BladePoint } from './blades.ts';
import { boxMinimax, FINE_GAP, onlyColumns } from './box-minimax.ts';
import { linearised, sharesAfter } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/** The part of the problem that is solved at once. */
export interface SettingProblem {
  readonly blades: readonly Blade[];
  readonly points: readonly BladePoint[];
  readonly unknowns: readonly Unknown[];
}

export interface BestSettings {
  /** One for each unknown, mm or rad. */
  readonly values: Float64Array;
  /** Largest share of the tolerance that they leave, and the proven lower bound of it, to first order in the distance. */
  readonly share: number;
  readonly lower: number;
}

const ROUNDS = 8;
/** Shares of a tolerance below this are of no interest to anybody, and far above rounding. */
const STILL = 1e-9;
/** Unknowns (1 moves a check point by half a tolerance) without a limit: no correction goes a thousand tolerances. */
const WIDE = 2000;
/** What moving a common index elsewhere may cost (share of a tolerance), far below any step: a proportion that bends. */
const BENT = 1e-5;
/** A setting whose effect earlier ones leave less than this share of can be made up for; plans carry six digits or more. */
const MADE_UP = 1e-6;
/** Share of a limit at which a setting counts as being at it. */
const AT_LIMIT = 1 - 1e-6;

/** The settings that make the largest position smallest, within their limits; see the head of this file. */
export function bestSettings(problem: SettingProblem): BestSettings {
  const independent = independentUnknowns(problem);
  const kept = solve(problem, independent);
  const ended = problem.unknowns.some(
    ({ range: { limit } }, p) => limit !== null && Math.abs(kept.values[p]!) >= AT_LIMIT * limit,
  );
  if (ended && independent.some((i) => !i)) {
    const all = solve(
      problem,
      problem.unknowns.map(() => true),
    );
    if (all.share < kept.share - STILL) return all;
  }
  const values = withoutCommonIndex(problem, kept.values, independent);
  const share = largestShare(problem, values);
  return { values, share, lower: Math.min(share, kept.lower) };
}

/** Whether a setting can go no further: within rounding of its limit, or less than a step from it. */
export function atLimit({ range: { limit, step } }: Unknown, value: number): boolean {
  if (limit === null) return false;
  const most = step === null ? limit : Math.floor(limit / step + 1e-9) * step;
  return Math.abs(value) >= AT_LIMIT * most;
}

/** Largest of the exact shares. */
export function largestShare({ blades, points, unknowns }: SettingProblem, values: Float64Array): number {
  return Math.max(0, ...sharesAfter(blades, points, unknowns, values));
}

/**
 * @param open which unknowns may move; the others keep the value they start with.
 * @param start default all 0.
 * @param gap of the convex problem, in shares of the tolerance.
 */
export function solve(
  problem: SettingProblem,
  open: readonly boolean[],
  start: Float64Array = new Float64Array(problem.unknowns.length),
  gap = FINE_GAP,
): BestSettings {
  const { blades, points, unknowns } = problem;
  // Index offsets first: no two of them move the same blade, which the solution makes use of (see small-cholesky.ts).
  const free = indexFirst(unknowns).filter((p) => open[p] && unknowns[p]!.range.limit !== 0);
  const moving = free.map((p) => unknowns[p]!);
  const wide = moving.map((u) => u.range.limit === null);
  let values = start;
  let share = largestShare(problem, values);
  let lower = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const local = onlyColumns(linearised(blades, points, unknowns, values), free);
    const found = boxMinimax(local, boundsAbout(moving, free, values), wide, gap);
    lower = Math.min(share, found.lower);
    const next = values.slice();
    free.forEach((p, q) => {
      next[p]! += unknowns[p]!.scale * found.step[q]!;
    });
    const reached = largestShare(problem, next);
    if (!(reached < share)) break;
    const gained = share - reached;
    values = next;
    share = reached;
    lower = Math.min(share, lower);
    if (gained < Math.max(STILL, gap)) break;
  }
  return { values, share, lower };
}

/** Places of the unknowns, those of index offsets before the others. */
export function indexFirst(unknowns: readonly Unknown[]): readonly number[] {
  const places = unknowns.map((_, p) => p);
  const isIndex = (p: number): boolean => unknowns[p]!.kind === 'index';
  return [...places.filter(isIndex), ...places.filter((p) => !isIndex(p))];
}

function boundsAbout(moving: readonly Unknown[], free: readonly number[], values: Float64Array): Bounds {
  const limit = (u: Unknown): number => (u.range.limit === null ? WIDE : u.range.limit / u.scale);
  return {
    lower: Float64Array.from(moving, (u, q) => -limit(u) - values[free[q]!]! / u.scale),
    upper: Float64Array.from(moving, (u, q) => limit(u) - values[free[q]!]! / u.scale),
  };
}

/** Which unknowns do something to the nominal blades that those before them do not. */
function independentUnknowns({ blades, points, unknowns }: SettingProblem): readonly boolean[] {
  const nominal = blades.map((b) => ({ ...b, error: AT_NOMINAL }));
  const { rows, size } = linearised(nominal, points, unknowns, new Float64Array(unknowns.length));
  // Cholesky of the Gram matrix: what is left of a column is the root of its pivot.
  const gram = new Float64Array(size * size);
  for (let row = 0; row < rows.length; row += size)
    for (let p = 0; p < size; p++) {
      const x = rows[row + p]!;
      if (x !== 0) for (let q = 0; q <= p; q++) gram[p * size + q]! += x * rows[row + q]!;
    }
  const kept = new Array<boolean>(size).fill(false);
  for (let p = 0; p < size; p++) {
    const before = Math.sqrt(gram[p * size + p]!);
    let pivot = gram[p * size + p]!;
    for (let q = 0; q < p; q++) {
      if (!kept[q]) continue;
      let sum = gram[p * size + q]!;
      for (let k = 0; k < q; k++) if (kept[k]) sum -= gram[p * size + k]! * gram[q * size + k]!;
      const entry = sum / gram[q * size + q]!;
      gram[p * size + q] = entry;
      pivot -= entry * entry;
    }
    const left = Math.sqrt(Math.max(0, pivot));
    kept[p] = left > MADE_UP * before && left >= MADE_UP;
    gram[p * size + p] = left;
  }
  return kept;
}

const AT_NOMINAL: Blade['error'] = {
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  translation: [0, 0, 0],
};

/**
 * The same blades with the mean of the index offsets of each tool's stations moved into the tool, or that of all stations into the
 * hub, where the limits allow.
 */
function withoutCommonIndex(
  problem: SettingProblem,
  values: Float64Array,
  independent: readonly boolean[],
): Float64Array {
  const { blades, unknowns } = problem;
  const groups = new Map<string, number[]>();
  unknowns.forEach((u, p) => {
    if (u.kind !== 'index') return;
    const tool = blades.find(u.moves)?.tool ?? '';
    groups.set(tool, [...(groups.get(tool) ?? []), p]);
  });
  const everything = [...groups.values()].flat();
  if (everything.length === 0 || unknowns.every((u) => u.kind === 'index')) return values;
  const parts = groups.size > 1 ? [...groups.values(), everything] : [everything];
  const others = unknowns.flatMap((u, p) =>
    independent[p] && u.kind !== 'index' && u.range.limit !== 0 ? [p] : [],
  );
  return parts.reduce((now, part) => moveMean(problem, now, part, others), values);
}

function moveMean(
  problem: SettingProblem,
  values: Float64Array,
  part: readonly number[],
  others: readonly number[],
): Float64Array {
  const { blades, points, unknowns } = problem;
  const mean = part.reduce((sum, p) => sum + values[p]!, 0) / part.length;
  if (mean === 0) return values;
  const { rows, size } = linearised(blades, points, unknowns, values);
  const effect = Float64Array.from({ length: rows.length / size }, (_, row) =>
    part.reduce((sum, p) => sum + (rows[row * size + p]! * mean) / unknowns[p]!.scale, 0),
  );
  const n = others.length;
  const gram = new Float64Array(n * n);
  const pull = new Float64Array(n);
  effect.forEach((e, row) => {
    for (let i = 0; i < n; i++) {
      const x = rows[row * size + others[i]!]!;
      pull[i]! += x * e;
      for (let k = 0; k <= i; k++) gram[i * n + k]! += x * rows[row * size + others[k]!]!;
    }
  });
  // A trace of stiffness keeps settings that do the same from running off against each other.
  for (let i = 0; i < n; i++) gram[i * n + i]! *= 1 + 1e-12;
  const change = choleskySolve(gram, pull, n);
  const next = values.slice();
  part.forEach((p) => {
    next[p]! -= mean;
  });
  others.forEach((p, i) => {
    next[p]! += unknowns[p]!.scale * change[i]!;
  });
  const within = unknowns.every(({ range }, p) => range.limit === null || Math.abs(next[p]!) <= range.limit);
  if (!within) return values;
  // The others once more for what bends.
  const moved = solve(
    problem,
    unknowns.map((_, p) => others.includes(p)),
    next,
  );
  return moved.share <= largestShare(problem, values) + BENT ? moved.values : values;
}
