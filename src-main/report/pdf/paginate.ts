/** Boxes on pages. */
import type { Box } from './box.ts';

export interface PlacedBox {
  readonly box: Box;
  /** From the top of the text area. */
  readonly y: number;
}

export type Page = readonly PlacedBox[];

/** Fills pages of a text area of this height, keeping together what belongs together as long as a page holds it. */
export function paginate(boxes: readonly Box[], height: number): readonly Page[] {
  const pages: PlacedBox[][] = [];
  let page: PlacedBox[] = [];
  let y = 0;
  const turn = () => {
    pages.push(page);
    page = [];
    y = 0;
  };
  const place = (box: Box) => {
    if (page.length > 0) y += box.before;
    page.push({ box, y });
    y += box.height;
  };
  let held = 0;
  boxes.forEach((box, i) => {
    if (box.pageBreak === true) {
      if (page.length > 0) turn();
      return;
    }
    const chain = chainFrom(boxes, i);
    const room = height - y - (page.length > 0 ? box.before : 0);
    // Within a chain that was begun the question has been answered already.
    if (held === 0 && page.length > 0 && chain.height > room) turn();
    else if (page.length > 0 && box.height > room) turn();
    if (page.length === 0 && box.head !== undefined) place(box.head);
    place(box);
    held = held > 0 ? held - 1 : chain.count - 1;
  });
  if (page.length > 0 || pages.length === 0) turn();
  return pages;
}

/** Height of this box and those that must stay with it, and how many they are. */
function chainFrom(
  boxes: readonly Box[],
  start: number,
): { readonly height: number; readonly count: number } {
  let height = 0;
  let count = 0;
  for (let i = start; i < boxes.length; i++) {
    const box = boxes[i] as Box;
    if (box.pageBreak === true) break;
    height += box.height + (i === start ? 0 : box.before);
    count += 1;
    if (!box.keep) break;
  }
  return { height, count };
}
