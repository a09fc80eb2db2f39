/** What the person changes of a detected mapping, and how the result goes into the plan. */
import type { ImportMapping, PointsPreview } from '../../../src-main/api.ts';
import type { Sheet } from '../../parts/sheet.ts';

export const roles = [
  ['', 'not used'],
  ['station', 'station'],
  ['feature', 'feature'],
  ['label', 'label (both)'],
  ['x', 'x'],
  ['y', 'y'],
  ['z', 'z'],
  ['i', 'normal i'],
  ['j', 'normal j'],
  ['k', 'normal k'],
  ['r', 'tip radius'],
  ['sigma', 'uncertainty'],
  ['temperature', 'temperature'],
  ['run', 'run'],
  ['direction', 'approach'],
  ['seq', 'sequence'],
  ['time', 'time'],
] as const;

/** Role of every column, by its index; empty where it is not used. */
export function rolesByColumn({ taken, columnNames }: PointsPreview): readonly string[] {
  const byColumn = columnNames.map(() => '');
  for (const [role, reference] of Object.entries(taken.columns ?? {})) {
    const at = columnAt(reference, columnNames);
    if (at !== null) byColumn[at] = role;
  }
  return byColumn;
}

function columnAt(reference: string | number | null, names: readonly string[]): number | null {
  if (reference === null) return null;
  if (typeof reference === 'number') return reference <= names.length ? reference - 1 : null;
  const at = names.findIndex((name) => name.toLowerCase() === reference.toLowerCase());
  return at < 0 ? null : at;
}

/** The columns once one of them has another role. Roles that were held before and are no more are stated as absent. */
export function withRole(
  preview: PointsPreview,
  column: number,
  role: string,
): NonNullable<ImportMapping['columns']> {
  const { taken, columnNames } = preview;
  const present = rolesByColumn(preview);
  const next: Record<string, string | number | null> = { ...taken.columns };
  const before = present[column] ?? '';
  if (before !== '') next[before] = null;
  if (role === '') return next;
  // A label holds station and feature; the one excludes the others.
  const excluded =
    role === 'label' ? ['station', 'feature'] : role === 'station' || role === 'feature' ? ['label'] : [];
  for (const other of excluded)
    if (typeof next[other] === 'string' || typeof next[other] === 'number') next[other] = null;
  const name = columnNames[column] ?? '';
  const once = columnNames.filter((other) => other.toLowerCase() === name.toLowerCase()).length === 1;
  next[role] = taken.header === true && once && name !== String(column + 1) ? name : column + 1;
  return next;
}

/** The `import` block for the plan: everything that was taken, so that the next file of the kind needs no question. */
export function importBlock({ taken }: PointsPreview): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    (['encoding', 'delimiter', 'decimal', 'unit', 'header', 'columns', 'label'] as const).flatMap((key) =>
      taken[key] === undefined ? [] : [[key, taken[key]]],
    ),
  );
}

/** A station number with letters about it, such as `B07`. */
const LABELLED_NUMBER = /^\p{L}[\p{L} _.:#-]*\d+$/u;

/**
 * Says that a column of stations holds labels that are not read, and what to do: stations are numbers, or numbers behind one
 * prefix throughout, while other labels are read where the feature stands in the same cell. Null where all is well.
 */
export function labelledStations(preview: PointsPreview): string | null {
  const at = rolesByColumn(preview).indexOf('station');
  if (at < 0) return null;
  const row = preview.head.find(
    ({ kind, cells }) => kind === 'unread' && LABELLED_NUMBER.test(cells[at]?.trim() ?? ''),
  );
  if (row === undefined) return null;
  const text = row.cells[at]?.trim() ?? '';
  const number = Number(/\d+$/.exec(text)?.[0]);
  return `The station column holds labels such as ${text} (line ${row.line}). A station must be a number, or a number behind one and the same prefix: write ${number} in the export or a spreadsheet, or export station and feature in one column, such as ${text}_SEAT, and choose “label (both)” for it.`;
}

export interface CountGrid {
  readonly stations: readonly number[];
  readonly features: readonly string[];
  readonly most: number;
  readonly count: (station: number, feature: string) => number;
  readonly gaps: readonly { readonly station: number; readonly feature: string }[];
  readonly hub: readonly { readonly feature: string; readonly count: number }[];
}

/** Stations by features with their points; what a regular file would have and this one does not are its gaps. */
export function countGrid({ counts }: PointsPreview, stationsOfPlan: number | null): CountGrid {
  const planned = counts.filter(({ standing }) => standing === 'planned');
  const blade = planned.filter(({ station }) => station !== null);
  const features = [...new Set(blade.map(({ feature }) => feature))];
  const last = stationsOfPlan ?? Math.max(0, ...blade.map(({ station }) => station ?? 0));
  const stations = Array.from({ length: last }, (_, k) => k + 1);
  const byKey = new Map(blade.map(({ station, feature, count }) => [`${station}\n${feature}`, count]));
  const count = (station: number, feature: string): number => byKey.get(`${station}\n${feature}`) ?? 0;
  return {
    stations,
    features,
    most: Math.max(1, ...blade.map((entry) => entry.count)),
    count,
    gaps: stations.flatMap((station) =>
      features.flatMap((feature) => (count(station, feature) === 0 ? [{ station, feature }] : [])),
    ),
    hub: planned
      .filter(({ station }) => station === null)
      .map(({ feature, count: points }) => ({ feature, count: points })),
  };
}

/** The grid for other programs. */
export function countSheet({ stations, features, count }: CountGrid): Sheet {
  return {
    head: ['station', ...features],
    rows: stations.map((station) => [
      String(station),
      ...features.map((feature) => String(count(station, feature))),
    ]),
  };
}

/** Gaps in words: a station without any point once, the others by feature. */
export function gapWords({ gaps, features }: CountGrid): readonly string[] {
  const missing = new Map<number, string[]>();
  for (const { station, feature } of gaps) missing.set(station, [...(missing.get(station) ?? []), feature]);
  return [...missing].map(([station, names]) =>
    names.length === features.length
      ? `station ${station} has no point`
      : `station ${station} has no ${names.join(', ')}`,
  );
}
