import type { CheckPointResult, StationResult } from '../../../shared-math/result.ts';
import { limitOf, type QuantityName, quantityOf } from '../../format/quantities.ts';

/** What a bar of the card is drawn against. */
export interface ErrorScale {
  readonly size: number;
  /** `limit` from the plan, or the position budget: the error that alone would fill the zone of a check point. */
  readonly against: 'limit' | 'budget';
}

type Axis = 'oscillation' | 'lateral' | 'upset';
const axes: readonly Axis[] = ['oscillation', 'lateral', 'upset'];

/** Half-size of the tightest zone that a unit of this error fills fastest; a plain reading aid, no verdict hangs on it. */
function budgetAt(point: CheckPointResult, motion: readonly [number, number, number]): number | null {
  const [o, l, u] = motion;
  const reach = reachIn(point, o, l, u);
  return reach === null || reach < 1e-12 ? null : point.tolerance / 2 / reach;
}

function reachIn(point: CheckPointResult, o: number, l: number, u: number): number | null {
  if (point.zone === 'cylindrical') return Math.hypot(o, l);
  if (point.zone === 'spherical') return Math.hypot(o, l, u);
  if (point.direction === null) return null;
  const [no, nl, nu] = point.direction;
  return Math.abs(no * o + nl * l + nu * u);
}

function unitMotion(
  name: QuantityName,
  [x, y, z]: readonly [number, number, number],
): [number, number, number] | null {
  const axis = (axes as readonly string[]).indexOf(name);
  if (axis >= 0) return [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];
  if (name === 'rotOscillation') return [0, -z, y];
  if (name === 'rotLateral') return [z, 0, -x];
  if (name === 'rotUpset') return [-y, x, 0];
  return null;
}

/** The plan's limit where there is one; else the position budget of a blade-frame error; else null. */
export function errorScale(station: StationResult, name: QuantityName): ErrorScale | null {
  const limit = limitOf(station, name);
  if (limit !== null && limit > 0) return { size: limit, against: 'limit' };
  if (quantityOf(name).group !== 'blade') return null;
  const budgets = station.position.checkPoints.flatMap((point) => {
    const motion = unitMotion(name, point.at);
    const budget = motion === null ? null : budgetAt(point, motion);
    return budget === null ? [] : [budget];
  });
  return budgets.length === 0 ? null : { size: Math.min(...budgets), against: 'budget' };
}
