/** What figures are made of. One list of shapes is drawn as SVG and as PDF paths; x to the right, y downwards, points (1/72 inch). */

export interface Stroke {
  readonly colour: string;
  readonly width: number;
  readonly dash?: readonly [number, number];
}

interface Painted {
  readonly fill?: string;
  readonly stroke?: Stroke;
}

export interface PathShape extends Painted {
  readonly kind: 'path';
  readonly points: readonly (readonly [number, number])[];
  readonly closed: boolean;
}

export interface EllipseShape extends Painted {
  readonly kind: 'ellipse';
  readonly x: number;
  readonly y: number;
  readonly rx: number;
  readonly ry: number;
  /** Degrees, clockwise as seen on the page. */
  readonly turn: number;
}

export interface TextShape {
  readonly kind: 'text';
  /** The baseline's start, middle or end. */
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly size: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly bold: boolean;
  readonly colour: string;
}

export type Shape = PathShape | EllipseShape | TextShape;

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it shows, for readers who cannot see it. */
  readonly title: string;
  readonly shapes: readonly Shape[];
}

export const path = (points: PathShape['points'], paint: Painted, closed = false): PathShape => ({
  kind: 'path',
  points,
  closed,
  ...paint,
});
export const segment = (x1: number, y1: number, x2: number, y2: number, stroke: Stroke): PathShape =>
  path(
    [
      [x1, y1],
      [x2, y2],
    ],
    { stroke },
  );
export const rectangle = (x: number, y: number, width: number, height: number, paint: Painted): PathShape =>
  path(
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    paint,
    true,
  );
export const circle = (x: number, y: number, r: number, paint: Painted): EllipseShape => ({
  kind: 'ellipse',
  x,
  y,
  rx: r,
  ry: r,
  turn: 0,
  ...paint,
});
export const label = (
  x: number,
  y: number,
  text: string,
  style: Partial<Pick<TextShape, 'size' | 'anchor' | 'bold'>> & { readonly colour: string },
): TextShape => ({ kind: 'text', x, y, text, size: 7, anchor: 'start', bold: false, ...style });
