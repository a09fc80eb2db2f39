/** Seat, position and limits of one station: the blade block, with what `overrides` replaces there. */
import type { CheckPoint } from '../../shared-math/definition.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import type { PlanFile } from './plan-schema.ts';

type Defined<T> = { [K in keyof T]: Exclude<T[K], undefined> };

export function seatAt(plan: PlanFile, station: number): PlanFile['blade']['seat'] {
  return { ...plan.blade.seat, ...defined(plan.overrides?.[station]?.seat ?? {}) };
}

export function positionAt(plan: PlanFile, station: number): PlanFile['blade']['position'] {
  return { ...plan.blade.position, ...defined(plan.overrides?.[station]?.position ?? {}) };
}

export function limitsAt(plan: PlanFile, station: number): NonNullable<PlanFile['blade']['limits']> {
  return plan.overrides?.[station]?.limits ?? plan.blade.limits ?? {};
}

/** Check points with their zone, tolerance and direction filled in from the position block. */
export function checkPointsOf(position: PlanFile['blade']['position']): CheckPoint[] {
  return position.checkPoints.map((point) => {
    const zone = point.zone ?? position.zone;
    const direction = point.direction ?? position.direction ?? null;
    return {
      name: point.name,
      at: point.at,
      zone,
      tolerance: point.tolerance ?? position.tolerance,
      direction: zone === 'planar' && direction !== null ? unit(direction) : null,
    };
  });
}

/** The vector at unit length; left as it is where it already has it, or has none. */
export function unit(v: Vec3): Vec3 {
  const length = Math.hypot(v[0], v[1], v[2]);
  return length === 1 || length === 0 ? v : [v[0] / length, v[1] / length, v[2] / length];
}

function defined<T extends object>(block: T): Partial<Defined<T>> {
  return Object.fromEntries(Object.entries(block).filter(([, value]) => value !== undefined)) as Partial<
    Defined<T>
  >;
}
