/**
 * The rigid motion that carries nominal features onto measured points, all at once: it minimises
 * Σ w·(distance of each point from its nominal feature)².
 *
 * Serves the best-fit pose of a blade and the rough alignment of a disc. Parameters are local: a turn about the middle of
 * the nominal features and a shift, composed on the nominal side of the motion; a mid-plane adds its free half width.
 * Source: Gauss–Newton on a local chart of SE(3), after Lynch & Park, Modern Robotics (2017), ch. 3; the solver names its own.
 */
import { leverSize } from '../association/lever-size.ts';
import { solveLeastSquares } from '../association/solver.ts';
import type { TriangularFactor } from '../association/triangular-factor.ts';
import { ReductionError } from '../errors.ts';
import { apply } from '../geometry/matrix.ts';
import { applyToPoint, compose, inverse } from '../geometry/rigid-motion.ts';
import { rotationFromVector } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { add, addScaled, cross, dot, scale, subtract } from '../geometry/vector.ts';
import { distanceRows } from './nominal-distance.ts';
import type { FeatureTarget } from './targets.ts';

export interface BodyFit {
  /** Carries nominal coordinates into measured coordinates. */
  readonly motion: RigidMotion;
  /** √(Σ w·d² / number of rows), mm. */
  readonly rms: number;
  readonly points: number;
  /** Σ w·d², and the number of distances less the parameters that they determine. */
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly iterations: number;
  /**
   * Small motions of the nominal side (about 1e-6 of its size) that leave every distance unchanged: freedoms that the
   * features cannot observe. Empty where all six are observed.
   */
  readonly freeMotions: readonly RigidMotion[];
  /** Half width of each mid-plane among the targets, in order. */
  readonly halfWidths: readonly number[];
  /** Largest over smallest singular value of the freedoms that are observed. */
  readonly conditionNumber: number;
}

/**
 * Singular values below this fraction of the largest are freedoms that the features do not observe. Symmetric nominal
 * features leave 1e-15; two features meant to fix a freedom differ in direction by far more than 1e-8 rad.
 */
export const UNOBSERVED = 1e-8;

/** Size of a reported free motion, relative to the size of the features. */
export const FREE_MOTION_SIZE = 1e-6;

export interface BodyFitOptions {
  /**
   * Orthonormal directions, nominal coordinates, about which the motion may turn and along which it may shift; all three
   * by default. What the features cannot observe is best left out: rounding alone would set it.
   */
  readonly turns?: readonly Vec3[];
  readonly shifts?: readonly Vec3[];
}

interface BodyState {
  readonly motion: RigidMotion;
  /** Free half width of each mid-plane among the targets, in order; the first face lies at +half width. */
  readonly halfWidths: readonly number[];
}

/**
 * @param targets nominal features and their points.
 * @param start motion near enough for its fit to settle in the right minimum.
 * @param options which turns are free; a pattern of features that is a later datum keeps those of the earlier ones.
 * @throws ReductionError `too-few-points` without points, `not-converged` of the solver.
 */
export function fitBody(
  targets: readonly FeatureTarget[],
  start: RigidMotion,
  { turns = AXES, shifts = AXES }: BodyFitOptions = {},
): BodyFit {
  const points = targets.reduce((n, t) => n + t.inputs.reduce((m, i) => m + i.xyz.length / 3, 0), 0);
  if (points === 0)
    throw new ReductionError('too-few-points', 'There are no points to fit.', 'Measure the features.');
  const centre = middle(targets);
  const size = leverSize(
    targets.flatMap((t) => t.inputs),
    applyToPoint(start, centre),
  );
  const midplanes = targets.filter((t) => t.datum.type === 'midplane');
  const chart = { centre, size, turns, shifts };
  const parameters = turns.length + shifts.length + midplanes.length;
  let rowsUsed = 0;

  const solution = solveLeastSquares<BodyState>(
    {
      parameters,
      evaluate: (state, rows) => {
        rowsUsed = pushRows(targets, state, chart, rows);
        forgetRounding(rows, parameters);
      },
      move: (state, step) => moveBody(state, step, chart),
    },
    { motion: start, halfWidths: midplanes.map((t) => startingHalfWidth(t, start)) },
    { rankTolerance: UNOBSERVED },
  );
  const freeMotions = solution.rightVectors.slice(solution.rank).map((v) => {
    const still: BodyState = {
      motion: { rotation: IDENTITY, translation: [0, 0, 0] },
      halfWidths: midplanes.map(() => 0),
    };
    return moveBody(
      still,
      Float64Array.from(v, (x) => x * FREE_MOTION_SIZE),
      chart,
    ).motion;
  });
  return {
    motion: solution.state.motion,
    rms: Math.sqrt(solution.sumOfSquares / rowsUsed),
    points,
    sumOfSquares: solution.sumOfSquares,
    degreesOfFreedom: rowsUsed - solution.rank,
    iterations: solution.iterations,
    freeMotions,
    halfWidths: solution.state.halfWidths,
    conditionNumber: solution.singularValues[0]! / solution.singularValues[Math.max(0, solution.rank - 1)]!,
  };
}

const IDENTITY = rotationFromVector([0, 0, 0]);
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Local parameters of a body: where it turns, about what, along what it shifts, and the unit of its shifts. */
interface Chart {
  readonly centre: Vec3;
  readonly size: number;
  readonly turns: readonly Vec3[];
  readonly shifts: readonly Vec3[];
}

/** Step: turns about their directions through the centre, shift in units of `size`, half widths in units of `size`. */
function moveBody(state: BodyState, step: Float64Array, { centre, size, turns, shifts }: Chart): BodyState {
  const along = (directions: readonly Vec3[], from: number, unit: number): Vec3 =>
    directions.reduce<Vec3>((sum, d, k) => addScaled(sum, d, unit * step[from + k]!), [0, 0, 0]);
  const rotation = rotationFromVector(along(turns, 0, 1));
  const shift = along(shifts, turns.length, size);
  const local: RigidMotion = { rotation, translation: add(subtract(centre, apply(rotation, centre)), shift) };
  return {
    motion: compose(state.motion, local),
    halfWidths: state.halfWidths.map((w, k) => w + step[turns.length + shifts.length + k]! * size),
  };
}

/** Returns the number of rows. A small local motion (ρ, v) moves the point in nominal coordinates by −ρ × (q − c) − v. */
function pushRows(
  targets: readonly FeatureTarget[],
  { motion, halfWidths }: BodyState,
  { centre, size, turns, shifts }: Chart,
  rows: TriangularFactor,
): number {
  const back = inverse(motion);
  const widths = turns.length + shifts.length;
  let count = 0;
  let midplane = -1;
  for (const { datum, nominal, inputs } of targets) {
    if (datum.type === 'midplane') midplane++;
    inputs.forEach(({ xyz, offsets, weights }, face) => {
      const side = datum.type === 'midplane' ? (face === 0 ? 1 : -1) : 0;
      const stand = side === 0 ? 0 : side * halfWidths[midplane]!;
      for (let i = 0; 3 * i < xyz.length; i++) {
        const q = applyToPoint(back, [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!]);
        const lever = subtract(q, centre);
        const w = weights ? Math.sqrt(weights[i]!) : 1;
        for (const { value, gradient } of distanceRows(datum.type, nominal, q, (offsets?.[i] ?? 0) + stand)) {
          const turn = cross(gradient, lever);
          const { row } = rows;
          row.fill(0);
          turns.forEach((direction, k) => {
            row[k] = w * dot(turn, direction);
          });
          shifts.forEach((direction, k) => {
            row[turns.length + k] = -w * size * dot(gradient, direction);
          });
          if (side !== 0) row[widths + midplane] = -w * size * side;
          row[row.length - 1] = w * value;
          rows.push();
          count++;
        }
      }
    });
  }
  return count;
}

/**
 * Clears the columns of parameters that change no distance but by rounding, such as the turn about the axis of a pin that
 * lies along a coordinate axis. The solver scales columns to like size, and would take such a column for a freedom.
 */
function forgetRounding(rows: TriangularFactor, parameters: number): void {
  rows.finish();
  const { columns, entries } = rows;
  const norms = Array.from({ length: parameters }, (_, j) =>
    Math.hypot(...Array.from({ length: j + 1 }, (__, i) => rows.at(i, j))),
  );
  const largest = Math.max(...norms);
  norms.forEach((norm, j) => {
    if (norm < UNOBSERVED * largest) for (let i = 0; i <= j; i++) entries[i * columns + j] = 0;
  });
}

function middle(targets: readonly FeatureTarget[]): Vec3 {
  const sum = targets.reduce<Vec3>((s, t) => add(s, t.nominal.point), [0, 0, 0]);
  return scale(sum, 1 / targets.length);
}

function startingHalfWidth({ nominal, inputs }: FeatureTarget, start: RigidMotion): number {
  const back = inverse(start);
  const means = inputs.map(({ xyz }) => {
    let sum = 0;
    for (let i = 0; i < xyz.length; i += 3) {
      const q = applyToPoint(back, [xyz[i]!, xyz[i + 1]!, xyz[i + 2]!]);
      sum += distanceRows('midplane', nominal, q, 0)[0]!.value;
    }
    return (3 * sum) / xyz.length;
  });
  return (means[0]! - means[1]!) / 2;
}
