/**
 * Every correction, made on the true blades of the sample discs by the generator's own motions and measured with fresh noise: the
 * largest position comes out within the stated interval.
 *
 * An interval at 95 % may be missed: of 24 outcomes, 4 or more are missed with a probability of 3 % if each is with 5 %. In 480
 * outcomes of other seeds (40 of each disc and kind) 7 were missed, all of them below.
 */
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { scenarios } from '../../sample-data/files.ts';
import { corrections } from '../../shared-math/diagnosis/corrections/corrections.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { correct, measure, plant, plantedScatter } from '../support/corrected-disc.ts';

const SEEDS = [11, 12];
const MOST_MISSED = 3;

interface Outcome {
  readonly disc: string;
  readonly kind: string;
  readonly low: number;
  readonly high: number;
  readonly before: number;
  readonly after: number;
  readonly found: number;
}

async function outcomesOf(scenario: (typeof scenarios)[number]): Promise<readonly Outcome[]> {
  const plan = fileURLToPath(new URL(`../../sample-data/${scenario.folder}/plan.json`, import.meta.url));
  const { definition: planned } = await readPlan(plan);
  // Verdicts do not matter here, and the simple rule is quick.
  const definition = { ...planned, adjustments: null, decision: { rule: 'simple' } as const };
  const outliers = Object.keys(scenario.causes.slips).map(Number);
  return SEEDS.flatMap((seed) => {
    const truth = plant(scenario, 100 + seed);
    const { stations, frame } = reduce({
      blocks: measure(scenario, truth, 200 + seed),
      definition,
      gaps: [],
    });
    const found = corrections({
      stations,
      definition,
      frame: frame.covariance,
      welds: scenario.welds,
      outliers,
      scatter: plantedScatter(scenario),
    });
    return found.map((correction) => {
      const corrected = correct(scenario, truth, correction);
      const again = reduce({ blocks: measure(scenario, corrected, 300 + seed), definition, gaps: [] });
      const served = again.stations.filter((s) => !outliers.includes(s.station));
      return {
        disc: `${scenario.folder} ${seed}`,
        kind: correction.kind,
        ...correction.interval,
        before: correction.before,
        after: correction.after,
        found: Math.max(...served.map((s) => s.position.value!)),
      };
    });
  });
}

describe('corrections, made and measured again', async () => {
  const outcomes = (await Promise.all(scenarios.map(outcomesOf))).flat();

  test('all kinds on all discs', () => {
    expect(outcomes.length).toBe(4 * SEEDS.length * scenarios.length);
  });

  test('end within the stated interval', () => {
    const missed = outcomes.filter((o) => o.found < o.low || o.found > o.high);
    expect(missed.length, JSON.stringify(missed)).toBeLessThanOrEqual(MOST_MISSED);
    // And a miss is a near miss.
    for (const o of missed) {
      const width = o.high - o.low;
      expect(o.found, o.disc).toBeGreaterThan(o.low - 0.5 * width);
      expect(o.found, o.disc).toBeLessThan(o.high + 0.5 * width);
    }
  });

  test('have intervals that say something', () => {
    // Where a cause was planted (not on the conforming disc) the interval lies below what was measured before.
    const planted = outcomes.filter((o) => !o.disc.startsWith('conforming') && o.kind === 'all');
    for (const o of planted) expect(o.high, o.disc).toBeLessThan(o.before);
    for (const o of outcomes) expect(o.low, o.disc).toBeLessThanOrEqual(o.after + 1e-12);
  });

  test('bring the hub of the off-centre disc where its blades belong', () => {
    for (const o of outcomes.filter((x) => x.disc.startsWith('off-centre') && x.kind === 'hub'))
      expect(o.found, o.disc).toBeLessThan(0.6 * o.before);
  });
});
