/**
 * Boxes on pages. A page is filled until the next box, or the chain of boxes that stay together, does not fit. The boxes up
 * to a page break that must be kept are a run; where the last page of a run would stay nearly empty, the run is set a little
 * denser if that saves the page, and else its last two pages share what they hold. Within a run, too, what would just not fit on
 * a page that has much room left is set denser.
 */
import { type Box, densities } from './box.ts';

export interface PlacedBox {
  readonly box: Box;
  /** From the top of the text area. */
  readonly y: number;
}

export type Page = readonly PlacedBox[];

/** A page filled less than this share is nearly empty: sections do not turn it, and runs do not end with it if they need not. */
export const leastFilled = 0.4;
/** A page filled less than this share takes what stands together next a little denser, where it then fits. */
const wellFilled = 0.75;

/** Fills pages of a text area of this height. */
export function paginate(boxesAt: (density: number) => readonly Box[], height: number): readonly Page[] {
  const known = new Map<number, readonly Run[]>();
  /** Most reports need one or two of the densities. */
  const runsAt = (density: number): readonly Run[] => {
    const runs = known.get(density) ?? runsOf(boxesAt(density));
    known.set(density, runs);
    return runs;
  };
  const pages = runsAt(densities[0]).flatMap((_, i) =>
    pagesOfRun((density) => runsAt(density)[i] as Run, height),
  );
  return pages.length > 0 ? pages : [[]];
}

type Run = readonly Box[];

function runsOf(boxes: readonly Box[]): readonly Run[] {
  const runs: Box[][] = [[]];
  for (const box of boxes)
    if (box.pageBreak === 'always') runs.push([]);
    else runs.at(-1)?.push(box);
  return runs.filter((run) => run.some(({ pageBreak }) => pageBreak === undefined));
}

/** @param runAt the same boxes at a density */
function pagesOfRun(runAt: (density: number) => Run, height: number): readonly Page[] {
  const endsWell = ({ boxes, starts }: Filling): boolean =>
    starts.length === 1 || heightOf(boxes, starts.at(-1) as number, boxes.length) >= leastFilled * height;
  const usual = filled(runAt, densities[0], height);
  if (endsWell(usual)) return placed(usual);
  let best = usual;
  for (const density of densities.slice(1)) {
    if (best.starts.length < usual.starts.length) break;
    const denser = filled(runAt, density, height);
    if (denser.starts.length < usual.starts.length) best = denser;
  }
  return placed(endsWell(best) ? best : shared(best, height));
}

interface Filling {
  readonly boxes: Run;
  /** Index of the first box of each page. */
  readonly starts: readonly number[];
}

function filled(runAt: (density: number) => Run, density: number, height: number): Filling {
  const boxes = [...runAt(density)];
  const starts = [0];
  const room = (end: number) => height - heightOf(boxes, starts.at(-1) as number, end);
  for (let i = 0; i < boxes.length; i++) {
    const start = starts.at(-1) as number;
    const { pageBreak } = boxes[i] as Box;
    if (pageBreak !== undefined) {
      if (room(i) <= (1 - leastFilled) * height && holdsAny(boxes, start, i)) starts.push(i + 1);
      continue;
    }
    const end = chainEnd(boxes, i);
    if (i > start && room(end) < 0) {
      const denser = room(i) > (1 - wellFilled) * height ? fitting(i, end) : null;
      if (denser === null) starts.push(i);
      else boxes.splice(i, end - i, ...denser);
    }
    // A chain that no page holds runs on from page to page.
    for (let k = i; k < end; k++) if (k > (starts.at(-1) as number) && room(k + 1) < 0) starts.push(k);
    i = end - 1;
  }
  return {
    boxes,
    starts: starts.at(-1) === boxes.length && starts.length > 1 ? starts.slice(0, -1) : starts,
  };

  /** These boxes as dense as they must be to fit on the page, if that is enough. */
  function fitting(from: number, to: number): Run | null {
    for (const denser of densities.filter((each) => each < density)) {
      const run = runAt(denser);
      // A block that breaks into other boxes when it is denser has no counterpart.
      if (run.length !== boxes.length) return null;
      const tried = [...boxes.slice(0, from), ...run.slice(from, to)];
      if (heightOf(tried, starts.at(-1) as number, to) <= height) return run.slice(from, to);
    }
    return null;
  }
}

function holdsAny(boxes: Run, start: number, end: number): boolean {
  return boxes.slice(start, end).some(({ pageBreak }) => pageBreak === undefined);
}

/** Behind the boxes that stay with this one. */
function chainEnd(boxes: Run, start: number): number {
  let end = start;
  while (boxes[end]?.keep === true && boxes[end + 1] !== undefined && boxes[end + 1]?.pageBreak === undefined)
    end += 1;
  return end + 1;
}

/**
 * The last page begins where it is not nearly empty, if it can: behind a whole block if possible, as far down the page before
 * it as possible.
 */
function shared({ boxes, starts }: Filling, height: number): Filling {
  const [before, last] = [starts.at(-2) as number, starts.at(-1) as number];
  const enough = leastFilled * height;
  const fits = Array.from({ length: last - before - 1 }, (_, k) => last - 1 - k).filter((start) => {
    const whole = heightOf(boxes, start, boxes.length);
    return (
      boxes[start - 1]?.keep === false &&
      boxes[start]?.pageBreak === undefined &&
      whole >= enough &&
      whole <= height &&
      heightOf(boxes, before, start) >= enough
    );
  });
  const start = fits.find((each) => boxes[each]?.head === undefined) ?? fits[0] ?? last;
  return { boxes, starts: [...starts.slice(0, -1), start] };
}

/** Height of these boxes at the head of a page, with the head of a table that goes on. */
function heightOf(boxes: Run, start: number, end: number): number {
  const last = placedOn(boxes, start, end).at(-1);
  return last === undefined ? 0 : last.y + last.box.height;
}

function placed({ boxes, starts }: Filling): readonly Page[] {
  return starts.map((start, i) => placedOn(boxes, start, starts[i + 1] ?? boxes.length));
}

function placedOn(boxes: Run, start: number, end: number): Page {
  const page: PlacedBox[] = [];
  let y = 0;
  const place = (box: Box) => {
    if (page.length > 0) y += box.before;
    page.push({ box, y });
    y += box.height;
  };
  for (const box of boxes.slice(start, end)) {
    if (box.pageBreak !== undefined) continue;
    if (page.length === 0 && box.head !== undefined) place(box.head);
    place(box);
  }
  return page;
}
