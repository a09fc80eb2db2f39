/** What a reduction worker and its owner say to each other. */
import type { Problem, Progress, ReducedDisc } from '../api.ts';
import type { ReductionPaths } from './run-reduction.ts';

export type ToWorker =
  | {
      readonly kind: 'reduce';
      readonly job: string;
      readonly paths: ReductionPaths;
      /** One 32-bit word, shared: not 0 once the job is cancelled. Reaches the worker in the middle of a calculation. */
      readonly cancelled: SharedArrayBuffer;
    }
  | { readonly kind: 'close' };

export type FromWorker =
  | { readonly kind: 'progress'; readonly job: string; readonly progress: Progress }
  | { readonly kind: 'finished'; readonly job: string; readonly disc: ReducedDisc }
  | { readonly kind: 'refused'; readonly job: string; readonly problems: readonly Problem[] }
  | { readonly kind: 'cancelled'; readonly job: string };
