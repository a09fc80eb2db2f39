/**
 * A measured disc as it would be judged with blades moved, stations left out, or other tolerances: quick enough to follow a hand.
 * Everything is judged by the functions of the reduction; a station that nothing changed is the measured one itself.
 */
import type { BladeRequirement, LimitName, PartDefinition, StationDefinition } from '../definition.ts';
import type { WeldOrder } from '../diagnosis/corrections/blades.ts';
import { motionByParts, type SettingParts } from '../diagnosis/corrections/setting-motion.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import { PATTERN_FREEDOMS } from '../pattern/pattern-motion.ts';
import type { Reduction, StationResult, Summary } from '../result.ts';
import { rejudgeStation, rejudging } from '../stations/rejudge-station.ts';
import { summarise } from '../stations/summary.ts';
import { NOTHING_TO_SETTLE } from '../uncertainty/what-would-settle.ts';
import { EVERY_TOOL, type WhatIfState } from './state.ts';

export interface MeasuredDisc {
  readonly result: Pick<Reduction, 'stations' | 'summary'>;
  readonly definition: PartDefinition;
  /** Null: no tool of a name is known, only `EVERY_TOOL` acts. */
  readonly welds: readonly WeldOrder[] | null;
}

export interface WhatIfOptions {
  /**
   * Whether upper bounds of positions (`expanded`) are wanted. Verdicts, probabilities and counts do without and come several
   * times as fast: leave bounds out while something moves. Default true.
   */
  readonly bounds?: boolean;
}

export interface WhatIfResult {
  /** Stations that were not left out, in station order. `settle` is null where something changed. */
  readonly stations: readonly StationResult[];
  /** Counts over `stations` and the missing ones; stations left out are not counted. */
  readonly summary: Summary;
  /** Stations that differ from the measurement. */
  readonly changed: readonly number[];
  /** Stations that cannot follow, because not all of their six errors were observed; they are unproven. */
  readonly unmoved: readonly number[];
}

/**
 * @param state lengths mm, rotations rad; blades move as in diagnosis/corrections/setting-motion.ts.
 */
export function applyWhatIf(
  { result, definition, welds }: MeasuredDisc,
  state: WhatIfState,
  { bounds = true }: WhatIfOptions = {},
): WhatIfResult {
  const tools = new Map(welds?.map((w) => [w.station, w.tool]));
  const planned = new Map(definition.stations.map((s) => [s.station, s]));
  const changed: number[] = [];
  const unmoved: number[] = [];
  const kept = result.stations.filter((s) => !state.dropped.includes(s.station));
  const stations = kept.map((measured) => {
    const station = planned.get(measured.station)!;
    const parts = partsOf(state, measured.station, tools.get(measured.station));
    const moves = [...parts.tool, ...parts.hub, parts.index].some((x) => x !== 0);
    const requirement = requirementOf(station.requirement, state);
    if (!moves && sameRequirement(requirement, station.requirement)) return measured;
    changed.push(measured.station);
    const changedStation: StationDefinition = { ...station, requirement };
    const motion = moves ? motionByParts(nominalBladeFrame(station.angle, station.seat), parts) : null;
    const judged = rejudgeStation(measured, {
      ...rejudging(definition, changedStation, motion),
      bounds: bounds ? 'all' : 'none',
    });
    if (judged !== null) return judged;
    unmoved.push(measured.station);
    return notJudged(measured, requirement);
  });
  return { stations, summary: summarise(stations, result.summary.missing), changed, unmoved };
}

function partsOf(state: WhatIfState, station: number, tool: string | undefined): SettingParts {
  const all = state.tools[EVERY_TOOL];
  const own = tool === undefined || tool === EVERY_TOOL ? undefined : state.tools[tool];
  return {
    tool: [0, 1, 2, 3, 4, 5].map((i) => (all?.[i] ?? 0) + (own?.[i] ?? 0)),
    hub: PATTERN_FREEDOMS.map((name) => state.hub[name]),
    index: state.reclock + (state.index[station] ?? 0),
  };
}

function requirementOf(planned: BladeRequirement, { tolerance, limits }: WhatIfState): BladeRequirement {
  const merged = { ...planned.limits, ...limits };
  const kept = (Object.entries(merged) as [LimitName, number | null][]).filter(([, limit]) => limit !== null);
  return {
    checkPoints:
      tolerance === null ? planned.checkPoints : planned.checkPoints.map((c) => ({ ...c, tolerance })),
    limits: Object.fromEntries(kept) as BladeRequirement['limits'],
  };
}

function sameRequirement(a: BladeRequirement, b: BladeRequirement): boolean {
  const names = new Set([...Object.keys(a.limits), ...Object.keys(b.limits)]) as Set<LimitName>;
  return (
    a.checkPoints.every((c, i) => c.tolerance === b.checkPoints[i]!.tolerance) &&
    [...names].every((name) => a.limits[name] === b.limits[name])
  );
}

/** Nothing is known of where this blade would be. */
function notJudged(measured: StationResult, { checkPoints }: BladeRequirement): StationResult {
  const nothing = { value: null, expanded: null, probability: null, verdict: 'unproven' } as const;
  return {
    ...measured,
    position: {
      ...measured.position,
      ...nothing,
      tolerance: checkPoints.find((c) => c.name === measured.position.at)!.tolerance,
      checkPoints: measured.position.checkPoints.map((c, i) => ({
        ...c,
        ...nothing,
        tolerance: checkPoints[i]!.tolerance,
        displacement: null,
        covariance: null,
      })),
      ...NOTHING_TO_SETTLE,
    },
    limits: measured.limits.map((l) => ({ ...l, ...nothing, ...NOTHING_TO_SETTLE })),
    verdict: 'unproven',
  };
}
