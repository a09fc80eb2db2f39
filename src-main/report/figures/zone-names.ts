/** Where the names of check points stand on a zone picture. */
import type { CheckPointResult } from '../../../shared-math/result.ts';
import type { CoverageEllipse } from '../../../shared-math/uncertainty/coverage-ellipse.ts';
import { textWidth } from '../fonts/measure.ts';
import { ink } from '../palette.ts';
import { label, type Shape } from './shapes.ts';

/** A check point on the picture; y downwards, the middle of the zones in the middle of the picture. */
export interface Place {
  readonly point: CheckPointResult;
  readonly ellipse: CoverageEllipse | null;
  readonly x: number;
  readonly y: number;
}

/** Of the size: room for a name; a longer one stands whole in the table of the check points. */
export const WIDEST_NAME = 0.42;
export const NAME = { size: 7.5, bold: true } as const;
/** From one name to the next, and clear of the words along the edges of the picture. */
const NAME_ROW = 9;
const EDGE_ROWS = 20;

/**
 * Names on the outer side of the points, clear of the ellipses and, where little is needed for it, of the edges of the zones, one below the other where points lie close together; near
 * the frame, where there is no room beside them, above the first point and below the others.
 */
export function nameLabels(
  places: readonly Place[],
  scale: number,
  size: number,
  rings: readonly number[],
): Shape[] {
  const sorted = [...places].sort((a, b) => a.y - b.y);
  const across = ({ ellipse }: Place, turn: number): number =>
    ellipse === null
      ? 0
      : scale *
        Math.hypot(
          ellipse.major * Math.cos(ellipse.angle - turn),
          ellipse.minor * Math.sin(ellipse.angle - turn),
        );
  const beside = ({ x }: Place): boolean => x >= size * 0.2 && x <= size * 0.8;
  const first = (i: number): boolean => i === 0 && sorted.length > 1;
  const wanted = sorted.map((place, i) => {
    if (beside(place)) return place.y + (first(i) ? 0 : 2.6);
    const clear = Math.max(4, across(place, Math.PI / 2)) + 4;
    return first(i) ? place.y - clear : place.y + clear + 5;
  });
  const heights = apart(wanted, EDGE_ROWS, size - EDGE_ROWS, NAME_ROW);
  return sorted.map((place, i) => {
    const { x } = place;
    const at = heights[i] as number;
    const text = place.point.name;
    const style = { colour: ink, ...NAME };
    if (!beside(place))
      return label(Math.min(Math.max(x, 5), size - 5), at, text, {
        ...style,
        anchor: x < size / 2 ? 'start' : 'end',
      });
    // Outside of everything that lies at this height; on the other side where it would not end within the frame.
    const level = sorted.filter((other) => Math.abs(other.y - at) < across(other, Math.PI / 2) + NAME_ROW);
    const right = Math.max(x, ...level.map((o) => o.x + across(o, 0))) + 6;
    const left = Math.min(x, ...level.map((o) => o.x - across(o, 0))) - 6;
    const wide = textWidth(text, NAME.size, NAME.bold);
    const [fitsRight, fitsLeft] = [right + wide <= size - 5, left - wide >= 5];
    if (x >= size / 2 ? fitsRight || !fitsLeft : fitsRight && !fitsLeft)
      return label(clearOf(rings, Math.min(right, size - 5 - wide), at, wide, size, 1), at, text, style);
    const start = clearOf(rings, Math.max(left, 5 + wide) - wide, at, wide, size, -1);
    return label(start + wide, at, text, { ...style, anchor: 'end' });
  });
}

/** A name is moved no further than this, so that it still stands by its point. */
const FURTHEST = 18;
/** Of the letters above and below the baseline, and clear of a dashed line. */
const NAME_BOX = { above: 6, below: 2, clear: 1.5 } as const;

/** Where a name begins so that no ring runs through it: moved outwards within the frame, or where it was. */
function clearOf(
  rings: readonly number[],
  start: number,
  baseline: number,
  wide: number,
  size: number,
  outwards: 1 | -1,
): number {
  const half = size / 2;
  const [top, bottom] = [baseline - NAME_BOX.above - half, baseline + NAME_BOX.below - half];
  const nearest = (from: number, to: number): number => (from > 0 ? from : to < 0 ? -to : 0);
  const crossed = (at: number): boolean => {
    const [left, right] = [at - half, at + wide - half];
    const near = Math.hypot(nearest(left, right), nearest(top, bottom));
    const far = Math.hypot(Math.max(-left, right), Math.max(-top, bottom));
    return rings.some((ring) => near < ring + NAME_BOX.clear && far > ring - NAME_BOX.clear);
  };
  for (let moved = 0; moved <= FURTHEST; moved++) {
    const at = start + outwards * moved;
    if (at < 5 || at + wide > size - 5) break;
    if (!crossed(at)) return at;
  }
  return start;
}

/** Heights, smallest first, moved so that they lie a row apart between two bounds. */
function apart(wanted: readonly number[], least: number, most: number, row: number): readonly number[] {
  const heights: number[] = [];
  for (const height of wanted) heights.push(Math.max(height, (heights.at(-1) ?? least - row) + row));
  let above = most + row;
  for (let i = heights.length - 1; i >= 0; i--) {
    above = Math.min(heights[i] as number, above - row);
    heights[i] = above;
  }
  return heights;
}
