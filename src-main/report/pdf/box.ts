/** What a page is filled with: boxes that are not divided, one below the other. */
import type { Drawing } from '../figures/shapes.ts';
import type { Align, Line, Typesetter } from './typesetter.ts';

/** Draws on the current page; y downwards. */
export interface Pen {
  line(line: Line, size: number, x: number, y: number, align?: Align): void;
  rule(x1: number, y1: number, x2: number, y2: number, colour: string, width: number): void;
  area(x: number, y: number, width: number, height: number, colour: string): void;
  drawing(drawing: Drawing, x: number, y: number, scale: number): void;
  /** An entry of the outline that leads here. */
  bookmark(text: string): void;
}

export interface Box {
  readonly height: number;
  /** Space above, left out at the head of a page. */
  readonly before: number;
  /** Stands on the same page as the next box. */
  readonly keep: boolean;
  readonly draw: (pen: Pen, x: number, y: number) => void;
  /** Drawn again where this box begins a page. */
  readonly head?: Box;
  /** Begins a page. */
  readonly pageBreak?: boolean;
}

/** What turning blocks into boxes needs to know. */
export interface Setting {
  readonly typesetter: Typesetter;
  readonly width: number;
  /** Behind the caption of a table that goes on. */
  readonly continued: string;
}
