/** Files made from a finished reduction, for the person to keep or pass on. */
import { basename } from 'node:path';
import type { Outcome, OutputKind, SaveOutputRequest } from '../api.ts';
import { qifResults } from '../exchange/qif-results.ts';
import { stationsWorkbook } from '../exchange/stations-workbook.ts';
import { unknownJob } from '../jobs/unknown-job.ts';
import { stationsCsv } from '../outputs/stations-csv.ts';
import { resultJson } from '../outputs/write-outputs.ts';
import { report } from '../report/index.ts';
import { writeWholeFile } from '../whole-file.ts';
import type { FinishedJob, FinishedJobs } from './finished-jobs.ts';
import { outcomeOf } from './outcome-of.ts';
import { downloadOf, type Outlet } from './outlet.ts';
import { checked, requests } from './requests.ts';

export interface OutputRequests {
  saveOutput(argument: unknown, outlet: Outlet): Promise<Outcome<{ readonly name: string } | null>>;
}

export interface OutputOptions {
  readonly finished: FinishedJobs;
  readonly now: () => Date;
}

type Wishes = {
  readonly [Key in 'language' | 'paper' | 'length']?: SaveOutputRequest[Key] | undefined;
};
type Maker = (
  job: FinishedJob,
  wishes: Wishes,
  time: Date,
) => Promise<string | Uint8Array> | string | Uint8Array;

const makers: Readonly<Record<OutputKind, { readonly title: string; readonly make: Maker }>> = {
  'stations.csv': { title: 'Save the station table', make: ({ disc }) => stationsCsv(disc.result) },
  'stations.xlsx': { title: 'Save the spreadsheet', make: ({ disc }) => stationsWorkbook(disc) },
  'result.json': { title: 'Save the result', make: ({ disc }) => resultJson(disc.result) },
  'result.qif': { title: 'Save the results as QIF', make: ({ disc }, _, time) => qifResults(disc, time) },
  'report.html': {
    title: 'Save the report',
    make: async (job, ...rest) => (await reportOf(job, ...rest)).html,
  },
  'report.pdf': {
    title: 'Save the report',
    make: async (job, ...rest) => (await reportOf(job, ...rest)).pdf,
  },
};

export function createOutputService({ finished, now }: OutputOptions): OutputRequests {
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
        const content = await make(found, wishes, now());
        if (place.kind === 'path') writeWholeFile(place.path, content);
        else outlet.hand(downloadOf(name, content));
        return { name: place.kind === 'path' ? basename(place.path) : name };
      });
    },
  };
}

function reportOf(
  { disc }: FinishedJob,
  { language = 'en', paper = 'a4', length = 'mm' }: Wishes,
  time: Date,
) {
  return report({ result: disc.result, plan: disc.plan, welds: disc.welds, language, paper, length, time });
}

/** Serial number or part number, else the name of the point file. */
function stemFor({ disc }: FinishedJob): string {
  const { part } = disc.plan;
  const words = [part['number'], part['serial']].filter(Boolean).join('-');
  const stem = (words || disc.result.source.points.name.replace(/\.[^.]*$/, ''))
    .replaceAll(/[^\p{L}\p{N}._-]+/gu, '-')
    .replace(/^[.-]+|[.-]+$/g, '');
  return stem.slice(0, 80) || 'disc';
}
