/**
 * Draws of what scatters: a disc that has nothing but scatter, and this disc measured again.
 *
 * This disc again. Measured errors are ê = e + m + hub, m ~ N(0, C_k) from a blade's own points. The measurement that a correction
 * is fitted to is a stroke of luck in part: the blades that decide are those that noise pushed furthest, so that the best largest
 * position is too good. What is expected of the true errors e is therefore not ê but, where the scatter between stations is known,
 * the best linear prediction e = X·β + s, s ~ N(0, Σ_k) the scatter between stations and X what can be systematic (ring, tools, wear,
 * first index harmonics; β open): ê − C_k·V_k⁻¹·(ê − X·β̂), V_k = C_k + Σ_k. Draws about it are conditional on ê: with drawn s, m and
 * the β of their fit, the deviation is −m + C_k·V_k⁻¹·(s + m − X·β). The new measurement adds noise of its own; the hub is in
 * both measurements, with independent noise.
 *
 * Sources: G. K. Robinson, That BLUP is a good thing, Statistical Science 6 (1991) 15–32 (prediction of random effects); A. G. Journel,
 * C. J. Huijbregts, Mining Geostatistics (1978), VII.A (conditioning a drawing by its own prediction).
 */
import { applyTransposed } from '../../geometry/matrix.ts';
import type { Vec3 } from '../../geometry/types.ts';
import { cross } from '../../geometry/vector.ts';
import { choleskySolve } from '../../pattern/small-cholesky.ts';
import { ERRORS } from '../../pose/error-names.ts';
import type { Covariance6 } from '../../result.ts';
import { covarianceFactor } from '../../uncertainty/covariance-factor.ts';
import { type RandomGenerator, seededGenerator } from '../../uncertainty/random.ts';
import type { Scatter } from '../findings.ts';
import type { Blade } from './blades.ts';

export interface Disturbances {
  /** A disc with scatter and measurement noise alone: six errors a blade, one array a draw. */
  readonly scattered: readonly Float64Array[];
  /** This disc measured again: change of the measured six errors of each blade. */
  readonly again: readonly Float64Array[];
}

/** Enough for the ends of a 95 % interval to a tenth of a deviation. */
const DRAWS = 400;
const SEED = 20_101;
/** Data beyond the unknowns of the fit that a prediction needs; with fewer, the measured errors themselves are expected. */
const FEWEST_SPARE = 12;
/** Turns are weighed at this radius (mm) where numbers of the fit should be alike. */
const LEVER = 200;

/**
 * @param frame covariance of the hub frame's twist, displacement and turn about the disc origin; null: not known.
 * @param scatter null: no scatter between stations is known, only the measurement scatters.
 */
export function drawDisturbances(
  blades: readonly Blade[],
  frame: Covariance6 | null,
  scatter: Scatter | null,
): Disturbances {
  const generator = seededGenerator(SEED);
  const own = blades.map((b) => factorOf(b.own));
  const hub = frame === null ? [] : factorOf(frame);
  const twists = blades.map(discTwists);
  const prediction = scatter === null ? null : predictionOf(blades, twists, scatter);
  const scattered: Float64Array[] = [];
  const again: Float64Array[] = [];
  for (let n = 0; n < DRAWS; n++) {
    const s = drawScatter(generator, twists, scatter, prediction?.inflation ?? 1);
    const m = drawEach(generator, own);
    const second = drawEach(generator, own);
    const shared = drawShared(generator, blades, twists, hub);
    const both = s.map((x, i) => x + m[i]!);
    const pulled = prediction?.pull(both) ?? new Float64Array(both.length);
    scattered.push(both.map((x, i) => x + shared[i]!));
    again.push(
      both.map(
        (_, i) => second[i]! - m[i]! + pulled[i]! + Math.SQRT2 * shared[i]! - (prediction?.towards[i] ?? 0),
      ),
    );
  }
  return { scattered, again };
}

function factorOf(covariance: Covariance6): readonly (readonly number[])[] {
  return covarianceFactor(covariance);
}

/** Six errors of a blade for unit displacements along, and turns about, the axes of the disc frame. */
function discTwists({ nominal }: Blade): readonly (readonly number[])[] {
  const back = (v: Vec3): Vec3 => applyTransposed(nominal.rotation, v);
  const axes: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  return [
    ...axes.map((e) => [...back(e), 0, 0, 0]),
    ...axes.map((e) => [...back(cross(e, nominal.translation)), ...back(e)]),
  ];
}

function drawEach(
  { normal }: RandomGenerator,
  factors: readonly (readonly (readonly number[])[])[],
): Float64Array {
  const drawn = new Float64Array(6 * factors.length);
  factors.forEach((factor, k) => {
    const scores = Array.from({ length: factor[0]?.length ?? 0 }, normal);
    for (let i = 0; i < 6; i++)
      for (let c = 0; c < scores.length; c++) drawn[6 * k + i]! += factor[i]![c]! * scores[c]!;
  });
  return drawn;
}

function drawScatter(
  { normal }: RandomGenerator,
  twists: readonly (readonly (readonly number[])[])[],
  scatter: Scatter | null,
  inflation: number,
): Float64Array {
  const drawn = new Float64Array(6 * twists.length);
  if (scatter === null) return drawn;
  const size = Math.sqrt(inflation);
  twists.forEach((twist, k) => {
    const index = size * scatter.index * normal();
    for (let i = 0; i < 6; i++)
      drawn[6 * k + i] = size * scatter.process[i]! * normal() + index * twist[5]![i]!;
  });
  return drawn;
}

/** Hub frame, scale and temperature: one draw for all blades. */
function drawShared(
  { normal }: RandomGenerator,
  blades: readonly Blade[],
  twists: readonly (readonly (readonly number[])[])[],
  hub: readonly (readonly number[])[],
): Float64Array {
  const scores = Array.from({ length: hub[0]?.length ?? 0 }, normal);
  const twist = hub.map((row) => row.reduce((sum, x, c) => sum + x * scores[c]!, 0));
  const scale = normal();
  const drawn = new Float64Array(6 * blades.length);
  blades.forEach(({ measured }, k) => {
    const effect = measured.uncertainty?.scaleEffect;
    for (let i = 0; i < 6; i++) {
      let sum = scale * (effect?.[i] ?? 0);
      twist.forEach((x, p) => {
        sum -= x * twists[k]![p]![i]!;
      });
      drawn[6 * k + i] = sum;
    }
  });
  return drawn;
}

interface Prediction {
  /** C·V⁻¹·(y − X·β of the fit to y). */
  readonly pull: (y: Float64Array) => Float64Array;
  /** The same of the measured errors: what their expectation falls short of them. */
  readonly towards: Float64Array;
  /** Factor on the scatter's variances where the errors scatter about X more than they say. */
  readonly inflation: number;
}

function predictionOf(
  blades: readonly Blade[],
  twists: readonly (readonly (readonly number[])[])[],
  scatter: Scatter,
): Prediction | null {
  const design = designOf(blades, twists);
  const spare = 6 * blades.length - design.size;
  if (spare < FEWEST_SPARE) return null;
  const measured = Float64Array.from(
    blades.flatMap(({ measured: { error } }) => ERRORS.map((name) => error[name]!)),
  );
  const first = fitter(blades, twists, scatter, design, 1);
  const inflation = Math.max(1, first.squares(measured) / spare);
  const { pull } = inflation > 1 ? fitter(blades, twists, scatter, design, inflation) : first;
  return { pull, towards: pull(measured), inflation };
}

interface Design {
  readonly size: number;
  /** Columns of each blade: six numbers a column. */
  readonly columns: readonly (readonly (readonly number[])[])[];
}

function designOf(blades: readonly Blade[], twists: readonly (readonly (readonly number[])[])[]): Design {
  const tools = [...new Set(blades.map((b) => b.tool))];
  const wears = blades.some((b) => b.age > 0);
  const orders = [1, 2].filter((h) => 2 * h < blades.length);
  const unit = (i: number, size: number): number[] =>
    Array.from({ length: 6 }, (_, k) => (k === i ? (i < 3 ? size : size / LEVER) : 0));
  const columns = blades.map((b, k) => {
    const twist = twists[k]!;
    const theta = b.definition.angle;
    const scaled = (column: readonly number[], by: number): number[] => column.map((x) => (by * x) / LEVER);
    return [
      twist[0]!,
      twist[1]!,
      scaled(twist[3]!, 1),
      scaled(twist[4]!, 1),
      ...tools.flatMap((tool) => [0, 1, 2, 3, 4, 5].map((i) => unit(i, tool === b.tool ? 1 : 0))),
      ...(wears ? [0, 1, 2, 3, 4, 5].map((i) => unit(i, b.age / blades.length)) : []),
      ...orders.flatMap((h) => [
        scaled(twist[5]!, Math.cos(h * theta)),
        scaled(twist[5]!, Math.sin(h * theta)),
      ]),
    ];
  });
  return { size: columns[0]?.length ?? 0, columns };
}

function fitter(
  blades: readonly Blade[],
  twists: readonly (readonly (readonly number[])[])[],
  scatter: Scatter,
  { size, columns }: Design,
  inflation: number,
): { readonly pull: (y: Float64Array) => Float64Array; readonly squares: (y: Float64Array) => number } {
  const variances = blades.map(({ own }, k) =>
    Float64Array.from({ length: 36 }, (_, at) => {
      const [i, j] = [Math.floor(at / 6), at % 6];
      const d = twists[k]![5]!;
      const process = i === j ? scatter.process[i]! ** 2 : 0;
      return own[i]![j]! + inflation * (process + scatter.index ** 2 * d[i]! * d[j]!);
    }),
  );
  const inverses = variances.map((v) => inverseOf(v, 6));
  /** V⁻¹·X, columns of each blade, six numbers each. */
  const flat = columns.map((list) => Float64Array.from(list.flatMap((column) => [...column])));
  const weighted = flat.map((list, k) => {
    const out = new Float64Array(list.length);
    for (let p = 0; p < size; p++) multiplyInto(inverses[k]!, list, 6 * p, out, 6 * p);
    return out;
  });
  const gram = new Float64Array(size * size);
  flat.forEach((list, k) => {
    for (let p = 0; p < size; p++)
      for (let q = 0; q <= p; q++)
        for (let i = 0; i < 6; i++) gram[p * size + q]! += list[6 * p + i]! * weighted[k]![6 * q + i]!;
  });
  const inverse = inverseOf(gram, size);
  const own = blades.map((b) => Float64Array.from(b.own.flatMap((row) => [...row])));
  /** V⁻¹·(y − X·β) of each blade. */
  const rest = (y: Float64Array): Float64Array => {
    const side = new Float64Array(size);
    weighted.forEach((list, k) => {
      for (let p = 0; p < size; p++) for (let i = 0; i < 6; i++) side[p]! += list[6 * p + i]! * y[6 * k + i]!;
    });
    const beta = new Float64Array(size);
    for (let p = 0; p < size; p++)
      for (let q = 0; q < size; q++) beta[p]! += inverse[p * size + q]! * side[q]!;
    const out = new Float64Array(y.length);
    const left = new Float64Array(6);
    flat.forEach((list, k) => {
      for (let i = 0; i < 6; i++) {
        left[i] = y[6 * k + i]!;
        for (let p = 0; p < size; p++) left[i]! -= list[6 * p + i]! * beta[p]!;
      }
      multiplyInto(inverses[k]!, left, 0, out, 6 * k);
    });
    return out;
  };
  return {
    pull: (y) => {
      const pulled = new Float64Array(y.length);
      const v = rest(y);
      own.forEach((matrix, k) => {
        multiplyInto(matrix, v, 6 * k, pulled, 6 * k);
      });
      return pulled;
    },
    squares: (y) => rest(y).reduce((sum, v, i) => sum + v * y[i]!, 0),
  };
}

/** 6 × 6 times six numbers. */
function multiplyInto(
  matrix: Float64Array,
  from: Float64Array,
  at: number,
  to: Float64Array,
  toAt: number,
): void {
  for (let i = 0; i < 6; i++) {
    let sum = 0;
    for (let j = 0; j < 6; j++) sum += matrix[6 * i + j]! * from[at + j]!;
    to[toAt + i] = sum;
  }
}

/** Inverse of a symmetric matrix by its lower triangle; zero for what it does not determine. */
function inverseOf(lower: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let c = 0; c < n; c++) {
    const unit = new Float64Array(n);
    unit[c] = 1;
    inverse.set(choleskySolve(lower, unit, n), c * n);
  }
  return inverse;
}
