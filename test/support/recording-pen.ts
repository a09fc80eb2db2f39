/** A pen that notes where texts and figures of a page lie instead of drawing them. */
import PDFDocument from 'pdfkit';
import type { Drawing } from '../../src-main/report/figures/shapes.ts';
import type { Pen } from '../../src-main/report/pdf/box.ts';
import type { Tag } from '../../src-main/report/pdf/tag.ts';
import { Typesetter } from '../../src-main/report/pdf/typesetter.ts';

/** Edges in points from the left and the top of the sheet. */
export interface Extent {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** What lies there, for messages. */
  readonly what: string;
}

export interface Recording {
  readonly texts: readonly Extent[];
  readonly texture: readonly Extent[];
  /** What lies outside of the drawing that it belongs to. */
  readonly strays: readonly string[];
  /** Elements of the logical structure in the order in which they were begun. */
  readonly tags: ReadonlySet<Tag>;
  /** Texts outside of every element and of every running head. */
  readonly untagged: readonly string[];
  /** Texts of running heads and of heads of tables that stand again. */
  readonly pagination: ReadonlySet<Extent>;
}

/** Of the size: how far letters reach above and below their baseline (accents on capitals and brackets a little further). */
const ABOVE = 0.74;
const BELOW = 0.2;
/** What rounding in sums of widths may add, in points. */
export const ROUNDING = 0.05;

/** Measures without writing a file. */
export function measuringTypesetter(): Typesetter {
  const pdf = new PDFDocument({ autoFirstPage: false, font: '' });
  return new Typesetter(pdf as unknown as ConstructorParameters<typeof Typesetter>[0]);
}

export function recordingPen(typesetter: Typesetter): { readonly pen: Pen; readonly recording: Recording } {
  const texts: Extent[] = [];
  const texture: Extent[] = [];
  const strays: string[] = [];
  const tags = new Set<Tag>();
  const untagged: string[] = [];
  const pagination = new Set<Extent>();
  let within: 'nothing' | 'element' | 'pagination' = 'nothing';
  const meanwhile = (state: typeof within, draw: () => void) => {
    const before = within;
    within = within === 'nothing' ? state : within;
    draw();
    within = before;
  };
  const text = (what: string, x: number, y: number, width: number, size: number, anchor: string) => {
    const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
    const extent = { left, right: left + width, top: y - ABOVE * size, bottom: y + BELOW * size, what };
    texts.push(extent);
    if (within === 'nothing') untagged.push(what);
    if (within === 'pagination') pagination.add(extent);
  };
  const pen: Pen = {
    line: (line, size, x, y, align = 'left') =>
      text(
        line.runs.map((run) => run.text).join(''),
        x,
        y,
        line.width,
        size,
        align === 'left' ? 'start' : align === 'right' ? 'end' : 'middle',
      ),
    rule: (x1, y1, x2, y2) => texture.push({ left: x1, right: x2, top: y1, bottom: y2, what: 'rule' }),
    area: (x, y, width, height) =>
      texture.push({ left: x, right: x + width, top: y, bottom: y + height, what: 'area' }),
    drawing: (drawing, x, y, scale) => {
      const seen = texts.length;
      const drawn = strokes(drawing, x, y, scale);
      texture.push(...drawn);
      for (const shape of drawing.shapes)
        if (shape.kind === 'text')
          text(
            shape.text,
            x + scale * shape.x,
            y + scale * shape.y,
            scale * typesetter.width(shape.text, shape.size, { bold: shape.bold }),
            scale * shape.size,
            shape.anchor,
          );
      for (const { what, left, right, top, bottom } of [...drawn, ...texts.slice(seen)])
        if (
          left < x - ROUNDING ||
          right > x + scale * drawing.width + ROUNDING ||
          top < y - ROUNDING ||
          bottom > y + scale * drawing.height + ROUNDING
        )
          strays.push(`${what} of "${drawing.title}"`);
    },
    tagged: (tag, draw) => {
      for (let each: Tag | null = tag; each !== null; each = each.parent) tags.add(each);
      meanwhile('element', draw);
    },
    pagination: (_, draw) => meanwhile('pagination', draw),
    bookmark: () => {},
  };
  return { pen, recording: { texts, texture, strays, tags, untagged, pagination } };
}

/** Extent of the lines and areas of a drawing. */
function strokes({ shapes }: Drawing, x: number, y: number, scale: number): readonly Extent[] {
  return shapes.flatMap((shape): Extent[] => {
    if (shape.kind === 'text') return [];
    const points =
      shape.kind === 'path'
        ? shape.points
        : cornersOf(shape.x, shape.y, shape.rx, shape.ry, (shape.turn * Math.PI) / 180);
    const [xs, ys] = [points.map(([a]) => x + scale * a), points.map(([, b]) => y + scale * b)];
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    return [{ left, right, top, bottom, what: shape.kind }];
  });
}

function cornersOf(
  x: number,
  y: number,
  rx: number,
  ry: number,
  turn: number,
): (readonly [number, number])[] {
  const across = Math.hypot(rx * Math.cos(turn), ry * Math.sin(turn));
  const along = Math.hypot(rx * Math.sin(turn), ry * Math.cos(turn));
  return [
    [x - across, y - along],
    [x + across, y + along],
  ];
}
