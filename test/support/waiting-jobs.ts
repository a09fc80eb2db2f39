import type { JobEvent } from '../../src-main/api.ts';
import type { Jobs } from '../../src-main/hosts/service.ts';
import { problemsOf } from '../../src-main/jobs/problems-of.ts';
import type { ReductionInput, ReductionPaths } from '../../src-main/jobs/run-reduction.ts';
import { unknownJob } from '../../src-main/jobs/unknown-job.ts';
import { previewPoints } from '../../src-main/points/preview.ts';

export interface WaitingJobs extends Jobs {
  readonly started: ReductionInput[];
  readonly cancelled: string[];
  readonly closed: boolean;
  /** Discs of each warming up that was asked for. */
  readonly warmed: (readonly ReductionPaths[])[];
  /** Sends an event to whoever started the job. */
  tell(event: JobEvent): void;
}

/** Jobs that do nothing by themselves but look through points: a test tells what they report. */
export function createWaitingJobs(): WaitingJobs {
  const started: WaitingJobs['started'] = [];
  const cancelled: string[] = [];
  const warmed: (readonly ReductionPaths[])[] = [];
  const listeners = new Map<string, (event: JobEvent) => void>();
  let closed = false;
  return {
    started,
    cancelled,
    warmed,
    get closed() {
      return closed;
    },
    start(input, listener) {
      started.push(input);
      const job = `job-${started.length}`;
      listeners.set(job, listener);
      return job;
    },
    cancel: (job) => cancelled.push(job),
    featurePoints: async () => unknownJob,
    discPoints: async () => unknownJob,
    preview: (path, options) =>
      previewPoints(path, options).then(
        (value) => ({ ok: true, value }),
        (error: unknown) => ({ ok: false, problems: problemsOf(error) }),
      ),
    warmUp: (discs) => warmed.push(discs),
    report: async () => unknownJob,
    reportHtml: async () => unknownJob,
    close() {
      closed = true;
    },
    tell: (event) => listeners.get(event.job)?.(event),
  };
}
