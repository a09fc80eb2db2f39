/** Files made from a finished reduction, for the person to keep or pass on. */
import { basename } from 'node:path';
import type { Outcome, OutputKind, ReducedDisc, SaveOutputRequest } from '../api.ts';
import { qifResults } from '../exchange/qif-results.ts';
import { stationsWorkbook } from '../exchange/stations-workbook.ts';
import { unknownJob } from '../jobs/unknown-job.ts';
import { fileStem } from '../outputs/file-stem.ts';
import { stationsCsv } from '../outputs/stations-csv.ts';
import { resultJson } from '../outputs/write-outputs.ts';
import { RefusedInput } from '../problems.ts';
import type { Report, ReportInput } from '../report/index.ts';
import { writeWholeFile } from '../whole-file.ts';
import type { FinishedJob, FinishedJobs } from './finished-jobs.ts';
import { outcomeOf } from './outcome-of.ts';
import { downloadOf, type Outlet } from './outlet.ts';
import { checked, requests } from './requests.ts';

export interface OutputRequests {
  saveOutput(argument: unknown, outlet: Outlet): Promise<Outcome<{ readonly name: string } | null>>;
  previewReport(argument: unknown): Promise<Outcome<{ readonly html: string }>>;
}

export interface OutputOptions {
  readonly finished: FinishedJobs;
  readonly now: () => Date;
  /** Makes a report where it holds up nobody. */
  readonly report: (input: ReportInput) => Promise<Outcome<Report>>;
  readonly reportHtml: (input: ReportInput) => Promise<Outcome<string>>;
}

type Wishes = {
  readonly [Key in 'language' | 'paper' | 'length']?: SaveOutputRequest[Key] | undefined;
};
type Content = string | Uint8Array;
type ReportMaker = () => Promise<Report>;

const makers: Readonly<
  Record<
    OutputKind,
    {
      readonly title: string;
      readonly make: (disc: ReducedDisc, time: Date, report: ReportMaker) => Promise<Content> | Content;
    }
  >
> = {
  'stations.csv': { title: 'Save the station table', make: ({ result }) => stationsCsv(result) },
  'stations.xlsx': { title: 'Save the spreadsheet', make: stationsWorkbook },
  'result.json': { title: 'Save the result', make: ({ result }) => resultJson(result) },
  'result.qif': { title: 'Save the results as QIF', make: qifResults },
  'report.html': { title: 'Save the report', make: async (_disc, _time, report) => (await report()).html },
  'report.pdf': { title: 'Save the report', make: async (_disc, _time, report) => (await report()).pdf },
};

export function createOutputService({ finished, now, report, reportHtml }: OutputOptions): OutputRequests {
  return {
    async saveOutput(argument, outlet) {
      const asked = checked(requests.saveOutput, argument);
      if (!asked.ok) return asked;
      const { job, kind, ...wishes } = asked.value;
      const found = finished.find(job);
      if (found === null) return unknownJob;
      return outcomeOf(async () => {
        const { title, make } = makers[kind];
        const name = `${stemFor(found)}-${kind}`;
        const place = await outlet.place({ name, title });
        if (place === null) return null;
        const time = now();
        const content = await make(found.disc, time, async () => {
          const outcome = await report(reportInput(found.disc, wishes, time));
          if (!outcome.ok) throw new RefusedInput(outcome.problems);
          return outcome.value;
        });
        if (place.kind === 'path') writeWholeFile(place.path, content);
        else outlet.hand(downloadOf(name, content));
        return { name: place.kind === 'path' ? basename(place.path) : name };
      });
    },

    async previewReport(argument) {
      const asked = checked(requests.previewReport, argument);
      if (!asked.ok) return asked;
      const { job, ...wishes } = asked.value;
      const found = finished.find(job);
      if (found === null) return unknownJob;
      const outcome = await reportHtml(reportInput(found.disc, wishes, now()));
      return outcome.ok ? { ok: true, value: { html: outcome.value } } : outcome;
    },
  };
}

function reportInput(
  { result, plan, welds }: ReducedDisc,
  { language = 'en', paper = 'a4', length = 'mm' }: Wishes,
  time: Date,
): ReportInput {
  return { result, plan, welds, language, paper, length, time };
}

/** Serial number or part number, else the name of the point file. */
function stemFor({ disc }: FinishedJob): string {
  const { part } = disc.plan;
  const words = [part['number'], part['serial']].filter(Boolean).join('-');
  return fileStem(words || disc.result.source.points.name.replace(/\.[^.]*$/, '')) || 'disc';
}
