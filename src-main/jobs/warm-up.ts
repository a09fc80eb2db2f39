/**
 * Makes a new worker quick before anybody waits for it.
 *
 * The engine runs a function slowly at first and compiles it well only after it has run for a while: the first disc of a new
 * worker takes several times as long as a later one. So while a worker has nothing to do it reduces sample discs, from their
 * files, by the very functions that reduce everybody's disc. Only the time is gained: what comes out is thrown away, nothing of
 * it is kept or shown, and no result depends on whether this ran.
 */
import type { Cancellation } from '../problems.ts';
import { type ReductionInput, type ReductionPaths, runReduction } from './run-reduction.ts';

/** Reductions in the life of a worker after which a further one is hardly any faster. */
const ROUNDS = 18;
/**
 * From this round on causes are looked for as well. Their code shares functions with that of the reduction, which the engine
 * compiles anew for both: better before the first disc than after it.
 */
const CAUSES_FROM = 9;

/**
 * @param discs one at least. They should differ in form, so that the code is not compiled for one form alone.
 * @param signal says that there is work to do; a reduction looks at it before each station, verdict and fit of causes.
 */
export type WarmUp = (discs: readonly ReductionPaths[], signal: Cancellation) => Promise<void>;

/** Reduces discs in turn until the code is warm. Once stopped, it goes on where it was when it is called again. */
export function createWarmUp(
  reduce: (disc: ReductionInput, signal: Cancellation) => Promise<unknown> = reduceIdly,
): WarmUp {
  let round = 0;
  return async (discs, signal) => {
    while (round < ROUNDS && !signal.aborted) {
      const disc = discs[round % discs.length];
      if (disc === undefined) return;
      try {
        await reduce({ ...disc, diagnose: round >= CAUSES_FROM }, signal);
      } catch {
        // Stopped, or the samples cannot be reduced: nobody asked for them.
        return;
      }
      round += 1;
      // Between two rounds messages are heard.
      await new Promise(setImmediate);
    }
  };
}

function reduceIdly(disc: ReductionInput, signal: Cancellation): Promise<unknown> {
  return runReduction(disc, { signal });
}
