/** Minimum zone, maximum inscribed and minimum circumscribed features, searched from several starts. */
import { ReductionError } from '../../errors.ts';
import { addScaled, distance, dot, negate } from '../../geometry/vector.ts';
import { degenerate } from '../cloud.ts';
import { isReversed } from '../direction.ts';
import { substitute } from '../substitute.ts';
import type { AssociationInput, Orientation } from '../types.ts';
import type { Sides } from './contact-set.ts';
import { type ExtremalSolution, solveExtremal } from './extremal-solver.ts';
import { type ExtremalStart, extremalStart } from './extremal-start.ts';
import type { Placement } from './placement.ts';
import type {
  AlternativeOptimum,
  AssociationCriterion,
  CriterionFeature,
  CriterionFeatureType,
} from './types.ts';

/** Starts besides the least-squares feature; more for few points, where the optimum hangs on each of them. */
const STARTS = 6;
const STARTS_FEW_POINTS = 24;
const FEW_POINTS = 200;
/** Starts lie this many times the spread of the distances away, in turn. */
const START_REACH = [0.5, 1, 2];
/** Optima whose objective is within this fraction of the form from the best are reported. */
const NEAR_EQUAL = 0.05;
/** Optima closer than this (scaled) are the same one. */
const SAME_PLACE = 1e-8;
/** Directions that turn further than this (cosine) from the least-squares one no longer belong to the feature. */
const TURNED_AWAY = 0.7;
/** A radius beyond this many sizes of the point cloud means that the points show no curvature. */
const LARGEST_RADIUS = 1e4;

export type ExtremalCriterion = Exclude<AssociationCriterion, 'gaussian-outer'>;

/**
 * @param radius start of a cylinder's radius, mm, or null
 * @throws ReductionError as the least-squares association; `degenerate-points` where the points do not surround an
 * inscribed feature, `not-converged` where no start leads to a certified optimum
 */
export function associateExtremal(
  criterion: ExtremalCriterion,
  type: CriterionFeatureType,
  input: AssociationInput,
  orientation: Orientation,
  radius: number | null,
): CriterionFeature {
  const sides: Sides =
    criterion === 'maximum-inscribed'
      ? 'inner'
      : criterion === 'minimum-circumscribed' || type === 'line'
        ? 'outer'
        : 'both';
  const start = extremalStart(type, input, orientation, sides, radius);
  const solutions = search(start, isNearOf(start, sides, type), type);
  const best = solutions[0]!;
  const featureOf = (solution: ExtremalSolution): CriterionFeature => ({
    ...substitute(surfaceOf(type, start, solution, input), input, {
      parameters: start.parameters,
      cofactor: [],
      conditionNumber: solution.conditionNumber,
      iterations: solution.iterations,
      stopReason: 'gradient',
    }),
    criterion,
    certificate: certificateOf(solution, start.cloud.size),
    zoneWidth: criterion === 'minimax' ? 2 * solution.most * start.cloud.size : null,
    alternatives: [],
  });
  const feature = featureOf(best);
  const margin = (NEAR_EQUAL * feature.form) / start.cloud.size;
  const alternatives = solutions
    .slice(1)
    .filter(({ most }) => most <= best.most + margin)
    .map((solution): AlternativeOptimum => {
      const other = surfaceOf(type, start, solution, input);
      const size = (criterion === 'minimax' ? 2 : 1) * Math.abs(solution.most) * start.cloud.size;
      return { point: other.point, direction: other.direction, radius: other.radius, size };
    });
  return { ...feature, alternatives };
}

/** Distinct optima, best first. */
function search(
  start: ExtremalStart,
  isNear: (placement: Placement) => boolean,
  type: CriterionFeatureType,
): ExtremalSolution[] {
  const working = new Set<number>();
  const found: ExtremalSolution[] = [];
  let failure: ReductionError | null = null;
  for (const placement of placementsAround(start)) {
    try {
      const solution = solveExtremal(start.problem, placement, working, isNear);
      if (solution && !found.some((other) => samePlace(other.placement, solution.placement))) {
        found.push(solution);
      }
    } catch (error) {
      if (!(error instanceof ReductionError)) throw error;
      failure ??= error;
    }
  }
  if (found.length > 0) return found.sort((a, b) => a.most - b.most);
  if (failure) throw failure;
  if (start.problem.sides === 'inner') {
    throw degenerate(type, 'not-surrounded', 'maximum-inscribed');
  }
  throw degenerate(type, 'far-optimum', 'criterion');
}

function samePlace(a: Placement, b: Placement): boolean {
  return distance(a.anchor, b.anchor) + distance(a.direction, b.direction) < SAME_PLACE;
}

function isNearOf(
  start: ExtremalStart,
  sides: Sides,
  type: CriterionFeatureType,
): (placement: Placement) => boolean {
  const distances = new Float64Array(start.cloud.points);
  start.problem.model.distances(start.placement, distances);
  const mean = distances.reduce((sum, value) => sum + value, 0) / distances.length;
  // An inscribed feature that is free to slip out goes on until it is far from the feature.
  const reach = type === 'plane' || type === 'line' ? 4 : sides === 'inner' ? 0.5 * mean : LARGEST_RADIUS;
  return ({ anchor, direction }) =>
    Number.isFinite(anchor[0] + anchor[1] + anchor[2]) &&
    distance(anchor, start.placement.anchor) <= reach &&
    Math.abs(dot(direction, start.placement.direction)) > TURNED_AWAY;
}

/** The first placement and others around it, always the same; only the first where the criterion is convex. */
function placementsAround({ problem, cloud, placement, spread, convex }: ExtremalStart): Placement[] {
  const size = problem.model.size;
  const count =
    convex || size === 0 || spread === 0 ? 0 : cloud.points <= FEW_POINTS ? STARTS_FEW_POINTS : STARTS;
  let seed = 20_117;
  const next = (): number => {
    seed = (seed * 48_271) % 2_147_483_647;
    return (2 * seed) / 2_147_483_647 - 1;
  };
  const others = Array.from({ length: count }, (_, trial) => {
    const reach = spread * START_REACH[trial % START_REACH.length]!;
    return problem.model.move(
      placement,
      Array.from({ length: size }, () => reach * next()),
    );
  });
  return [placement, ...others];
}

/** The feature in mm, its direction in the sense that the orientation asks for. */
function surfaceOf(
  type: CriterionFeatureType,
  { cloud, freedom, problem }: ExtremalStart,
  { placement, level, most }: ExtremalSolution,
  input: AssociationInput,
) {
  const { anchor } = placement;
  const sided = type === 'plane' && (input.offsets?.some((offset) => offset !== 0) ?? false);
  const reverse = !sided && type !== 'circle' && isReversed(freedom, placement.direction);
  const size = problem.sides === 'both' ? level : problem.sides === 'outer' ? most : -most;
  const along = addScaled(
    cloud.centroid,
    type === 'plane' ? placement.direction : anchor,
    type === 'plane' ? level * cloud.size : cloud.size,
  );
  return {
    type,
    point: along,
    direction: type === 'sphere' ? null : reverse ? negate(placement.direction) : placement.direction,
    radius: type === 'plane' || type === 'line' ? null : size * cloud.size,
    halfAngle: null,
  };
}

function certificateOf({ contacts, multipliers, gap }: ExtremalSolution, size: number) {
  // With both sides in play a point may touch both only where the zone has no width; it then counts once.
  const byPoint = new Map<number, number>();
  contacts.forEach((key, a) => {
    byPoint.set(key >> 1, (byPoint.get(key >> 1) ?? 0) + multipliers[a]!);
  });
  return { contacts: [...byPoint.keys()], multipliers: [...byPoint.values()], gap: gap * size };
}
