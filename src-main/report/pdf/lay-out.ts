/** A document on pages: its blocks as boxes, these placed. */
import type { Block, ReportDocument } from '../document.ts';
import { blockBoxes } from './block-boxes.ts';
import type { Box, Setting } from './box.ts';
import { type Page, paginate } from './paginate.ts';
import { type Paper, textHeight, textWidth } from './paper.ts';
import { tag } from './tag.ts';
import type { Typesetter } from './typesetter.ts';

export function layOut(document: ReportDocument, paper: Paper, typesetter: Typesetter): readonly Page[] {
  const height = textHeight(paper);
  const parent = tag('Document', null);
  const setting = { typesetter, width: textWidth(paper), height, continued: document.continued, parent };
  return paginate((density) => boxesOf(document.blocks, { ...setting, density }), height);
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
