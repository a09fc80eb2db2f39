/**
 * A spreadsheet (Office Open XML, ISO/IEC 29500) of a reduced disc: stations, datums, causes, exclusions, origin.
 *
 * Every text is stored as text: a cell that begins with `=`, `+`, `-`, `@`, a tab or a line end is shown as it is and never
 * calculated, wherever the names in a plan or a file come from. The same disc gives the same bytes.
 */
import { unzipSync, zipSync } from 'fflate';
import writeXlsxFile, { type Row, type Sheet, type Cell as SheetCell } from 'write-excel-file/node';
import type { FeatureReport } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../api.ts';
import { type Cell, stationTable } from '../outputs/stations-csv.ts';
import { xmlSafe } from './xml.ts';

/** Characters that spreadsheet programs take in one cell (value from memory). */
const LONGEST_TEXT = 32_767;

export async function stationsWorkbook(disc: ReducedDisc): Promise<Uint8Array> {
  const sheets = [
    sheet('Stations', stationTable(disc.result)),
    sheet('Datums', datumTable(disc)),
    ...(disc.result.diagnosis === null ? [] : [sheet('Causes', causeTable(disc))]),
    sheet('Exclusions', exclusionTable(disc)),
    sheet('Origin', originTable(disc)),
  ];
  return withFixedTimes(await writeXlsxFile(sheets).toBuffer());
}

function sheet(name: string, table: readonly (readonly Cell[])[]): Sheet<never> {
  const [header = [], ...rows] = table;
  const data: Row[] = [
    header.map((cell) => ({ ...textCell(String(cell)), fontWeight: 'bold' as const })),
    ...rows.map((row) => row.map(cellOf)),
  ];
  return {
    sheet: name,
    data,
    stickyRowsCount: 1,
    stickyColumnsCount: 1,
    columns: header.map((_, column) => ({ width: widthOf(table, column) })),
  };
}

/** Characters: as wide as the column's content, within reason. */
function widthOf(table: readonly (readonly Cell[])[], column: number): number {
  const lengths = table.map((row) => {
    const cell = row[column] ?? null;
    return typeof cell === 'number' ? 12 : (cell ?? '').length;
  });
  return Math.min(60, Math.max(8, ...lengths) + 2);
}

function cellOf(cell: Cell): SheetCell {
  if (cell === null || cell === '') return null;
  return typeof cell === 'number' ? { value: cell, type: Number } : textCell(cell);
}

/** Text for good. Characters that XML cannot carry are replaced. */
function textCell(text: string) {
  return { value: xmlSafe(text).slice(0, LONGEST_TEXT), type: String };
}

function datumTable({ result }: ReducedDisc): readonly (readonly Cell[])[] {
  const header = [
    'station',
    'datum',
    'feature',
    'type',
    'points',
    'rms_mm',
    'form_mm',
    ...['x', 'y', 'z'].map((axis) => `point_${axis}_mm`),
    ...['i', 'j', 'k'].map((axis) => `direction_${axis}`),
    'radius_mm',
    'half_angle_rad',
    'fixes',
  ];
  const row = (station: number | null, report: FeatureReport): Cell[] => [
    station,
    report.label,
    report.feature,
    report.type,
    report.points,
    report.rms,
    report.form,
    ...report.point,
    ...(report.direction ?? [null, null, null]),
    report.radius,
    report.halfAngle,
    report.fixes.join('; '),
  ];
  return [
    header,
    ...result.frame.datums.map((report) => row(null, report)),
    ...result.stations.flatMap(({ station, features }) => features.map((report) => row(station, report))),
  ];
}

function causeTable({ result }: ReducedDisc): readonly (readonly Cell[])[] {
  const diagnosis = result.diagnosis;
  const header = [
    'component',
    'significant',
    'size_mm',
    'size_low_mm',
    'size_high_mm',
    'consumed_mm',
    'share',
    'probability_adjusted',
    'words',
  ];
  return [
    header,
    ...(diagnosis?.components ?? []).map(
      ({ title, significant, size, consumed, share, test, notExamined, sentence }): Cell[] => [
        title,
        notExamined === null ? (significant ? 'yes' : 'no') : 'not examined',
        size?.value ?? null,
        size?.low ?? null,
        size?.high ?? null,
        consumed,
        share,
        test?.adjusted ?? null,
        notExamined ?? sentence,
      ],
    ),
  ];
}

function exclusionTable({ result }: ReducedDisc): readonly (readonly Cell[])[] {
  return [['line', 'reason'], ...result.source.points.excluded.map(({ line, reason }) => [line, reason])];
}

/** Where the numbers come from. */
function originTable({ result, plan, warnings }: ReducedDisc): readonly (readonly Cell[])[] {
  const { points, plan: planSource, software } = result.source;
  const { rule, probability, factor, coverage } = result.decision;
  return [
    ['what', 'value'],
    ['title', plan.title],
    ...Object.entries(plan.part).map(([key, value]): Cell[] => [`part ${key}`, value]),
    ...Object.entries(plan.inspection).map(([key, value]): Cell[] => [`inspection ${key}`, value]),
    ['point file', points.name],
    ['point file SHA-256', points.sha256],
    ['rows', points.rows],
    ['points used', points.used],
    ['points excluded', points.excluded.length],
    ['plan file', planSource.name],
    ['plan SHA-256', planSource.sha256],
    ['software', `Hubtrue ${software}`],
    ['decision rule', rule],
    ['decision probability', probability],
    ['decision guard factor', factor],
    ['coverage of U', coverage],
    ['risk', result.decision.risk],
    ...warnings.map((warning): Cell[] => ['warning', warning]),
  ];
}

/** The earliest time that an archive can state, by the parts of local time that archives keep. */
const FIXED_TIME = new Date(1980, 0, 1);

/** The archive packed again with one time for all its parts, so that it does not tell when it was made. */
function withFixedTimes(archive: Uint8Array): Uint8Array {
  const parts = Object.entries(unzipSync(archive)).sort(([a], [b]) => (a < b ? -1 : 1));
  return zipSync(Object.fromEntries(contentTypesFirst(parts)), { mtime: FIXED_TIME, level: 6 });
}

/** Readers that stream expect the list of parts at the beginning. */
function contentTypesFirst(parts: readonly [string, Uint8Array][]): readonly [string, Uint8Array][] {
  const isList = ([name]: readonly [string, Uint8Array]): boolean => name === '[Content_Types].xml';
  return [...parts.filter(isList), ...parts.filter((part) => !isList(part))];
}
