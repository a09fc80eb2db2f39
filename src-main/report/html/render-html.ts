/** The report as one HTML file that asks for nothing else: fonts, figures and style are in it, scripts there are none. */
import {
  type Block,
  documentTitle,
  type Inline,
  isRowHead,
  plain,
  type ReportDocument,
  SHORT_TABLE,
  shortened,
  type TableBlock,
  type TableColumn,
  type TableRow,
} from '../document.ts';
import { escapeMarkup, toSvg } from '../figures/to-svg.ts';
import type { Paper } from '../pdf/paper.ts';
import { fontFaces } from './font-faces.ts';
import { styleSheet } from './style.ts';

export function renderHtml(document: ReportDocument, paper: Paper): string {
  const body = blocksMarkup(document.blocks);
  const text = body.replace(/<[^>]*>/g, '') + document.head.join('') + document.foot;
  const [left, right] = document.head;
  const style =
    fontFaces(text) +
    styleSheet(paper, [cssString(shortened(left, LONGEST_HEAD)), cssString(right)], cssString(document.foot));
  return `<!doctype html>
<html lang="${document.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:">
<meta name="generator" content="${escapeMarkup(document.software)}">
<title>${escapeMarkup(documentTitle(document))}</title>
<style>${style}</style>
</head>
<body>
<main>
<header class="head"><span>${escapeMarkup(left)}</span><span>${escapeMarkup(right)}</span></header>
${body}
<footer class="foot"><span>${escapeMarkup(document.foot)}</span></footer>
</main>
</body>
</html>
`;
}

/** Signs of a running head: a page's margin does not break them. */
const LONGEST_HEAD = 70;

/** Quoted for CSS; angle brackets written so that they cannot end the style element. */
function cssString(text: string): string {
  return `"${text.replace(/[\\"<>\n\r\f]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;
}

/** @param above the heading that the blocks stand under */
function blocksMarkup(blocks: readonly Block[], above = ''): string {
  let heading = above;
  return (
    blocks
      // A printed page is filled by the browser, which cannot be told to turn it only where it is not nearly empty.
      .filter((block) => block.kind !== 'pageBreak' || block.always === true)
      .map((block) => {
        if (block.kind === 'heading') heading = block.text;
        return blockMarkup(block, heading);
      })
      .join('\n')
  );
}

function blockMarkup(block: Block, heading: string): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}>${escapeMarkup(block.text)}</h${block.level}>`;
    case 'paragraph':
      return `<p${block.size === 'note' ? ' class="note"' : ''}>${inlineMarkup(block.text)}</p>`;
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${inlineMarkup(item)}</li>`).join('')}</ul>`;
    case 'notice':
      return `<div class="notice ${block.tone}"><strong>${escapeMarkup(block.title)}</strong>${inlineMarkup(block.text)}</div>`;
    case 'keyValues':
      return `<dl${block.columns === 2 ? ' class="two"' : ''}>${block.pairs
        .map(({ key, value }) => `<div><dt>${escapeMarkup(key)}</dt><dd>${inlineMarkup(value)}</dd></div>`)
        .join('')}</dl>`;
    case 'table':
      return tableMarkup(block, heading);
    case 'figure':
      return `<figure>${toSvg(block.drawing)}<figcaption>${escapeMarkup(block.caption)}</figcaption></figure>`;
    case 'columns':
      return `<div class="columns" style="grid-template-columns:${block.columns
        .map(({ share }) => `minmax(0,${share}fr)`)
        .join(
          ' ',
        )}">${block.columns.map(({ blocks }) => `<div>${blocksMarkup(blocks, heading)}</div>`).join('')}</div>`;
    case 'pageBreak':
      return '<div class="page"></div>';
    case 'signatures':
      return `<div class="signatures">${block.roles
        .map(
          (role) =>
            `<div class="signature"><strong>${escapeMarkup(role)}</strong>${block.fields
              .map((field) => `<span>${escapeMarkup(field)}</span>`)
              .join('')}</div>`,
        )
        .join('\n')}</div>`;
  }
}

/** A table without a caption is named by the heading that it stands under; a wide one can be scrolled with the keyboard. */
function tableMarkup({ caption, columns, rows }: TableBlock, heading: string): string {
  const name = escapeMarkup(caption === '' ? heading : caption);
  const names = columns.map((column, i) =>
    classes(
      column,
      rows.map(({ cells }) => plain(cells[i] ?? '')),
    ),
  );
  const head = columns
    .map(
      ({ header, unit }, i) =>
        `<th scope="col"${names[i]}>${escapeMarkup(header)}${unit === undefined ? '' : `<small>${escapeMarkup(unit)}</small>`}</th>`,
    )
    .join('');
  const label = caption === '' ? ` aria-label="${name}"` : '';
  const title = caption === '' ? '' : `<caption>${escapeMarkup(caption)}</caption>`;
  const body = rows.map((row) => rowMarkup(row, names)).join('\n');
  return `<div class="${rows.length <= SHORT_TABLE ? 'scroll short' : 'scroll'}" role="group" tabindex="0" aria-label="${name}"><table${label}>${title}<thead><tr>${head}</tr></thead><tbody>\n${body}\n</tbody></table></div>`;
}

function rowMarkup({ cells, tone, apart }: TableRow, names: readonly string[]): string {
  const name = [tone ?? '', apart === true ? 'apart' : ''].filter((part) => part !== '').join(' ');
  const row = names
    .map((own, i) => {
      const cell = cells[i] ?? '';
      const [open, close] = isRowHead(i, cell) ? ['th scope="row"', 'th'] : ['td', 'td'];
      return `<${open}${own}>${inlineMarkup(cell)}</${close}>`;
    })
    .join('');
  return `<tr${name === '' ? '' : ` class="${name}"`}>${row}</tr>`;
}

/** A text or a word with more signs than this may be broken wherever it has to be. */
const LONG = 30;

/** As on paper, a column that does not grow keeps its text on one line, unless that is very long. */
function classes({ align, grow }: TableColumn, texts: readonly string[]): string {
  const longest = (parts: readonly string[]): number => Math.max(0, ...parts.map(({ length }) => length));
  const names = [
    ...(align === 'right' ? ['right'] : []),
    ...(grow === undefined && longest(texts) <= LONG ? ['fit'] : []),
    ...(longest(texts.flatMap((text) => text.split(/\s/))) > LONG ? ['cut'] : []),
  ];
  return names.length === 0 ? '' : ` class="${names.join(' ')}"`;
}

function inlineMarkup(text: Inline): string {
  if (typeof text === 'string') return escapeMarkup(text);
  return text
    .map((part) => {
      if (typeof part === 'string') return escapeMarkup(part);
      const words = escapeMarkup(plain([part]));
      const tone = part.tone === undefined ? '' : ` class="${part.tone}"`;
      if (part.bold === true) return `<strong${tone}>${words}</strong>`;
      return tone === '' ? words : `<span${tone}>${words}</span>`;
    })
    .join('');
}
