/** Worker thread that reduces one disc at a time and lives as long as its owner. */
import { parentPort } from 'node:worker_threads';
import { Cancelled } from '../problems.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { problemsOf } from './problems-of.ts';
import { runReduction } from './run-reduction.ts';

const port = parentPort;
if (port === null) throw new Error('This file is the entry of a worker thread.');

const say = (message: FromWorker): void => port.postMessage(message);

port.on('message', (message: ToWorker) => {
  if (message.kind === 'close') port.close();
  else void work(message);
});

async function work({ job, paths, cancelled }: Extract<ToWorker, { kind: 'reduce' }>): Promise<void> {
  const flag = new Int32Array(cancelled);
  const signal = {
    get aborted(): boolean {
      return Atomics.load(flag, 0) !== 0;
    },
  };
  try {
    const disc = await runReduction(paths, {
      signal,
      onProgress: (progress) => say({ kind: 'progress', job, progress }),
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
