/** The mark of a verdict: each has its own shape, so that a copy without colour tells them apart. */
import type { Tone } from '../document.ts';
import { toneInk } from '../palette.ts';
import { circle, path, type Shape, segment } from './shapes.ts';

/** @param r half of the mark's size. */
export function verdictMark(x: number, y: number, r: number, tone: Tone): readonly Shape[] {
  const colour = toneInk[tone];
  const white = { colour: '#ffffff', width: 0.5 };
  switch (tone) {
    case 'nonconforming':
      return [
        path(
          [
            [x - r, y - r],
            [x + r, y - r],
            [x + r, y + r],
            [x - r, y + r],
          ],
          { fill: colour, stroke: white },
          true,
        ),
      ];
    case 'unproven':
      return [
        path(
          [
            [x, y - 1.35 * r],
            [x + 1.35 * r, y],
            [x, y + 1.35 * r],
            [x - 1.35 * r, y],
          ],
          { fill: '#ffffff', stroke: { colour, width: 1.1 } },
          true,
        ),
      ];
    case 'missing':
      // A dash as in the tables: a cross stands there for what does not conform.
      return [segment(x - 1.2 * r, y, x + 1.2 * r, y, { colour, width: 0.6 * r })];
    default:
      return [circle(x, y, r, { fill: colour, stroke: white })];
  }
}
