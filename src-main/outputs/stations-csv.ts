/** `stations.csv`: one row a planned station, missing ones included. RFC 4180, units in the header, decimal points. */
import type { LimitName } from '../../shared-math/definition.ts';
import type { PatternStation, ResultDocument, StationResult } from '../../shared-math/result.ts';
import { ERROR_UNITS } from './error-units.ts';

export type Cell = string | number | null;

/** A blade's second level of position, with the tolerance that all blades have there. */
interface Relative extends PatternStation {
  readonly tolerance: number;
}

interface Column {
  readonly header: string;
  /** `relative` is null where the plan asks for one level of position only. */
  readonly of: (station: StationResult, relative: Relative | null) => Cell;
}

const ERRORS = Object.entries(ERROR_UNITS) as [LimitName, 'mm' | 'rad'][];

const COLUMNS: readonly Column[] = [
  { header: 'station', of: (s) => s.station },
  { header: 'angle_deg', of: (s) => s.angle },
  ...ERRORS.map(
    ([name, unit]): Column => ({ header: `${name}_${unit}`, of: (s) => ({ ...s.error, ...s.disc })[name] }),
  ),
  { header: 'position_mm', of: (s) => s.position.value },
  { header: 'position_at', of: (s) => s.position.at },
  { header: 'tolerance_mm', of: (s) => s.position.tolerance },
  // U: half-widths of the coverage intervals; of the position its upper bound minus the value.
  ...ERRORS.map(
    ([name, unit]): Column => ({
      header: `U_${name}_${unit}`,
      of: (s) => s.uncertainty?.expanded[name] ?? null,
    }),
  ),
  { header: 'U_position_mm', of: (s) => s.position.expanded },
  { header: 'position_probability', of: (s) => s.position.probability },
  { header: 'relative_position_mm', of: (_, r) => r?.value ?? null },
  { header: 'relative_position_at', of: (_, r) => r?.at ?? null },
  { header: 'relative_tolerance_mm', of: (_, r) => r?.tolerance ?? null },
  { header: 'U_relative_position_mm', of: (_, r) => r?.expanded ?? null },
  { header: 'relative_position_probability', of: (_, r) => r?.probability ?? null },
  { header: 'relative_verdict', of: (_, r) => r?.verdict ?? null },
  { header: 'verdict', of: (s) => s.verdict },
  { header: 'settle', of: settle },
  {
    header: 'reason',
    of: (s) => s.unobservable.map(({ freedom, reason }) => `${freedom}: ${reason}`).join('; '),
  },
];

/** What would settle the unproven values, each with its name. */
function settle({ position, limits }: StationResult): string {
  return [{ name: 'position', settle: position.settle }, ...limits]
    .flatMap(({ name, settle: words }) => (words === null ? [] : [`${name}: ${words}`]))
    .join(' ');
}

/** Header and cells of the table, numbers as numbers. Missing stations have the verdict `missing` and their reason in the last column. */
export function stationTable({ stations, summary, pattern }: ResultDocument): readonly (readonly Cell[])[] {
  const relativeOf = (station: number): Relative | null => {
    const found = pattern?.stations.find((entry) => entry.station === station);
    return pattern === null || found === undefined ? null : { ...found, tolerance: pattern.tolerance };
  };
  const rows: { readonly station: number; readonly cells: readonly Cell[] }[] = [
    ...stations.map((station) => ({
      station: station.station,
      cells: COLUMNS.map((column) => column.of(station, relativeOf(station.station))),
    })),
    ...summary.missing.map(({ station, angle, reason }) => ({
      station,
      cells: COLUMNS.map(({ header }): Cell => {
        if (header === 'station') return station;
        if (header === 'angle_deg') return angle;
        if (header === 'verdict') return 'missing';
        return header === 'reason' ? reason : null;
      }),
    })),
  ];
  rows.sort((a, b) => a.station - b.station);
  return [COLUMNS.map(({ header }) => header), ...rows.map(({ cells }) => cells)];
}

/** The table as text. */
export function stationsCsv(result: ResultDocument): string {
  return stationTable(result)
    .map((cells) => `${cells.map(quoted).join(',')}\r\n`)
    .join('');
}

/**
 * A text that a spreadsheet program would take for a formula (names of check points come from the plan) gets an apostrophe in
 * front, which such programs take as the sign of a text. So does what would begin a cell of its own where a program takes
 * semicolons or tabs for delimiters, as it does in half of Europe. Wide forms of the signs count in some languages. Numbers stand
 * as they are.
 */
function guarded(text: string): string {
  return text.replace(/^[\t\r\n]|(?<=^|[;\t\r\n])[=+\-@\uff1d\uff0b\uff0d\uff20]/g, "'$&");
}

function quoted(cell: Cell): string {
  const text = cell === null ? '' : typeof cell === 'string' ? guarded(cell) : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
