import type { MissingStation } from '../../../shared-math/result.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  exportNumber,
  type Standing,
  standingText,
  type Units,
  unitSymbol,
  withinTurn,
} from '../../format/format.ts';
import {
  bladeErrors,
  discErrors,
  expandedOf,
  type QuantityName,
  quantityOf,
  quantityValue,
  settlements,
} from '../../format/quantities.ts';
import { type StationView, stationViews } from '../../format/station-view.ts';
import { delimited } from '../../parts/sheet.ts';

export type TableRow =
  | {
      readonly station: number;
      readonly angle: number;
      readonly standing: Standing;
      readonly result: StationView;
      readonly missing: null;
    }
  | {
      readonly station: number;
      readonly angle: number;
      readonly standing: 'missing';
      readonly result: null;
      readonly missing: MissingStation;
    };

/** `expanded` and `probability` are those of the position. */
export type ColumnName = 'station' | 'angle' | QuantityName | 'expanded' | 'probability' | 'verdict';
export interface Sort {
  readonly column: ColumnName;
  readonly direction: 'ascending' | 'descending';
}

export function valueColumns(frame: 'blade' | 'disc'): readonly QuantityName[] {
  return [...(frame === 'blade' ? bladeErrors : discErrors), 'position'];
}

export function tableRows(disc: ReducedDisc): readonly TableRow[] {
  const measured = stationViews(disc.result).map(
    (result): TableRow => ({
      station: result.station,
      angle: result.angle,
      standing: result.verdict,
      result,
      missing: null,
    }),
  );
  const missing = disc.result.summary.missing.map(
    (entry): TableRow => ({
      station: entry.station,
      angle: entry.angle,
      standing: 'missing',
      result: null,
      missing: entry,
    }),
  );
  return [...measured, ...missing].sort((a, b) => a.station - b.station);
}

/** Worst first when descending. */
const severity: Record<Standing, number> = { conforming: 0, unproven: 1, nonconforming: 2, missing: 3 };

function sortKey(row: TableRow, column: ColumnName): number | null {
  if (column === 'station') return row.station;
  if (column === 'angle') return withinTurn(row.angle);
  if (column === 'verdict') return severity[row.standing];
  if (row.result === null) return null;
  if (column === 'expanded' || column === 'probability') return row.result.position[column];
  return quantityValue(row.result, column);
}

/** Rows without a value stay last in either direction; equal rows keep the order of their numbers. */
export function sortRows(rows: readonly TableRow[], { column, direction }: Sort): readonly TableRow[] {
  const sign = direction === 'ascending' ? 1 : -1;
  return [...rows].sort((a, b) => {
    const left = sortKey(a, column);
    const right = sortKey(b, column);
    if (left === null || right === null) {
      if (left === right) return a.station - b.station;
      return left === null ? 1 : -1;
    }
    return sign * (left - right) || a.station - b.station;
  });
}

/** A second press on the same column turns the direction round; positions, uncertainty and verdict start with the worst. */
export function nextSort(now: Sort, column: ColumnName): Sort {
  if (now.column === column) {
    return { column, direction: now.direction === 'ascending' ? 'descending' : 'ascending' };
  }
  const downwards: readonly ColumnName[] = ['position', 'relative', 'expanded', 'verdict'];
  return { column, direction: downwards.includes(column) ? 'descending' : 'ascending' };
}

/** The table for other programs: every quantity of both frames with its U, in the display units, one line a station. */
export function exportTable(rows: readonly TableRow[], units: Units, separator: '\t' | ','): string {
  const twoLevels = rows.some((row) => row.result?.relative != null);
  const names: readonly QuantityName[] = [
    ...bladeErrors,
    ...discErrors,
    'position',
    ...(twoLevels ? (['relative'] as const) : []),
  ];
  const plainUnit = (name: QuantityName): string => {
    const symbol = unitSymbol(quantityOf(name).kind, units);
    return { '°': 'deg', '′': 'arcmin', '″': 'arcsec', µm: 'um' }[symbol] ?? symbol;
  };
  const head = [
    'station',
    'angle (deg)',
    ...names.map((name) => `${name} (${plainUnit(name)})`),
    'position at',
    ...names.map((name) => `U ${name} (${plainUnit(name)})`),
    'P position conforms',
    ...(twoLevels ? ['relative at', 'P relative conforms', 'relative verdict'] : []),
    'verdict',
    'would settle',
    'reason',
  ];
  const lines = rows.map((row) => [
    String(row.station),
    String(row.angle),
    ...names.map((name) =>
      row.result === null ? '' : exportNumber(quantityValue(row.result, name), quantityOf(name).kind, units),
    ),
    row.result?.position.at ?? '',
    ...names.map((name) =>
      row.result === null ? '' : exportNumber(expandedOf(row.result, name), quantityOf(name).kind, units),
    ),
    String(row.result?.position.probability ?? ''),
    ...(twoLevels ? relativeCells(row) : []),
    standingText[row.standing],
    row.result === null
      ? ''
      : settlements(row.result)
          .map(({ name, words }) => `${name}: ${words}`)
          .join(' '),
    row.missing?.reason ?? '',
  ]);
  return delimited({ head, rows: lines }, separator);
}

function relativeCells({ result }: TableRow): readonly string[] {
  const relative = result?.relative;
  return [relative?.at ?? '', String(relative?.probability ?? ''), relative?.verdict ?? ''];
}
