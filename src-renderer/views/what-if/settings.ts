/** The settings that the bench offers: where they stand in the state, how far they go, in which steps. */
import type { AdjustmentRange, ErrorName, PatternFreedom } from '../../../shared-math/definition.ts';
import { toolsInOrder } from '../../../shared-math/diagnosis/corrections/blades.ts';
import type { Vec6 } from '../../../shared-math/diagnosis/findings.ts';
import { EVERY_TOOL, type WhatIfState } from '../../../shared-math/what-if/state.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { roundStep } from '../../chart/scale.ts';
import { formatWithUnit, toDisplay, type Units } from '../../format/format.ts';
import { bladeErrors, quantityOf } from '../../format/quantities.ts';
import { arms } from './arms.ts';
import type { BenchState } from './history.ts';
import { limitWords } from './limits.ts';

export interface BenchSetting {
  readonly key: string;
  readonly label: string;
  readonly kind: 'length' | 'rotation';
  /** Ends of the slider, ± mm or rad. */
  readonly reach: number;
  /** What the plan says can be set; null: nothing said. */
  readonly range: AdjustmentRange | null;
  readonly value: (state: WhatIfState) => number;
  readonly with: (state: WhatIfState, value: number) => WhatIfState;
}

const hubLabels: readonly (readonly [PatternFreedom, string])[] = [
  ['x', 'Shift X'],
  ['y', 'Shift Y'],
  ['z', 'Shift Z'],
  ['rotX', 'Tilt X'],
  ['rotY', 'Tilt Y'],
  ['rotZ', 'Clocking'],
];

/** Sliders reach as far as makes this many tolerances of displacement at the tip. */
const REACH = 3;

function reachOf(disc: ReducedDisc, arm: number): number {
  return (REACH * disc.plan.tolerance) / Math.max(1, arm);
}

export function hubSettings(disc: ReducedDisc): readonly BenchSetting[] {
  const { adjustments } = disc.definition;
  return hubLabels.map(([freedom, label]) => {
    const kind = freedom.startsWith('rot') ? 'rotation' : 'length';
    return {
      key: `hub ${freedom}`,
      label,
      kind,
      reach: kind === 'length' ? REACH * disc.plan.tolerance : reachOf(disc, arms(disc).disc),
      range: adjustments?.hub[freedom] ?? null,
      value: (state) => state.hub[freedom],
      with: (state, value) => ({ ...state, hub: { ...state.hub, [freedom]: value } }),
    };
  });
}

/** Tools in weld order; one for all where the welds tell of one tool only, or of none. */
export function benchTools(disc: ReducedDisc): readonly string[] {
  const tools = toolsInOrder(disc.welds);
  return tools.length === 0 ? [EVERY_TOOL] : tools;
}

const still: Vec6 = [0, 0, 0, 0, 0, 0];

export function toolSettings(disc: ReducedDisc, tool: string): readonly BenchSetting[] {
  const { adjustments } = disc.definition;
  return bladeErrors.map((name, index) => {
    const kind = quantityOf(name).kind === 'rotation' ? 'rotation' : 'length';
    return {
      key: `tool ${tool} ${name}`,
      label: quantityOf(name).label,
      kind,
      reach: kind === 'length' ? REACH * disc.plan.tolerance : reachOf(disc, arms(disc).blade),
      range: adjustments?.tool[name as ErrorName] ?? null,
      value: (state) => state.tools[tool]?.[index] ?? 0,
      with: (state, value) => {
        const offset = (state.tools[tool] ?? still).map((old, i) => (i === index ? value : old));
        return { ...state, tools: { ...state.tools, [tool]: offset as unknown as Vec6 } };
      },
    };
  });
}

export function indexSetting(disc: ReducedDisc, station: number): BenchSetting {
  return {
    key: `index ${station}`,
    label: `Station ${station}`,
    kind: 'rotation',
    reach: reachOf(disc, arms(disc).disc),
    range: disc.definition.adjustments?.index ?? null,
    value: (state) => state.index[station] ?? 0,
    with: (state, value) => {
      const { [station]: _, ...others } = state.index;
      return { ...state, index: value === 0 ? others : { ...others, [station]: value } };
    },
  };
}

export function withDropped(state: WhatIfState, station: number, dropped: boolean): WhatIfState {
  const others = state.dropped.filter((one) => one !== station);
  return { ...state, dropped: dropped ? [...others, station].sort((a, b) => a - b) : others };
}

/** Step of a setting in display units: that of the plan, else a round one. */
export function stepOf({ kind, reach, range }: BenchSetting, units: Units): number {
  if (range?.step != null) return toDisplay(range.step, kind, units);
  return roundStep(toDisplay(reach, kind, units) / 150);
}

/** What is changed, in words, for everything that leaves the bench. */
export function stateWords(disc: ReducedDisc, { settings: state, points }: BenchState, units: Units): string {
  const named = (title: string, settings: readonly BenchSetting[]): string[] =>
    settings
      .filter((setting) => setting.value(state) !== 0)
      .map(
        (setting) =>
          `${title}${setting.label.toLowerCase()} ${formatWithUnit(setting.value(state), setting.kind, units)}`,
      );
  const stations = Object.keys(state.index).map(Number);
  const parts = [
    ...named('hub ', hubSettings(disc)),
    ...benchTools(disc).flatMap((tool) =>
      named(tool === EVERY_TOOL ? 'tool ' : `tool ${tool} `, toolSettings(disc, tool)),
    ),
    ...named(
      'index of ',
      stations.map((station) => indexSetting(disc, station)),
    ),
    ...(state.dropped.length > 0 ? [`without station ${state.dropped.join(', ')}`] : []),
    ...(state.tolerance === null ? [] : [`tolerance ${formatWithUnit(state.tolerance, 'size', units)}`]),
    ...limitWords(state, units),
    ...points.map(
      ({ line, station, feature }) =>
        `without the point of line ${line} (${station === null ? '' : `station ${station}, `}${feature})`,
    ),
  ];
  return parts.join('; ');
}
