/** The stations as the polar map shows them, and the scale they need. Every value is the result's own. */
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  formatLimitWithUnit,
  formatProbability,
  formatQuantity,
  type Standing,
  type Units,
  withinTurn,
} from '../../format/format.ts';
import {
  expandedOf,
  limitOf,
  probabilityOf,
  type QuantityName,
  quantityOf,
  quantityValue,
} from '../../format/quantities.ts';
import { type StationView, stationViews } from '../../format/station-view.ts';

/** One mark on the map. */
export interface MapMark {
  readonly station: number;
  /** Degrees. */
  readonly angle: number;
  readonly standing: Standing;
  /** In the unit of the result; null where missing or not observed. */
  readonly value: number | null;
  /** U in the unit of the result; null where not evaluated. */
  readonly expanded: number | null;
  readonly limit: number | null;
  /** Where and how large, in words. */
  readonly text: string;
}

export interface MapScale {
  /** Radial range in the unit of the result. Signed quantities have `from` = −`to`. */
  readonly from: number;
  readonly to: number;
}

/** What a station is called on the map for one quantity: its own verdict there, not that of the whole station. */
function standingFor(station: StationView, name: QuantityName): Standing {
  if (name === 'position') return station.position.verdict;
  if (name === 'relative') return station.relative?.verdict ?? 'unproven';
  const entry = station.limits.find((limit) => limit.name === name);
  if (quantityValue(station, name) === null) return 'unproven';
  return entry?.verdict ?? station.verdict;
}

function describeStation(station: StationView, name: QuantityName, units: Units): string {
  const quantity = quantityOf(name);
  const limit = limitOf(station, name);
  const value = formatQuantity(quantityValue(station, name), name, units, expandedOf(station, name), limit);
  const probability = probabilityOf(station, name);
  const chance = probability === null ? '' : `, P(conform) ${formatProbability(probability)} %`;
  const place = name === 'position' ? station.position.at : name === 'relative' ? station.relative?.at : null;
  const at = place == null ? '' : ` at ${place}`;
  const sign = quantity.kind === 'size' ? '' : '±';
  const against =
    limit === null
      ? 'no limit of its own'
      : `limit ${sign}${formatLimitWithUnit(limit, quantity.kind, units, [quantityValue(station, name)])}`;
  return `${quantity.title} ${value}${at}, ${against}${chance}`;
}

export function mapMarks(disc: ReducedDisc, name: QuantityName, units: Units): readonly MapMark[] {
  const measured = stationViews(disc.result).map((station) => ({
    station: station.station,
    angle: station.angle,
    standing: standingFor(station, name),
    value: quantityValue(station, name),
    expanded: expandedOf(station, name),
    limit: limitOf(station, name),
    text: describeStation(station, name, units),
  }));
  const missing = disc.result.summary.missing.map((entry) => ({
    station: entry.station,
    angle: entry.angle,
    standing: 'missing' as const,
    value: null,
    expanded: null,
    limit: null,
    text: entry.reason,
  }));
  return [...measured, ...missing].sort((a, b) => a.station - b.station);
}

/** `all`: every value on the scale. `limit`: the scale stops above the limit, and larger values stand at the rim. */
export type ScaleMode = 'all' | 'limit';

/** From this multiple of the limit on, one bad station would press all the others into the hub. */
const CROWDING = 2.2;
/** Where the scale then ends, as a multiple of the limit. */
const ROOM = 1.75;

/** Whether some value is so far beyond the limit that a scale that holds it hides the others. */
export function isCrowded(marks: readonly MapMark[]): boolean {
  const { common } = limitRings(marks);
  return common !== null && common > 0 && Math.max(...sizesOf(marks)) > CROWDING * common;
}

function sizesOf(marks: readonly MapMark[]): readonly number[] {
  return marks.flatMap((mark) => [Math.abs(mark.value ?? 0), mark.limit ?? 0]);
}

/** Ends of the whiskers. */
function reachesOf(marks: readonly MapMark[]): readonly number[] {
  return marks.map((mark) => Math.abs(mark.value ?? 0) + (mark.expanded ?? 0));
}

/** @param fallback end of the scale where nothing has a size */
export function mapScale(
  marks: readonly MapMark[],
  name: QuantityName,
  fallback: number,
  mode: ScaleMode,
): MapScale {
  const { common } = limitRings(marks);
  const largest = Math.max(0, ...sizesOf(marks), ...reachesOf(marks));
  const to =
    mode === 'limit' && common !== null && isCrowded(marks)
      ? common * ROOM
      : (largest > 0 ? largest : fallback) * 1.12;
  return { from: quantityOf(name).kind === 'size' ? 0 : -to, to };
}

/** The smallest angle between neighbours, degrees; sets the width of the bars. */
export function smallestPitch(angles: readonly number[]): number {
  const sorted = angles.map(withinTurn).sort((a, b) => a - b);
  const gaps = sorted.map((angle, index) => (sorted[index + 1] ?? (sorted[0] ?? 0) + 360) - angle);
  return Math.min(360, ...gaps.filter((gap) => gap > 0));
}

/** The limits that most stations share, drawn as rings; stations with a limit of their own get a short arc. */
export function limitRings(marks: readonly MapMark[]): {
  readonly common: number | null;
  readonly own: readonly MapMark[];
} {
  const counts = new Map<number, number>();
  for (const { limit } of marks) if (limit !== null) counts.set(limit, (counts.get(limit) ?? 0) + 1);
  const [common] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [null];
  return { common, own: marks.filter((mark) => mark.limit !== null && mark.limit !== common) };
}

/** Marks without a value stand this share of the scale inside the rim: anywhere else could be read as a value. */
const VALUELESS = 0.07;
/** Marks beyond the scale stand this share of it inside the rim, clear of the station numbers. */
const BEYOND = 0.05;

/** Where on the scale a mark stands, in the unit of the result. */
export function placeOnScale({ value }: MapMark, { from, to }: MapScale): number {
  if (value === null) return to - (to - from) * VALUELESS;
  return Math.abs(value) > to ? Math.sign(value) * (to - (to - from) * BEYOND) : value;
}

/** The grounds behind the stations that are selected or chosen, and their widths in degrees. */
export function groundsOf(
  marks: readonly MapMark[],
  selected: number | null,
  marked: readonly number[],
): readonly { readonly station: number; readonly angle: number; readonly width: number }[] {
  const pitch = smallestPitch(marks.map(({ angle }) => angle));
  return marks
    .filter(({ station }) => station === selected || marked.includes(station))
    .map(({ station, angle }) => ({
      station,
      angle,
      // Of several stations, the one that the card shows has the widest ground.
      width: pitch * (station === selected ? 0.9 : 0.5),
    }));
}

/** Values that a common limit is printed beside. */
export function valuesUnder(marks: readonly MapMark[], common: number): readonly (number | null)[] {
  return marks.flatMap(({ limit, value }) => (limit === common ? [value] : []));
}
