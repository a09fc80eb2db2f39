/** How the text of a point file is cut into cells: delimiter, decimal sign, header or none. */
import Papa from 'papaparse';
import type { PlanImport } from '../plan/plan-schema.ts';
import { headerName, roleOf } from './header-names.ts';
import { collapseBlanks, tidyLineEnds } from './line-ends.ts';

export interface Dialect {
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  /** The row that names the columns: the first that is not blank, or one a few title lines further down. */
  readonly header: readonly string[] | null;
  /** Rows above the header that are not blank: titles, program names, dates. */
  readonly titleRows: number;
  /** First data rows, as texts. */
  readonly sample: readonly (readonly string[])[];
}

const DELIMITERS = [',', ';', '\t', '|', ' '] as const;

/** Rows that decide the delimiter; the decimal sign takes all rows of the head. */
const ROWS_FOR_DELIMITER = 40;

/** A header is looked for below this many title lines, and there only where it names at least four known columns. */
const MOST_TITLE_ROWS = 20;
const SUREST_HEADERS = 4;

const POINTED = /^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;
const COMMAED = /^[+-]?(?:[0-9]+,[0-9]+|,[0-9]+)(?:[eE][+-]?[0-9]+)?$/;

/** Reads the head of a file (whole lines only) for what the plan does not state. */
export function detectDialect(head: string, stated: PlanImport | undefined): Dialect {
  const text = tidyLineEnds(head);
  const delimiter = stated?.delimiter ?? bestDelimiter(text, stated);
  const rows = rowsOf(text, delimiter, 0);
  const titleRows = stated?.header === false ? 0 : titleRowsOf(rows, stated);
  const first = rows[titleRows] ?? [];
  const headed = stated?.header ?? isHeader(first, rows[titleRows + 1], stated);
  const data = headed ? rows.slice(titleRows + 1) : rows;
  return {
    delimiter,
    decimal: stated?.decimal ?? decimalOf(data),
    header: headed ? first : null,
    titleRows: headed ? titleRows : 0,
    sample: data,
  };
}

/** Rows above the one that names the columns; 0 where the first row does, or none of the first rows. */
function titleRowsOf(rows: readonly (readonly string[])[], stated: PlanImport | undefined): number {
  const at = rows
    .slice(0, MOST_TITLE_ROWS + 1)
    .findIndex((row) => knownHeaders(row, stated) >= SUREST_HEADERS);
  return Math.max(at, 0);
}

function knownHeaders(row: readonly string[], stated: PlanImport | undefined): number {
  return row.filter((cell) => isKnownHeader(cell, stated)).length;
}

function rowsOf(text: string, delimiter: string, preview: number): string[][] {
  const source = delimiter === ' ' ? collapseBlanks(text) : text;
  const { data } = Papa.parse<string[]>(source, { delimiter, newline: '\n', header: false, preview });
  return data.filter((row) => row.some((cell) => cell.trim() !== ''));
}

/** The delimiter under which the rows look most like points: known headers first, then cells that are numbers. */
function bestDelimiter(head: string, stated: PlanImport | undefined): string {
  const text = firstLines(head, ROWS_FOR_DELIMITER);
  let best = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const rows = rowsOf(text, delimiter, ROWS_FOR_DELIMITER);
    const names = Math.max(...rows.slice(0, MOST_TITLE_ROWS + 1).map((row) => knownHeaders(row, stated)), 0);
    const counts = rows.slice(1).map((row) => row.filter(isNumeric).length);
    counts.sort((a, b) => a - b);
    const numbers = counts[Math.floor(counts.length / 2)] ?? (rows[0] ?? []).filter(isNumeric).length;
    const score = 2 * names + numbers;
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

/** As many lines of the text; all of it where a quoted cell may go over several lines. */
function firstLines(text: string, lines: number): string {
  if (text.includes('"')) return text;
  let end = -1;
  for (let line = 0; line < lines; line += 1) {
    end = text.indexOf('\n', end + 1);
    if (end < 0) return text;
  }
  return text.slice(0, end);
}

function isNumeric(cell: string): boolean {
  const trimmed = cell.trim();
  return POINTED.test(trimmed) || COMMAED.test(trimmed);
}

function isKnownHeader(cell: string, stated: PlanImport | undefined): boolean {
  const trimmed = cell.trim();
  if (trimmed === '' || isNumeric(trimmed)) return false;
  return (
    roleOf(headerName(trimmed).key) !== null ||
    Object.values(stated?.columns ?? {}).some((reference) => reference === trimmed)
  );
}

/**
 * A header names at least two known columns; otherwise a first row without any number over a second row with three
 * is taken as one too, so that its strange names can be reported.
 */
function isHeader(
  first: readonly string[],
  second: readonly string[] | undefined,
  stated: PlanImport | undefined,
): boolean {
  if (first.length === 0) return false;
  if (knownHeaders(first, stated) >= 2) return true;
  if (first.some(isNumeric)) return false;
  return second === undefined || second.filter(isNumeric).length >= 3;
}

function decimalOf(rows: readonly (readonly string[])[]): '.' | ',' {
  let pointed = 0;
  let commaed = 0;
  for (const row of rows)
    for (const cell of row) {
      const trimmed = cell.trim();
      if (COMMAED.test(trimmed)) commaed += 1;
      else if (trimmed.includes('.') && POINTED.test(trimmed)) pointed += 1;
    }
  return commaed > pointed ? ',' : '.';
}
