/** Limits of errors on the bench: those of the plan, and others that somebody tries in their place or besides. */
import type { LimitName } from '../../../shared-math/definition.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import type { WhatIfState } from '../../../shared-math/what-if/state.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatLimit, formatLimitWithUnit, type Units } from '../../format/format.ts';
import { bladeErrors, discErrors, quantityOf } from '../../format/quantities.ts';
import { arms } from './arms.ts';

export interface BenchLimit {
  readonly name: LimitName;
  readonly kind: 'length' | 'rotation';
  /** Smallest and largest limit of the stations that the plan limits, mm or rad, and how many these are; null: the plan has none. */
  readonly planned: { readonly low: number; readonly high: number; readonly stations: number } | null;
  /** Undefined: as planned. Null: dropped. */
  readonly tried: number | null | undefined;
  /** What is shown where nothing is tried. */
  readonly start: number;
}

const names: readonly LimitName[] = [...bladeErrors, ...discErrors];

/** Limits of the plan and of the state, in the order of the quantities. */
export function benchLimits(disc: ReducedDisc, state: WhatIfState): readonly BenchLimit[] {
  return names
    .map((name) => benchLimit(disc, state, name))
    .filter(({ planned, tried }) => planned !== null || tried !== undefined);
}

function benchLimit(disc: ReducedDisc, state: WhatIfState, name: LimitName): BenchLimit {
  const found = disc.definition.stations.flatMap(({ requirement }) => requirement.limits[name] ?? []);
  const kind = kindOf(name);
  const planned =
    found.length === 0 ? null : { low: Math.min(...found), high: Math.max(...found), stations: found.length };
  return { name, kind, planned, tried: state.limits[name], start: planned?.high ?? usualLimit(disc, kind) };
}

function kindOf(name: LimitName): BenchLimit['kind'] {
  return quantityOf(name).kind === 'rotation' ? 'rotation' : 'length';
}

/** A limit to begin with where the plan has none: half the position tolerance, and the turn that makes as much at the tip. */
function usualLimit(disc: ReducedDisc, kind: BenchLimit['kind']): number {
  const half = disc.plan.tolerance / 2;
  return kind === 'length' ? half : half / arms(disc).blade;
}

/** Errors that neither the plan nor the state limits. */
export function furtherLimits(disc: ReducedDisc, state: WhatIfState): readonly LimitName[] {
  const shown = new Set(benchLimits(disc, state).map(({ name }) => name));
  return names.filter((name) => !shown.has(name));
}

/** The state with another limit at every station; null: without it; undefined: as planned. */
export function withLimit(
  disc: ReducedDisc,
  state: WhatIfState,
  name: LimitName,
  limit: number | null | undefined,
): WhatIfState {
  const { [name]: _, ...others } = state.limits;
  const { planned } = benchLimit(disc, state, name);
  const everywhere = planned?.stations === disc.definition.stations.length && planned.low === planned.high;
  const same =
    limit === undefined ||
    (limit === null && planned === null) ||
    (limit !== null && everywhere && Math.abs(limit - planned.high) < 1e-9 * planned.high);
  return { ...state, limits: same ? others : { ...others, [name]: limit } };
}

/** The state with a limit that the plan does not have. */
export function withFurtherLimit(disc: ReducedDisc, state: WhatIfState, name: LimitName): WhatIfState {
  return withLimit(disc, state, name, usualLimit(disc, kindOf(name)));
}

/** What the plan says where that is not one limit for all stations; else null. */
export function plannedWords(disc: ReducedDisc, { planned, kind }: BenchLimit, units: Units): string | null {
  if (planned === null) return 'not in the plan';
  const { low, high, stations } = planned;
  const all = disc.definition.stations.length;
  if (low === high && stations === all) return null;
  const at = stations === all ? '' : ` at ${stations} of ${all} stations`;
  const limits =
    low === high
      ? formatLimitWithUnit(low, kind, units)
      : `${formatLimit(low, kind, units)} to ${formatLimitWithUnit(high, kind, units)} by station`;
  return `planned: ${limits}${at}`;
}

/** e.g. `limit of radial 0.0500 mm`, `without the limit of lean`. */
export function limitWords({ limits }: WhatIfState, units: Units): readonly string[] {
  return names.flatMap((name) => {
    const limit = limits[name];
    if (limit === undefined) return [];
    const title = quantityOf(name).title.toLowerCase();
    return limit === null
      ? [`without the limit of ${title}`]
      : [`limit of ${title} ${formatLimitWithUnit(limit, kindOf(name), units)}`];
  });
}

/** Titles of the errors that keep a station from conforming. */
export function limitsNotKept({ limits }: StationResult): readonly string[] {
  return limits
    .filter(({ verdict }) => verdict !== 'conforming')
    .map(({ name }) => quantityOf(name).title.toLowerCase());
}
