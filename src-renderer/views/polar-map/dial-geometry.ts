/** Where the things stand that the map draws beside the plot: the same places in the same pixels. Plain functions. */
import type { Size } from '../../chart/use-size.ts';

/** Room around the dial for the numbers of the stations, pixels. */
export const DIAL_MARGIN = { l: 30, r: 30, t: 26, b: 26 } as const;
/** Shares of the dial's radius that stay free in the middle for the reading of the selected station. */
export const HUB = 0.34;

export interface DialPlace {
  /** Centre, pixels from the left and from the top. */
  readonly cx: number;
  readonly cy: number;
  /** Radii of the rim and of the hub, pixels. */
  readonly rim: number;
  readonly hub: number;
}

export function dialPlace({ width, height }: Size): DialPlace {
  const { l, r, t, b } = DIAL_MARGIN;
  const rim = Math.max(0, Math.min(width - l - r, height - t - b) / 2);
  return { cx: (width + l - r) / 2, cy: (height + t - b) / 2, rim, hub: HUB * rim };
}

/** Distance of a value from the centre, pixels; values beyond the range fall beyond rim or hub. */
export function radiusAt(
  { rim, hub }: DialPlace,
  [from, to]: readonly [number, number],
  value: number,
): number {
  return hub + ((value - from) / (to - from)) * (rim - hub);
}

/** @param angle degrees, counterclockwise from the right */
export function pointAt({ cx, cy }: DialPlace, angle: number, radius: number): readonly [number, number] {
  const turn = (angle * Math.PI) / 180;
  return [cx + radius * Math.cos(turn), cy - radius * Math.sin(turn)];
}

/** Path of the whole ring between hub and rim, for the even-odd rule. */
export function groundPath({ cx, cy, rim, hub }: DialPlace): string {
  return [rim, hub]
    .map((r) => `M${cx - r} ${cy}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`)
    .join('');
}

/** Path of the part of the ring between two radii that reaches half of `width` to either side of an angle, degrees. */
export function sectorPath(
  place: DialPlace,
  angle: number,
  width: number,
  inner: number,
  outer: number,
): string {
  const [start, end] = [angle - width / 2, angle + width / 2];
  const at = (turn: number, radius: number): string =>
    pointAt(place, turn, radius)
      .map((value) => value.toFixed(2))
      .join(' ');
  const long = width > 180 ? 1 : 0;
  return (
    `M${at(start, inner)}L${at(start, outer)}A${outer} ${outer} 0 ${long} 0 ${at(end, outer)}` +
    `L${at(end, inner)}A${inner} ${inner} 0 ${long} 1 ${at(start, inner)}Z`
  );
}

/**
 * The radial range that the person has drawn a box for, or gone back from, in a change that the plot tells; null where it
 * tells of something else.
 */
export function rangeMoved(change: Readonly<Record<string, unknown>>): readonly [number, number] | null {
  const range = change['polar.radialaxis.range'];
  if (!Array.isArray(range)) return null;
  const [from, to] = range as unknown[];
  return typeof from === 'number' && typeof to === 'number' && from !== to ? [from, to] : null;
}
