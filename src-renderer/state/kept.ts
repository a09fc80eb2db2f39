import { type Dispatch, type SetStateAction, useCallback, useState } from 'react';
import type { ReducedDisc } from '../../src-main/api.ts';

const kept = new WeakMap<ReducedDisc, Map<string, unknown>>();

function valuesOf(disc: ReducedDisc): Map<string, unknown> {
  const values = kept.get(disc) ?? new Map<string, unknown>();
  kept.set(disc, values);
  return values;
}

/** For every disc, as long as the window lasts. */
const lasting = new Map<string, unknown>();

function useValues<T>(
  values: Map<string, unknown>,
  name: string,
  initial: T,
): [T, Dispatch<SetStateAction<T>>] {
  const [, repaint] = useState(0);
  const value = values.has(name) ? (values.get(name) as T) : initial;
  const change = useCallback<Dispatch<SetStateAction<T>>>(
    (next) => {
      const now = values.has(name) ? (values.get(name) as T) : initial;
      values.set(name, typeof next === 'function' ? (next as (now: T) => T)(now) : next);
      repaint((count) => count + 1);
    },
    [values, name, initial],
  );
  return [value, change];
}

/** How a view is set, such as the page on view: it stays for the next disc. */
export function useLasting<T>(name: string, initial: T): [T, Dispatch<SetStateAction<T>>] {
  return useValues(lasting, name, initial);
}

/** State of a view that outlives the view, for as long as its disc is on view: a workspace comes back as it was left. */
export function useKept<T>(disc: ReducedDisc, name: string, initial: T): [T, Dispatch<SetStateAction<T>>] {
  return useValues(valuesOf(disc), name, initial);
}

/** Hands the state of all views on to the same disc, reduced again. */
export function carryKept(from: ReducedDisc, to: ReducedDisc): void {
  kept.set(to, new Map(valuesOf(from)));
}
