/** The states of the bench with undo and redo. */
import { MEASURED_STATE, type WhatIfState } from '../../../shared-math/what-if/state.ts';

export interface History {
  readonly past: readonly WhatIfState[];
  readonly present: WhatIfState;
  readonly future: readonly WhatIfState[];
  /** What is being changed without a pause: its changes are one step. */
  readonly running: string | null;
}

export const measuredHistory: History = { past: [], present: MEASURED_STATE, future: [], running: null };

/** @param running names what changes where further changes of the same are to be one step with this one. */
export function changed(history: History, state: WhatIfState, running: string | null = null): History {
  const goesOn = running !== null && running === history.running;
  return {
    past: goesOn ? history.past : [...history.past, history.present],
    present: state,
    future: [],
    running,
  };
}

/** The next change is a step of its own. */
export function settled(history: History): History {
  return history.running === null ? history : { ...history, running: null };
}

export function undone(history: History): History {
  const before = history.past.at(-1);
  if (before === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: before,
    future: [history.present, ...history.future],
    running: null,
  };
}

export function redone(history: History): History {
  const [next, ...future] = history.future;
  if (next === undefined) return history;
  return { past: [...history.past, history.present], present: next, future, running: null };
}
