/** Objects of a PDF file packed into object streams: the same file for whoever reads it. */
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import PDFDocument from 'pdfkit';
import { beforeAll, describe, expect, it } from 'vitest';
import { withObjectStreams } from '../../src-main/report/pdf/object-streams.ts';
import { objectsOf, readPdf } from '../support/pdf-text.ts';

const WORDS = ['endobj', 'stream and endstream', '(one) \\ two', 'Größe ⌀'];

/** A tagged file with so many paragraphs, some of which say what would end an object or a stream. */
function plainFile(paragraphs: number): Promise<Uint8Array> {
  const pdf = new PDFDocument({
    tagged: true,
    pdfVersion: '1.7',
    lang: 'de',
    info: { Title: WORDS.join('\n') },
  });
  const chunks: Buffer[] = [];
  pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
  const root = pdf.struct('Document');
  pdf.addStructure(root);
  for (let i = 0; i < paragraphs; i++) {
    const alt = `${WORDS[i % WORDS.length]}\nendstream\nendobj\n${i}`;
    root.add(pdf.struct('P', { alt }, () => pdf.text(`Paragraph ${i}`)));
  }
  pdf.end();
  return new Promise((resolve) => pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks)))));
}

interface Node {
  readonly role?: string;
  readonly alt?: string;
  readonly children?: readonly Node[];
}

async function readStructure(bytes: Uint8Array): Promise<readonly Node[]> {
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0, disableFontFace: true });
  const pdf = await task.promise;
  const trees: Node[] = [];
  for (let page = 1; page <= pdf.numPages; page++)
    trees.push((await (await pdf.getPage(page)).getStructTree()) as Node);
  await task.destroy();
  return trees;
}

// One that fills several object streams, and one with a few objects only.
describe.each([1000, 1])('a file with %i tagged paragraphs', (paragraphs) => {
  let plain: Uint8Array;
  let packed: Uint8Array;
  beforeAll(async () => {
    plain = await plainFile(paragraphs);
    packed = withObjectStreams(plain);
  });

  it('reads as before: pages, title, structure', async () => {
    expect(await readPdf(packed)).toEqual(await readPdf(plain));
    const structure = await readStructure(packed);
    expect(structure).toEqual(await readStructure(plain));
    expect(JSON.stringify(structure)).toContain('endobj');
  });

  it('keeps every object once, as it was', () => {
    const bodies = (bytes: Uint8Array) =>
      new Map(
        [...objectsOf(bytes).matchAll(/^(\d+) 0 obj\n([\s\S]*?)\nendobj$/gm)]
          .filter(([, , body]) => !body?.includes('\nstream\n'))
          .map(([, number, body]) => [number, body]),
      );
    const before = bodies(plain);
    expect(before.size).toBeGreaterThan(paragraphs);
    expect(bodies(packed)).toEqual(before);
  });

  it('has its cross-references where they are said to be, each leading to its object', () => {
    const text = Buffer.from(packed).toString('latin1');
    const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(text)?.[1]);
    expect(text.slice(start, start + 40)).toMatch(/^\d+ 0 obj\n<<\n\/Type \/XRef\n/);
    for (const { index } of text.matchAll(/^\d+ 0 obj\n<<\n\/Type \/ObjStm/gm))
      expect(index).toBeLessThan(start);
  });

  it('comes out the same again', () => {
    expect(Buffer.compare(Buffer.from(withObjectStreams(plain)), Buffer.from(packed))).toBe(0);
  });
});

it('does not take a file of another kind, rather than spoil it', async () => {
  const plain = await plainFile(2);
  expect(() => withObjectStreams(withObjectStreams(plain))).toThrow('no plain cross-reference table');
  expect(() => withObjectStreams(plain.subarray(0, plain.length - 9))).toThrow(
    'no plain cross-reference table',
  );
  const shifted = Buffer.from(plain);
  shifted.write('x', shifted.indexOf(' 0 obj'));
  expect(() => withObjectStreams(shifted)).toThrow('not where it should be');
});
