/** The points of one feature as the residual plots take them. Every residual is the main floor's own. */
import type { Association, FeatureType } from '../../../shared-math/definition.ts';
import type { FeaturePoints } from '../../../src-main/api.ts';
import { exportNumber, placeUnits, plainUnit, type Units } from '../../format/format.ts';
import type { Sheet } from '../../parts/sheet.ts';
import type { FeatureName } from '../../state/exclusions.ts';
import type { AxisNames } from './feature-names.ts';

export interface PointView {
  readonly line: number;
  /** mm. */
  readonly residual: number;
  /** As `FeaturePoints.place`. */
  readonly place: readonly [number, number];
  readonly xyz: readonly [number, number, number];
  /** Why it is not used; null: it is. */
  readonly reason: string | null;
}

/** Points in the order of the file. */
export function pointViews({
  lines,
  residual,
  place,
  xyz,
  excluded,
  reasons,
}: FeaturePoints): readonly PointView[] {
  const reasonOf = new Map(reasons.map(({ line, reason }) => [line, reason]));
  return lines.map((line, i) => ({
    line,
    residual: residual[i] ?? 0,
    place: [place[2 * i] ?? 0, place[2 * i + 1] ?? 0],
    xyz: [xyz[3 * i] ?? 0, xyz[3 * i + 1] ?? 0, xyz[3 * i + 2] ?? 0],
    reason: excluded[i] === true ? (reasonOf.get(line) ?? '') : null,
  }));
}

/** End of the colour scale: the largest residual of the points used, so that one excluded stray hides nothing. */
export function residualRange(points: readonly PointView[]): number {
  const used = points.filter(({ reason }) => reason === null);
  const counted = used.length > 0 ? used : points;
  return counted.reduce((most, { residual }) => Math.max(most, Math.abs(residual)), 0);
}

export function isRound(type: FeatureType): boolean {
  return type === 'circle' || type === 'cylinder' || type === 'cone' || type === 'sphere';
}

/** What a positive residual means. */
export function signWords(type: FeatureType): string {
  if (isRound(type)) return '+ away from the axis or centre';
  return type === 'plane' || type === 'midplane' ? '+ along its direction' : 'distance without sign';
}

const criterionWords: Record<Association, string> = {
  gaussian: 'least squares',
  'gaussian-outer': 'least squares, shifted to the outermost point',
  minimax: 'minimum zone',
  'maximum-inscribed': 'maximum inscribed',
  'minimum-circumscribed': 'minimum circumscribed',
};

/** What the distances refer to, in words. */
export function basisWords(
  { basis, datum, feature }: FeaturePoints,
  association: Association | null,
): string {
  if (basis === 'nominal') return 'from the nominal feature: the points used determine none';
  const criterion = association === null ? '' : `, ${criterionWords[association]}`;
  return basis === 'own' ? `from a fit to ${feature} alone${criterion}` : `from datum ${datum}${criterion}`;
}

export type FormName = 'flatness' | 'straightness' | 'roundness' | 'cylindricity' | 'form';

/** Name of the form deviation; how large it is depends on the feature that it is measured from. */
export function formName(type: FeatureType): FormName {
  const names: Partial<Record<FeatureType, FormName>> = {
    plane: 'flatness',
    line: 'straightness',
    circle: 'roundness',
    cylinder: 'cylindricity',
  };
  return names[type] ?? 'form';
}

/** Largest first, by size; the order of the file where equal. */
export function byResidual(points: readonly PointView[]): readonly PointView[] {
  return [...points].sort((a, b) => Math.abs(b.residual) - Math.abs(a.residual) || a.line - b.line);
}

/** The next point along an order, from a line that may no longer be among them. */
export function stepPoint(
  order: readonly PointView[],
  line: number | null,
  by: number | 'first' | 'last',
): number | null {
  if (by === 'first') return order[0]?.line ?? null;
  if (by === 'last') return order.at(-1)?.line ?? null;
  const at = order.findIndex((point) => point.line === line);
  if (at < 0) return order[0]?.line ?? null;
  return order[Math.max(0, Math.min(order.length - 1, at + by))]?.line ?? null;
}

export interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** Bins of equal width over the residuals of the points used; about √n of them, 5 … 31, one edge at zero. */
export function residualBins(points: readonly PointView[]): readonly Bin[] {
  const values = points.filter(({ reason }) => reason === null).map(({ residual }) => residual);
  if (values.length === 0) return [];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const wanted = Math.max(5, Math.min(31, Math.round(Math.sqrt(values.length))));
  const width = high > low ? (high - low) / wanted : Math.max(1e-6, Math.abs(high));
  const first = Math.floor(low / width);
  const count = Math.max(1, Math.floor(high / width) - first + 1);
  const counts = new Array<number>(count).fill(0);
  for (const value of values) {
    const at = Math.min(count - 1, Math.max(0, Math.floor(value / width) - first));
    counts[at] = (counts[at] ?? 0) + 1;
  }
  return counts.map((n, i) => ({ from: (first + i) * width, to: (first + i + 1) * width, count: n }));
}

/** A gap in height that is this share of the whole height, and this many times the usual step, begins a new section. */
const GAP_SHARE = 0.04;
/** Fewer points make no trace. */
const FEWEST_OF_TRACE = 5;

/**
 * Rounds of a feature: points at one height, in the order of their angle. Empty where the points do not lie in rounds,
 * as those of a spiral or of a sphere.
 */
export function rounds(points: readonly PointView[], type: FeatureType): readonly (readonly PointView[])[] {
  if (type === 'sphere') return [];
  const sorted = [...points].sort((a, b) => a.place[1] - b.place[1]);
  const height = (sorted.at(-1)?.place[1] ?? 0) - (sorted[0]?.place[1] ?? 0);
  const groups: PointView[][] = [];
  sorted.forEach((point, i) => {
    const step = point.place[1] - (sorted[i - 1]?.place[1] ?? Number.NEGATIVE_INFINITY);
    if (i === 0 || (type !== 'circle' && step > GAP_SHARE * height)) groups.push([]);
    groups.at(-1)?.push(point);
  });
  if (groups.some((group) => group.length < FEWEST_OF_TRACE)) return [];
  const thick = groups.some(
    (group) => (group.at(-1)?.place[1] ?? 0) - (group[0]?.place[1] ?? 0) > 0.25 * height,
  );
  if (type !== 'circle' && height > 0 && thick) return [];
  return groups.map((group) => [...group].sort((a, b) => a.place[0] - b.place[0]));
}

/** The largest of 1, 2 and 5 times a power of ten that is at most `value`. */
export function roundDown(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 1;
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const lead = value / power;
  return (lead >= 5 - 1e-9 ? 5 : lead >= 2 - 1e-9 ? 2 : 1) * power;
}

export function placeOfFeature(name: FeatureName): string {
  return name.station === null ? `${name.feature} of the hub` : `${name.feature} of station ${name.station}`;
}

/** What coordinates on the feature count from; null where no point of the plan sets it. */
export function originWords(type: FeatureType): string | null {
  if (type === 'sphere' || type === 'point' || type === 'circle') return null;
  return isRound(type) ? 'height from the nominal point' : 'coordinates from the nominal point';
}

/** What `PointView.place` holds for a feature: nothing of a point, one number of a line, else two. */
export interface PlaceColumn {
  readonly title: string;
  /** In radians; the others are mm. */
  readonly angular: boolean;
}

export function placeColumns(type: FeatureType, names: AxisNames): readonly PlaceColumn[] {
  const angle = (title: string): PlaceColumn => ({ title, angular: true });
  const length = (title: string): PlaceColumn => ({ title, angular: false });
  if (type === 'point') return [];
  if (type === 'line') return [length(`along ${names.direction}`)];
  if (type === 'sphere') return [angle('angle'), angle('elevation')];
  if (isRound(type)) return [angle('angle'), length(`height along ${names.direction}`)];
  return [length(`along ${names.u}`), length(`along ${names.v}`)];
}

/** All points shown, for other programs. */
export function pointsSheet(
  points: readonly PointView[],
  { type }: FeaturePoints,
  axisNames: AxisNames,
  units: Units,
): Sheet {
  const ofPlaces = placeUnits(units);
  const length = plainUnit('length', ofPlaces);
  const columns = placeColumns(type, axisNames);
  const degrees = (value: number): string => ((value * 180) / Math.PI).toFixed(4);
  const size = (value: number): string => exportNumber(value, 'length', ofPlaces);
  return {
    head: [
      'line',
      `residual (${plainUnit('length', units)})`,
      ...columns.map(({ title, angular }) => `${title.replace('−', '-')} (${angular ? 'deg' : length})`),
      ...['x', 'y', 'z'].map((axis) => `${axis} (${length})`),
      'state',
      'reason',
    ],
    rows: points.map(({ line, residual, place, xyz, reason }) => [
      String(line),
      exportNumber(residual, 'length', units),
      ...columns.map(({ angular }, i) => (angular ? degrees : size)(place[i === 0 ? 0 : 1])),
      ...xyz.map(size),
      reason === null ? 'used' : 'left out',
      reason ?? '',
    ]),
  };
}
