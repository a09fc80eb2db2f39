/**
 * The report as a PDF file. Text is text (searchable, in embedded subset fonts) with its logical structure, figures are paths.
 * The same document gives the same bytes on every host: the writer compresses in JavaScript, and its identifier and dates
 * follow from `time`.
 */
import PDFDocument from 'pdfkit';
import { documentTitle, type ReportDocument } from '../document.ts';
import type { Pen } from './box.ts';
import { drawDrawing } from './draw-drawing.ts';
import { drawPage } from './draw-page.ts';
import { layOut } from './lay-out.ts';
import { withObjectStreams } from './object-streams.ts';
import { type Paper, sheets } from './paper.ts';
import { Structure } from './structure.ts';
import { Typesetter } from './typesetter.ts';

export async function renderPdf(document: ReportDocument, paper: Paper): Promise<Uint8Array> {
  const { width, height } = sheets[paper];
  const pdf = new PDFDocument({
    size: [width, height],
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang: document.language,
    displayTitle: true,
    tagged: true,
    // None: the writer would look on the disk for the metrics of a built-in one.
    font: '',
    info: {
      Title: documentTitle(document),
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
  const pages = layOut(document, paper, typesetter);
  const pen = penOn(pdf, typesetter);
  pages.forEach((page, index) => {
    pdf.addPage();
    drawPage(pen, typesetter, document, page, paper, index + 1, pages.length);
  });
  pdf.end();
  return withObjectStreams(await bytes);
}

function penOn(pdf: PDFKit.PDFDocument, typesetter: Typesetter): Pen {
  const structure = new Structure(pdf);
  const aside = (draw: () => void) => structure.artifact({ type: 'Layout' }, draw);
  let section = pdf.outline;
  return {
    line: (line, size, x, y, align) => typesetter.draw(line, size, x, y, align),
    rule: (x1, y1, x2, y2, colour, width) =>
      aside(() => pdf.moveTo(x1, y1).lineTo(x2, y2).lineWidth(width).stroke(colour)),
    area: (x, y, width, height, colour) => aside(() => pdf.rect(x, y, width, height).fill(colour)),
    drawing: (drawing, x, y, scale) => drawDrawing(pdf, typesetter, drawing, x, y, scale),
    tagged: (tag, draw, corners) => structure.content(tag, draw, corners),
    pagination: (edge, draw) =>
      structure.artifact({ type: 'Pagination', ...(edge === null ? {} : { attached: [edge] }) }, draw),
    bookmark: (text, level, y) => {
      // The title and the sections stand side by side, their parts below them.
      const parent = level === 3 ? section : pdf.outline;
      const place: OutlinePlace = { top: y - BOOKMARK_ROOM, left: pdf.page.width };
      const item = parent.addItem(text, place);
      if (level !== 3) section = item;
    },
  };
}

/** What the writer takes beside what its types say: from the top, and from the right edge. */
interface OutlinePlace {
  readonly expanded?: boolean;
  readonly top: number;
  readonly left: number;
}

/** Above a heading, where a reader jumps to it. */
const BOOKMARK_ROOM = 12;

function collect(pdf: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });
}
