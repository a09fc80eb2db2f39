/** What a reduction worker and its owner say to each other. */
import type { DiscPoints, FeaturePoints, Outcome, Problem, Progress, ReducedDisc } from '../api.ts';
import type { ReductionInput } from './run-reduction.ts';

export type ToWorker =
  | {
      readonly kind: 'reduce';
      readonly job: string;
      readonly input: ReductionInput;
      /** One 32-bit word, shared: not 0 once the job is cancelled. Reaches the worker in the middle of a calculation. */
      readonly cancelled: SharedArrayBuffer;
    }
  | { readonly kind: 'points'; readonly question: number; readonly asked: PointsQuestion }
  | { readonly kind: 'close' };

/** One feature of a finished job, or with `feature` null all of them. */
export interface PointsQuestion {
  readonly job: string;
  readonly station: number | null;
  readonly feature: string | null;
  readonly most?: number | undefined;
}

export type FromWorker =
  | { readonly kind: 'progress'; readonly job: string; readonly progress: Progress }
  | { readonly kind: 'finished'; readonly job: string; readonly disc: ReducedDisc }
  | { readonly kind: 'refused'; readonly job: string; readonly problems: readonly Problem[] }
  | { readonly kind: 'cancelled'; readonly job: string }
  | {
      readonly kind: 'answer';
      readonly question: number;
      readonly outcome: Outcome<FeaturePoints | DiscPoints>;
    };
