/** The check points of the blades, where they should be and where they are, in the disc frame. */
import type { CheckPoint } from '../definition.ts';
import { applyToDirection, applyToPoint, compose } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { zoneDirections } from '../uncertainty/position-distribution.ts';

/** A blade of the pattern: its nominal frame in the disc frame, its error motion and the check points that were observed. */
export interface PatternBlade {
  readonly station: number;
  readonly nominal: RigidMotion;
  /** E, in nominal blade axes. */
  readonly error: RigidMotion;
  readonly checkPoints: readonly Pick<CheckPoint, 'name' | 'at' | 'zone' | 'direction'>[];
}

/** One check point with its zone. Disc frame, mm. */
export interface ZonePoint {
  readonly station: number;
  readonly checkPoint: string;
  /** Index of the blade in the list that it came from. */
  readonly blade: number;
  /** Nominal place, the centre of the zone. */
  readonly centre: Vec3;
  readonly measured: Vec3;
  /** Unit directions along which the zone measures: two across an axis, three for a sphere, one across a plane. */
  readonly directions: readonly Vec3[];
}

/** All check points in the disc frame, mm: where they should be, where they are, and the directions in which their zones measure. */
export function zonePoints(blades: readonly PatternBlade[]): readonly ZonePoint[] {
  return blades.flatMap(({ station, nominal, error, checkPoints }, blade) => {
    const place = compose(nominal, error);
    return checkPoints.map((point) => ({
      station,
      checkPoint: point.name,
      blade,
      centre: applyToPoint(nominal, point.at),
      measured: applyToPoint(place, point.at),
      directions: zoneDirections(point).map((d) => applyToDirection(nominal, d)),
    }));
  });
}
