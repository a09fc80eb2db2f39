/** Widths of texts in the faces of the report, for figures, which are laid out before there is a page. */
import { faceRuns, runWidth, symbolScale } from './fonts.ts';

/** In the unit of `size`. */
export function textWidth(text: string, size: number, bold = false): number {
  return faceRuns(text, bold ? 'bold' : 'regular').reduce(
    (sum, { face, text: run }) => sum + runWidth(face, run) * size * (face === 'symbol' ? symbolScale : 1),
    0,
  );
}
