/** Undo and redo of a draft: states before and after the present one. */
import type { Draft } from './draft.ts';

export interface History {
  readonly past: readonly Step[];
  readonly present: Draft;
  readonly future: readonly Step[];
}

export interface Step {
  readonly draft: Draft;
  /** What was changed after this state, e.g. the path of a field. */
  readonly what: string;
}

/** More steps than anybody goes back. */
const MOST_STEPS = 400;

export const historyOf = (draft: Draft): History => ({ past: [], present: draft, future: [] });

/**
 * @param joined further typing in the field of the last change: the two are undone together.
 */
export function changed(history: History, draft: Draft, what: string, joined: boolean): History {
  const { past, present } = history;
  if (draft === present) return history;
  const last = past.at(-1);
  if (joined && last?.what === what) return { past, present: draft, future: [] };
  return { past: [...past, { draft: present, what }].slice(-MOST_STEPS), present: draft, future: [] };
}

export function undone(history: History): History {
  const { past, present, future } = history;
  const last = past.at(-1);
  if (last === undefined) return history;
  return {
    past: past.slice(0, -1),
    present: last.draft,
    future: [{ draft: present, what: last.what }, ...future],
  };
}

export function redone(history: History): History {
  const { past, present, future } = history;
  const [next, ...rest] = future;
  if (next === undefined) return history;
  return { past: [...past, { draft: present, what: next.what }], present: next.draft, future: rest };
}
