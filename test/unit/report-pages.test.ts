/**
 * Every page of reports that strain the layout, in each language and on each sheet, as the boxes that are drawn: nothing
 * leaves its place, no text lies on another, every text belongs to the logical structure, and no page is nearly empty.
 */
import { describe, expect, it } from 'vitest';
import { reportDocument } from '../../src-main/report/index.ts';
import { drawPage } from '../../src-main/report/pdf/draw-page.ts';
import { layOut } from '../../src-main/report/pdf/lay-out.ts';
import { leastFilled, type Page } from '../../src-main/report/pdf/paginate.ts';
import { margins, sheets, textHeight } from '../../src-main/report/pdf/paper.ts';
import {
  type Extent,
  measuringTypesetter,
  type Recording,
  ROUNDING,
  recordingPen,
} from '../support/recording-pen.ts';
import { reportCases } from '../support/report-cases.ts';
import { inputOf } from '../support/reports.ts';

const typesetter = measuringTypesetter();

describe.each(await reportCases())('$name', ({ disc, length, looks }) => {
  it.each(looks)('holds together in %s on %s', (language, paper) => {
    const document = reportDocument(inputOf(disc, { language, paper, length }));
    const pages = layOut(document, paper, typesetter);
    const sheet = sheets[paper];
    const area = {
      left: margins.left,
      right: sheet.width - margins.right,
      top: margins.top,
      bottom: sheet.height - margins.bottom,
    };
    const faults = pages.flatMap((page, i) => {
      const { pen, recording } = recordingPen(typesetter);
      drawPage(pen, typesetter, document, page, paper, i + 1, pages.length);
      return [
        ...outside(recording, area, sheet.height),
        ...overlaps(recording.texts),
        ...recording.strays.map((stray) => `out of its drawing: ${stray}`),
        ...recording.untagged.map((text) => `not in the structure: ${text}`),
        ...nearlyEmpty(page, pages[i + 1], textHeight(paper)),
      ].map((fault) => `page ${i + 1}: ${fault}`);
    });
    expect(faults).toEqual([]);
  });
});

type Area = Pick<Extent, 'left' | 'right' | 'top' | 'bottom'>;

/** Running heads stand above and below the type area, everything else in it. */
function outside({ texts, texture, pagination }: Recording, area: Area, height: number): readonly string[] {
  const head = { ...area, top: 24, bottom: area.top };
  const foot = { ...area, top: area.bottom, bottom: height - 24 };
  return [...texts, ...texture]
    .filter((extent) => {
      const places = extent.what === 'rule' || pagination.has(extent) ? [area, head, foot] : [area];
      return !places.some((place) => holds(place, extent));
    })
    .map(({ what, left, right, top, bottom }) => {
      const edges = [left, right, top, bottom].map((value) => value.toFixed(1)).join(' ');
      return `out of its place: ${what.slice(0, 60)} (${edges})`;
    });
}

function holds(place: Area, { left, right, top, bottom }: Extent): boolean {
  return (
    left >= place.left - ROUNDING &&
    right <= place.right + ROUNDING &&
    top >= place.top - ROUNDING &&
    bottom <= place.bottom + ROUNDING
  );
}

function overlaps(texts: readonly Extent[]): readonly string[] {
  const sorted = texts.filter(({ what }) => what.trim() !== '').sort((a, b) => a.top - b.top);
  return sorted.flatMap((one, i) => {
    const found: string[] = [];
    for (let k = i + 1; k < sorted.length; k++) {
      const other = sorted[k] as Extent;
      if (other.top >= one.bottom - ROUNDING) break;
      if (other.left < one.right - ROUNDING && one.left < other.right - ROUNDING)
        found.push(`"${one.what.slice(0, 40)}" lies on "${other.what.slice(0, 40)}"`);
    }
    return found;
  });
}

/** A page may be left so where what stands together next did not fit on it; the last one may be. */
function nearlyEmpty(page: Page, next: Page | undefined, height: number): readonly string[] {
  if (next === undefined) return [];
  const filled = filledOf(page);
  if (filled >= leastFilled * height) return [];
  const follows = next.filter(({ box }) => !next.some((placed) => placed.box.head === box));
  const ends = follows.findIndex(({ box }) => !box.keep);
  const chain = ends < 0 ? follows : follows.slice(0, ends + 1);
  const needs = filledOf(chain) - (chain[0]?.y ?? 0) + (chain[0]?.box.before ?? 0);
  return filled + needs > height ? [] : [`filled to ${((100 * filled) / height).toFixed(0)} %`];
}

function filledOf(page: Page): number {
  const last = page.at(-1);
  return last === undefined ? 0 : last.y + last.box.height;
}
