import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { JobEvent, ReducedDisc } from '../../src-main/api.ts';
import type { Jobs } from '../../src-main/hosts/service.ts';
import { discPoints, featurePoints } from '../../src-main/jobs/feature-points.ts';
import { problemsOf } from '../../src-main/jobs/problems-of.ts';
import { type ReductionInput, type ReductionMade, runReduction } from '../../src-main/jobs/run-reduction.ts';
import { unknownJob } from '../../src-main/jobs/unknown-job.ts';
import { previewPoints } from '../../src-main/points/preview.ts';
import { report, reportHtml } from '../../src-main/report/index.ts';

interface Reduced {
  readonly disc: ReducedDisc;
  readonly made: ReductionMade;
}

/** Reductions of this test file by what went into them: files of the same content give the same result. */
const known = new Map<string, Promise<Reduced>>();

function reduced(input: ReductionInput): Promise<Reduced> {
  const { pointsPath, planPath, weldsPath, exclusions, excludedFeatures, diagnose } = input;
  const contents = [pointsPath, planPath, weldsPath].map((path) =>
    path === undefined ? '' : createHash('sha256').update(readFileSync(path)).digest('hex'),
  );
  const key = JSON.stringify([contents, exclusions, excludedFeatures, diagnose]);
  const found = known.get(key);
  if (found !== undefined) return found;
  const fresh = new Promise<Reduced>((resolve, reject) => {
    let made: ReductionMade | null = null;
    runReduction(input, {
      onReduced: (reduction) => {
        made = reduction;
      },
    }).then((disc) => resolve({ disc, made: made as unknown as ReductionMade }), reject);
  });
  known.set(key, fresh);
  return fresh;
}

/** Jobs that reduce for real, in this thread: no built worker is needed. */
export function createDirectJobs(): Jobs {
  const finished = new Map<string, ReductionMade>();
  let count = 0;
  return {
    start(input, listener) {
      count += 1;
      const job = `job-${count}`;
      const end = (event: JobEvent): void => listener(event);
      setImmediate(() => {
        reduced(input).then(
          ({ disc, made }) => {
            finished.set(job, made);
            end({ job, kind: 'finished', disc });
          },
          (error: unknown) => end({ job, kind: 'refused', problems: problemsOf(error) }),
        );
      });
      return job;
    },
    cancel() {},
    async featurePoints(job, station, feature, most) {
      const made = finished.get(job);
      return made === undefined
        ? unknownJob
        : { ok: true, value: featurePoints(made, station, feature, most) };
    },
    async discPoints(job, most) {
      const made = finished.get(job);
      return made === undefined ? unknownJob : { ok: true, value: discPoints(made, most) };
    },
    preview: async (path, options) => ({ ok: true, value: await previewPoints(path, options) }),
    warmUp() {},
    report: async (input) => ({ ok: true, value: await report(input) }),
    reportHtml: async (input) => ({ ok: true, value: reportHtml(input) }),
    close() {},
  };
}
