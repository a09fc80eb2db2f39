/** Zone points of patterns made by hand, and of discs whose blades carry given errors. */
import type { PartDefinition } from '../../shared-math/definition.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { applyToPoint } from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { add } from '../../shared-math/geometry/vector.ts';
import { type ZonePoint, zonePoints } from '../../shared-math/pattern/zone-points.ts';

export const X: Vec3 = [1, 0, 0];
export const Y: Vec3 = [0, 1, 0];
export const Z: Vec3 = [0, 0, 1];

/** One point a blade, displaced from its centre by what is given. */
export function zonePoint(
  station: number,
  centre: Vec3,
  displaced: Vec3,
  directions: readonly Vec3[],
): ZonePoint {
  return {
    station,
    checkPoint: 'seat',
    blade: station - 1,
    centre,
    measured: add(centre, displaced),
    directions,
  };
}

/** n places on a circle of the given radius in the plane z = 0. */
export function ringPlaces(n: number, radius: number): readonly Vec3[] {
  return Array.from({ length: n }, (_, k): Vec3 => {
    const angle = (2 * Math.PI * k) / n;
    return [radius * Math.cos(angle), radius * Math.sin(angle), 0];
  });
}

/** The check points of a disc, blade k moved by errors[k]. */
export function discZonePoints(
  definition: PartDefinition,
  errors: readonly RigidMotion[],
): readonly ZonePoint[] {
  return zonePoints(
    definition.stations.map(({ station, angle, seat, requirement }, k) => ({
      station,
      nominal: nominalBladeFrame(angle, seat),
      error: errors[k]!,
      checkPoints: requirement.checkPoints,
    })),
  );
}

/** All blades carried along by one motion of the disc frame. */
export function carried(points: readonly ZonePoint[], motion: RigidMotion): readonly ZonePoint[] {
  return points.map((p) => ({ ...p, measured: applyToPoint(motion, p.measured) }));
}
