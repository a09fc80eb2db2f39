import type { JobEvent } from '../../src-main/api.ts';
import type { Jobs } from '../../src-main/hosts/service.ts';
import { discPoints, featurePoints } from '../../src-main/jobs/feature-points.ts';
import { problemsOf } from '../../src-main/jobs/problems-of.ts';
import { type ReductionMade, runReduction } from '../../src-main/jobs/run-reduction.ts';
import { unknownJob } from '../../src-main/jobs/unknown-job.ts';

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
        runReduction(input, { onReduced: (made) => finished.set(job, made) }).then(
          (disc) => end({ job, kind: 'finished', disc }),
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
    close() {},
  };
}
