/** Each kind of block as boxes. */
import type { Block } from '../document.ts';
import type { Box, Setting } from './box.ts';
import { columnsBoxes, figureBoxes, keyValueBoxes, signatureBoxes } from './other-boxes.ts';
import { tableBoxes } from './table-boxes.ts';
import { headingBoxes, listBoxes, noticeBoxes, paragraphBoxes } from './text-boxes.ts';

export function blockBoxes(block: Block, setting: Setting): readonly Box[] {
  return boxesOf(block, setting).map((box) => ({ ...box, before: box.before * setting.density }));
}

function boxesOf(block: Block, setting: Setting): readonly Box[] {
  switch (block.kind) {
    case 'heading':
      return headingBoxes(block, setting);
    case 'paragraph':
      return paragraphBoxes(block, setting);
    case 'list':
      return listBoxes(block, setting);
    case 'notice':
      return noticeBoxes(block, setting);
    case 'keyValues':
      return keyValueBoxes(block, setting);
    case 'table':
      return tableBoxes(block, setting);
    case 'figure':
      return figureBoxes(block, setting);
    case 'columns':
      return columnsBoxes(block, setting);
    case 'signatures':
      return signatureBoxes(block, setting);
    case 'pageBreak':
      return [
        {
          height: 0,
          before: 0,
          keep: false,
          draw: () => {},
          pageBreak: block.always === true ? 'always' : 'unlessEmpty',
        },
      ];
  }
}
