/**
 * The report as a PDF file. Text is text (searchable, in embedded subset fonts), figures are paths. The same document gives
 * the same bytes on every host: the writer compresses in JavaScript, and its identifier and dates follow from `time`.
 */
import PDFDocument from 'pdfkit';
import type { Block, ReportDocument } from '../document.ts';
import { inkQuiet, line as lineColour } from '../palette.ts';
import { blockBoxes } from './block-boxes.ts';
import type { Box, Pen, Setting } from './box.ts';
import { drawDrawing } from './draw-drawing.ts';
import { type Page, paginate } from './paginate.ts';
import { margins, type Paper, sheets, textHeight, textWidth } from './paper.ts';
import { Typesetter } from './typesetter.ts';

const HEAD_SIZE = 7.8;

export async function renderPdf(document: ReportDocument, paper: Paper): Promise<Uint8Array> {
  const { width, height } = sheets[paper];
  const pdf = new PDFDocument({
    size: [width, height],
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang: document.language,
    displayTitle: true,
    // None: the writer would look on the disk for the metrics of a built-in one.
    font: '',
    info: {
      Title: document.title,
      Subject: document.subject,
      Author: document.software,
      Creator: document.software,
      Producer: document.software,
      CreationDate: document.time,
      ModDate: document.time,
    },
  });
  const bytes = collect(pdf);
  const typesetter = new Typesetter(pdf as unknown as ConstructorParameters<typeof Typesetter>[0]);
  const setting: Setting = { typesetter, width: textWidth(paper), continued: document.continued };
  const pages = paginate(boxesOf(document.blocks, setting), textHeight(paper));
  const pen = penOn(pdf, typesetter);
  pages.forEach((page, index) => {
    pdf.addPage();
    drawPage(pen, typesetter, document, page, paper, index + 1, pages.length);
  });
  pdf.end();
  return bytes;
}

function boxesOf(blocks: readonly Block[], setting: Setting): readonly Box[] {
  return blocks.flatMap((block, i) => {
    const boxes = blockBoxes(block, setting);
    return staysWith(block, blocks[i + 1])
      ? boxes.map((box, k) => (k === boxes.length - 1 ? { ...box, keep: true } : box))
      : boxes;
  });
}

/** A note under a table stays with its last row; words that lead to a table or to lines to sign on stay with these. */
function staysWith(block: Block, next: Block | undefined): boolean {
  if (block.kind === 'table') return next?.kind === 'paragraph' && next.size === 'note';
  return block.kind === 'paragraph' && (next?.kind === 'table' || next?.kind === 'signatures');
}

function drawPage(
  pen: Pen,
  typesetter: Typesetter,
  { head, foot }: ReportDocument,
  page: Page,
  paper: Paper,
  number: number,
  of: number,
): void {
  const { width, height } = sheets[paper];
  const [left, right] = [margins.left, width - margins.right];
  const write = (text: string, x: number, y: number, align: 'left' | 'right', room: number) => {
    const [line] = typesetter.lines(text, HEAD_SIZE, room, { colour: inkQuiet });
    if (line !== undefined) pen.line(line, HEAD_SIZE, x, y, align);
  };
  const room = (right - left) * 0.7;
  write(head[0], left, 38, 'left', room);
  write(head[1], right, 38, 'right', right - left - room);
  pen.rule(left, 44, right, 44, lineColour, 0.5);
  for (const { box, y } of page) box.draw(pen, left, margins.top + y);
  pen.rule(left, height - 42, right, height - 42, lineColour, 0.5);
  write(foot, left, height - 31, 'left', room);
  write(`${number} / ${of}`, right, height - 31, 'right', right - left - room);
}

function penOn(pdf: PDFKit.PDFDocument, typesetter: Typesetter): Pen {
  return {
    line: (line, size, x, y, align) => typesetter.draw(line, size, x, y, align),
    rule: (x1, y1, x2, y2, colour, width) => {
      pdf.moveTo(x1, y1).lineTo(x2, y2).lineWidth(width).stroke(colour);
    },
    area: (x, y, width, height, colour) => {
      pdf.rect(x, y, width, height).fill(colour);
    },
    drawing: (drawing, x, y, scale) => drawDrawing(pdf, typesetter, drawing, x, y, scale),
    bookmark: (text) => {
      pdf.outline.addItem(text);
    },
  };
}

function collect(pdf: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });
}
