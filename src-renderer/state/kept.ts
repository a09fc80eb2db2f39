import { type Dispatch, type SetStateAction, useCallback, useState } from 'react';
import type { ReducedDisc } from '../../src-main/api.ts';

const kept = new WeakMap<ReducedDisc, Map<string, unknown>>();

function valuesOf(disc: ReducedDisc): Map<string, unknown> {
  const values = kept.get(disc) ?? new Map<string, unknown>();
  kept.set(disc, values);
  return values;
}

/** State of a view that outlives the view, for as long as its disc is on view: a workspace comes back as it was left. */
export function useKept<T>(disc: ReducedDisc, name: string, initial: T): [T, Dispatch<SetStateAction<T>>] {
  const [, repaint] = useState(0);
  const values = valuesOf(disc);
  const value = values.has(name) ? (values.get(name) as T) : initial;
  const change = useCallback<Dispatch<SetStateAction<T>>>(
    (next) => {
      const all = valuesOf(disc);
      const now = all.has(name) ? (all.get(name) as T) : initial;
      all.set(name, typeof next === 'function' ? (next as (now: T) => T)(now) : next);
      repaint((count) => count + 1);
    },
    [disc, name, initial],
  );
  return [value, change];
}

/** Hands the state of all views on to the same disc, reduced again. */
export function carryKept(from: ReducedDisc, to: ReducedDisc): void {
  kept.set(to, new Map(valuesOf(from)));
}
