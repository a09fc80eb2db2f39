/** What a PDF file says, read by a library that had no part in writing it. */
import { inflateSync } from 'node:zlib';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface PdfItem {
  readonly text: string;
  /** Left end of the baseline, points from the left and from the top of the page. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly size: number;
}

export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly items: readonly PdfItem[];
  /** Texts on one height joined by blanks, from the top down. */
  readonly lines: readonly string[];
  /** Numbers of the glyphs shown, in the subset fonts: 0 stands for a missing one. */
  readonly glyphs: readonly number[];
}

export interface ReadPdf {
  readonly pages: readonly PdfPage[];
  readonly title: string;
  readonly outline: readonly string[];
  /** All pages, blanks and line ends as single blanks. */
  readonly text: string;
}

export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const task = getDocument({
    data: Uint8Array.from(bytes),
    verbosity: 0,
    useSystemFonts: false,
    disableFontFace: true,
  });
  const pdf = await task.promise;
  const pages: PdfPage[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    const content = await page.getTextContent({ includeMarkedContent: false, disableNormalization: true });
    const items = content.items.flatMap((item): PdfItem[] =>
      'str' in item && item.str.trim() !== ''
        ? [
            {
              text: item.str,
              x: item.transform[4] as number,
              y: height - (item.transform[5] as number),
              width: item.width,
              size: item.height,
            },
          ]
        : [],
    );
    const operators = await page.getOperatorList();
    const glyphs = operators.fnArray.flatMap((operator, i) =>
      operator === OPS.showText ? glyphsOf(operators.argsArray[i] as readonly unknown[]) : [],
    );
    pages.push({ width, height, items, lines: linesOf(items), glyphs });
  }
  const { info } = await pdf.getMetadata();
  const outline = await pdf.getOutline();
  await task.destroy();
  return {
    pages,
    title: (info as { Title?: string }).Title ?? '',
    outline: (outline ?? []).map(({ title }) => title),
    text: squeezed(pages.flatMap(({ lines }) => lines).join(' ')),
  };
}

/** One kind of blank, and one at a time. */
export function squeezed(text: string): string {
  return text.replace(/[\s\u00a0\u2002\u202f]+/g, ' ').trim();
}

function glyphsOf(shown: readonly unknown[]): readonly number[] {
  return (shown[0] as readonly unknown[]).flatMap((glyph) =>
    typeof glyph === 'object' && glyph !== null
      ? [(glyph as { readonly originalCharCode: number }).originalCharCode]
      : [],
  );
}

function linesOf(items: readonly PdfItem[]): readonly string[] {
  const lines = new Map<number, PdfItem[]>();
  for (const item of items) {
    const level = [...lines.keys()].find((y) => Math.abs(y - item.y) < 1) ?? item.y;
    lines.set(level, [...(lines.get(level) ?? []), item]);
  }
  return [...lines]
    .sort((a, b) => a[0] - b[0])
    .map(([, line]) =>
      squeezed(
        line
          .sort((a, b) => a.x - b.x)
          .map(({ text }) => text)
          .join(' '),
      ),
    );
}

/** The objects of a file as text, those in object streams unpacked, each between `n 0 obj` and `endobj`. */
export function objectsOf(bytes: Uint8Array): string {
  const text = Buffer.from(bytes).toString('latin1');
  const packed = [
    ...text.matchAll(/\/Type \/ObjStm\n\/N (\d+)\n\/First (\d+)\n[^>]*\/Length (\d+)\n>>\nstream\n/g),
  ];
  const unpacked = packed.map((found) => {
    const [count, first, length] = found.slice(1).map(Number) as [number, number, number];
    const start = found.index + found[0].length;
    const content = inflateSync(Buffer.from(bytes.subarray(start, start + length))).toString('latin1');
    const index = content.slice(0, first).trim().split(/\s+/).map(Number);
    return Array.from({ length: count }, (_, i) => {
      const end = i + 1 < count ? (index[2 * i + 3] as number) : content.length - first;
      return `${index[2 * i]} 0 obj\n${content.slice(first + (index[2 * i + 1] as number), first + end)}endobj\n`;
    }).join('');
  });
  return [text, ...unpacked].join('\n');
}
