/** The work at hand as state: files, the disc on view, what was left out, and how events change it. Plain functions. */
import type { Problem, Progress, ReducedDisc } from '../../src-main/api.ts';
import { type ExclusionHistory, type Exclusions, emptyHistory, historyFrom } from './exclusions.ts';
import type { GivenFiles } from './files.ts';

/** Where results come from that a session file kept, as against those reduced here. */
export interface SavedResults {
  /** Name of the session file. */
  readonly name: string;
  /** When it was saved, ISO 8601, and the version that made the results. */
  readonly saved: string;
  readonly software: string;
}

/** A session file's content, ready for view. */
export interface RestoredWork {
  readonly files: GivenFiles;
  readonly disc: ReducedDisc | null;
  readonly job: string | null;
  readonly exclusions: Exclusions;
  readonly savedResults: SavedResults;
}

/** A finished reduction with what it was made from. */
export interface ReductionRecord {
  readonly disc: ReducedDisc;
  readonly files: GivenFiles;
  readonly exclusions: Exclusions;
  /** Name of its job on the main floor. */
  readonly job: string;
}

export interface Session {
  /** Files given so far, whether or not they have been reduced. */
  readonly files: GivenFiles;
  /** The disc on view. It stays until another one has been reduced completely. */
  readonly disc: ReducedDisc | null;
  readonly discFiles: GivenFiles;
  /** Name of the job that made the disc on view. */
  readonly job: string | null;
  /** Set while the results on view are those of a session file: they were not reduced here. */
  readonly savedResults: SavedResults | null;
  /** What the disc on view was reduced without, and the steps that led there. They end with another point file. */
  readonly exclusions: ExclusionHistory;
  /** The reduction that the one on view replaced. */
  readonly previous: ReductionRecord | null;
  /** A reduction that the person keeps for comparison. */
  readonly reference: ReductionRecord | null;
  /**
   * What was on view before a disc whose causes are still being looked for, and what comes back if that is cancelled; null
   * where the disc on view is whole.
   */
  readonly before: Session | null;
  /** Null when nothing runs. */
  readonly progress: Progress | null;
  readonly problems: readonly Problem[];
}

type Action =
  | { readonly kind: 'files'; readonly files: GivenFiles; readonly problems: readonly Problem[] }
  | { readonly kind: 'progress'; readonly progress: Progress }
  | {
      readonly kind: 'reduced';
      readonly disc: ReducedDisc;
      readonly files: GivenFiles;
      readonly exclusions: ExclusionHistory;
      readonly progress: Progress;
    }
  | {
      readonly kind: 'finished';
      readonly disc: ReducedDisc;
      readonly files: GivenFiles;
      readonly job: string;
      readonly exclusions: ExclusionHistory;
    }
  | { readonly kind: 'restored'; readonly work: RestoredWork }
  | { readonly kind: 'found'; readonly files: GivenFiles }
  | { readonly kind: 'reference'; readonly record: ReductionRecord | null }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'dismiss' };

export const emptySession: Session = {
  files: {},
  disc: null,
  discFiles: {},
  job: null,
  savedResults: null,
  exclusions: emptyHistory,
  previous: null,
  reference: null,
  before: null,
  progress: null,
  problems: [],
};

/** The reduction on view. */
export function recordOf({ disc, discFiles, job, exclusions }: Session): ReductionRecord | null {
  return disc === null || job === null
    ? null
    : { disc, files: discFiles, exclusions: exclusions.present, job };
}

/** A disc that will not become whole leaves the view again; its files stay given. */
function withoutHalf(session: Session): Session {
  return session.before === null ? session : { ...session.before, files: session.files };
}

export function reduceSession(session: Session, action: Action): Session {
  switch (action.kind) {
    case 'files':
      return { ...session, files: action.files, problems: action.problems };
    case 'progress':
      return { ...session, progress: action.progress };
    case 'reduced':
      return {
        ...session,
        disc: action.disc,
        files: action.files,
        discFiles: action.files,
        job: null,
        savedResults: null,
        exclusions: action.exclusions,
        previous: recordOf(session) ?? session.previous,
        before: session.before ?? session,
        progress: action.progress,
        problems: [],
      };
    case 'finished':
      return {
        ...session,
        disc: action.disc,
        files: action.files,
        discFiles: action.files,
        job: action.job,
        savedResults: null,
        exclusions: action.exclusions,
        previous: recordOf(session) ?? session.previous,
        before: null,
        progress: null,
        problems: [],
      };
    case 'restored': {
      const { files, disc, job, exclusions, savedResults } = action.work;
      return {
        ...emptySession,
        files,
        disc,
        discFiles: files,
        job,
        savedResults: disc === null ? null : savedResults,
        exclusions: historyFrom(exclusions),
      };
    }
    case 'found':
      return { ...session, files: action.files, discFiles: action.files, problems: [] };
    case 'reference':
      return { ...session, reference: action.record };
    case 'refused':
      return { ...withoutHalf(session), progress: null, problems: action.problems };
    case 'cancelled':
      return { ...withoutHalf(session), progress: null };
    case 'dismiss':
      // Giving up on refused files returns to those of the disc on view.
      return { ...session, problems: [], files: session.disc === null ? session.files : session.discFiles };
  }
}
