/** What differs between two reductions. Differences of values are after minus before; every value is a result's own. */
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  exportNumber,
  formatChange,
  formatCount,
  formatJudged,
  formatValue,
  plainUnit,
  type Standing,
  standingText,
  type Units,
} from '../../format/format.ts';
import {
  bladeErrors,
  discErrors,
  type QuantityName,
  quantityOf,
  quantityValue,
} from '../../format/quantities.ts';
import { type StationView, stationViews } from '../../format/station-view.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { exclusionCount, sameFeature } from '../../state/exclusions.ts';
import type { ReductionRecord } from '../../state/session.ts';
import { ruleWords } from '../summary/decision.tsx';

/** A station of one of the two; null where that plan has none of the number. */
export interface Side {
  readonly standing: Standing;
  readonly result: StationView | null;
}

export interface StationChange {
  readonly station: number;
  readonly before: Side | null;
  readonly after: Side | null;
}

function sides({ result }: ReducedDisc): ReadonlyMap<number, Side> {
  return new Map<number, Side>([
    ...stationViews(result).map((view) => [view.station, { standing: view.verdict, result: view }] as const),
    ...result.summary.missing.map(({ station }) => [station, { standing: 'missing', result: null }] as const),
  ]);
}

/** Every station that either reduction has. */
export function stationChanges(before: ReducedDisc, after: ReducedDisc): readonly StationChange[] {
  const [was, is] = [sides(before), sides(after)];
  return [...new Set([...was.keys(), ...is.keys()])]
    .sort((a, b) => a - b)
    .map((station) => ({ station, before: was.get(station) ?? null, after: is.get(station) ?? null }));
}

/** After minus before; null unless both know the value. */
export function changeOf({ before, after }: StationChange, name: QuantityName): number | null {
  if (before?.result == null || after?.result == null) return null;
  const [was, is] = [quantityValue(before.result, name), quantityValue(after.result, name)];
  return was === null || is === null ? null : is - was;
}

/** Position before and after, and after minus before, as they stand beside each other; a dash for what is not known. */
export function positionTexts(
  { before, after }: StationChange,
  units: Units,
): { readonly before: string; readonly after: string; readonly change: string } {
  const [was, is] = [before, after].map((side) => {
    if (side?.result == null) return null;
    const value = quantityValue(side.result, 'position');
    return value === null ? null : { value, limit: side.result.position.tolerance };
  });
  if (was != null && is != null) return formatChange(was, is, units);
  const text = (judged: typeof was): string =>
    judged == null ? '–' : formatJudged(judged.value, 'size', units, judged.limit);
  return { before: text(was), after: text(is), change: '–' };
}

/** Change of one of the errors; a dash where it is not known. */
export function errorChangeText(change: StationChange, name: QuantityName, units: Units): string {
  const value = changeOf(change, name);
  return value === null ? '–' : formatValue(value, quantityOf(name).kind, units);
}

/** Whether a text shows more than zeros. */
export function showsChange(text: string): boolean {
  return /[1-9]/.test(text);
}

/** Whether a person would see a difference: another verdict, or a value that changes in the last decimal shown. */
export function isChanged(change: StationChange, units: Units): boolean {
  if (change.before?.standing !== change.after?.standing) return true;
  return (
    showsChange(positionTexts(change, units).change) ||
    bladeErrors.some((name) => showsChange(errorChangeText(change, name, units)))
  );
}

export interface Difference {
  readonly what: string;
  readonly before: string;
  readonly after: string;
}

/** Everything that went into the two reductions and differs. */
export function inputDifferences(before: ReductionRecord, after: ReductionRecord): readonly Difference[] {
  const [a, b] = [before.disc, after.disc];
  const rows: readonly Difference[] = [
    pair('points', fileWords(a.result.source.points), fileWords(b.result.source.points)),
    pair('plan', fileWords(a.result.source.plan), fileWords(b.result.source.plan)),
    pair('datums of the hub', a.plan.hubDatums.join(', '), b.plan.hubDatums.join(', ')),
    pair('datums of the blades', a.plan.bladeDatums.join(', '), b.plan.bladeDatums.join(', ')),
    pair('blade frame', poseWords(a), poseWords(b)),
    pair('position tolerance', toleranceWords(a), toleranceWords(b)),
    pair('decision rule', ruleWords(a.result.decision), ruleWords(b.result.decision)),
    pair('points used', formatCount(a.result.source.points.used), formatCount(b.result.source.points.used)),
    pair('software', a.result.source.software, b.result.source.software),
  ];
  return rows.filter((row) => row.before !== row.after);
}

const pair = (what: string, before: string, after: string): Difference => ({ what, before, after });

/** Enough of the fingerprint to tell two files of one name apart. */
function fileWords({ name, sha256 }: { readonly name: string; readonly sha256: string }): string {
  return `${name} (${sha256.slice(0, 8)})`;
}

function poseWords({ plan }: ReducedDisc): string {
  return plan.pose === 'datum' ? 'from its datums in order' : 'best fit of all its points';
}

function toleranceWords({ plan }: ReducedDisc): string {
  return `${plan.tolerance} mm, ${plan.zone}`;
}

export interface ExclusionChange {
  readonly kind: 'left out' | 'taken back';
  readonly what: string;
  readonly reason: string;
}

/** Exclusions by hand that one of the two has and the other has not. Of two point files nothing is said: lines differ. */
export function exclusionChanges(
  before: ReductionRecord,
  after: ReductionRecord,
): readonly ExclusionChange[] {
  if (before.disc.result.source.points.sha256 !== after.disc.result.source.points.sha256) return [];
  const only = (from: ReductionRecord, other: ReductionRecord, kind: ExclusionChange['kind']) => [
    ...from.exclusions.features
      .filter((entry) => !other.exclusions.features.some((theirs) => sameFeature(entry, theirs)))
      .map(({ station, feature, reason }) => ({
        kind,
        what: `${feature}, ${station === null ? 'hub' : `station ${station}`}`,
        reason,
      })),
    ...from.exclusions.points
      .filter(({ line }) => !other.exclusions.points.some((theirs) => theirs.line === line))
      .map(({ line, reason }) => ({ kind, what: `point on line ${line}`, reason })),
  ];
  return [...only(after, before, 'left out'), ...only(before, after, 'taken back')];
}

/** A reduction in a few words, to tell it from the other. */
export function recordWords({ disc, exclusions }: ReductionRecord): string {
  const count = exclusionCount(exclusions);
  const { points, plan } = disc.result.source;
  return `${points.name}, ${plan.name}, ${count === 0 ? 'nothing left out by hand' : `${count} left out by hand`}`;
}

/** Both values and their difference, for other programs. */
export function changesSheet(changes: readonly StationChange[], units: Units): Sheet {
  const names: readonly QuantityName[] = [...bladeErrors, ...discErrors, 'position'];
  const unitOf = (name: QuantityName): string => plainUnit(quantityOf(name).kind, units);
  const value = (side: Side | null, name: QuantityName): string =>
    side?.result == null ? '' : exportNumber(quantityValue(side.result, name), quantityOf(name).kind, units);
  return {
    head: [
      'station',
      'verdict before',
      'verdict after',
      ...names.flatMap((name) =>
        ['before', 'after', 'change'].map((when) => `${name} ${when} (${unitOf(name)})`),
      ),
    ],
    rows: changes.map((change) => [
      String(change.station),
      change.before === null ? '' : standingText[change.before.standing],
      change.after === null ? '' : standingText[change.after.standing],
      ...names.flatMap((name) => [
        value(change.before, name),
        value(change.after, name),
        exportNumber(changeOf(change, name), quantityOf(name).kind, units),
      ]),
    ]),
  };
}
