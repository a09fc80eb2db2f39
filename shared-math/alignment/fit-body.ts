/**
 * The rigid motion that carries nominal features onto measured points, all at once: it minimises
 * Σ w·(distance of each point from its nominal feature)².
 *
 * Serves the best-fit pose of a blade and the rough alignment of a disc. Parameters are local: a turn about the middle of
 * the nominal features and a shift, composed on the nominal side of the motion; a mid-plane adds its free half width.
 * Source: Gauss–Newton on a local chart of SE(3), after Lynch & Park, Modern Robotics (2017), ch. 3; the solver names its own.
 */
import { solveLeastSquares } from '../association/solver.ts';
import type { TriangularFactor } from '../association/triangular-factor.ts';
import { ReductionError } from '../errors.ts';
import { apply } from '../geometry/matrix.ts';
import { applyToPoint, compose, inverse } from '../geometry/rigid-motion.ts';
import { rotationFromVector } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { add, cross, distance, scale, subtract } from '../geometry/vector.ts';
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
}

/**
 * Singular values below this fraction of the largest are freedoms that the features do not observe. Symmetric nominal
 * features leave 1e-15; two features meant to fix a freedom differ in direction by far more than 1e-8 rad.
 */
export const UNOBSERVED = 1e-8;

/** Size of a reported free motion, relative to the size of the features. */
export const FREE_MOTION_SIZE = 1e-6;

interface BodyState {
  readonly motion: RigidMotion;
  /** Free half width of each mid-plane among the targets, in order; the first face lies at +half width. */
  readonly halfWidths: readonly number[];
}

/**
 * @param targets nominal features and their points.
 * @param start motion near enough for its fit to settle in the right minimum.
 * @throws ReductionError `too-few-points` without points, `not-converged` of the solver.
 */
export function fitBody(targets: readonly FeatureTarget[], start: RigidMotion): BodyFit {
  const points = targets.reduce((n, t) => n + t.inputs.reduce((m, i) => m + i.xyz.length / 3, 0), 0);
  if (points === 0)
    throw new ReductionError('too-few-points', 'There are no points to fit.', 'Measure the features.');
  const centre = middle(targets);
  const size = sizeAbout(targets, centre, start);
  const midplanes = targets.filter((t) => t.datum.type === 'midplane');
  const parameters = 6 + midplanes.length;
  let rowsUsed = 0;

  const solution = solveLeastSquares<BodyState>(
    {
      parameters,
      evaluate: (state, rows) => {
        rowsUsed = pushRows(targets, state, centre, size, rows);
      },
      move: (state, step) => moveBody(state, step, centre, size),
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
      centre,
      size,
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
  };
}

const IDENTITY = rotationFromVector([0, 0, 0]);

/** Step: rotation vector about the centre, shift in units of `size`, half widths in units of `size`. */
function moveBody(state: BodyState, step: Float64Array, centre: Vec3, size: number): BodyState {
  const rotation = rotationFromVector([step[0]!, step[1]!, step[2]!]);
  const shift: Vec3 = [step[3]! * size, step[4]! * size, step[5]! * size];
  const local: RigidMotion = { rotation, translation: add(subtract(centre, apply(rotation, centre)), shift) };
  return {
    motion: compose(state.motion, local),
    halfWidths: state.halfWidths.map((w, k) => w + step[6 + k]! * size),
  };
}

/** Returns the number of rows. A small local motion (ρ, v) moves the point in nominal coordinates by −ρ × (q − c) − v. */
function pushRows(
  targets: readonly FeatureTarget[],
  { motion, halfWidths }: BodyState,
  centre: Vec3,
  size: number,
  rows: TriangularFactor,
): number {
  const back = inverse(motion);
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
          for (let k = 0; k < 3; k++) {
            row[k] = w * turn[k]!;
            row[3 + k] = -w * size * gradient[k]!;
          }
          if (side !== 0) row[6 + midplane] = -w * size * side;
          row[row.length - 1] = w * value;
          rows.push();
          count++;
        }
      }
    });
  }
  return count;
}

function middle(targets: readonly FeatureTarget[]): Vec3 {
  const sum = targets.reduce<Vec3>((s, t) => add(s, t.nominal.point), [0, 0, 0]);
  return scale(sum, 1 / targets.length);
}

/** Root mean square distance of the points from the centre, mm: turns times this are comparable with shifts. */
function sizeAbout(targets: readonly FeatureTarget[], centre: Vec3, start: RigidMotion): number {
  const image = applyToPoint(start, centre);
  let [squares, n] = [0, 0];
  for (const { inputs } of targets)
    for (const { xyz } of inputs)
      for (let i = 0; i < xyz.length; i += 3) {
        squares += distance([xyz[i]!, xyz[i + 1]!, xyz[i + 2]!], image) ** 2;
        n++;
      }
  return Math.sqrt(squares / n) || 1;
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
