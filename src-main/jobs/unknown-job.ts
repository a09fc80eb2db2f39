import type { Outcome } from '../api.ts';
import { describe } from '../problems.ts';

/** The answer where a job was never finished here, or was let go for newer ones. */
export const unknownJob: Outcome<never> = {
  ok: false,
  problems: [
    describe({
      code: 'unknown-job',
      says: 'this reduction is not kept any more',
      remedy: 'reduce the disc again',
    }),
  ],
};
