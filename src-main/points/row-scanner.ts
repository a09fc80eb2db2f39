/**
 * From pieces of UTF-8 bytes to rows of cells, with the physical line of each row.
 *
 * Pieces with quotes go through papaparse. Pieces without any are cut here by the same rule (line feed, then
 * delimiter): a row is then a few offsets into the bytes, no string need be made for any cell, and the numbers are read
 * in the same pass over the bytes.
 */
import Papa from 'papaparse';
import { refuse } from '../problems.ts';
import { collapseBlanks } from './line-ends.ts';

/** A row of cells, valid during the call that hands it over only. */
export interface Row {
  bytes: Buffer;
  /** Cell c is bytes[bounds[2c], bounds[2c + 1]). */
  readonly bounds: Int32Array;
  /** Its value where it is a number in plain digits; NaN where the text of the cell has to be looked at. */
  readonly numbers: Float64Array;
  cells: number;
  /** Physical line on which the row begins, from 1. */
  line: number;
}

export type RowHandler = (row: Row) => void;

/** Rows of a point file have some ten cells; this many mean that the text is no table. */
const MOST_CELLS = 1024;
/** A row that has not ended after this much text never will: a quote is open or it is no table. */
const LONGEST_ROW = 1024 * 1024;

/** Powers of ten that a double holds exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
/** Integers of this many digits are exact in a double. */
const EXACT_DIGITS = 15;

const TAB = 9;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const BLANK = 32;
const QUOTE = 34;
const MINUS = 45;
const ZERO = 48;

/** Joins the cells of a parsed row; the handler sees offsets only. */
const JOINT = '\n';

export class RowScanner {
  readonly #delimiter: string;
  readonly #delimiterByte: number;
  readonly #file: string;
  readonly #onRow: RowHandler;
  readonly #row: Row = {
    bytes: Buffer.alloc(0),
    bounds: new Int32Array(2 * MOST_CELLS),
    numbers: new Float64Array(MOST_CELLS),
    cells: 0,
    line: 1,
  };
  /** Bytes not yet used, at the front; grows where rows are long. */
  #buffer = Buffer.allocUnsafe(0);
  #length = 0;
  readonly #decimalByte: number;

  /** @param decimal decimal sign of the plain numbers */
  constructor(delimiter: string, decimal: '.' | ',', file: string, onRow: RowHandler) {
    this.#delimiter = delimiter;
    this.#delimiterByte = delimiter.charCodeAt(0);
    this.#decimalByte = decimal.charCodeAt(0);
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
    const used = bytes.subarray(0, length).includes(QUOTE)
      ? this.#parseQuoted(bytes, length, last)
      : this.#delimiterByte === BLANK
        ? this.#cutAtBlanks(bytes, length, last)
        : this.#cut(bytes, length, last);
    bytes.copyWithin(0, used, length);
    this.#length = length - used;
    if (this.#length > LONGEST_ROW) this.#refuseEndless();
  }

  /**
   * Numbers of up to 15 digits are an exact integer over an exact power of ten, and so correctly rounded by the one
   * division; all others are left to the language's own conversion.
   */
  #cut(bytes: Buffer, length: number, last: boolean): number {
    const { bounds, numbers } = this.#row;
    const delimiter = this.#delimiterByte;
    const decimal = this.#decimalByte;
    let rowStart = 0;
    let cellStart = 0;
    let cells = 0;
    let mantissa = 0;
    let digits = 0;
    let pointAt = -1;
    let returnAt = -1;
    let plain = true;
    const stop = last && length > 0 && bytes[length - 1] !== LINE_FEED ? length + 1 : length;
    for (let at = 0; at < stop; at += 1) {
      // The last row may lack its line feed.
      const byte = at < length ? (bytes[at] as number) : LINE_FEED;
      const digit = byte - ZERO;
      if (digit >= 0 && digit <= 9) {
        mantissa = mantissa * 10 + digit;
        digits += 1;
        if (returnAt >= 0) plain = false;
      } else if (byte === delimiter || byte === LINE_FEED) {
        // The first half of a carriage return with line feed belongs to no cell.
        const paired = byte === LINE_FEED && returnAt === at - 1 && returnAt >= cellStart;
        const end = paired ? at - 1 : at;
        bounds[2 * cells] = cellStart;
        bounds[2 * cells + 1] = end;
        if (plain && digits > 0 && digits <= EXACT_DIGITS && (returnAt < 0 || paired)) {
          const value = pointAt < 0 ? mantissa : mantissa / (EXACT_POWERS[end - pointAt - 1] as number);
          numbers[cells] = bytes[cellStart] === MINUS ? -value : value;
        } else numbers[cells] = Number.NaN;
        cells += 1;
        cellStart = at + 1;
        mantissa = 0;
        digits = 0;
        pointAt = -1;
        returnAt = -1;
        plain = true;
        if (byte === LINE_FEED) {
          this.#hand(bytes, cells);
          this.#row.line += 1;
          cells = 0;
          rowStart = cellStart;
        } else if (cells === MOST_CELLS) this.#refuseWide();
      } else if (byte === decimal && pointAt < 0) pointAt = at;
      else if (byte === CARRIAGE_RETURN) returnAt = at;
      else if (byte !== MINUS || at !== cellStart) plain = false;
    }
    return last ? length : rowStart;
  }

  #hand(bytes: Buffer, cells: number): void {
    this.#row.bytes = bytes;
    this.#row.cells = cells;
    this.#onRow(this.#row);
  }

  /** Cells between runs of blanks; those at the ends of a line separate nothing. */
  #cutAtBlanks(bytes: Buffer, length: number, last: boolean): number {
    const { bounds, numbers } = this.#row;
    numbers.fill(Number.NaN);
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
        this.#hand(bytes, cells);
        this.#row.line += 1;
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
    if (open >= 0 && last) this.#refuseOpenQuote(this.#row.line + linesOf(data.slice(0, open)));
    // papaparse reads the nothing after a final line feed as a row; a row that is still open waits for more.
    const surplus = data.at(-1)?.length === 1 && data.at(-1)?.[0] === '';
    const rows = open >= 0 ? data.slice(0, open) : surplus ? data.slice(0, -1) : data;
    const { bounds, numbers } = this.#row;
    numbers.fill(Number.NaN);
    for (const row of rows) {
      if (row.length > MOST_CELLS) this.#refuseWide();
      let offset = 0;
      row.forEach((cell, column) => {
        bounds[2 * column] = offset;
        offset += Buffer.byteLength(cell);
        bounds[2 * column + 1] = offset;
        offset += JOINT.length;
      });
      this.#hand(Buffer.from(row.join(JOINT)), row.length);
      this.#row.line += linesOf([row]);
    }
    if (open < 0) return end;
    // Where the open row begins: after as many line feeds as the rows before it took.
    let start = 0;
    for (let lines = linesOf(rows); lines > 0; lines -= 1) start = bytes.indexOf(LINE_FEED, start) + 1;
    return start;
  }

  #refuseEndless(): never {
    if (this.#buffer.subarray(0, this.#length).includes(QUOTE)) this.#refuseOpenQuote(this.#row.line);
    refuse({
      code: 'endless-row',
      file: this.#file,
      line: this.#row.line,
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
      line: this.#row.line,
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
