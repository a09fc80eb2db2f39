/** A drawing's shapes as paths and text of a PDF page. */
import type { Drawing, Shape, TextShape } from '../figures/shapes.ts';
import type { Typesetter } from './typesetter.ts';

type Pdf = PDFKit.PDFDocument;

const ANCHORS = { start: 'left', middle: 'middle', end: 'right' } as const;

export function drawDrawing(
  pdf: Pdf,
  typesetter: Typesetter,
  { shapes }: Drawing,
  x: number,
  y: number,
  scale: number,
): void {
  pdf.save();
  pdf.translate(x, y);
  if (scale !== 1) pdf.scale(scale);
  for (const shape of shapes)
    if (shape.kind === 'text') drawText(typesetter, shape);
    else drawPath(pdf, shape);
  pdf.restore();
}

function drawText(typesetter: Typesetter, { x, y, text, size, anchor, bold, colour }: TextShape): void {
  const [line] = typesetter.lines(text, size, Number.POSITIVE_INFINITY, { bold, colour });
  if (line !== undefined) typesetter.draw(line, size, x, y, ANCHORS[anchor]);
}

function drawPath(pdf: Pdf, shape: Exclude<Shape, TextShape>): void {
  const { fill, stroke } = shape;
  pdf.save();
  if (shape.kind === 'ellipse') {
    if (shape.turn !== 0) pdf.rotate(shape.turn, { origin: [shape.x, shape.y] });
    pdf.ellipse(shape.x, shape.y, shape.rx, shape.ry);
  } else {
    shape.points.forEach(([x, y], i) => {
      if (i === 0) pdf.moveTo(x, y);
      else pdf.lineTo(x, y);
    });
    if (shape.closed) pdf.closePath();
  }
  if (stroke !== undefined) {
    pdf.lineWidth(stroke.width);
    if (stroke.dash !== undefined) pdf.dash(stroke.dash[0], { space: stroke.dash[1] });
  }
  if (fill !== undefined && stroke !== undefined) pdf.fillAndStroke(fill, stroke.colour);
  else if (fill !== undefined) pdf.fill(fill);
  else if (stroke !== undefined) pdf.stroke(stroke.colour);
  pdf.restore();
}
