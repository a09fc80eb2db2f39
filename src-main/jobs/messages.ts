/** What a reduction worker and its owner say to each other. */
import type {
  DiscPoints,
  FeaturePoints,
  Outcome,
  PointsPreview,
  Problem,
  Progress,
  ReducedDisc,
} from '../api.ts';
import type { PreviewOptions } from '../points/preview.ts';
import type { Report, ReportInput } from '../report/index.ts';
import type { ReductionInput, ReductionPaths } from './run-reduction.ts';
import type { StopWord } from './stop-word.ts';

export type ToWorker =
  | {
      readonly kind: 'reduce';
      readonly job: string;
      readonly input: ReductionInput;
      readonly cancelled: StopWord;
    }
  /** See warm-up.ts; `stop` is set as soon as there is anything else to do. */
  | { readonly kind: 'warm-up'; readonly discs: readonly ReductionPaths[]; readonly stop: StopWord }
  | { readonly kind: 'ask'; readonly number: number; readonly question: Question }
  | { readonly kind: 'close' };

/**
 * What is asked beside reductions: points of a finished job, or what would hold up a window: a look through a point file, a
 * report.
 */
export type Question =
  | {
      readonly about: 'feature';
      readonly job: string;
      readonly station: number | null;
      readonly feature: string;
      readonly most: number | undefined;
    }
  | { readonly about: 'disc'; readonly job: string; readonly most: number | undefined }
  | {
      readonly about: 'preview';
      readonly path: string;
      readonly options: Omit<PreviewOptions, 'signal'>;
      readonly stop: StopWord;
    }
  | { readonly about: 'report'; readonly input: ReportInput }
  | { readonly about: 'reportHtml'; readonly input: ReportInput };

export interface Answers {
  readonly feature: FeaturePoints;
  readonly disc: DiscPoints;
  readonly preview: PointsPreview;
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
