/** What a page is filled with: boxes that are not divided, one below the other. */
import type { Drawing } from '../figures/shapes.ts';
import type { Tag } from './tag.ts';
import type { Align, Line, Typesetter } from './typesetter.ts';

/** Draws on the current page; y downwards. */
export interface Pen {
  line(line: Line, size: number, x: number, y: number, align?: Align): void;
  rule(x1: number, y1: number, x2: number, y2: number, colour: string, width: number): void;
  area(x: number, y: number, width: number, height: number, colour: string): void;
  drawing(drawing: Drawing, x: number, y: number, scale: number): void;
  /** What is drawn meanwhile is the content of an element of the logical structure; `corners` of a figure: left, top, right, bottom. */
  tagged(tag: Tag, draw: () => void, corners?: readonly [number, number, number, number]): void;
  /** What is drawn meanwhile belongs to the page alone: running heads, and heads of tables that stand again. */
  pagination(edge: 'Top' | 'Bottom' | null, draw: () => void): void;
  /** An entry of the outline that leads here. */
  bookmark(text: string, level: 1 | 2 | 3, y: number): void;
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
  /** Begins a page: always, or unless the present one is still rather empty. */
  readonly pageBreak?: 'always' | 'unlessEmpty';
}

/** What turning blocks into boxes needs to know. */
export interface Setting {
  readonly typesetter: Typesetter;
  readonly width: number;
  /** Of the text area: nothing undivided may be higher. */
  readonly height: number;
  /** Behind the caption of a table that goes on. */
  readonly continued: string;
  /** 1 as designed, less where that saves a page: space between things and size of figures. */
  readonly density: number;
  /** Element of the logical structure that the blocks belong to. */
  readonly parent: Tag;
}

/** Densities that are tried in turn. */
export const densities = [1, 0.9, 0.8, 0.7] as const;

/** Figures give way half as much as space does: their small print must stay legible. */
export function figureScale(density: number): number {
  return (1 + density) / 2;
}

/** Rows stand together up to this height: what may not be parted leaves pages empty. */
export function togetherAtMost({ height }: Setting): number {
  return 0.4 * height;
}

/** Of boxes one below the other, without the space above the first. */
export function heightOf(boxes: readonly Box[]): number {
  return boxes.reduce((sum, { height, before }, i) => sum + height + (i === 0 ? 0 : before), 0);
}
