/** Worker thread that reduces one disc at a time, answers questions on what it has reduced, and lives as long as its owner. */
import { parentPort } from 'node:worker_threads';
import { Cancelled } from '../problems.ts';
import { discPoints, featurePoints } from './feature-points.ts';
import { createKept } from './kept.ts';
import type { FromWorker, PointsQuestion, ToWorker } from './messages.ts';
import { createPointsMemory, pointBytes } from './points-memory.ts';
import { problemsOf } from './problems-of.ts';
import { type ReductionMade, runReduction } from './run-reduction.ts';
import { unknownJob } from './unknown-job.ts';

const port = parentPort;
if (port === null) throw new Error('This file is the entry of a worker thread.');

const say = (message: FromWorker): void => port.postMessage(message);

const read = createPointsMemory();

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
  else if (message.kind === 'points')
    say({ kind: 'answer', question: message.question, outcome: answer(message.asked) });
  else void work(message);
});

async function work({ job, input, cancelled }: Extract<ToWorker, { kind: 'reduce' }>): Promise<void> {
  const flag = new Int32Array(cancelled);
  const signal = {
    get aborted(): boolean {
      return Atomics.load(flag, 0) !== 0;
    },
  };
  try {
    const disc = await runReduction(input, {
      signal,
      read,
      onProgress: (progress) => say({ kind: 'progress', job, progress }),
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

function answer({
  job,
  station,
  feature,
  most,
}: PointsQuestion): Extract<FromWorker, { kind: 'answer' }>['outcome'] {
  const made = finished.get(job);
  if (made === undefined) return unknownJob;
  try {
    return {
      ok: true,
      value: feature === null ? discPoints(made, most) : featurePoints(made, station, feature, most),
    };
  } catch (error) {
    return { ok: false, problems: problemsOf(error) };
  }
}
