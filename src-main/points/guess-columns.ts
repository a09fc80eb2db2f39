/**
 * Which cell of a row most likely holds what, for the preview of a file that nobody has described yet. Stated columns
 * win, then headers by the words that the reader of points knows, then the content of the first rows.
 */
import { type ColumnRole, columnRoles, type PlanImport } from '../plan/plan-schema.ts';
import { headerName, rankFor } from './header-names.ts';
import { numberFrom } from './numbers.ts';
import { labelPatterns } from './suggest-pattern.ts';

export type ColumnIndex = Readonly<Partial<Record<ColumnRole, number>>>;

export interface GuessContext {
  readonly header: readonly string[] | null;
  readonly sample: readonly (readonly string[])[];
  readonly decimal: '.' | ',';
  readonly stated: PlanImport['columns'];
  readonly width: number;
}

/** Rows that decide about content. */
const ROWS = 400;
/** A column counts as numbers from this share of its cells. */
const MOSTLY = 0.9;
/** Three numbers are a unit normal within this; the reader of points allows the same. */
const NORMAL_SLACK = 0.01;

export function guessColumns(context: GuessContext): ColumnIndex {
  const { header, stated } = context;
  const index: Partial<Record<ColumnRole, number>> = {};
  const settled = new Set<ColumnRole>();
  for (const role of columnRoles) {
    const reference = stated?.[role];
    if (reference === undefined) continue;
    settled.add(role);
    const column = reference === null ? null : columnOf(reference, context);
    if (column !== null) index[role] = column;
  }
  const taken = new Set(Object.values(index));
  const take = (role: ColumnRole, column: number | undefined): void => {
    if (column === undefined || settled.has(role) || index[role] !== undefined || taken.has(column)) return;
    index[role] = column;
    taken.add(column);
  };
  // A stated label column holds both; stated station and feature columns leave no room for one.
  if (index.label !== undefined) for (const role of ['station', 'feature'] as const) settled.add(role);
  else if (index.station !== undefined && index.feature !== undefined) settled.add('label');
  if (header !== null) for (const role of columnRoles) take(role, bestByHeader(header, role, taken));
  byContent(context, index, taken, take);
  return repacked(index, settled);
}

function columnOf(reference: string | number, { header, width }: GuessContext): number | null {
  if (typeof reference === 'string') {
    const lower = reference.toLowerCase();
    const found = (header ?? []).findIndex((cell) => cell.trim().toLowerCase() === lower);
    if (found >= 0) return found;
  }
  const number = Number(reference);
  return Number.isInteger(number) && number >= 1 && number <= width ? number - 1 : null;
}

function bestByHeader(
  header: readonly string[],
  role: ColumnRole,
  taken: ReadonlySet<number>,
): number | undefined {
  let best: number | undefined;
  let bestRank = Number.POSITIVE_INFINITY;
  header.forEach((cell, column) => {
    const rank = rankFor(role, headerName(cell).key);
    if (rank < 0 || rank >= bestRank || taken.has(column)) return;
    best = column;
    bestRank = rank;
  });
  return best;
}

/** Coordinates are the first three neighbouring columns of fractions; normals the three that have length 1. */
function byContent(
  { sample, decimal, width }: GuessContext,
  index: Readonly<Partial<Record<ColumnRole, number>>>,
  taken: ReadonlySet<number>,
  take: (role: ColumnRole, column: number | undefined) => void,
): void {
  const rows = sample.slice(0, ROWS);
  const columns = Array.from({ length: width }, (_, column) => {
    const cells = rows.map((row) => (row[column] ?? '').trim()).filter((cell) => cell !== '');
    const numbers = cells.map((cell) => numberFrom(cell, decimal)).filter((value) => !Number.isNaN(value));
    return {
      cells,
      isNumber: cells.length > 0 && numbers.length >= MOSTLY * cells.length,
      isWhole: numbers.length > 0 && numbers.every((value) => Number.isInteger(value) && value >= 0),
    };
  });
  const triples = Array.from({ length: Math.max(0, width - 2) }, (_, first) => [first, first + 1, first + 2])
    .filter((triple) => triple.every((column) => columns[column]?.isNumber && !taken.has(column)))
    .filter((triple) => !triple.every((column) => columns[column]?.isWhole))
    // A whole number in front (a row or station number) is no coordinate beside three fractions.
    .filter(([first = 0]) => !columns[first]?.isWhole || columns[first + 3]?.isNumber !== true);
  const isNormal = (triple: readonly number[]): boolean =>
    rows.filter((row) => {
      const values = triple.map((column) => numberFrom(row[column] ?? '', decimal));
      return Math.abs(Math.hypot(...values) - 1) <= NORMAL_SLACK;
    }).length >=
    MOSTLY * rows.length;
  const hasPlace = (['x', 'y', 'z'] as const).some((role) => index[role] !== undefined);
  if (!hasPlace) {
    const places = triples.find((triple) => !isNormal(triple));
    (['x', 'y', 'z'] as const).forEach((role, at) => {
      take(role, places?.[at]);
    });
  }
  const normals = triples.find((triple) => triple.every((column) => !taken.has(column)) && isNormal(triple));
  if (index.i === undefined && index.j === undefined && index.k === undefined)
    (['i', 'j', 'k'] as const).forEach((role, at) => {
      take(role, normals?.[at]);
    });

  const texts = columns.flatMap(({ cells, isNumber }, column) =>
    !isNumber && cells.length > 0 && !taken.has(column) ? [column] : [],
  );
  const distinct = (column: number): string[] => [...new Set(columns[column]?.cells ?? [])];
  if (index.label === undefined && index.feature === undefined) {
    const packed = texts.find((column) => {
      const [best] = labelPatterns(distinct(column));
      return index.station === undefined && best !== undefined && 2 * best.matched >= best.labels;
    });
    if (packed !== undefined) take('label', packed);
    else take('feature', texts[0]);
  }
  if (index.label === undefined && index.station === undefined) {
    const numbered = columns.findIndex(
      ({ isWhole, cells }, column) =>
        isWhole && !taken.has(column) && 2 * distinct(column).length <= cells.length,
    );
    take('station', numbered < 0 ? undefined : numbered);
  }
}

/** A label beside a station is its feature; a feature without a station is a label. As the reader of points has it. */
function repacked(index: Partial<Record<ColumnRole, number>>, settled: ReadonlySet<ColumnRole>): ColumnIndex {
  const { label, station, feature, ...others } = index;
  if (station !== undefined && (feature ?? label) !== undefined)
    return { station, feature: feature ?? label!, ...others };
  const packed = label ?? (settled.has('label') ? undefined : feature);
  if (packed !== undefined) return { label: packed, ...others };
  return {
    ...(station === undefined ? {} : { station }),
    ...(feature === undefined ? {} : { feature }),
    ...others,
  };
}
