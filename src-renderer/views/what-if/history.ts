/** The states of the bench with undo and redo. */
import { isMeasured, MEASURED_STATE, type WhatIfState } from '../../../shared-math/what-if/state.ts';

/** A point that a trial does without. */
export interface DroppedPoint {
  readonly line: number;
  /** Null: the hub. */
  readonly station: number | null;
  readonly feature: string;
}

/** All that is changed on the bench. */
export interface BenchState {
  readonly settings: WhatIfState;
  /** In the order of their lines. */
  readonly points: readonly DroppedPoint[];
}

export const measuredBench: BenchState = { settings: MEASURED_STATE, points: [] };

export function isUntouched({ settings, points }: BenchState): boolean {
  return points.length === 0 && isMeasured(settings);
}

export interface History {
  readonly past: readonly BenchState[];
  readonly present: BenchState;
  readonly future: readonly BenchState[];
  /** What is being changed without a pause: its changes are one step. */
  readonly running: string | null;
}

export const measuredHistory: History = { past: [], present: measuredBench, future: [], running: null };

/** @param running names what changes where further changes of the same are to be one step with this one. */
export function changed(history: History, state: BenchState, running: string | null = null): History {
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
