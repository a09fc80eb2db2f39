/** Reports of the sample discs, for tests. */
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { type Report, type ReportInput, report } from '../../src-main/report/index.ts';
import { samplePath } from './disc-files.ts';
import { squeezed } from './pdf-text.ts';

export const reportTime = new Date('2026-05-21T08:00:00Z');

export type Sample = 'conforming' | 'drifting' | 'off-centre';

export function reduceSample(sample: Sample): Promise<ReducedDisc> {
  return runReduction({
    pointsPath: samplePath(sample, 'points.csv'),
    planPath: samplePath(sample, 'plan.json'),
    weldsPath: samplePath(sample, 'welds.csv'),
  });
}

type Options = Partial<Omit<ReportInput, 'result' | 'plan' | 'welds'>>;

/** What makes a report, in English on A4 in µm where nothing else is asked for. */
export function inputOf({ result, plan, welds }: ReducedDisc, options: Options = {}): ReportInput {
  return { result, plan, welds, language: 'en', paper: 'a4', length: 'µm', time: reportTime, ...options };
}

export function reportOf(disc: ReducedDisc, options: Options = {}): Promise<Report> {
  return report(inputOf(disc, options));
}

/** The words of the HTML, blanks squeezed. */
export function wordsOf(html: string): string {
  return squeezed(
    html
      .slice(html.indexOf('<body>'))
      .replace(/<[^>]*>/g, ' ')
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&quot;', '"')
      .replaceAll('&#39;', "'")
      .replaceAll('&amp;', '&'),
  );
}
