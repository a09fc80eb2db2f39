/** What a reduction worker and its owner say to each other. */
import type { DiscPoints, FeaturePoints, Outcome, Problem, Progress, ReducedDisc } from '../api.ts';
import type { Report, ReportInput } from '../report/index.ts';
import type { ReductionInput } from './run-reduction.ts';

export type ToWorker =
  | {
      readonly kind: 'reduce';
      readonly job: string;
      readonly input: ReductionInput;
      /** One 32-bit word, shared: not 0 once the job is cancelled. Reaches the worker in the middle of a calculation. */
      readonly cancelled: SharedArrayBuffer;
    }
  | { readonly kind: 'ask'; readonly number: number; readonly question: Question }
  | { readonly kind: 'close' };

/** What is asked beside reductions: points of a finished job, or a report, whose making would hold up a window. */
export type Question =
  | {
      readonly about: 'feature';
      readonly job: string;
      readonly station: number | null;
      readonly feature: string;
      readonly most: number | undefined;
    }
  | { readonly about: 'disc'; readonly job: string; readonly most: number | undefined }
  | { readonly about: 'report'; readonly input: ReportInput }
  | { readonly about: 'reportHtml'; readonly input: ReportInput };

export interface Answers {
  readonly feature: FeaturePoints;
  readonly disc: DiscPoints;
  readonly report: Report;
  readonly reportHtml: string;
}

export type FromWorker =
  | {
      readonly kind: 'progress';
      readonly job: string;
      readonly progress: Progress;
      readonly disc?: ReducedDisc;
    }
  | { readonly kind: 'finished'; readonly job: string; readonly disc: ReducedDisc }
  | { readonly kind: 'refused'; readonly job: string; readonly problems: readonly Problem[] }
  | { readonly kind: 'cancelled'; readonly job: string }
  | {
      readonly kind: 'answer';
      readonly number: number;
      readonly outcome: Outcome<Answers[keyof Answers]>;
    };
