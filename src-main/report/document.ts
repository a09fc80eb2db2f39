/**
 * The document model: what a report says and in which order, free of paper and of markup. HTML and PDF are two renderings
 * of the same blocks, so that neither can say what the other does not.
 */
import type { Drawing } from './figures/shapes.ts';
import type { Language } from './messages/languages.ts';

/** What a colour and a weight mean; never the only carrier of that meaning. */
export type Tone = 'conforming' | 'nonconforming' | 'unproven' | 'missing' | 'caution' | 'quiet';

export interface Span {
  readonly text: string;
  readonly bold?: boolean;
  readonly tone?: Tone;
}

/** Running text. */
export type Inline = string | readonly (string | Span)[];

export interface HeadingBlock {
  readonly kind: 'heading';
  /** 1 the title, 2 a numbered section, 3 a part of it. */
  readonly level: 1 | 2 | 3;
  readonly text: string;
}

export interface ParagraphBlock {
  readonly kind: 'paragraph';
  readonly text: Inline;
  readonly size: 'body' | 'note';
}

export interface ListBlock {
  readonly kind: 'list';
  readonly items: readonly Inline[];
}

/** A statement in a frame; `tone` colours its edge. */
export interface NoticeBlock {
  readonly kind: 'notice';
  readonly tone: Tone;
  readonly title: string;
  readonly text: Inline;
}

export interface KeyValuesBlock {
  readonly kind: 'keyValues';
  /** Pairs are set in this many columns, read column by column. */
  readonly columns: 1 | 2;
  readonly pairs: readonly { readonly key: string; readonly value: Inline }[];
}

export interface TableColumn {
  readonly header: string;
  /** Second line of the header. */
  readonly unit?: string;
  readonly align: 'left' | 'right';
  /** Share of the width that is left over; a column without it is as wide as its text. */
  readonly grow?: number;
}

export interface TableRow {
  readonly cells: readonly Inline[];
  /** Tints the row. */
  readonly tone?: Tone;
  /** A row that states limits or sums rather than a member of the list. */
  readonly apart?: boolean;
}

export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
}

/** A table with no more rows than this is not divided. */
export const SHORT_TABLE = 9;

export interface FigureBlock {
  readonly kind: 'figure';
  readonly drawing: Drawing;
  readonly caption: string;
}

/** Blocks side by side. */
export interface ColumnsBlock {
  readonly kind: 'columns';
  readonly columns: readonly { readonly share: number; readonly blocks: readonly Block[] }[];
}

/** What follows begins a page; on paper it does not where the page before would stay nearly empty, unless `always`. */
export interface PageBreakBlock {
  readonly kind: 'pageBreak';
  readonly always?: boolean;
}

/** Lines to sign on: one for each role. */
export interface SignaturesBlock {
  readonly kind: 'signatures';
  readonly roles: readonly string[];
  /** Words under the lines: name, signature, date. */
  readonly fields: readonly string[];
}

export type Block =
  | HeadingBlock
  | ParagraphBlock
  | ListBlock
  | NoticeBlock
  | KeyValuesBlock
  | TableBlock
  | FigureBlock
  | ColumnsBlock
  | PageBreakBlock
  | SignaturesBlock;

export interface ReportDocument {
  readonly language: Language;
  readonly title: string;
  readonly subject: string;
  /** Running head: left and right. */
  readonly head: readonly [string, string];
  /** Foot: left; the page number stands at the right. */
  readonly foot: string;
  /** Behind the caption of a table that goes on. */
  readonly continued: string;
  /** When the report was made; the only thing in it that does not follow from the input. */
  readonly time: Date;
  readonly software: string;
  readonly blocks: readonly Block[];
}

export const heading = (level: HeadingBlock['level'], text: string): HeadingBlock => ({
  kind: 'heading',
  level,
  text,
});
export const paragraph = (text: Inline): ParagraphBlock => ({ kind: 'paragraph', text, size: 'body' });
export const note = (text: Inline): ParagraphBlock => ({ kind: 'paragraph', text, size: 'note' });
export const pageBreak: PageBreakBlock = { kind: 'pageBreak' };

/** The characters of a running text alone. */
export function plain(text: Inline): string {
  return typeof text === 'string'
    ? text
    : text.map((part) => (typeof part === 'string' ? part : part.text)).join('');
}

/** A text of at most so many characters, its middle left out where it is longer: names are told apart by their ends. */
export function shortened(text: string, most: number): string {
  const signs = [...text];
  if (signs.length <= most) return text;
  const tail = Math.floor((most - 1) / 2);
  return `${signs.slice(0, most - 1 - tail).join('')}…${signs.slice(signs.length - tail).join('')}`;
}

/** The longest shortening of a text that fits; the text itself where it does. */
export function fitted(text: string, fits: (shown: string) => boolean): string {
  if (fits(text)) return text;
  let [most, tooMany] = [1, [...text].length];
  while (tooMany - most > 1) {
    const middle = Math.floor((most + tooMany) / 2);
    if (fits(shortened(text, middle))) most = middle;
    else tooMany = middle;
  }
  return shortened(text, most);
}

/**
 * Names shortened like `fitted`, but so that different ones stay different: of those that would look alike the beginning that
 * they share is left out as well, and where even that does not tell them apart, they are numbered.
 *
 * @param fits whether a text has the room that the name of this index has
 */
export function fittedApart(
  names: readonly string[],
  fits: (shown: string, index: number) => boolean,
): readonly string[] {
  const shown = names.map((name, i) => fitted(name, (text) => fits(text, i)));
  const shortenAgain = (indices: readonly number[]): void => {
    for (const alike of lookingAlike(names, shown, indices)) {
      const common = commonStart(alike.map((i) => [...(names[i] as string)]));
      for (const i of alike) {
        const rest = [...(names[i] as string)].slice(common).join('');
        shown[i] = fitted(`…${rest}`, (text) => fits(text, i));
      }
      // Each round they share a longer beginning, for they differ behind it.
      if (new Set(alike.map((i) => shown[i])).size > 1) shortenAgain(alike);
    }
  };
  const all = [...names.keys()];
  shortenAgain(all);
  const numbers = [...new Set(names)];
  for (const i of lookingAlike(names, shown, all).flat()) {
    const number = `${numbers.indexOf(names[i] as string) + 1}: `;
    shown[i] = number + fitted(names[i] as string, (text) => fits(number + text, i));
  }
  return shown;
}

/** Groups of different names that are shown as one text. */
function lookingAlike(
  names: readonly string[],
  shown: readonly string[],
  indices: readonly number[],
): readonly (readonly number[])[] {
  return [...new Set(indices.map((i) => shown[i]))]
    .map((text) => indices.filter((i) => shown[i] === text))
    .filter((group) => new Set(group.map((i) => names[i])).size > 1);
}

function commonStart(texts: readonly (readonly string[])[]): number {
  const [first = []] = texts;
  const differs = first.findIndex((sign, k) => texts.some((text) => text[k] !== sign));
  return differs < 0 ? first.length : differs;
}

/** The first cell of a row tells what the others are about. */
export function isRowHead(column: number, cell: Inline): boolean {
  return column === 0 && plain(cell) !== '';
}

/** Longer than any part number that a person still reads as one. */
const LONGEST_TITLE = 160;

/** The title as the properties of a file hold it, where viewers show it on one line. */
export function documentTitle({ title }: ReportDocument): string {
  return shortened(title.replace(/\s+/g, ' '), LONGEST_TITLE);
}
