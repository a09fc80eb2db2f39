/** Reductions in the background: started, followed and cancelled by job id; one worker thread, first come, first served. */
import { Worker } from 'node:worker_threads';
import type { DiscPoints, FeaturePoints, JobEvent, Outcome, PointsPreview } from '../api.ts';
import type { PreviewOptions } from '../points/preview.ts';
import type { Report, ReportInput } from '../report/index.ts';
import type { Answers, FromWorker, Question, ToWorker } from './messages.ts';
import { problemsOf } from './problems-of.ts';
import type { ReductionInput, ReductionPaths } from './run-reduction.ts';
import { createStopWord, type StopWord, stop } from './stop-word.ts';
import { unknownJob } from './unknown-job.ts';

export type JobListener = (event: JobEvent) => void;

export interface ReductionJobs {
  /** Queues a reduction and returns its job id. Events come to the listener, never before this call has returned. */
  start(input: ReductionInput, listener: JobListener): string;
  /** Asks a job to stop; its listener hears `cancelled` unless it had ended. Unknown ids are ignored. */
  cancel(job: string): void;
  /** Points of a feature of a finished job; the oldest jobs are let go. */
  featurePoints(
    job: string,
    station: number | null,
    feature: string,
    most?: number,
  ): Promise<Outcome<FeaturePoints>>;
  /** Points of all its features, thinned to about `most`. */
  discPoints(job: string, most?: number): Promise<Outcome<DiscPoints>>;
  /** Looks through a point file. A newer look at the same file ends an older one, which nobody waits for any more. */
  preview(path: string, options: Omit<PreviewOptions, 'signal'>): Promise<Outcome<PointsPreview>>;
  /**
   * Starts the worker before the first job needs it, and lets it warm up on these discs while it has nothing to do. Whatever is
   * asked of the worker comes first: it ends the warming up, which another call takes up again.
   */
  warmUp(discs: readonly ReductionPaths[]): void;
  /** The conformance report of a reduced disc. */
  report(input: ReportInput): Promise<Outcome<Report>>;
  /** Its HTML alone, which takes a fraction of the time. */
  reportHtml(input: ReportInput): Promise<Outcome<string>>;
  /** Cancels everything, asks the worker to end and waits for it. */
  close(): Promise<void>;
}

interface Job {
  readonly id: string;
  readonly input: ReductionInput;
  readonly listener: JobListener;
  readonly cancelled: StopWord;
}

/** @param options.workerUrl built file of `worker.ts` */
export function createReductionJobs(options: { readonly workerUrl: URL }): ReductionJobs {
  const waiting: Job[] = [];
  let running: Job | null = null;
  let worker: Worker | null = null;
  let closed = false;
  let count = 0;
  /** Questions on their way; they end with the worker. */
  const questions = new Map<number, (outcome: Outcome<never>) => void>();
  let asked = 0;
  /** Of the warming up that may be on its way. */
  let warming: StopWord | null = null;
  /** Of the last look at each file. */
  const looks = new Map<string, StopWord>();

  const end = (event: JobEvent): void => {
    const job = running;
    running = null;
    // The next job is on its way before anybody hears that this one has ended.
    next();
    job?.listener(event);
  };

  const hear = (message: FromWorker): void => {
    if (message.kind === 'answer') {
      // The worker answers each question in its own terms: see `Answers`.
      questions.get(message.number)?.(message.outcome as Outcome<never>);
      questions.delete(message.number);
      return;
    }
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
      warming = null;
      for (const answer of questions.values()) answer({ ok: false, problems: problemsOf(error) });
      questions.clear();
      if (running !== null) end({ job: running.id, kind: 'refused', problems: problemsOf(error) });
    };
    engaged.on('error', lose);
    engaged.on('exit', (code) => lose(new Error(`the worker ended with code ${code}`)));
    worker = engaged;
    return engaged;
  };

  /** Hands a message to the worker, whose idle hours it ends. */
  const tell = (message: ToWorker): void => {
    if (warming !== null) stop(warming);
    warming = null;
    engage().postMessage(message);
  };

  const next = (): void => {
    if (running !== null) return;
    const job = waiting.shift();
    if (job === undefined) return;
    running = job;
    tell({ kind: 'reduce', job: job.id, input: job.input, cancelled: job.cancelled });
  };

  const ask = <About extends keyof Answers>(
    question: Extract<Question, { readonly about: About }>,
  ): Promise<Outcome<Answers[About]>> =>
    new Promise((resolve) => {
      asked += 1;
      questions.set(asked, resolve);
      tell({ kind: 'ask', number: asked, question });
    });

  return {
    start(input, listener) {
      if (closed) throw new Error('No job can start after close().');
      count += 1;
      const id = `job-${count}`;
      waiting.push({ id, input, listener, cancelled: createStopWord() });
      setImmediate(next);
      return id;
    },
    cancel(id) {
      const queued = waiting.findIndex((job) => job.id === id);
      if (queued >= 0) {
        const [job] = waiting.splice(queued, 1);
        setImmediate(() => job?.listener({ job: id, kind: 'cancelled' }));
      } else if (running?.id === id) stop(running.cancelled);
    },
    async featurePoints(job, station, feature, most) {
      // Without a worker nothing has been reduced.
      if (worker === null || closed) return unknownJob;
      return ask({ about: 'feature', job, station, feature, most });
    },
    async discPoints(job, most) {
      if (worker === null || closed) return unknownJob;
      return ask({ about: 'disc', job, most });
    },
    async preview(path, options) {
      if (closed) throw new Error('No file can be looked through after close().');
      const older = looks.get(path);
      if (older !== undefined) stop(older);
      const word = createStopWord();
      looks.set(path, word);
      try {
        return await ask({ about: 'preview', path, options, stop: word });
      } finally {
        if (looks.get(path) === word) looks.delete(path);
      }
    },
    warmUp(discs) {
      const busy = running !== null || waiting.length > 0 || questions.size > 0;
      if (closed || busy || warming !== null) return;
      const word = createStopWord();
      tell({ kind: 'warm-up', discs, stop: word });
      warming = word;
    },
    async report(input) {
      if (closed) throw new Error('No report can be made after close().');
      return ask({ about: 'report', input });
    },
    async reportHtml(input) {
      if (closed) throw new Error('No report can be made after close().');
      return ask({ about: 'reportHtml', input });
    },
    async close() {
      closed = true;
      for (const job of waiting.splice(0)) job.listener({ job: job.id, kind: 'cancelled' });
      if (running !== null) stop(running.cancelled);
      for (const look of looks.values()) stop(look);
      const ending = worker;
      if (ending === null) return;
      await new Promise<void>((resolve) => {
        ending.once('exit', () => resolve());
        tell({ kind: 'close' });
      });
    },
  };
}
