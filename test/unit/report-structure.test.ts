/** The logical structure of report.pdf, read back: headings, paragraphs, lists, tables with their heads, figures, in the order of reading. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import type { Block } from '../../src-main/report/document.ts';
import { plain } from '../../src-main/report/document.ts';
import { reportDocument, reportPdf } from '../../src-main/report/index.ts';
import { objectsOf } from '../support/pdf-text.ts';
import { hasPoppler } from '../support/poppler.ts';
import { inputOf, reduceSample } from '../support/reports.ts';

interface Node {
  readonly role: string;
  readonly alt: string | undefined;
  readonly children: readonly Node[];
  /** Identifiers of marked content. */
  readonly content: readonly string[];
}

interface Structure {
  readonly pages: readonly Node[];
  /** Text of each piece of marked content. */
  readonly text: ReadonlyMap<string, string>;
  /** Texts of no element and of no artifact. */
  readonly stray: readonly string[];
  readonly marked: boolean;
}

async function structureOf(bytes: Uint8Array): Promise<Structure> {
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0, disableFontFace: true });
  const pdf = await task.promise;
  const text = new Map<string, string>();
  const pages: Node[] = [];
  const stray: string[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const content = await page.getTextContent({ includeMarkedContent: true, disableNormalization: true });
    const open: (string | null)[] = [];
    for (const item of content.items) {
      if ('str' in item) {
        const id = open.at(-1);
        if (id === undefined) stray.push(item.str);
        else if (id !== null) text.set(id, (text.get(id) ?? '') + item.str);
      } else if (item.type === 'endMarkedContent') open.pop();
      else open.push(item.id ?? null);
    }
    pages.push(nodeOf(await page.getStructTree()));
  }
  const marked = (await pdf.getMarkInfo())?.Marked ?? false;
  await task.destroy();
  return { pages, text, stray: stray.filter((each) => each.trim() !== ''), marked };
}

/** The elements with content on this page: of one that goes on over pages, the tree of each shows all parts. */
function nodeOf(tree: unknown): Node {
  const {
    role,
    alt,
    children = [],
  } = tree as {
    role: string;
    alt?: string;
    children?: readonly { type?: string; id?: string }[];
  };
  return {
    role,
    alt,
    children: children
      .filter(({ type }) => type === undefined)
      .map(nodeOf)
      .filter((node) => contentOf(node).length > 0),
    content: children.flatMap(({ type, id }) => (type === 'content' && id !== undefined ? [id] : [])),
  };
}

function all(node: Node, role: string): readonly Node[] {
  return [...(node.role === role ? [node] : []), ...node.children.flatMap((child) => all(child, role))];
}

/** What a heading, table or figure of the document is called. */
function within(blocks: readonly Block[], kind: 'table' | 'figure'): readonly Block[] {
  return blocks.flatMap((block) =>
    block.kind === 'columns'
      ? block.columns.flatMap((column) => within(column.blocks, kind))
      : block.kind === kind
        ? [block]
        : [],
  );
}

const input = inputOf(await reduceSample('drifting'), { language: 'fr' });
const document = reportDocument(input);
const bytes = await reportPdf(input);
const { pages, text, stray, marked } = await structureOf(bytes);
const textOf = (node: Node): string =>
  [...node.content.map((id) => text.get(id) ?? ''), ...node.children.map(textOf)].join('');
const squeezed = (words: string) => words.replace(/[\s\u00a0\u2002\u202f]/g, '');
const every = (role: string) => pages.flatMap((page) => all(page, role));

describe('the structure of the PDF', () => {
  it('is said to be there and holds every text that is no running head', () => {
    expect(marked).toBe(true);
    expect(stray).toEqual([]);
    const reached = new Set(pages.flatMap((page) => contentOf(page)));
    expect([...text.keys()].filter((id) => !reached.has(id))).toEqual([]);
  });

  it('has the headings of the document at their levels, in order', () => {
    const headings = document.blocks.flatMap((block) =>
      block.kind === 'heading' ? [`H${block.level} ${squeezed(block.text)}`] : [],
    );
    const found = pages.flatMap((page) =>
      flat(page).flatMap((node) =>
        /^H\d$/.test(node.role) ? [`${node.role} ${squeezed(textOf(node))}`] : [],
      ),
    );
    expect(found).toEqual(headings);
  });

  it('tells what every figure shows', () => {
    const titles = within(document.blocks, 'figure').map((block) =>
      block.kind === 'figure' ? block.drawing.title : '',
    );
    expect(every('Figure').map(({ alt }) => alt)).toEqual(titles);
    for (const { alt } of every('Figure')) expect(alt).toMatch(/\S{3,}/);
  });

  it('has every cell of every table once, in rows as long as the head', () => {
    const tables = within(document.blocks, 'table');
    const cells = tables.flatMap((block) =>
      block.kind === 'table'
        ? [
            ...block.columns.map(({ header, unit }) => header + (unit ?? '')),
            ...block.rows.flatMap((row) => block.columns.map((_, i) => plain(row.cells[i] ?? ''))),
          ]
        : [],
    );
    const found = every('TR').flatMap(({ children }) => children.map(textOf));
    expect(found.map(squeezed)).toEqual(cells.map(squeezed));
    for (const row of every('TR'))
      expect(row.children.every(({ role }) => role === 'TH' || role === 'TD')).toBe(true);
  });

  it('names the tables that have a caption once, though these go on', () => {
    const captions = within(document.blocks, 'table').flatMap((block) =>
      block.kind === 'table' && block.caption !== '' ? [squeezed(block.caption)] : [],
    );
    const found = every('Table').flatMap((table) =>
      table.children.filter(({ role }) => role === 'Caption').map((node) => squeezed(textOf(node))),
    );
    expect(found).toEqual(captions);
  });

  it('says of every head whether it belongs to a column or to a row', () => {
    const source = objectsOf(bytes);
    const heads = source.match(/\/S \/TH\n/g)?.length ?? 0;
    const scopes = source.match(/\/O \/Table\n\/Scope \/(Column|Row)\n/g) ?? [];
    expect(scopes).toHaveLength(heads);
    expect(new Set(scopes.map((scope) => scope.includes('Row')))).toEqual(new Set([true, false]));
  });

  it('gives every item of a list its mark and its words', () => {
    for (const list of every('L'))
      for (const { role, children } of list.children) {
        expect(role).toBe('LI');
        expect(children.map((child) => child.role)).toEqual(['Lbl', 'LBody']);
      }
  });

  it('is told with the language and the title', () => {
    const source = objectsOf(bytes);
    expect(source).toContain('/Lang (fr)');
    expect(source).toContain('/DisplayDocTitle true');
  });
});

describe('the title', () => {
  it('stays short whatever a plan is called', async () => {
    const number = `${'A very long number of a part '.repeat(40)}END`;
    const long = { ...input, plan: { ...input.plan, part: { ...input.plan.part, number } } };
    const task = getDocument({ data: await reportPdf(long), verbosity: 0, disableFontFace: true });
    const { info } = await (await task.promise).getMetadata();
    await task.destroy();
    const title = (info as { Title?: string }).Title ?? '';
    expect(title.length).toBeLessThanOrEqual(160);
    expect(title).toContain('A very long number');
    expect(title.endsWith('TRIAL-3')).toBe(true);
  });
});

describe.skipIf(!hasPoppler())('pdfinfo', () => {
  it('finds the structure as well', () => {
    const folder = mkdtempSync(join(tmpdir(), 'hubtrue-structure-'));
    const file = join(folder, 'report.pdf');
    writeFileSync(file, bytes);
    const tree = execFileSync('pdfinfo', ['-struct', file], { encoding: 'utf8', maxBuffer: 2 ** 26 });
    const about = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
    rmSync(folder, { recursive: true });
    expect(about).toMatch(/Tagged:\s+yes/);
    const count = (role: string) => tree.match(new RegExp(`^\\s*${role}\\b`, 'gm'))?.length ?? 0;
    expect(count('H1')).toBe(1);
    expect(count('Table')).toBe(within(document.blocks, 'table').length);
    expect(count('Figure')).toBe(within(document.blocks, 'figure').length);
  });
});

function flat(node: Node): readonly Node[] {
  return [node, ...node.children.flatMap(flat)];
}

function contentOf(node: Node): readonly string[] {
  return flat(node).flatMap(({ content }) => content);
}
