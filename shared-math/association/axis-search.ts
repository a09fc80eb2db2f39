/**
 * Finds the axis of a cylinder or cone without falling into a wrong local minimum.
 *
 * A given start that leads to a believable minimum close by is taken. Otherwise many directions are tried: a narrow fan
 * about the start, the principal axes, the axes of a general quadric through the points, those that the curvature of a
 * short arc suggests, an even fan over the hemisphere and the same fan stretched like the cloud itself (it resolves
 * the narrow valley of long thin features). Each gets its axis position and radius in closed form; the most
 * promising are solved on a sample, the best of those on all points, and the lowest sum of squares wins, unless the
 * minimum near the given start is as good within the noise that few points allow.
 */
import { ReductionError } from '../errors.ts';
import { dot } from '../geometry/vector.ts';
import { candidateDirections } from './axis-directions.ts';
import {
  type AxisNominal,
  apart,
  bySum,
  type Rated,
  ranked,
  startsAround,
  statesAlong,
} from './axis-starts.ts';
import { type Cloud, type PrincipalAxes, sampleOf } from './cloud.ts';
import type { DirectionFreedom } from './direction.ts';
import { type RevolutionState, revolutionProblem } from './revolution.ts';
import { type LeastSquaresSolution, solveLeastSquares } from './solver.ts';

/** Points that rate a direction, and on which the promising ones are solved first. */
const RATING_SAMPLE = 128;
/** Points on which the last candidates are told apart before all points are used. */
const SELECTION_SAMPLE = 4000;
/** Directions solved of each way of finding a start. */
const SOLVED_STARTS = 12;
/** The same where the first round leaves doubt. */
const DOUBTED_STARTS = 40;
/** Minima within this factor of the lowest sum on the sample stay in the race. */
const RIVAL_FACTOR = 4;
const RIVALS = 3;
/** The earlier start's minimum stands unless another is lower by more than rounding. */
const TIE = 1e-9;
/**
 * Noise of a believable fit against the smallest spread of the points: a wrong minimum leaves a good part of the
 * spread, right ones leave less than this for noise up to 1e-3 of the sagitta.
 */
const BELIEVABLE = 0.005;
/** cos 6°: a minimum this near to the given start is the one that was meant … */
const NEAR = 0.9945;
/** … if the points could have contradicted it: the share of residuals left free by the parameters. */
const ENOUGH_FREEDOM = 0.3;
/**
 * A few points more than parameters let minima far from the stated direction be lower by chance; the near one then stands if
 * its sum is within this factor (ten in the residuals).
 */
const COMPARABLE = 100;

/** First damping from a start of unknown quality, and from the solution on a sample of the same points. */
const FAR_DAMPING = 1e-4;
const NEAR_DAMPING = 1e-8;

type Solution = LeastSquaresSolution<RevolutionState>;

/**
 * The lowest minimum found.
 * @throws ReductionError `not-converged` where no start leads to a minimum
 */
export function searchAxis(
  cloud: Cloud,
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
  nominal: AxisNominal,
): Solution {
  const sample = sampleOf(cloud, RATING_SAMPLE);
  const conical = nominal.halfAngle !== null;
  const freeShare = 1 - (3 + freedom.size + (conical ? 1 : 0)) / sample.points;
  const noise = BELIEVABLE * axes.spreads[2];
  const believable = noise * noise * freeShare * (sample.totalWeight / cloud.totalWeight);

  let rivals = solutionsOnSample(sample, axes, freedom, nominal, believable, freeShare >= ENOUGH_FREEDOM);
  if (sample.points < cloud.points) {
    const selection = sampleOf(cloud, SELECTION_SAMPLE);
    rivals = distinct(solveAll(selection, freedom, conical, rivals.slice(0, RIVALS), NEAR_DAMPING));
    if (selection.points < cloud.points)
      rivals = solveAll(cloud, freedom, conical, rivals.slice(0, 1), NEAR_DAMPING);
  }
  const best = rivals[0];
  if (!best) {
    throw ReductionError.of('not-converged', {
      code: 'directions-not-settled',
      values: { what: conical ? 'cone' : 'cylinder' },
    });
  }
  return best;
}

function solutionsOnSample(
  sample: Cloud,
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
  nominal: AxisNominal,
  believable: number,
  trustNear: boolean,
): Solution[] {
  const { start } = freedom;
  const conical = nominal.halfAngle !== null;
  const rate = (direction: RevolutionState['direction']): Rated[] => statesAlong(sample, direction, nominal);
  const stated = start ? solveAll(sample, freedom, conical, rate(start).sort(bySum)) : [];
  if (freedom.size === 0) return distinct(stated);
  const meant = distinct(stated).find(
    ({ sumOfSquares, state }) => sumOfSquares < believable && Math.abs(dot(state.direction, start!)) > NEAR,
  );
  if (meant && trustNear) return [meant];
  const near = start && freedom.size === 2 ? startsAround(start, rate) : [];
  const ways = ranked(candidateDirections(sample, axes, freedom, nominal.halfAngle).map(rate));
  const solveFrom = (count: number): Solution[] => {
    const starts = [...near, ...ways.flatMap((states) => apart(states, axes, count))];
    return distinct([...stated, ...solveAll(sample, freedom, conical, starts)]);
  };
  const found = solveFrom(SOLVED_STARTS);
  if (meant && found[0] && meant.sumOfSquares <= COMPARABLE * found[0].sumOfSquares) return [meant];
  return found[0] && found[0].sumOfSquares < believable ? found : solveFrom(DOUBTED_STARTS);
}

/** Solves from each start; those that fail, or end on a half angle beyond a right angle, drop out. */
function solveAll(
  cloud: Cloud,
  freedom: DirectionFreedom,
  conical: boolean,
  starts: readonly { readonly state: RevolutionState }[],
  damping = FAR_DAMPING,
): Solution[] {
  const problem = revolutionProblem(cloud, freedom, conical);
  const solutions: Solution[] = [];
  for (const { state } of starts) {
    try {
      const solution = solveLeastSquares(problem, state, { damping, maximumIterations: 300 });
      const { halfAngle, gap, direction } = solution.state;
      const allowed = freedom.size !== 1 || dot(direction, freedom.start!) >= 0;
      if (Math.abs(halfAngle) < Math.PI / 2 && Number.isFinite(gap) && allowed) solutions.push(solution);
    } catch (error) {
      if (!(error instanceof ReductionError)) throw error;
    }
  }
  return solutions;
}

/** Lowest first, near-equal sums of squares merged; the earlier start wins a tie. */
function distinct(solutions: readonly Solution[]): Solution[] {
  const floor =
    (solutions.length > 0 ? Math.min(...solutions.map((s) => s.sumOfSquares)) : 0) * (1 + TIE) + 1e-28;
  const lowest = solutions.find((s) => s.sumOfSquares <= floor);
  if (!lowest) return [];
  const others = solutions
    .filter((s) => s !== lowest && s.sumOfSquares <= RIVAL_FACTOR * floor)
    .filter((s) => 1 - Math.abs(dot(s.state.direction, lowest.state.direction)) > 1e-9)
    .sort((a, b) => a.sumOfSquares - b.sumOfSquares);
  return [lowest, ...others];
}
