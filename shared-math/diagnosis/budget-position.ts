/** Positions in the zones of the plan that errors make. */
import type { StationDefinition } from '../definition.ts';
import type { Vec3 } from '../geometry/types.ts';
import { add, cross } from '../geometry/vector.ts';
import { positionValue } from '../pose/position.ts';
import type { Component, Vec6 } from './findings.ts';

/** δ = t + ρ × p of a small error (t, ρ) at a check point p, mm. */
export function displacedBy(error: Vec6, at: Vec3): Vec3 {
  return add([error[0], error[1], error[2]], cross([error[3], error[4], error[5]], at));
}

/** The six errors of each station that components make together. */
export function togetherAt(components: readonly Component[]): ReadonlyMap<number, Vec6> {
  const sums = new Map<number, Vec6>();
  for (const component of components)
    for (const { station, error } of component.stations) {
      const known = sums.get(station);
      sums.set(station, known ? (known.map((x, k) => x + error[k]!) as unknown as Vec6) : error);
    }
  return sums;
}

/** Largest position over stations and check points, mm; 0 without any error. */
export function largestPosition(
  errors: ReadonlyMap<number, Vec6>,
  stations: readonly StationDefinition[],
): number {
  return Math.max(
    0,
    ...stations.flatMap(({ station, requirement }) => {
      const error = errors.get(station);
      if (error === undefined) return [];
      return requirement.checkPoints.map((point) => positionValue(displacedBy(error, point.at), point));
    }),
  );
}
