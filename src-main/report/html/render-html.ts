/** The report as one HTML file that asks for nothing else: fonts, figures and style are in it, scripts there are none. */
import {
  type Block,
  documentTitle,
  type Inline,
  plain,
  type ReportDocument,
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
    fontFaces(text) + styleSheet(paper, [cssString(left), cssString(right)], cssString(document.foot));
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
<div class="head"><span>${escapeMarkup(left)}</span><span>${escapeMarkup(right)}</span></div>
${body}
<div class="foot"><span>${escapeMarkup(document.foot)}</span></div>
</main>
</body>
</html>
`;
}

/** Quoted for CSS; angle brackets written so that they cannot end the style element. */
function cssString(text: string): string {
  return `"${text.replace(/[\\"<>\n\r\f]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;
}

function blocksMarkup(blocks: readonly Block[]): string {
  return blocks
    .filter((block, i) => block.kind !== 'pageBreak' || blocks[i + 1]?.kind !== 'pageBreak')
    .map(blockMarkup)
    .join('\n');
}

function blockMarkup(block: Block): string {
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
      return tableMarkup(block);
    case 'figure':
      return `<figure>${toSvg(block.drawing)}<figcaption>${escapeMarkup(block.caption)}</figcaption></figure>`;
    case 'columns':
      return `<div class="columns" style="grid-template-columns:${block.columns
        .map(({ share }) => `minmax(0,${share}fr)`)
        .join(
          ' ',
        )}">${block.columns.map(({ blocks }) => `<div>${blocksMarkup(blocks)}</div>`).join('')}</div>`;
    case 'pageBreak':
      return '<div class="page"></div>';
    case 'signatures':
      return block.roles
        .map(
          (role) =>
            `<div class="signature"><strong>${escapeMarkup(role)}</strong>${block.fields
              .map((field) => `<span>${escapeMarkup(field)}</span>`)
              .join('')}</div>`,
        )
        .join('\n');
  }
}

function tableMarkup({ caption, columns, rows }: TableBlock): string {
  const head = columns
    .map(
      ({ header, unit, ...column }) =>
        `<th scope="col"${classes(column)}>${escapeMarkup(header)}${unit === undefined ? '' : `<small>${escapeMarkup(unit)}</small>`}</th>`,
    )
    .join('');
  const title = caption === '' ? '' : `<caption>${escapeMarkup(caption)}</caption>`;
  const body = rows.map((row) => rowMarkup(row, columns)).join('\n');
  return `<div class="scroll"><table>${title}<thead><tr>${head}</tr></thead><tbody>\n${body}\n</tbody></table></div>`;
}

function rowMarkup({ cells, tone, apart }: TableRow, columns: readonly TableColumn[]): string {
  const name = [tone ?? '', apart === true ? 'apart' : ''].filter((part) => part !== '').join(' ');
  const row = columns
    .map((column, i) => `<td${classes(column)}>${inlineMarkup(cells[i] ?? '')}</td>`)
    .join('');
  return `<tr${name === '' ? '' : ` class="${name}"`}>${row}</tr>`;
}

/** As on paper, a column that does not grow keeps its text on one line. */
function classes({ align, grow }: Pick<TableColumn, 'align' | 'grow'>): string {
  const names = [align === 'right' ? 'right' : '', grow === undefined ? 'fit' : ''].filter(
    (name) => name !== '',
  );
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
