/** The plan at hand and the look at its points. It outlives the view, so that a person may look at the disc and come back. */
import { useSyncExternalStore } from 'react';
import type { ImportMapping, OpenedFile, PointsPreview, Problem } from '../../../src-main/api.ts';
import {
  blankDraft,
  type Draft,
  isBlock,
  type Json,
  type Path,
  pathText,
  planText,
  valueAt,
  withValue,
} from './draft.ts';
import { changed, type History, historyOf, redone, undone } from './history.ts';

export type PlanStep = 'points' | 'plan';

export interface PlanState {
  readonly step: PlanStep;
  readonly history: History;
  readonly fileName: string;
  /** Text at the last opening or saving; null for a plan that was never saved. */
  readonly savedText: string | null;
  /** Ticket of the plan file from which the draft was made. */
  readonly source: string | null;
  readonly section: string;
  /** Path of the field at hand: the drawing shows it. */
  readonly focus: string | null;
  readonly points: OpenedFile | null;
  /** Ticket of the point file that the session last gave: another one wins over what was chosen here. */
  readonly seenPoints: string | null;
  /** What the person has stated of the point file. */
  readonly stated: ImportMapping;
  readonly preview: PointsPreview | null;
  readonly previewProblems: readonly Problem[];
  /** The plan was given to a reduction whose end is awaited. */
  readonly reducing: boolean;
}

const initial: PlanState = {
  step: 'plan',
  history: historyOf(blankDraft),
  fileName: 'plan.json',
  savedText: null,
  source: null,
  section: 'start',
  focus: null,
  points: null,
  seenPoints: null,
  stated: {},
  preview: null,
  previewProblems: [],
  reducing: false,
};

let state = initial;
const listeners = new Set<() => void>();

function set(next: PlanState): void {
  state = next;
  for (const listener of listeners) listener();
}

export function usePlan(): PlanState {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => state,
  );
}

/** Blocks that stay in a plan even while they hold nothing. */
const LASTING = new Set(['disc', 'blade', 'blade.seat', 'blade.position']);

/** A block whose last value was taken away goes with it. */
function withoutHollows(draft: Draft, path: Path): Draft {
  const owner = path.slice(0, -1);
  const block = valueAt(draft, owner);
  const isHollow = isBlock(block) && Object.keys(block).length === 0;
  if (owner.length === 0 || !isHollow || LASTING.has(pathText(owner)) || typeof owner.at(-1) === 'number')
    return draft;
  return withoutHollows(withValue(draft, owner, undefined), owner);
}

/** Typing in one field is one change for undo, until this much time has passed without a key. */
const TYPING_PAUSE = 1500;
let lastChange = { what: '', at: 0 };

export const planActions = {
  update: (part: Partial<PlanState>): void => set({ ...state, ...part }),

  /** Changes one value; further typing in the same field is the same step of undo. */
  put(path: Path, value: Json | undefined): void {
    const next = withValue(state.history.present, path, value);
    planActions.change(value === undefined ? withoutHollows(next, path) : next, pathText(path), true);
  },

  change(draft: Draft, what: string, isTyping = false): void {
    const now = performance.now();
    const joined = isTyping && lastChange.what === what && now - lastChange.at < TYPING_PAUSE;
    lastChange = { what, at: now };
    set({ ...state, history: changed(state.history, draft, what, joined) });
  },

  undo: (): void => {
    lastChange = { what: '', at: 0 };
    set({ ...state, history: undone(state.history) });
  },
  redo: (): void => {
    lastChange = { what: '', at: 0 };
    set({ ...state, history: redone(state.history) });
  },

  /** Point files that are opened or dropped elsewhere come along. */
  seePoints(points: OpenedFile): void {
    if (points.ticket === state.seenPoints) return;
    set({ ...state, points, seenPoints: points.ticket, preview: null, previewProblems: [] });
  },

  /** A new plan; what was being written is one undo away. */
  begin(): void {
    if (state.history.present !== blankDraft) planActions.change(blankDraft, 'new plan');
    set({
      ...state,
      step: 'plan',
      section: 'start',
      focus: null,
      fileName: 'plan.json',
      savedText: null,
      source: null,
    });
  },

  /** Another plan from its file: undo does not lead back behind it. */
  open(draft: Draft, file: { readonly name: string; readonly ticket: string | null }): void {
    const imported = draft['import'];
    set({
      ...state,
      history: historyOf(draft),
      fileName: file.name,
      savedText: planText(draft),
      source: file.ticket,
      section: 'disc',
      focus: null,
      stated: typeof imported === 'object' && imported !== null ? (imported as ImportMapping) : {},
    });
  },

  /** A point file that has no plan yet: its mapping comes first. */
  describePoints(points: OpenedFile): void {
    const same = state.points?.ticket === points.ticket;
    set({
      ...state,
      points,
      seenPoints: points.ticket,
      step: 'points',
      ...(same ? {} : { stated: {}, preview: null, previewProblems: [] }),
    });
  },
};

export function isUnsaved({ history, savedText }: PlanState): boolean {
  const { present, past } = history;
  return savedText === null ? past.length > 0 : planText(present) !== savedText;
}
