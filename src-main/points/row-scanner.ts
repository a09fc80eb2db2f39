/**
 * From chunks of text to rows of cells, with the physical line of each row.
 *
 * Chunks with quotes go through papaparse. Chunks without any are cut here by the same rule (line feed, then
 * delimiter), because a row is then a few offsets into the chunk and no string need be made for each cell.
 */
import Papa from 'papaparse';
import { refuse } from '../problems.ts';

/** Takes a row as offsets: cell c is text[bounds[2c], bounds[2c + 1]). */
export type RowHandler = (text: string, bounds: Int32Array, cells: number, line: number) => void;

/** Rows of a point file have some ten cells; this many mean that the text is no table. */
const MOST_CELLS = 1024;
/** A row that has not ended after this much text never will: a quote is open or it is no table. */
const LONGEST_ROW = 1024 * 1024;

const CARRIAGE_RETURN = 13;

/** Joins the cells of a parsed row into one text; the handler sees offsets only. */
const JOINT = '\n';

export class RowScanner {
  readonly #delimiter: string;
  readonly #file: string;
  readonly #onRow: RowHandler;
  readonly #bounds = new Int32Array(2 * MOST_CELLS);
  #rest = '';
  #line = 1;

  constructor(delimiter: string, file: string, onRow: RowHandler) {
    this.#delimiter = delimiter;
    this.#file = file;
    this.#onRow = onRow;
  }

  /** The next piece of the file, line ends already as `tidyLineEnds` leaves them. */
  push(piece: string, last: boolean): void {
    let text = this.#rest + piece;
    if (this.#delimiter === ' ') text = collapseBlanks(text);
    const used = text.includes('"') ? this.#parseQuoted(text, last) : this.#cut(text, last);
    this.#rest = text.slice(used);
    if (this.#rest.length > LONGEST_ROW) this.#refuseEndless();
  }

  #cut(text: string, last: boolean): number {
    const bounds = this.#bounds;
    const delimiter = this.#delimiter;
    const length = text.length;
    let position = 0;
    while (position < length) {
      let end = text.indexOf('\n', position);
      if (end < 0) {
        if (!last) return position;
        end = length;
      }
      // The first half of a carriage return with line feed belongs to no cell.
      const rowEnd = end > position && text.charCodeAt(end - 1) === CARRIAGE_RETURN ? end - 1 : end;
      let cells = 0;
      for (let start = position; ; ) {
        let stop = text.indexOf(delimiter, start);
        if (stop < 0 || stop > rowEnd) stop = rowEnd;
        if (cells === MOST_CELLS) this.#refuseWide();
        bounds[2 * cells] = start;
        bounds[2 * cells + 1] = stop;
        cells += 1;
        if (stop === rowEnd) break;
        start = stop + 1;
      }
      this.#onRow(text, bounds, cells, this.#line);
      this.#line += 1;
      position = end + 1;
    }
    return length;
  }

  #parseQuoted(text: string, last: boolean): number {
    const parser = new Papa.Parser({ delimiter: this.#delimiter, newline: '\n' });
    const { data, meta, errors } = parser.parse(text, 0, !last) as Papa.ParseResult<string[]>;
    const open = errors.find((error) => error.code === 'MissingQuotes');
    const bounds = this.#bounds;
    data.forEach((row, index) => {
      // papaparse reads the nothing after a final line feed as a row.
      if (last && index === data.length - 1 && row.length === 1 && row[0] === '') return;
      if (open?.row === index) this.#refuseOpenQuote(this.#line);
      if (row.length > MOST_CELLS) this.#refuseWide();
      let offset = 0;
      let lines = 1;
      row.forEach((cell, column) => {
        bounds[2 * column] = offset;
        offset += cell.length;
        bounds[2 * column + 1] = offset;
        offset += JOINT.length;
        for (let at = cell.indexOf('\n'); at >= 0; at = cell.indexOf('\n', at + 1)) lines += 1;
      });
      this.#onRow(row.join(JOINT), bounds, row.length, this.#line);
      this.#line += lines;
    });
    return last ? text.length : meta.cursor;
  }

  #refuseEndless(): never {
    if (this.#rest.includes('"')) this.#refuseOpenQuote(this.#line);
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
      value: `over ${MOST_CELLS} cells`,
      expected: 'a table of points',
      remedy: 'check the delimiter and that this is a point file',
    });
  }
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

/** Cells between blanks: runs become one, those at the ends of a line go. */
function collapseBlanks(text: string): string {
  return text
    .replace(/[ \t\r]+/g, ' ')
    .replace(/(^|\n) /g, '$1')
    .replace(/ \n/g, '\n');
}
