/**
 * Settings on the grid of their steps. The nearest grid point is rarely the best: settings are fixed one after the other, coarsest
 * first, each at the neighbour that leaves the others the better optimum, which is then found anew; a search among the
 * neighbours of one and of two settings at a time follows. Settings without a step take up what is left. The largest share is the
 * exact one in the end; its distance from the optimum without steps bounds what another rounding could still gain.
 */
import type { NormProblem } from '../../pattern/norm-problem.ts';
import { lengthOver, residuals } from '../../pattern/norm-problem.ts';
import { type BestSettings, largestShare, type SettingProblem, solve } from './best-settings.ts';
import { linearised } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/** More settings than this are not fixed one after the other: each takes two solutions. */
const MOST_FIXED_IN_TURN = 24;
/** Shares of the tolerance to which these solutions need to be good. */
const ROUGH_GAP = 1e-3;
const SEARCHES = 40;
/** Shares of a tolerance that differ by less are equal. */
const EQUAL = 1e-9;

/**
 * Best settings on the grid near the best settings without it.
 *
 * @param others settings on the grid that are known already; the result is no worse than any of them.
 */
export function roundedSettings(
  problem: SettingProblem,
  exact: BestSettings,
  others: readonly Float64Array[] = [],
): Float64Array {
  const { unknowns } = problem;
  const stepped = unknowns.map((u, p) => u.range.step !== null && exact.values[p] !== 0);
  if (!stepped.some(Boolean)) return exact.values;
  const untouched = exact.values.map((x, p) => (stepped[p] ? 0 : x));
  const starts = [nearest(unknowns, exact.values), untouched, ...others];
  const inTurn = unknowns.flatMap((u, p) => (stepped[p] && u.kind !== 'index' ? [p] : []));
  if (inTurn.length > 0 && inTurn.length <= MOST_FIXED_IN_TURN)
    starts.push(fixedInTurn(problem, exact, inTurn));
  const found = starts.map((start) => rest(problem, exact, neighbourSearch(problem, start, stepped)));
  const shares = found.map((values) => largestShare(problem, values));
  return found[shares.indexOf(Math.min(...shares))]!;
}

function nearest(unknowns: readonly Unknown[], values: Float64Array): Float64Array {
  return values.map((x, p) => onGrid(unknowns[p]!, x));
}

/** The nearest multiple of the step within the limit. */
function onGrid({ range: { step, limit } }: Unknown, value: number): number {
  if (step === null) return value;
  const most = limit === null ? Number.POSITIVE_INFINITY : Math.floor(limit / step + 1e-9);
  const steps = Math.min(Math.max(Math.round(value / step), -most), most);
  return steps === 0 ? 0 : steps * step;
}

function allowed({ range: { limit } }: Unknown, value: number): boolean {
  return limit === null || Math.abs(value) <= limit * (1 + 1e-9);
}

function fixedInTurn(problem: SettingProblem, exact: BestSettings, inTurn: readonly number[]): Float64Array {
  const { unknowns } = problem;
  const order = [...inTurn].sort((p, q) => coarseness(unknowns[q]!) - coarseness(unknowns[p]!));
  const open = unknowns.map((_, p) => exact.values[p] !== 0);
  let values = exact.values;
  for (const p of order) {
    const step = unknowns[p]!.range.step!;
    open[p] = false;
    const below = Math.floor(values[p]! / step) * step;
    const tries = [below, below + step]
      .filter((x) => allowed(unknowns[p]!, x))
      .map((x) => solve(problem, open, withValue(values, p, x), ROUGH_GAP));
    const best = tries.reduce<BestSettings | null>((a, b) => (a === null || b.share < a.share ? b : a), null);
    values = best?.values ?? withValue(values, p, onGrid(unknowns[p]!, values[p]!));
  }
  return nearest(unknowns, values);
}

function coarseness({ range, scale }: Unknown): number {
  return range.step! / scale;
}

function withValue(values: Float64Array, p: number, value: number): Float64Array {
  const next = values.slice();
  next[p] = value;
  return next;
}

/** One step up or down of one setting, or of two at a time, as long as the largest share (then the sum of squares) falls. */
function neighbourSearch(
  { blades, points, unknowns }: SettingProblem,
  start: Float64Array,
  stepped: readonly boolean[],
): Float64Array {
  const problem = linearised(blades, points, unknowns, start);
  const grid = unknowns.flatMap((_, p) => (stepped[p] ? [p] : []));
  // Index offsets follow tool and hub one at a time.
  const paired = grid.filter((p) => unknowns[p]!.kind !== 'index');
  const pairs = paired.flatMap((p, i) => paired.slice(i + 1).map((q) => [p, q] as const));
  const values = start.slice();
  const x = new Float64Array(unknowns.length);
  const score = (): readonly [number, number] => scoreOf(problem, x);
  let now = score();
  const attempt = (moves: readonly (readonly [number, number])[]): boolean => {
    for (const [p, sign] of moves)
      if (!allowed(unknowns[p]!, values[p]! + sign * unknowns[p]!.range.step!)) return false;
    const shift = (by: number): void => {
      for (const [p, sign] of moves) x[p]! += (by * sign * unknowns[p]!.range.step!) / unknowns[p]!.scale;
    };
    shift(1);
    const next = score();
    const better = next[0] < now[0] - EQUAL || (next[0] < now[0] + EQUAL && next[1] < now[1] - EQUAL);
    if (!better) {
      shift(-1);
      return false;
    }
    now = next;
    for (const [p, sign] of moves) values[p]! += sign * unknowns[p]!.range.step!;
    return true;
  };
  for (let search = 0; search < SEARCHES; search++) {
    let better = false;
    for (const p of grid) for (const sign of [-1, 1]) better = attempt([[p, sign]]) || better;
    if (!better)
      for (const [p, q] of pairs)
        for (const a of [-1, 1])
          for (const b of [-1, 1]) {
            const moves = [
              [p, a],
              [q, b],
            ] as const;
            better = attempt(moves) || better;
          }
    if (!better) break;
  }
  return nearest(unknowns, values);
}

function scoreOf(problem: NormProblem, x: Float64Array): readonly [number, number] {
  const r = new Float64Array(3 * problem.count);
  residuals(
    problem,
    Array.from({ length: problem.count }, (_, j) => j),
    x,
    r,
  );
  return [lengthOver(problem, x, null), r.reduce((sum, v) => sum + v * v, 0)];
}

/** Settings without a step once more, about those that are on the grid. */
function rest(problem: SettingProblem, exact: BestSettings, values: Float64Array): Float64Array {
  const open = problem.unknowns.map((u, p) => u.range.step === null && exact.values[p] !== 0);
  return open.some(Boolean) ? solve(problem, open, values).values : values;
}
