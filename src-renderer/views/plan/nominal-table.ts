/** Nominals by station, as they come out of a spreadsheet: cells parted by tabs (or semicolons), a header row or none. */
import { type Draft, type Json, listAt, numberAt, type Path, withValue } from './draft.ts';
import { parseNumber } from './fields/number-text.ts';
import { stationAngles } from './nominal.ts';

interface TableColumn {
  readonly key: 'station' | 'radius' | 'axial' | 'height' | 'stagger' | 'angle' | 'tolerance';
  readonly title: string;
  /** Beginnings of headers that mean it. */
  readonly words: readonly string[];
}

export const tableColumns: readonly TableColumn[] = [
  { key: 'station', title: 'Station', words: ['station', 'blade', 'stn', 'no', 'nr'] },
  { key: 'radius', title: 'Radius', words: ['radius', 'r'] },
  { key: 'axial', title: 'Axial', words: ['axial', 'z'] },
  { key: 'height', title: 'Height', words: ['height', 'φ', 'phi'] },
  { key: 'stagger', title: 'Stagger', words: ['stagger', 'ξ', 'xi'] },
  { key: 'angle', title: 'Angle', words: ['angle', 'θ', 'theta'] },
  { key: 'tolerance', title: 'Tolerance', words: ['tolerance', 'tol', 'position'] },
];

export type TableRow = { readonly station: number } & Partial<Record<TableColumn['key'], number>>;

export interface NominalTable {
  readonly rows: readonly TableRow[];
  /** Titles of the columns that hold values, without the station. */
  readonly columns: readonly string[];
  readonly faults: readonly string[];
}

export function readTable(text: string): NominalTable {
  const lines = text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== '');
  const separator = lines.some((line) => line.includes('\t'))
    ? '\t'
    : lines.some((line) => line.includes(';'))
      ? ';'
      : /\s+/;
  const cells = lines.map((line) => line.split(separator).map((cell) => cell.trim().replaceAll('"', '')));
  const [first = []] = cells;
  const headed = first.filter((cell) => cell !== '').every((cell) => typeof parseNumber(cell) !== 'number');
  const faults: string[] = [];
  const order = headed ? first.map((header) => columnOf(header)) : tableColumns.map(({ key }) => key);
  first.forEach((header, at) => {
    if (headed && order[at] === null && header !== '') faults.push(`The column “${header}” is not known.`);
  });
  if (!order.includes('station')) faults.push('There is no column with the station.');
  const seen = new Set<number>();
  const rows: TableRow[] = [];
  cells.slice(headed ? 1 : 0).forEach((row, index) => {
    const line = index + (headed ? 2 : 1);
    const values: Partial<Record<TableColumn['key'], number>> = {};
    row.forEach((cell, at) => {
      const key = order[at];
      if (key === null || key === undefined || cell === '') return;
      const value = parseNumber(cell);
      if (typeof value === 'number') values[key] = value;
      else faults.push(`Row ${line}: “${cell}” is not a number.`);
    });
    const { station } = values;
    if (station === undefined || !Number.isInteger(station) || station < 1) {
      if (order.includes('station')) faults.push(`Row ${line} has no station number.`);
      return;
    }
    if (seen.has(station)) faults.push(`Station ${station} stands there twice.`);
    seen.add(station);
    rows.push({ ...values, station });
  });
  const used = tableColumns.filter(
    ({ key }) => key !== 'station' && rows.some((row) => row[key] !== undefined),
  );
  return { rows, columns: used.map(({ title }) => title.toLowerCase()), faults };
}

function columnOf(header: string): TableColumn['key'] | null {
  const word = header.toLowerCase().replace(/[^\p{L}].*$/u, '');
  const exact = tableColumns.find(({ words }) => words.includes(word));
  return (
    exact?.key ??
    tableColumns.find(({ words }) => words.some((known) => known.length > 2 && word.startsWith(known)))
      ?.key ??
    null
  );
}

const overridden: readonly (readonly [key: TableColumn['key'], own: Path, base: Path])[] = [
  ['radius', ['seat', 'radius'], ['blade', 'seat', 'radius']],
  ['axial', ['seat', 'axial'], ['blade', 'seat', 'axial']],
  ['height', ['seat', 'heightAngle'], ['blade', 'seat', 'heightAngle']],
  ['stagger', ['seat', 'staggerAngle'], ['blade', 'seat', 'staggerAngle']],
  ['tolerance', ['position', 'tolerance'], ['blade', 'position', 'tolerance']],
];

/** The draft with the values of the table; a value that equals the blade's own is no override. */
export function applyTable(draft: Draft, { rows }: NominalTable): Draft {
  let next = draft;
  const largest = Math.max(...rows.map(({ station }) => station));
  if (numberAt(draft, ['disc', 'stations']) === null) next = withValue(next, ['disc', 'stations'], largest);
  for (const row of rows)
    for (const [key, own, base] of overridden) {
      const value = row[key];
      if (value === undefined) continue;
      // A blade that has no value yet takes that of the first row.
      if (numberAt(next, base) === null) next = withValue(next, base, value);
      const differs = numberAt(next, base) !== value;
      const path = ['overrides', String(row.station), ...own];
      if (differs) next = withValue(next, path, value);
      else if (numberAt(next, path) !== null) next = withValue(next, path, undefined);
    }
  if (!rows.some(({ angle }) => angle !== undefined)) return next;
  const now = stationAngles(next) ?? [];
  const given = new Map(rows.map(({ station, angle }) => [station, angle]));
  const listed = listAt(next, ['disc', 'angles']);
  const angles = now.map((angle, index): Json => given.get(index + 1) ?? listed[index] ?? angle);
  return withValue(next, ['disc', 'angles'], angles);
}
