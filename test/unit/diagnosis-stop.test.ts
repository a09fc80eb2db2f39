/** The search for causes and corrections can be left between its steps. */
import { expect, it } from 'vitest';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { Cancelled } from '../../src-main/problems.ts';
import { samplePath } from '../support/disc-files.ts';

const paths = {
  pointsPath: samplePath('drifting', 'points.csv'),
  planPath: samplePath('drifting', 'plan.json'),
  weldsPath: samplePath('drifting', 'welds.csv'),
};

/** Runs the job; the signal is aborted at the given look after the disc was shown. @returns the looks since then */
async function looksUntilLeft(at: number): Promise<{ readonly looks: number; readonly left: unknown }> {
  let looks = 0;
  let isShown = false;
  const signal = {
    get aborted() {
      if (isShown) looks += 1;
      return isShown && looks === at;
    },
  };
  try {
    await runReduction(paths, {
      signal,
      onProgress: (_, disc) => {
        isShown ||= disc !== undefined;
      },
    });
    return { looks, left: null };
  } catch (error) {
    return { looks, left: error };
  }
}

it('the search for causes can be left at any step from the first fit to the last optimisation', async () => {
  const { looks: all, left } = await looksUntilLeft(Number.POSITIVE_INFINITY);
  expect(left).toBeNull();
  expect(all).toBeGreaterThan(20);
  for (const at of [1, 2, Math.floor(all / 2), all]) {
    const stopped = await looksUntilLeft(at);
    expect(stopped.looks).toBe(at);
    expect(stopped.left).toBeInstanceOf(Cancelled);
  }
});
