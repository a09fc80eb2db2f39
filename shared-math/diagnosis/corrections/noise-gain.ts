/**
 * What scatter alone would offer: the gain that a correction with the same settings makes on discs that have nothing but scatter.
 * A correction whose gain is no larger may be fitted to scatter that the next disc will not repeat.
 *
 * On each drawn disc the minimax is approached by weighted least squares, the weights multiplied by the residuals (Lawson). The few
 * rounds taken end within a few percent of it, which is enough for a quantile of what differs from disc to disc by half.
 *
 * Source: C. L. Lawson (1961), in J. R. Rice, The Approximation of Functions 2 (1969), 13-2.
 */
import { choleskySolve } from '../../pattern/small-cholesky.ts';
import { indexFirst, type SettingProblem } from './best-settings.ts';
import { errorSlopes, quantile } from './re-measured.ts';
import { linearised } from './setting-motion.ts';

const DISCS = 150;
const ROUNDS = 8;

const STIFFNESS = 1e-6;
/** A third of a percent above the optimum is close enough for what differs from disc to disc by half. */
const CLOSE = 1.003;

/** A block with its structure ready for many solutions. */
interface Block {
  readonly points: readonly { readonly blade: number; readonly slopes: readonly (readonly number[])[] }[];
  /** mm of position that a share of 1 is. */
  readonly sizes: readonly number[];
  readonly size: number;
  /** Three a point: the entries of its `columns`. */
  readonly rows: readonly Float64Array[];
  /** Unknowns that move each point. */
  readonly columns: readonly Int32Array[];
  /** Largest change of each unknown, in its scale. */
  readonly limits: readonly number[];
}

/**
 * Quantile at `coverage` of the gain (mm of the largest position) on discs of scatter alone.
 *
 * @param blocks parts of the correction that do not touch each other, each with the unknowns that it uses.
 * @param scattered draws of the six errors of every blade.
 */
export function gainFromScatter(
  blocks: readonly SettingProblem[],
  scattered: readonly Float64Array[],
  coverage: number,
): number {
  const prepared = blocks.map(prepare);
  const gains = scattered.slice(0, DISCS).map((errors) => {
    let [before, after] = [0, 0];
    for (const block of prepared) {
      const found = approach(block, errors, after);
      before = Math.max(before, found.before);
      after = Math.max(after, found.after);
    }
    return before - after;
  });
  return quantile(
    [...gains].sort((a, b) => a - b),
    coverage,
  );
}

function prepare({ blades, points, unknowns: given }: SettingProblem): Block {
  const unknowns = indexFirst(given).map((p) => given[p]!);
  const { rows, size } = linearised(blades, points, unknowns, new Float64Array(unknowns.length));
  const columns = points.map((point) =>
    Int32Array.from(unknowns.flatMap((u, p) => (u.moves(blades[point.blade]!) ? [p] : []))),
  );
  return {
    points: points.map(({ blade, at, directions }) => ({
      blade,
      slopes: directions.map((d) => errorSlopes(d, at)),
    })),
    sizes: points.map((p) => p.tolerance),
    size,
    rows: Array.from({ length: 3 * points.length }, (_, row) =>
      Float64Array.from(columns[Math.floor(row / 3)]!, (p) => rows[row * size + p]!),
    ),
    columns,
    limits: unknowns.map(({ range, scale }) =>
      range.limit === null ? Number.POSITIVE_INFINITY : range.limit / scale,
    ),
  };
}

/**
 * Largest position (mm) before, and with the best settings found.
 *
 * @param enough a position that other blades keep anyway: less need not be looked for.
 */
function approach(
  block: Block,
  errors: Float64Array,
  enough: number,
): { readonly before: number; readonly after: number } {
  const { points, sizes, size, rows, columns, limits } = block;
  const offsets = new Float64Array(3 * points.length);
  points.forEach(({ blade, slopes }, j) => {
    slopes.forEach((slope, c) => {
      let sum = 0;
      for (let i = 0; i < 6; i++) sum += slope[i]! * errors[6 * blade + i]!;
      offsets[3 * j + c] = (2 / sizes[j]!) * sum;
    });
  });
  const weights = new Float64Array(points.length).fill(1);
  const lengths = new Float64Array(points.length);
  const largest = Math.max(...sizes);
  const before = largest * longestAt(block, offsets, new Float64Array(size), lengths);
  let after = before;
  const clamped = (value: number, p: number): number => Math.min(Math.max(value, -limits[p]!), limits[p]!);
  const gram = new Float64Array(size * size);
  const pull = new Float64Array(size);
  for (let round = 0; round < ROUNDS && after > enough; round++) {
    gram.fill(0);
    pull.fill(0);
    for (let j = 0; j < points.length; j++) {
      const moving = columns[j]!;
      const w = weights[j]!;
      for (let c = 0; c < points[j]!.slopes.length; c++) {
        const own = rows[3 * j + c]!;
        const offset = offsets[3 * j + c]!;
        for (let a = 0; a < moving.length; a++) {
          const p = moving[a]!;
          const scaled = w * own[a]!;
          pull[p]! -= scaled * offset;
          for (let b = 0; b <= a; b++) gram[p * size + moving[b]!]! += scaled * own[b]!;
        }
      }
    }
    // A trace of stiffness keeps settings that do the same from running off against each other.
    for (let p = 0; p < size; p++) gram[p * size + p]! *= 1 + STIFFNESS;
    const x = choleskySolve(gram, pull, size);
    let longest = longestAt(block, offsets, x.map(clamped), lengths);
    if (x.some((value, p) => Math.abs(value) > limits[p]!)) {
      // Shortened as a whole the step keeps what its settings do together.
      const part = Math.min(1, ...limits.map((limit, p) => limit / Math.abs(x[p]!)).filter(Number.isFinite));
      const shortened = longestAt(
        block,
        offsets,
        x.map((value) => part * value),
        lengths,
      );
      longest = Math.min(longest, shortened);
    }
    after = Math.min(after, largest * longest);
    if (!(longest > 0)) break;
    // No settings make the largest smaller than the weighted root mean square at its own best settings.
    let [squares, whole] = [0, 0];
    for (let j = 0; j < points.length; j++) {
      squares += weights[j]! * lengths[j]! * lengths[j]!;
      whole += weights[j]!;
    }
    if (longest < CLOSE * Math.sqrt(squares / whole)) break;
    for (let j = 0; j < points.length; j++) weights[j]! *= lengths[j]! / longest;
  }
  return { before, after };
}

function longestAt(
  { points, rows, columns }: Block,
  offsets: Float64Array,
  x: Float64Array,
  lengths: Float64Array,
): number {
  let most = 0;
  for (let j = 0; j < points.length; j++) {
    let squares = 0;
    for (let c = 0; c < points[j]!.slopes.length; c++) {
      const own = rows[3 * j + c]!;
      const moving = columns[j]!;
      let along = offsets[3 * j + c]!;
      for (let a = 0; a < moving.length; a++) along += own[a]! * x[moving[a]!]!;
      squares += along * along;
    }
    lengths[j] = Math.sqrt(squares);
    most = Math.max(most, lengths[j]!);
  }
  return most;
}
