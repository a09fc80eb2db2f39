/** Worker thread that reduces one disc at a time, answers questions on what it has reduced, and lives as long as its owner. */
import { parentPort } from 'node:worker_threads';
import { previewPoints } from '../points/preview.ts';
import { Cancelled, describe } from '../problems.ts';
import { discPoints, featurePoints } from './feature-points.ts';
import { createKept } from './kept.ts';
import type { FromWorker, Question, ToWorker } from './messages.ts';
import { createPointsMemory, pointBytes } from './points-memory.ts';
import { problemsOf } from './problems-of.ts';
import { type ReductionMade, runReduction } from './run-reduction.ts';
import { stopSignal } from './stop-word.ts';
import { unknownJob } from './unknown-job.ts';
import { createWarmUp } from './warm-up.ts';

const port = parentPort;
if (port === null) throw new Error('This file is the entry of a worker thread.');

const say = (message: FromWorker): void => port.postMessage(message);

const read = createPointsMemory();
const warmUp = createWarmUp();

/** Reductions that questions may still be asked about: enough to compare two and go back a few steps. */
const MOST_JOBS = 8;
const MOST_BYTES = 600 * 1024 ** 2;
const finished = createKept<ReductionMade>({
  mostEntries: MOST_JOBS,
  mostBytes: MOST_BYTES,
  // Exclusions copy the features that they touch only; counting both is on the safe side.
  bytesOf: (made) => pointBytes(made.read) + (made.points === made.read ? 0 : pointBytes(made.points)),
});

port.on('message', (message: ToWorker) => {
  if (message.kind === 'close') port.close();
  else if (message.kind === 'warm-up') void warmUp(message.discs, stopSignal(message.stop));
  else if (message.kind === 'ask')
    void answer(message.question).then((outcome) => say({ kind: 'answer', number: message.number, outcome }));
  else void work(message);
});

async function work({ job, input, cancelled }: Extract<ToWorker, { kind: 'reduce' }>): Promise<void> {
  const signal = stopSignal(cancelled);
  try {
    const disc = await runReduction(input, {
      signal,
      read,
      onProgress: (progress, disc) =>
        say({ kind: 'progress', job, progress, ...(disc === undefined ? {} : { disc }) }),
      onReduced: (made) => finished.set(job, made),
    });
    say(signal.aborted ? { kind: 'cancelled', job } : { kind: 'finished', job, disc });
  } catch (error) {
    say(
      error instanceof Cancelled
        ? { kind: 'cancelled', job }
        : { kind: 'refused', job, problems: problemsOf(error) },
    );
  }
}

async function answer(
  question: Question,
): Promise<Extract<FromWorker, { readonly kind: 'answer' }>['outcome']> {
  try {
    if (question.about === 'preview') {
      const signal = stopSignal(question.stop);
      return { ok: true, value: await previewPoints(question.path, { ...question.options, signal }) };
    }
    if (question.about === 'report') {
      // Loaded at the first report: fonts and writer would slow every start of the worker.
      const { report } = await import('../report/index.ts');
      return { ok: true, value: await report(question.input) };
    }
    if (question.about === 'reportHtml') {
      const { reportHtml } = await import('../report/index.ts');
      return { ok: true, value: reportHtml(question.input) };
    }
    const made = finished.get(question.job);
    if (made === undefined) return unknownJob;
    if (question.about === 'disc') return { ok: true, value: discPoints(made, question.most) };
    const { station, feature, most } = question;
    return { ok: true, value: featurePoints(made, station, feature, most) };
  } catch (error) {
    return { ok: false, problems: error instanceof Cancelled ? [endedLook] : problemsOf(error) };
  }
}

const endedLook = describe({
  code: 'look-ended',
  says: 'a newer look at this file has taken the place of this one',
  remedy: 'wait for the newer one',
});
