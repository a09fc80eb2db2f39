import { createContext, useContext } from 'react';
import type { PointsPreview, Problem } from '../../../src-main/api.ts';
import type { Draft, Json, Path } from './draft.ts';

/** What every part of the editor reads and how it changes the plan. */
export interface PlanContextValue {
  readonly draft: Draft;
  readonly put: (path: Path, value: Json | undefined) => void;
  /** A change of more than one value, as one step of undo. */
  readonly change: (draft: Draft, what: string) => void;
  /** Problems at a path and below it. */
  readonly problemsUnder: (path: string) => readonly Problem[];
  readonly focus: string | null;
  readonly onFocus: (path: string | null) => void;
  readonly preview: PointsPreview | null;
}

const Context = createContext<PlanContextValue | null>(null);
export const PlanProvider = Context.Provider;

export function usePlanContext(): PlanContextValue {
  const value = useContext(Context);
  if (value === null) throw new Error('A part of the plan editor stands outside of it.');
  return value;
}
