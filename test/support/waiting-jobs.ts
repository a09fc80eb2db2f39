import type { JobEvent } from '../../src-main/api.ts';
import type { Jobs } from '../../src-main/hosts/service.ts';
import type { ReductionInput } from '../../src-main/jobs/run-reduction.ts';
import { unknownJob } from '../../src-main/jobs/unknown-job.ts';

export interface WaitingJobs extends Jobs {
  readonly started: ReductionInput[];
  readonly cancelled: string[];
  readonly closed: boolean;
  /** Sends an event to whoever started the job. */
  tell(event: JobEvent): void;
}

/** Jobs that do nothing by themselves: a test tells what they report. */
export function createWaitingJobs(): WaitingJobs {
  const started: WaitingJobs['started'] = [];
  const cancelled: string[] = [];
  const listeners = new Map<string, (event: JobEvent) => void>();
  let closed = false;
  return {
    started,
    cancelled,
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
    report: async () => unknownJob,
    reportHtml: async () => unknownJob,
    close() {
      closed = true;
    },
    tell: (event) => listeners.get(event.job)?.(event),
  };
}
