/** Reading the weld order: `station,sequence,tool,date` and any numeric columns, one row a weld. */
import { createHash } from 'node:crypto';
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { Problem, WeldRow } from '../api.ts';
import { readSmallInput } from '../input-file.ts';
import { list, nearest } from '../nearest.ts';
import { detectDialect } from '../points/dialect.ts';
import { headerName } from '../points/header-names.ts';
import { stationNumber } from '../points/label-pattern.ts';
import { tidyLineEnds } from '../points/line-ends.ts';
import { diagnoseNumber, numberFrom } from '../points/numbers.ts';
import { RowScanner } from '../points/row-scanner.ts';
import { describe, RefusedInput, refuse } from '../problems.ts';
import { decodeText } from '../text-encoding.ts';

/** Ten thousand stations with many columns stay far below this. */
const MOST_BYTES = 16 * 1024 * 1024;
const MOST_PROBLEMS = 20;

const FIXED_COLUMNS = ['station', 'sequence', 'tool', 'date'] as const;
type FixedColumn = (typeof FIXED_COLUMNS)[number];
const REQUIRED: readonly FixedColumn[] = ['station', 'sequence'];

interface TextRow {
  readonly line: number;
  readonly cells: readonly string[];
}

export interface ReadWelds {
  readonly name: string;
  readonly sha256: string;
  /** In the order of the file. */
  readonly rows: readonly WeldRow[];
}

/** Reads and checks a welds file. @throws RefusedInput */
export async function readWelds(path: string, definition: PartDefinition): Promise<ReadWelds> {
  const { bytes, name } = readSmallInput(path, 'welds file', MOST_BYTES);
  const text = tidyLineEnds(bytes.length === 0 ? '' : decodeText(bytes, name, 'welds file (CSV)'));
  const dialect = detectDialect(text, { header: true });
  const [header, ...rows] = textRows(text, dialect.delimiter, name);
  if (header === undefined || rows.length === 0)
    refuse({
      code: header === undefined ? 'empty-file' : 'header-only',
      file: name,
      line: header?.line,
      says: header === undefined ? 'the welds file is empty' : 'the welds file has a header and no welds',
      expected: 'the header station,sequence,tool,date and one row a weld',
      remedy: 'export it again, or leave --welds out',
    });
  return {
    name,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    rows: new WeldTable(name, header, dialect.decimal, definition.stations.length).read(rows),
  };
}

function textRows(text: string, delimiter: string, file: string): TextRow[] {
  const rows: TextRow[] = [];
  const scanner = new RowScanner(delimiter, '.', file, ({ bytes, bounds, cells: count, line }) => {
    const cells = Array.from({ length: count }, (_, cell) =>
      bytes.toString('utf8', bounds[2 * cell], bounds[2 * cell + 1]).trim(),
    );
    if (cells.some((cell) => cell !== '')) rows.push({ line, cells });
  });
  scanner.push(Buffer.from(text), true);
  return rows;
}

class WeldTable {
  readonly #file: string;
  readonly #names: readonly string[];
  readonly #column: Partial<Record<FixedColumn, number>> = {};
  readonly #decimal: '.' | ',';
  readonly #stations: number;
  readonly #problems: Problem[] = [];

  constructor(file: string, header: TextRow, decimal: '.' | ',', stations: number) {
    this.#file = file;
    this.#names = header.cells;
    this.#decimal = decimal;
    this.#stations = stations;
    const keys = header.cells.map((cell) => headerName(cell).key);
    for (const role of FIXED_COLUMNS) {
      const at = keys.indexOf(role);
      if (at >= 0) this.#column[role] = at;
      else if (REQUIRED.includes(role)) {
        const near = nearest(role, header.cells);
        this.#fault(header.line, role, {
          code: 'missing-column',
          says: `the column ${role} is missing`,
          value: header.cells.join(', '),
          expected: `the columns ${list(FIXED_COLUMNS)}`,
          remedy: near === null ? 'add it' : `rename "${near}" to "${role}" if that is meant`,
        });
      }
    }
    this.#throwProblems();
  }

  read(rows: readonly TextRow[]): WeldRow[] {
    const numeric = this.#numericColumns(rows);
    const stationLines = new Map<number, number>();
    const sequenceLines = new Map<number, number>();
    const welds = rows.map((row): WeldRow => {
      const station = this.#station(row);
      const sequence = this.#sequence(row);
      this.#once('station', station, row.line, stationLines);
      this.#once('sequence', sequence, row.line, sequenceLines);
      const values: Record<string, number> = {};
      for (const at of numeric) {
        const value = this.#number(row, at);
        if (value !== null) values[this.#names[at] || String(at + 1)] = value;
      }
      return { station, sequence, tool: this.#cell(row, 'tool'), date: this.#cell(row, 'date'), values };
    });
    this.#throwProblems();
    return welds;
  }

  /** Columns beside the fixed ones that hold a number somewhere; a column of texts is left alone. */
  #numericColumns(rows: readonly TextRow[]): number[] {
    const fixed = new Set(Object.values(this.#column));
    return this.#names.flatMap((_, at) => {
      const isNumeric = (row: TextRow): boolean => {
        const cell = row.cells[at] ?? '';
        return cell !== '' && Number.isFinite(numberFrom(cell, this.#decimal));
      };
      return !fixed.has(at) && rows.some(isNumeric) ? [at] : [];
    });
  }

  #cell(row: TextRow, role: FixedColumn): string {
    const at = this.#column[role];
    return at === undefined ? '' : (row.cells[at] ?? '');
  }

  #station(row: TextRow): number {
    const cell = this.#cell(row, 'station');
    const station = stationNumber(cell, this.#stations);
    if (station === null)
      this.#fault(row.line, 'station', {
        code: 'unknown-station',
        says: 'there is no such station',
        value: cell,
        expected: `a station number from 1 to ${this.#stations}`,
        remedy: 'correct the number, or check that plan and welds file belong together',
      });
    return station ?? Number.NaN;
  }

  #sequence(row: TextRow): number {
    const cell = this.#cell(row, 'sequence');
    const sequence = /^[0-9]{1,9}$/.test(cell) ? Number(cell) : Number.NaN;
    if (Number.isNaN(sequence))
      this.#fault(row.line, 'sequence', {
        code: 'not-a-number',
        says: 'this is no place in the weld order',
        value: cell,
        expected: 'a whole number, 1 for the first weld',
        remedy: 'correct the cell',
      });
    return sequence;
  }

  #once(role: FixedColumn, value: number, line: number, seen: Map<number, number>): void {
    if (Number.isNaN(value)) return;
    const earlier = seen.get(value);
    if (earlier === undefined) seen.set(value, line);
    else
      this.#fault(line, role, {
        code: 'duplicate',
        says: `line ${earlier} has the same ${role}`,
        value: String(value),
        expected: `each ${role} once`,
        remedy: 'correct one of the two',
      });
  }

  /** The value of an extra column; null for an empty cell. */
  #number(row: TextRow, at: number): number | null {
    const cell = row.cells[at] ?? '';
    if (cell === '') return null;
    const value = numberFrom(cell, this.#decimal);
    if (Number.isNaN(value))
      this.#fault(row.line, this.#names[at] || String(at + 1), {
        ...diagnoseNumber(cell, this.#decimal, false),
        value: cell,
      });
    return value;
  }

  #fault(
    line: number,
    column: string,
    fault: Omit<Parameters<typeof describe>[0], 'file' | 'line' | 'column'>,
  ): void {
    this.#problems.push(describe({ ...fault, file: this.#file, line, column }));
  }

  #throwProblems(): void {
    const { length } = this.#problems;
    if (length === 0) return;
    const shown = this.#problems.slice(0, MOST_PROBLEMS);
    if (length > shown.length)
      shown.push({
        code: 'more-problems',
        message: `… and ${length - shown.length} more faults (${length} in all).`,
      });
    throw new RefusedInput(shown);
  }
}
