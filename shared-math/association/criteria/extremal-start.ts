/** Where the search of a minimum zone, inscribed or circumscribed feature begins. */
import type { Vec3 } from '../../geometry/types.ts';
import { addScaled, dot, scale, subtract } from '../../geometry/vector.ts';
import { type Cloud, cloudOf, principalAxes, requireSpread } from '../cloud.ts';
import { type DirectionFreedom, freedomOf } from '../direction.ts';
import { normalOf } from '../plane.ts';
import type { AssociationInput, Orientation } from '../types.ts';
import type { ExtremalProblem, Sides } from './contact-set.ts';
import { leastSquaresFeature } from './least-squares.ts';
import { axisModel, centreModel, type Placement, planeModel } from './placement.ts';
import type { CriterionFeatureType } from './types.ts';

export interface ExtremalStart {
  readonly problem: ExtremalProblem;
  readonly cloud: Cloud;
  /** Freedom of the direction in the search (a circle's is settled before it). */
  readonly freedom: DirectionFreedom;
  readonly placement: Placement;
  /** Spread of the distances from the first placement, scaled: how far the optimum may lie. */
  readonly spread: number;
  /** Parameter names of the feature, as its least-squares association gives them. */
  readonly parameters: readonly string[];
  /** Whether every local optimum is the global one. */
  readonly convex: boolean;
}

/**
 * The least-squares feature; for a circumscribed circle or sphere, which is convex, the centroid.
 * @throws ReductionError as the least-squares association
 */
export function extremalStart(
  type: CriterionFeatureType,
  input: AssociationInput,
  orientation: Orientation,
  sides: Sides,
  radius: number | null,
): ExtremalStart {
  const free = freedomOf(orientation);
  if (sides === 'outer' && (type === 'circle' || type === 'sphere')) {
    return aroundCentroid(type, input, free);
  }
  const fit = leastSquaresFeature(type, input, orientation, radius);
  const cloud = cloudOf(input, 1, 'feature');
  const freedom = type === 'circle' ? fixedAt(fit.direction!) : free;
  const model =
    type === 'plane'
      ? planeModel(cloud, freedom)
      : type === 'sphere'
        ? centreModel(cloud)
        : axisModel(cloud, freedom);
  const direction = fit.direction ?? ([0, 0, 1] as const);
  const centre = scale(subtract(fit.point, cloud.centroid), 1 / cloud.size);
  const anchor: Vec3 =
    type === 'plane'
      ? [0, 0, 0]
      : type === 'sphere'
        ? centre
        : addScaled(centre, direction, -dot(centre, direction));
  return {
    problem: { model, points: cloud.points, sides, neverNegative: sides === 'both' || type === 'line' },
    cloud,
    freedom,
    placement: { anchor, direction },
    spread: fit.form / cloud.size,
    parameters: fit.parameters,
    convex: type !== 'plane' && freedom.size === 0 && sides === 'outer',
  };
}

function aroundCentroid(
  type: 'circle' | 'sphere',
  input: AssociationInput,
  free: DirectionFreedom,
): ExtremalStart {
  const cloud = cloudOf(input, type === 'circle' ? 3 : 4, type);
  const axes = principalAxes({ ...cloud, offsets: null });
  requireSpread(cloud, axes.spreads, type === 'circle' ? 2 : 3, type);
  const direction: Vec3 =
    type === 'circle' ? normalOf(cloud, axes, free, 'circle-plane').direction : [0, 0, 1];
  const freedom = fixedAt(direction);
  const model = type === 'circle' ? axisModel(cloud, freedom) : centreModel(cloud);
  return {
    problem: { model, points: cloud.points, sides: 'outer', neverNegative: false },
    cloud,
    freedom,
    placement: { anchor: [0, 0, 0], direction },
    spread: 0,
    parameters:
      type === 'circle' ? ['shift1', 'shift2', 'radius', 'axial', ...free.names] : ['x', 'y', 'z', 'radius'],
    convex: true,
  };
}

function fixedAt(direction: Vec3): DirectionFreedom {
  return freedomOf({ kind: 'fixed', direction });
}
