/** A word that two threads share and by which the one stops the other, in the middle of a calculation as well. */
import type { Cancellation } from '../problems.ts';

/** One 32-bit word: not 0 once the work is to stop. */
export type StopWord = SharedArrayBuffer;

export function createStopWord(): StopWord {
  return new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT);
}

export function stop(word: StopWord): void {
  Atomics.store(new Int32Array(word), 0, 1);
}

/** How the work looks at it. */
export function stopSignal(word: StopWord): Cancellation {
  const flag = new Int32Array(word);
  return {
    get aborted(): boolean {
      return Atomics.load(flag, 0) !== 0;
    },
  };
}
