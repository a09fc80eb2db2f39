/**
 * From pieces of UTF-8 bytes to rows of cells, with the physical line of each row.
 *
 * Pieces with quotes go through papaparse. Pieces without any are cut here by the same rule (line feed, then
 * delimiter): a row is then a few offsets into the bytes, and no string need be made for any cell.
 */
import Papa from 'papaparse';
import { refuse } from '../problems.ts';

/** Takes a row as offsets: cell c is bytes[bounds[2c], bounds[2c + 1]). Valid during the call only. */
export type RowHandler = (bytes: Buffer, bounds: Int32Array, cells: number, line: number) => void;

/** Rows of a point file have some ten cells; this many mean that the text is no table. */
const MOST_CELLS = 1024;
/** A row that has not ended after this much text never will: a quote is open or it is no table. */
const LONGEST_ROW = 1024 * 1024;

const TAB = 9;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const BLANK = 32;
const QUOTE = 34;

/** Joins the cells of a parsed row; the handler sees offsets only. */
const JOINT = '\n';

export class RowScanner {
  readonly #delimiter: string;
  readonly #delimiterByte: number;
  readonly #file: string;
  readonly #onRow: RowHandler;
  readonly #bounds = new Int32Array(2 * MOST_CELLS);
  /** Bytes not yet used, at the front; grows where rows are long. */
  #buffer = Buffer.allocUnsafe(0);
  #length = 0;
  #line = 1;

  constructor(delimiter: string, file: string, onRow: RowHandler) {
    this.#delimiter = delimiter;
    this.#delimiterByte = delimiter.charCodeAt(0);
    this.#file = file;
    this.#onRow = onRow;
  }

  /** The next piece of the file; a lone carriage return is no line end here (see `tidyLineEnds`). */
  push(piece: Uint8Array, last: boolean): void {
    const length = this.#length + piece.length;
    if (length > this.#buffer.length) {
      const larger = Buffer.allocUnsafe(2 * length);
      this.#buffer.copy(larger, 0, 0, this.#length);
      this.#buffer = larger;
    }
    this.#buffer.set(piece, this.#length);
    const bytes = this.#buffer;
    const quote = bytes.indexOf(QUOTE);
    const used =
      quote >= 0 && quote < length
        ? this.#parseQuoted(bytes, length, last)
        : this.#delimiterByte === BLANK
          ? this.#cutAtBlanks(bytes, length, last)
          : this.#cut(bytes, length, last);
    bytes.copyWithin(0, used, length);
    this.#length = length - used;
    if (this.#length > LONGEST_ROW) this.#refuseEndless();
  }

  #cut(bytes: Buffer, length: number, last: boolean): number {
    const bounds = this.#bounds;
    const delimiter = this.#delimiterByte;
    let rowStart = 0;
    let cellStart = 0;
    let cells = 0;
    for (let at = 0; at < length; at += 1) {
      const byte = bytes[at] as number;
      if (byte === delimiter) {
        if (cells === MOST_CELLS - 1) this.#refuseWide();
        bounds[2 * cells] = cellStart;
        bounds[2 * cells + 1] = at;
        cells += 1;
        cellStart = at + 1;
      } else if (byte === LINE_FEED) {
        bounds[2 * cells] = cellStart;
        // The first half of a carriage return with line feed belongs to no cell.
        bounds[2 * cells + 1] = at > cellStart && bytes[at - 1] === CARRIAGE_RETURN ? at - 1 : at;
        this.#onRow(bytes, bounds, cells + 1, this.#line);
        this.#line += 1;
        cells = 0;
        cellStart = at + 1;
        rowStart = cellStart;
      }
    }
    if (!last) return rowStart;
    if (rowStart < length) {
      bounds[2 * cells] = cellStart;
      bounds[2 * cells + 1] = length;
      this.#onRow(bytes, bounds, cells + 1, this.#line);
    }
    return length;
  }

  /** Cells between runs of blanks; those at the ends of a line separate nothing. */
  #cutAtBlanks(bytes: Buffer, length: number, last: boolean): number {
    const bounds = this.#bounds;
    let rowStart = 0;
    let cellStart = -1;
    let cells = 0;
    for (let at = 0; at <= length; at += 1) {
      const byte = at < length ? bytes[at] : LINE_FEED;
      if (byte !== BLANK && byte !== TAB && byte !== CARRIAGE_RETURN && byte !== LINE_FEED) {
        if (cellStart < 0) cellStart = at;
        continue;
      }
      if (at === length && (!last || rowStart === length)) break;
      if (cellStart >= 0) {
        if (cells === MOST_CELLS - 1) this.#refuseWide();
        bounds[2 * cells] = cellStart;
        bounds[2 * cells + 1] = at;
        cells += 1;
        cellStart = -1;
      }
      if (byte === LINE_FEED) {
        if (cells === 0) {
          bounds[0] = at;
          bounds[1] = at;
          cells = 1;
        }
        this.#onRow(bytes, bounds, cells, this.#line);
        this.#line += 1;
        cells = 0;
        rowStart = at + 1;
      }
    }
    return last ? length : rowStart;
  }

  #parseQuoted(bytes: Buffer, length: number, last: boolean): number {
    // Whole lines only, so that no character is cut.
    const end = last ? length : bytes.lastIndexOf(LINE_FEED, length - 1) + 1;
    const text = bytes.toString('utf8', 0, end);
    const source = this.#delimiterByte === BLANK ? collapseBlanks(text) : text;
    const parser = new Papa.Parser({ delimiter: this.#delimiter, newline: '\n' });
    const { data, errors } = parser.parse(source, 0, false) as Papa.ParseResult<string[]>;
    const open = errors.find((error) => error.code === 'MissingQuotes')?.row ?? -1;
    if (open >= 0 && last) this.#refuseOpenQuote(this.#line + linesOf(data.slice(0, open)));
    // papaparse reads the nothing after a final line feed as a row; a row that is still open waits for more.
    const surplus = data.at(-1)?.length === 1 && data.at(-1)?.[0] === '';
    const rows = open >= 0 ? data.slice(0, open) : surplus ? data.slice(0, -1) : data;
    const bounds = this.#bounds;
    for (const row of rows) {
      if (row.length > MOST_CELLS) this.#refuseWide();
      let offset = 0;
      row.forEach((cell, column) => {
        bounds[2 * column] = offset;
        offset += Buffer.byteLength(cell);
        bounds[2 * column + 1] = offset;
        offset += JOINT.length;
      });
      this.#onRow(Buffer.from(row.join(JOINT)), bounds, row.length, this.#line);
      this.#line += linesOf([row]);
    }
    if (open < 0) return end;
    // Where the open row begins: after as many line feeds as the rows before it took.
    let start = 0;
    for (let lines = linesOf(rows); lines > 0; lines -= 1) start = bytes.indexOf(LINE_FEED, start) + 1;
    return start;
  }

  #refuseEndless(): never {
    if (this.#buffer.subarray(0, this.#length).includes(QUOTE)) this.#refuseOpenQuote(this.#line);
    refuse({
      code: 'endless-row',
      file: this.#file,
      line: this.#line,
      says: 'the line does not end',
      expected: 'one row a point, each in a line of its own',
      remedy: 'check that this is a point file',
    });
  }

  #refuseOpenQuote(line: number): never {
    refuse({
      code: 'open-quote',
      file: this.#file,
      line,
      says: 'a quote is opened in this row and not closed',
      value: '"',
      expected: 'quotes in pairs',
      remedy: 'close it or take it out',
    });
  }

  #refuseWide(): never {
    refuse({
      code: 'too-many-cells',
      file: this.#file,
      line: this.#line,
      says: 'the row has more cells than any point needs',
      value: `over ${MOST_CELLS - 1} cells`,
      expected: 'a table of points',
      remedy: 'check the delimiter and that this is a point file',
    });
  }
}

/** Physical lines that rows took, line feeds inside quotes included. */
function linesOf(rows: readonly (readonly string[])[]): number {
  let lines = rows.length;
  for (const row of rows) for (const cell of row) lines += cell.split('\n').length - 1;
  return lines;
}

/** Lone carriage returns end lines in some files; pairs with a line feed need no change. */
const LONE_RETURN = /\r(?!\n)/;

export function hasLoneReturns(text: string): boolean {
  return LONE_RETURN.test(text);
}

/** The same text with every line ended by a line feed alone. */
export function tidyLineEnds(text: string): string {
  return text.replace(/\r\n?/g, '\n');
}

/** Blanks as single delimiters, none at the ends of a line. */
export function collapseBlanks(text: string): string {
  return text
    .replace(/[ \t\r]+/g, ' ')
    .replace(/(^|\n) /g, '$1')
    .replace(/ (?=\n|$)/g, '');
}
