/** The length unit of a point file, where neither plan nor header tells: by the size of the part. */
import type { PartDefinition } from '../../shared-math/definition.ts';

export type LengthUnit = 'mm' | 'inch' | 'µm';

/** mm in one unit. The inch is 25.4 mm exactly, by its definition of 1959 (value from memory). */
export const millimetresIn: Readonly<Record<LengthUnit, number>> = { mm: 1, inch: 25.4, µm: 0.001 };

/** Two units differ by a factor of 25 at least; a size within this factor of one of them fits it and no other. */
const FITS_WITHIN = 4;

/** The plan's spelling as a unit. */
export function unitOf(spelling: string | undefined): LengthUnit | null {
  if (spelling === undefined) return null;
  if (spelling === 'mm') return 'mm';
  return spelling === 'in' || spelling === 'inch' ? 'inch' : 'µm';
}

/** Sum of coordinates and number of points of one station or of the hub, in the unit of the file. */
export interface Cloud {
  /** Null: hub. */
  readonly station: number | null;
  readonly sum: readonly [number, number, number];
  readonly count: number;
  /** Largest coordinate range of the cloud's points. */
  readonly low: readonly [number, number, number];
  readonly high: readonly [number, number, number];
}

/**
 * The unit whose size fits the plan, or null where none does. With two stations or more the r.m.s. distance of their
 * centroids from the mean of these is held against the same figure of the nominal seats; with fewer, the extent of
 * all points against the nominal seat radius.
 */
export function unitBySize(clouds: readonly Cloud[], definition: PartDefinition): LengthUnit | null {
  const measured: (readonly number[])[] = [];
  const nominal: (readonly number[])[] = [];
  for (const cloud of clouds) {
    const planned = definition.stations[(cloud.station ?? 0) - 1];
    if (planned === undefined || cloud.count === 0) continue;
    measured.push(cloud.sum.map((value) => value / cloud.count));
    const { radius, axial } = planned.seat;
    nominal.push([radius * Math.cos(planned.angle), radius * Math.sin(planned.angle), axial]);
  }
  const ratio =
    measured.length >= 2
      ? spread(nominal) / spread(measured)
      : (definition.stations[0]?.seat.radius ?? Number.NaN) / extent(clouds);
  if (!Number.isFinite(ratio) || ratio <= 0) return null;
  let best: LengthUnit | null = null;
  let bestFactor = FITS_WITHIN;
  for (const unit of Object.keys(millimetresIn) as LengthUnit[]) {
    const factor = Math.exp(Math.abs(Math.log(millimetresIn[unit] / ratio)));
    if (factor < bestFactor) {
      best = unit;
      bestFactor = factor;
    }
  }
  return best;
}

function spread(points: readonly (readonly number[])[]): number {
  const mean = [0, 1, 2].map((axis) => points.reduce((sum, p) => sum + (p[axis] ?? 0), 0) / points.length);
  const squares = points.reduce(
    (sum, p) => sum + mean.reduce((part, centre, axis) => part + ((p[axis] ?? 0) - centre) ** 2, 0),
    0,
  );
  return Math.sqrt(squares / points.length);
}

function extent(clouds: readonly Cloud[]): number {
  const ranges = [0, 1, 2].map(
    (axis) =>
      Math.max(...clouds.map((cloud) => cloud.high[axis] ?? 0)) -
      Math.min(...clouds.map((cloud) => cloud.low[axis] ?? 0)),
  );
  return Math.hypot(...ranges);
}
