/** Reports of the sample discs, for tests. */
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { type Report, type ReportInput, report } from '../../src-main/report/index.ts';
import { samplePath } from './disc-files.ts';

export const reportTime = new Date('2026-05-21T08:00:00Z');

export type Sample = 'conforming' | 'drifting' | 'off-centre';

export function reduceSample(sample: Sample): Promise<ReducedDisc> {
  return runReduction({
    pointsPath: samplePath(sample, 'points.csv'),
    planPath: samplePath(sample, 'plan.json'),
    weldsPath: samplePath(sample, 'welds.csv'),
  });
}

/** The report of a disc, in English on A4 in µm where nothing else is asked for. */
export function reportOf(
  { result, plan, welds }: ReducedDisc,
  options: Partial<Omit<ReportInput, 'result' | 'plan' | 'welds'>> = {},
): Promise<Report> {
  return report({
    result,
    plan,
    welds,
    language: 'en',
    paper: 'a4',
    length: 'µm',
    time: reportTime,
    ...options,
  });
}
