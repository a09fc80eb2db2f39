/** Reductions that ended well in this program, so that sessions and outputs can be made from them. */
import type { Exclusions, ReducedDisc } from '../api.ts';

export interface FinishedJob extends Exclusions {
  readonly disc: ReducedDisc;
  /** Null without welds; for results from a session file the fingerprint that it states. */
  readonly welds: { readonly path: string } | { readonly sha256: string } | null;
}

export interface FinishedJobs {
  add(job: string, finished: FinishedJob): void;
  find(job: string): FinishedJob | null;
}

/** A comparison and some steps back. */
const MOST_JOBS = 24;

export function createFinishedJobs(): FinishedJobs {
  const jobs = new Map<string, FinishedJob>();
  return {
    add(job, finished) {
      jobs.set(job, finished);
      const [oldest] = jobs.keys();
      if (jobs.size > MOST_JOBS && oldest !== undefined) jobs.delete(oldest);
    },
    find: (job) => jobs.get(job) ?? null,
  };
}
