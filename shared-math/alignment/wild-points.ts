/**
 * Points that lie far from where the other points of their feature are, told by their distance from the nominal feature.
 *
 * Residuals of a fit do not show them reliably: a single far point drags its plane along and leaves small residuals.
 * The screen is for messages only and excludes nothing. Median and median absolute deviation: common practice, no source.
 */
import type { DatumDefinition } from '../definition.ts';
import { applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { WildFeature } from '../notes/notes.ts';
import type { PointBlock } from '../points.ts';
import { distanceRows } from './nominal-distance.ts';

/** Nearer than this (mm) to the middle of the others no point is called wild. */
const SMALLEST_WILD = 0.5;
/** Times the median absolute deviation: a tilted feature spreads its points evenly and stays far below. */
const WILD_DEVIATIONS = 12;
/** Points named in a message. */
const MOST_NAMED = 3;

/**
 * The features of a datum with wild points.
 *
 * @param place carries the datum's nominal frame into the coordinates of the blocks.
 */
export function wildFeatures(
  datum: DatumDefinition,
  blocks: readonly PointBlock[],
  place: RigidMotion,
): readonly WildFeature[] {
  return blocks.flatMap((block) => {
    const wild = wildPoints(datum, block, place);
    if (wild.length === 0) return [];
    return [
      {
        feature: block.feature,
        points: wild.slice(0, MOST_NAMED).map(({ index, off }) => ({ point: index + 1, off })),
        more: Math.max(0, wild.length - MOST_NAMED),
      },
    ];
  });
}

interface WildPoint {
  /** Place of the point within its feature, from 0, in file order. */
  readonly index: number;
  /** Distance from the middle of the others, mm. */
  readonly off: number;
}

function wildPoints(datum: DatumDefinition, { xyz }: PointBlock, place: RigidMotion): readonly WildPoint[] {
  const back = inverse(place);
  const distances = Float64Array.from({ length: xyz.length / 3 }, (_, i) => {
    const q = applyToPoint(back, [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!]);
    const rows = distanceRows(datum.type, datum.nominal, q, 0);
    return rows.length === 1 ? rows[0]!.value : Math.hypot(...rows.map((row) => row.value));
  });
  const middle = median(distances);
  const deviations = distances.map((d) => Math.abs(d - middle));
  const limit = Math.max(SMALLEST_WILD, WILD_DEVIATIONS * median(deviations));
  return [...deviations]
    .map((off, index) => ({ index, off }))
    .filter(({ off }) => off > limit)
    .sort((a, b) => b.off - a.off);
}

function median(values: Float64Array): number {
  return values.toSorted()[Math.floor(values.length / 2)]!;
}
