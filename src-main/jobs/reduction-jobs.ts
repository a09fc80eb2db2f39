/** Reductions in the background: started, followed and cancelled by job id; one worker thread, first come, first served. */
import { Worker } from 'node:worker_threads';
import type { JobEvent } from '../api.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { problemsOf } from './problems-of.ts';
import type { ReductionPaths } from './run-reduction.ts';

export type JobListener = (event: JobEvent) => void;

export interface ReductionJobs {
  /** Queues a reduction and returns its job id. Events come to the listener, never before this call has returned. */
  start(paths: ReductionPaths, listener: JobListener): string;
  /** Asks a job to stop; its listener hears `cancelled` unless it had ended. Unknown ids are ignored. */
  cancel(job: string): void;
  /** Cancels everything, asks the worker to end and waits for it. */
  close(): Promise<void>;
}

interface Job {
  readonly id: string;
  readonly paths: ReductionPaths;
  readonly listener: JobListener;
  readonly cancelled: SharedArrayBuffer;
}

/** @param options.workerUrl built file of `worker.ts` */
export function createReductionJobs(options: { readonly workerUrl: URL }): ReductionJobs {
  const waiting: Job[] = [];
  let running: Job | null = null;
  let worker: Worker | null = null;
  let closed = false;
  let count = 0;

  const end = (event: JobEvent): void => {
    const job = running;
    running = null;
    // The next job is on its way before anybody hears that this one has ended.
    next();
    job?.listener(event);
  };

  const hear = (message: FromWorker): void => {
    if (running?.id !== message.job) return;
    if (message.kind === 'progress') running.listener(message);
    else end(message);
  };

  const engage = (): Worker => {
    if (worker !== null) return worker;
    const engaged = new Worker(options.workerUrl);
    engaged.on('message', hear);
    // A worker that fails loses its job, not the program; the next job gets a new one.
    const lose = (error: unknown): void => {
      if (worker !== engaged) return;
      worker = null;
      if (running !== null) end({ job: running.id, kind: 'refused', problems: problemsOf(error) });
    };
    engaged.on('error', lose);
    engaged.on('exit', (code) => lose(new Error(`the worker ended with code ${code}`)));
    worker = engaged;
    return engaged;
  };

  const next = (): void => {
    if (running !== null) return;
    const job = waiting.shift();
    if (job === undefined) return;
    running = job;
    const message: ToWorker = { kind: 'reduce', job: job.id, paths: job.paths, cancelled: job.cancelled };
    engage().postMessage(message);
  };

  return {
    start(paths, listener) {
      if (closed) throw new Error('No job can start after close().');
      count += 1;
      const id = `job-${count}`;
      waiting.push({ id, paths, listener, cancelled: new SharedArrayBuffer(4) });
      setImmediate(next);
      return id;
    },
    cancel(id) {
      const queued = waiting.findIndex((job) => job.id === id);
      if (queued >= 0) {
        const [job] = waiting.splice(queued, 1);
        setImmediate(() => job?.listener({ job: id, kind: 'cancelled' }));
      } else if (running?.id === id) Atomics.store(new Int32Array(running.cancelled), 0, 1);
    },
    async close() {
      closed = true;
      for (const job of waiting.splice(0)) job.listener({ job: job.id, kind: 'cancelled' });
      if (running !== null) Atomics.store(new Int32Array(running.cancelled), 0, 1);
      const ending = worker;
      if (ending === null) return;
      await new Promise<void>((resolve) => {
        ending.once('exit', () => resolve());
        const message: ToWorker = { kind: 'close' };
        ending.postMessage(message);
      });
    },
  };
}
