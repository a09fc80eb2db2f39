/** The session file of the work at hand: save, open, autosave, recover, and the files that it names. */
import { type RefObject, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type {
  HubtrueApi,
  OpenedFile,
  OpenedSession,
  RecentSession,
  RecoverableSession,
  ReducedDisc,
  SessionNotes,
} from '../../src-main/api.ts';
import type { Draft } from '../views/plan/draft.ts';
import { planText } from '../views/plan/draft.ts';
import { isUnsaved as isPlanUnsaved, usePlan } from '../views/plan/plan-store.ts';
import type { GivenFiles } from './files.ts';
import type { Session } from './session.ts';
import { useAutosave } from './use-autosave.ts';
import type { Keeper, SessionActions } from './use-session.ts';
import {
  type AbsentFile,
  absentFiles,
  changedStations,
  contentOf,
  isHandmade,
  markOf,
  noNotes,
  type WorkAtHand,
  withStationNote,
} from './work.ts';

/** What is known of the file on the main floor. */
interface FileState {
  /** Handle of the session, once it was saved, autosaved or opened. */
  readonly session: string | null;
  /** Name of the saved file; null: never saved. */
  readonly name: string | null;
  readonly saved: string | null;
  readonly autosaved: string | null;
  readonly notes: SessionNotes;
  /** Files that the opened session names and that are not there. */
  readonly absent: readonly AbsentFile[];
  /** What the opened session said of itself. */
  readonly opened: Pick<OpenedSession, 'software' | 'saved' | 'migratedFrom' | 'warnings'> | null;
  /** Stations that came out otherwise when the opened session was reduced again; null: not reduced again. */
  readonly changed: readonly number[] | null;
}

const newFile: FileState = {
  session: null,
  name: null,
  saved: null,
  autosaved: null,
  notes: noNotes,
  absent: [],
  opened: null,
  changed: null,
};

export type LeaveAnswer = 'save' | 'leave' | 'stay';

export interface SessionFileWork extends FileState {
  readonly unsaved: boolean;
  /** Nothing is there that could be saved. */
  readonly isEmpty: boolean;
  readonly recent: readonly RecentSession[];
  readonly recoverable: readonly RecoverableSession[];
  /** Said to people who hear the page, and shown for a while. */
  readonly message: string;
  /** Whether it is being asked what is to become of unsaved work. */
  readonly isAsking: boolean;
  readonly answer: (answer: LeaveAnswer) => void;
  readonly save: (saveAs: boolean) => Promise<boolean>;
  readonly open: (ticket: string) => void;
  readonly forget: (recent: RecentSession) => void;
  readonly discard: (recoverable: RecoverableSession) => void;
  /** Asks for the files that the session names. */
  readonly findFiles: () => void;
  readonly noteDisc: (text: string) => void;
  readonly noteStation: (station: number, text: string) => void;
}

/** @param keeper filled here, so that files that come in meet the work at hand */
export function useSessionFile(
  api: HubtrueApi,
  session: Session,
  actions: SessionActions,
  keeper: RefObject<Keeper | null>,
): SessionFileWork {
  const [file, setFile] = useState<FileState>(newFile);
  const [recent, setRecent] = useState<readonly RecentSession[]>([]);
  const [recoverable, setRecoverable] = useState<readonly RecoverableSession[]>([]);
  const [message, setMessage] = useState('');
  const [asking, setAsking] = useState<((answer: LeaveAnswer) => void) | null>(null);
  const plan = usePlan();

  // A disc that is not whole yet is nobody's work.
  const settled = session.before ?? session;
  const { disc, files, discFiles } = settled;
  const work = useMemo<WorkAtHand>(
    () => ({
      files: disc === null ? files : discFiles,
      exclusions: settled.exclusions.present,
      notes: file.notes,
      job: settled.job,
    }),
    [disc, files, discFiles, settled.exclusions, settled.job, file.notes],
  );
  const mark = markOf(work);
  /** The work as its file has it, or as it was before anything was done by hand. */
  const [kept, setKept] = useState<string | null>(null);

  // A plan that was written here is safe once a session with it is saved.
  const givenPlan = useRef<{ readonly ticket: string; readonly draft: Draft } | null>(null);
  const [keptDraft, setKeptDraft] = useState<Draft | null>(null);
  const draft = plan.history.present;
  useEffect(() => {
    if (plan.reducing && plan.source !== null) givenPlan.current = { ticket: plan.source, draft };
  }, [plan.reducing, plan.source, draft]);
  const draftUnsaved = isPlanUnsaved(plan) && draft !== keptDraft;

  const isOfFile = file.name !== null || file.opened !== null;
  const workUnsaved = isOfFile ? mark !== kept || (file.changed?.length ?? 0) > 0 : isHandmade(work);
  const unsaved = workUnsaved || draftUnsaved;
  const isEmpty =
    disc === null && work.files.points === undefined && work.files.plan === undefined && !draftUnsaved;
  const title = disc?.plan.title;

  const latest = useRef({ file, work, mark, unsaved, draft, draftUnsaved, title, session, asking });
  latest.current = { file, work, mark, unsaved, draft, draftUnsaved, title, session, asking };

  const refreshLists = useCallback(async () => {
    const lately = await api.recent();
    if (lately.ok) setRecent(lately.value);
  }, [api]);
  useEffect(() => {
    void refreshLists();
    void api.recover().then((outcome) => {
      if (outcome.ok) setRecoverable(outcome.value);
    });
  }, [api, refreshLists]);

  /** The work for the main floor; a plan that is being written and belongs to no disc yet goes along as it stands. */
  const contentNow = useCallback(async () => {
    const { work: now, draft: text, draftUnsaved: hasDraft, session: here } = latest.current;
    if (here.disc !== null || !hasDraft) return { content: contentOf(now), draft: null };
    const opened = await api.openText({ name: plan.fileName, role: 'plan', text: planText(text) });
    const content = contentOf(now);
    return opened.ok
      ? { content: { ...content, plan: opened.value.ticket }, draft: text }
      : { content, draft: null };
  }, [api, plan.fileName]);

  const save = useCallback(
    async (saveAs: boolean): Promise<boolean> => {
      const before = latest.current;
      if (before.session.before !== null) {
        setMessage('Causes are still being looked for: save when that has ended.');
        return false;
      }
      const { content, draft: draftInIt } = await contentNow();
      const outcome = await api.saveSession({
        content,
        session: before.file.session,
        saveAs,
        ...(before.title === undefined ? {} : { title: before.title }),
      });
      if (!outcome.ok) {
        actions.refuse(outcome.problems);
        return false;
      }
      if (outcome.value === null) return false;
      const { session: handle, name, saved, resultKept } = outcome.value;
      setFile((now) => ({ ...now, session: handle, name, saved, autosaved: null, changed: null }));
      setKept(before.mark);
      const given = givenPlan.current;
      const draftKept = draftInIt ?? (given !== null && given.ticket === content.plan ? given.draft : null);
      setKeptDraft(draftKept);
      const lacksResult = before.session.disc !== null && !resultKept;
      const lacksDraft = before.draftUnsaved && draftKept !== before.draft;
      setMessage(
        `Saved as ${name}.${lacksResult ? ' It holds no results: they are not of these files.' : ''}${lacksDraft ? ' The plan being written is not in it before the points are reduced with it.' : ''}`,
      );
      void refreshLists();
      return true;
    },
    [api, actions, contentNow, refreshLists],
  );

  const mayLeave = useCallback(async (): Promise<boolean> => {
    if (!latest.current.unsaved) return true;
    const answer = await new Promise<LeaveAnswer>((resolve) => setAsking(() => resolve));
    setAsking(null);
    return answer === 'leave' || (answer === 'save' && (await save(false)));
  }, [save]);

  /** Point file that this piece of work is about. */
  const ownPoints = useRef<string | null>(null);
  const savedDisc = useRef<ReducedDisc | null>(null);

  const open = useCallback(
    async (ticket: string, others: readonly OpenedFile[] = []) => {
      if (!(await mayLeave())) return;
      const outcome = await api.openSession({ ticket, candidates: others.map((other) => other.ticket) });
      if (!outcome.ok) return actions.refuse(outcome.problems);
      const { value } = outcome;
      const old = latest.current.file.session;
      if (old !== null && old !== value.session) void api.endSession(old);
      const given: GivenFiles = {
        ...(value.plan === null ? {} : { plan: value.plan }),
        ...(value.points?.state === 'found' ? { points: value.points.file } : {}),
        ...(value.welds?.state === 'found' ? { welds: value.welds.file } : {}),
      };
      const exclusions = { points: value.exclusions, features: value.excludedFeatures };
      const absent = absentFiles(value);
      const wasSaved = value.name.toLowerCase().endsWith('.hubtrue');
      ownPoints.current = given.points?.ticket ?? null;
      savedDisc.current = value.disc;
      setFile({
        ...newFile,
        session: value.session,
        name: wasSaved ? value.name : null,
        saved: wasSaved ? value.saved : null,
        notes: value.notes,
        absent,
        opened: value,
      });
      // Recovered work is not in its file yet.
      const isRecovered = recoverable.some((entry) => entry.ticket === ticket);
      setKept(isRecovered ? null : markOf({ files: given, exclusions, notes: value.notes, job: value.job }));
      setRecoverable((now) => now.filter((entry) => entry.ticket !== ticket));
      const savedResults = { name: value.name, saved: value.saved, software: value.software };
      const isComplete = absent.length === 0 && given.points !== undefined && given.plan !== undefined;
      actions.restore(
        { files: given, disc: value.disc, job: value.job, exclusions, savedResults },
        isComplete,
      );
      setMessage(`${value.name} opened.`);
      void refreshLists();
    },
    [api, actions, mayLeave, recoverable, refreshLists],
  );

  /** Takes what the session waits for; a file with another SHA-256 is refused with both named. */
  const takeNamed = useCallback(
    async (given: readonly OpenedFile[]): Promise<boolean> => {
      const { file: now, session: here } = latest.current;
      const handle = now.session;
      const isNewDisc = given.some(({ role }) => role === 'plan');
      const wanted = given.filter(({ role }) => now.absent.some((absent) => absent.role === role));
      if (handle === null || isNewDisc || wanted.length === 0) return false;
      let { absent } = now;
      let matched = here.disc === null ? here.files : here.discFiles;
      for (const { role, ticket } of wanted) {
        if (role !== 'points' && role !== 'welds') continue;
        const outcome = await api.matchSessionFile({ session: handle, role, ticket });
        if (!outcome.ok) {
          actions.refuse(outcome.problems);
          return true;
        }
        matched = { ...matched, [role]: outcome.value };
        absent = absent.filter((entry) => entry.role !== role);
      }
      const { notes } = now;
      setFile((before) => ({ ...before, absent }));
      setMessage('Found: its SHA-256 is that of the session.');
      if (matched.points !== undefined) ownPoints.current = matched.points.ticket;
      // The same work, though its files have other tickets now.
      if (!latest.current.unsaved)
        setKept(markOf({ files: matched, exclusions: here.exclusions.present, notes, job: here.job }));
      if (absent.length === 0) actions.reduceFrom(matched);
      else actions.restoreFiles(matched);
      return true;
    },
    [api, actions],
  );

  keeper.current = {
    mayLeave,
    openSession: (opened, others) => open(opened.ticket, others),
    takeNamed,
  };

  // Other points are another piece of work. An opened session that was reduced again is held against what it said.
  useEffect(() => {
    if (disc === null) return;
    const points = discFiles.points?.ticket ?? null;
    if (settled.savedResults !== null) return;
    if (points !== ownPoints.current) {
      const old = latest.current.file.session;
      if (old !== null) void api.endSession(old);
      ownPoints.current = points;
      savedDisc.current = null;
      setFile(newFile);
      setKept(null);
    } else if (savedDisc.current !== null) {
      const changed = changedStations(savedDisc.current, disc);
      savedDisc.current = null;
      setFile((now) => ({ ...now, changed }));
      setMessage(
        changed.length === 0
          ? 'Reduced again from the points: the results are those that were saved.'
          : `Reduced again from the points: ${changed.length} stations differ from the saved results.`,
      );
    }
  }, [api, disc, discFiles.points, settled.savedResults]);

  const keepNow = useAutosave({
    due: unsaved && !isEmpty,
    mark,
    draft: draftUnsaved ? draft : null,
    async keep() {
      const { content } = await contentNow();
      const { file: now, title: called, unsaved: stillUnsaved } = latest.current;
      if (!stillUnsaved) return;
      const outcome = await api.autosave({
        content,
        session: now.session,
        ...(called === undefined ? {} : { title: called }),
      });
      if (outcome.ok) setFile((before) => ({ ...before, ...outcome.value }));
      else setMessage(`Not kept against loss: ${outcome.problems[0]?.message ?? ''}`);
    },
  });

  // The window asks before it closes while work is not saved, and only then.
  useEffect(() => {
    if (!unsaved) return;
    const ask = (event: BeforeUnloadEvent) => {
      keepNow();
      event.preventDefault();
    };
    window.addEventListener('beforeunload', ask);
    return () => window.removeEventListener('beforeunload', ask);
  }, [unsaved, keepNow]);
  // What was kept of unsaved work stays for the next page.
  useEffect(() => {
    const end = () => {
      const { file: now, unsaved: stillUnsaved } = latest.current;
      if (now.session !== null) void api.endSession(now.session, stillUnsaved);
    };
    window.addEventListener('pagehide', end);
    return () => window.removeEventListener('pagehide', end);
  }, [api]);

  const isWhole = session.before === null;
  return {
    ...(isWhole ? file : newFile),
    unsaved: isWhole && unsaved,
    isEmpty: isEmpty || !isWhole,
    recent,
    recoverable,
    message,
    isAsking: asking !== null,
    answer: (answer) => asking?.(answer),
    save,
    open: (ticket) => void open(ticket),
    forget: (entry) => void api.forgetRecent(entry.ticket).then(refreshLists),
    discard: (entry) => {
      setRecoverable((now) => now.filter(({ ticket }) => ticket !== entry.ticket));
      void api.discardRecovery(entry.ticket);
    },
    findFiles: actions.choose,
    noteDisc: (text) => setFile((now) => ({ ...now, notes: { ...now.notes, disc: text } })),
    noteStation: (station, text) =>
      setFile((now) => ({ ...now, notes: withStationNote(now.notes, station, text) })),
  };
}
