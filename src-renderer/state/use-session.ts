/** Carries the work at hand out: takes files, has them reduced, and turns what the main floor tells into state. */
import { useCallback, useEffect, useMemo, useReducer, useRef } from 'react';
import type {
  FileRole,
  HubtrueApi,
  JobEvent,
  OpenedFile,
  Outcome,
  Problem,
  Progress,
} from '../../src-main/api.ts';
import {
  type ExclusionHistory,
  type Exclusions,
  emptyHistory,
  historyFrom,
  redone,
  stepTo,
  undone,
} from './exclusions.ts';
import { type GivenFiles, mergeFiles, stillMissing, withoutRole } from './files.ts';
import { carryKept } from './kept.ts';
import { emptySession, type RestoredWork, recordOf, reduceSession, type Session } from './session.ts';

/** What stands between files that come in and the work at hand. */
export interface Keeper {
  /** Another piece of work is about to take the place of this one; false keeps this one. */
  mayLeave(): Promise<boolean>;
  openSession(file: OpenedFile, others: readonly OpenedFile[]): Promise<void>;
  /** Takes the files as those that the session names; false where it waits for none of them. */
  takeNamed(files: readonly OpenedFile[]): Promise<boolean>;
}

export interface SessionActions {
  readonly openSample: (id: string) => void;
  readonly choose: () => void;
  readonly drop: (files: readonly File[]) => void;
  /** Takes files that are open already, such as a plan made in this window. */
  readonly give: (files: readonly OpenedFile[]) => void;
  /** Reduces the disc on view again with other exclusions; it stays as it is where they are refused. */
  readonly exclude: (change: (now: Exclusions) => Exclusions) => void;
  readonly undoExclusion: () => void;
  readonly redoExclusion: () => void;
  /** Keeps the reduction on view for comparison, or lets the kept one go. */
  readonly keepReference: () => void;
  readonly dropReference: () => void;
  /** Puts the content of a session file on view; `again` reduces it again at once. */
  readonly restore: (work: RestoredWork, again: boolean) => void;
  /** Reduces what is on view from these files, with the exclusions as they are. */
  readonly reduceFrom: (files: GivenFiles) => void;
  /** Files that were found again, while others are still absent. */
  readonly restoreFiles: (files: GivenFiles) => void;
  readonly refuse: (problems: readonly Problem[]) => void;
  readonly remove: (role: FileRole) => void;
  readonly cancel: () => void;
  readonly dismiss: () => void;
}

const starting: Progress = { stage: 'reading', fraction: 0, note: 'Starting' };
/** Progress is shown this often at most, ms: a picture for each station of a fast job would hold up that of its result. */
const PROGRESS_PACE = 100;

/** One job at a time: a new reduction cancels the one before it. */
interface RunningJob {
  readonly files: GivenFiles;
  readonly exclusions: ExclusionHistory;
  /** Null until the main floor has answered with the job's name. */
  id: string | null;
  /** Events that overtook the answer. */
  readonly early: JobEvent[];
}

/** Whether two reductions had the same points, plan and welds, and differ in their exclusions at most. */
function sameInput(a: GivenFiles, b: GivenFiles): boolean {
  return (['points', 'plan', 'welds'] as const).every((role) => a[role]?.ticket === b[role]?.ticket);
}

/** Points that nobody has given: results alone cannot be reduced. */
const pointsNeeded: Problem = {
  code: 'points-needed',
  message: 'These are results as they were saved; without the points nothing can be reduced again.',
  remedy: 'Give the point file that the session names.',
};

/** @param keeper of the work at hand, once there is one */
export function useSession(
  api: HubtrueApi,
  keeper: { readonly current: Keeper | null },
): [Session, SessionActions] {
  const [session, dispatch] = useReducer(reduceSession, emptySession);
  const latest = useRef(session);
  const files = useRef<GivenFiles>({});
  const running = useRef<RunningJob | null>(null);
  /** Progress that waits to be shown. */
  const newest = useRef<{ readonly job: RunningJob; readonly progress: Progress } | null>(null);
  latest.current = session;
  files.current = session.files;

  const apply = useCallback((job: RunningJob, event: JobEvent) => {
    if (event.kind === 'progress') {
      const { progress, disc: reduced } = event;
      const { disc, discFiles } = latest.current;
      // The same disc, reduced again, stays as it is until it is whole.
      const isOther = disc === null || !sameInput(discFiles, job.files);
      if (reduced === undefined || !isOther) {
        const isWaiting = newest.current !== null;
        newest.current = { job, progress };
        if (isWaiting) return;
        setTimeout(() => {
          const shown = newest.current;
          newest.current = null;
          if (shown !== null && shown.job === running.current)
            dispatch({ kind: 'progress', progress: shown.progress });
        }, PROGRESS_PACE);
        return;
      }
      // What was reached before it is no news any more.
      newest.current = null;
      return dispatch({
        kind: 'reduced',
        disc: reduced,
        files: job.files,
        exclusions: job.exclusions,
        progress,
      });
    }
    running.current = null;
    if (event.kind === 'finished') {
      const { disc, discFiles } = latest.current;
      if (disc !== null && sameInput(discFiles, job.files)) carryKept(disc, event.disc);
      dispatch({
        kind: 'finished',
        disc: event.disc,
        files: job.files,
        job: event.job,
        exclusions: job.exclusions,
      });
    } else if (event.kind === 'refused') dispatch({ kind: 'refused', problems: event.problems });
    else dispatch({ kind: 'cancelled' });
  }, []);

  useEffect(
    () =>
      api.onJob((event) => {
        const job = running.current;
        if (job === null) return;
        if (job.id === null) job.early.push(event);
        else if (job.id === event.job) apply(job, event);
      }),
    [api, apply],
  );

  const cancel = useCallback(() => {
    const id = running.current?.id ?? null;
    running.current = null;
    dispatch({ kind: 'cancelled' });
    if (id !== null) void api.cancel(id);
  }, [api]);

  const reduce = useCallback(
    async (given: GivenFiles, exclusions: ExclusionHistory) => {
      const { points, plan, welds } = given;
      if (points === undefined || plan === undefined) return;
      if (running.current !== null) cancel();
      const job: RunningJob = { files: given, exclusions, id: null, early: [] };
      running.current = job;
      dispatch({ kind: 'progress', progress: starting });
      const outcome = await api.reduce({
        points: points.ticket,
        plan: plan.ticket,
        ...(welds === undefined ? {} : { welds: welds.ticket }),
        exclusions: exclusions.present.points,
        excludedFeatures: exclusions.present.features,
      });
      if (running.current !== job) {
        // Cancelled or replaced while the answer was on its way.
        if (outcome.ok) void api.cancel(outcome.value.job);
        return;
      }
      if (!outcome.ok) {
        running.current = null;
        dispatch({ kind: 'refused', problems: outcome.problems });
        return;
      }
      job.id = outcome.value.job;
      for (const event of job.early) if (event.job === job.id) apply(job, event);
    },
    [api, apply, cancel],
  );

  const actions = useMemo<SessionActions>(() => {
    /** Lines mean nothing in another point file, so exclusions stay with theirs. */
    const exclusionsFor = ({ points }: GivenFiles): ExclusionHistory =>
      points?.ticket === latest.current.discFiles.points?.ticket ? latest.current.exclusions : emptyHistory;
    /** Steps taken while a job runs go on from those of the job. */
    function stepExclusions(step: (now: ExclusionHistory) => ExclusionHistory | null) {
      const { disc, discFiles, exclusions } = latest.current;
      if (disc === null) return;
      const job = running.current;
      const next = step(job !== null && sameInput(job.files, discFiles) ? job.exclusions : exclusions);
      if (next === null) return;
      if (discFiles.points === undefined) dispatch({ kind: 'refused', problems: [pointsNeeded] });
      else void reduce(discFiles, next);
    }
    async function accept(asked: Promise<Outcome<readonly OpenedFile[]>>) {
      const outcome = await asked;
      // A refused file leaves everything else as it is, a running job included.
      if (!outcome.ok) return dispatch({ kind: 'files', files: files.current, problems: outcome.problems });
      if (outcome.value.length === 0) return;
      const merged = mergeFiles(files.current, outcome.value);
      if (merged.problems.length === 0) {
        const sessionFile = outcome.value.find(({ role }) => role === 'session');
        const others = outcome.value.filter(({ role }) => role !== 'session');
        if (sessionFile !== undefined) return keeper.current?.openSession(sessionFile, others);
        if (await keeper.current?.takeNamed(others)) return;
      }
      const isComplete = merged.problems.length === 0 && stillMissing(merged.files).length === 0;
      const { disc, discFiles } = latest.current;
      const isOther = disc !== null && merged.files.points?.ticket !== discFiles.points?.ticket;
      if (isComplete && isOther && (await keeper.current?.mayLeave()) === false) return;
      dispatch({ kind: 'files', ...merged });
      if (isComplete) await reduce(merged.files, exclusionsFor(merged.files));
    }
    return {
      openSample: (id) => void accept(api.openSample(id)),
      choose: () => void accept(api.chooseFiles()),
      drop: (dropped) => void accept(api.openDropped(dropped)),
      give: (opened) => void accept(Promise.resolve({ ok: true, value: opened })),
      restore: (work, again) => {
        if (running.current !== null) cancel();
        dispatch({ kind: 'restored', work });
        if (again) void reduce(work.files, historyFrom(work.exclusions));
      },
      reduceFrom: (given) => {
        dispatch({ kind: 'files', files: given, problems: [] });
        void reduce(given, latest.current.exclusions);
      },
      restoreFiles: (given) => dispatch({ kind: 'found', files: given }),
      refuse: (problems) => dispatch({ kind: 'refused', problems }),
      remove: (role) => {
        const rest = withoutRole(files.current, role);
        dispatch({ kind: 'files', files: rest, problems: [] });
        if (role === 'welds') void reduce(rest, exclusionsFor(rest));
      },
      exclude: (change) => stepExclusions((now) => stepTo(now, change(now.present))),
      undoExclusion: () => stepExclusions(undone),
      redoExclusion: () => stepExclusions(redone),
      keepReference: () => dispatch({ kind: 'reference', record: recordOf(latest.current) }),
      dropReference: () => dispatch({ kind: 'reference', record: null }),
      cancel,
      dismiss: () => dispatch({ kind: 'dismiss' }),
    };
  }, [api, cancel, reduce, keeper]);

  return [session, actions];
}
