/** What an interactive bench may change about a measured disc. Nothing of it is ever mixed into the measured result. */
import type { ErrorName, LimitName } from '../definition.ts';
import type { Correction } from '../diagnosis/corrections/correction.ts';
import type { Vec6 } from '../diagnosis/findings.ts';
import { PATTERN_FREEDOMS } from '../pattern/pattern-motion.ts';
import { ERRORS } from '../pose/error-names.ts';
import type { PatternMotion } from '../result.ts';

export interface WhatIfState {
  /** Motion of all blades against the hub: displacement (mm) and rotation vector (rad), disc frame. */
  readonly hub: PatternMotion;
  /** Turn of all blades about the disc axis, rad, on top of `hub`. */
  readonly reclock: number;
  /** Change of each tool by its name: six values in the nominal blade frame (mm, rad). `EVERY_TOOL` acts on all stations. */
  readonly tools: Readonly<Record<string, Vec6>>;
  /** Turn of single stations about the disc axis by station number, rad. */
  readonly index: Readonly<Record<number, number>>;
  /** Stations that are left out. */
  readonly dropped: readonly number[];
  /** Full zone size at every check point, mm; null: as planned. */
  readonly tolerance: number | null;
  /** Limits that replace those planned, mm or rad; null: that limit is dropped. */
  readonly limits: Readonly<Partial<Record<LimitName, number | null>>>;
}

export const EVERY_TOOL = '';

/** As measured. */
export const MEASURED_STATE: WhatIfState = {
  hub: { x: 0, y: 0, z: 0, rotX: 0, rotY: 0, rotZ: 0 },
  reclock: 0,
  tools: {},
  index: {},
  dropped: [],
  tolerance: null,
  limits: {},
};

/** Whether nothing is changed. */
export function isMeasured({ hub, reclock, tools, index, dropped, tolerance, limits }: WhatIfState): boolean {
  const still = [...Object.values(hub), reclock, ...Object.values(tools).flat(), ...Object.values(index)];
  const planned = dropped.length === 0 && tolerance === null && Object.keys(limits).length === 0;
  return planned && still.every((x) => x === 0);
}

/** The state with the settings of a correction in place of its own; the rest stays. */
export function withCorrection(state: WhatIfState, { settings }: Pick<Correction, 'settings'>): WhatIfState {
  const tools: Record<string, Vec6> = {};
  const hub: Record<string, number> = {};
  const index: Record<number, number> = {};
  for (const { kind, freedom, of, change } of settings) {
    if (kind === 'hub') hub[freedom] = change;
    else if (kind === 'index') index[Number(of)] = change;
    else {
      const before = tools[of ?? EVERY_TOOL] ?? [0, 0, 0, 0, 0, 0];
      const at = ERRORS.indexOf(freedom as ErrorName);
      tools[of ?? EVERY_TOOL] = before.map((x, i) => (i === at ? change : x)) as unknown as Vec6;
    }
  }
  const motion = Object.fromEntries(PATTERN_FREEDOMS.map((name) => [name, hub[name] ?? 0])) as PatternMotion;
  return { ...state, hub: motion, reclock: 0, tools, index };
}
