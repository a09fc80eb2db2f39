/** The joint fit of a disc: outliers set apart, harmonics that stand out taken in. */
import { FALSE_DISCOVERY_RATE } from './components.ts';
import { harmonicBlock } from './design.ts';
import { type HarmonicTest, testHarmonics } from './harmonics.ts';
import { adjustForFalseDiscoveries } from './inference.ts';
import type { Observation } from './observations.ts';
import { robustCandidates, type StationTest, separateOutliers } from './outliers.ts';
import type { PlannedBlocks } from './plan-blocks.ts';
import { type Separation, separate } from './separation.ts';

/** Harmonics are taken into the fit one by one; more than this many would be a description, not causes. */
const MOST_HARMONICS = 6;

export interface JointFit {
  readonly separation: Separation;
  readonly stationTests: readonly StationTest[];
  readonly harmonicTests: readonly HarmonicTest[];
}

/** Outliers set apart, then harmonics that stand out taken in one by one, then the outliers looked at once more. */
export function jointFit(
  observations: readonly Observation[],
  plan: PlannedBlocks,
  hub: Parameters<typeof separate>[3],
): JointFit | null {
  const errors = observations.map((o) => o.error);
  let blocks = plan.blocks;
  let outcome = separateOutliers(
    (counts, start) => separate(observations, blocks, counts, hub, start),
    robustCandidates(blocks, errors),
  );
  if (outcome === null) return null;
  let harmonicTests = testHarmonics(outcome.separation, plan.orders);
  const rejected = new Set<string>();
  for (let tried = 0; tried < MOST_HARMONICS; tried++) {
    const next = mostSignificant(harmonicTests, rejected);
    if (next === null) break;
    const block = harmonicBlock(observations, next.channel, next.order);
    // Index harmonics come before the others.
    const index = blocks.filter((b) => b.name !== 'harmonics');
    const others = blocks.filter((b) => b.name === 'harmonics');
    const more = block.name === 'index' ? [...index, block, ...others] : [...blocks, block];
    const fitted = separate(
      observations,
      more,
      outcome.separation.counts,
      hub,
      outcome.separation.fit.components,
    );
    const tests = fitted === null ? [] : testHarmonics(fitted, plan.orders);
    if (fitted === null || !standsOut(tests, next)) {
      // A harmonic that is only chance would make scatter, and with it all intervals, too small.
      rejected.add(keyOf(next));
      continue;
    }
    blocks = more;
    outcome = { separation: fitted, tests: outcome.tests };
    harmonicTests = tests;
  }
  if (blocks !== plan.blocks) {
    const again = separateOutliers(
      (counts, start) => separate(observations, blocks, counts, hub, start),
      outcome.separation.counts.map((c) => !c),
    );
    if (again !== null) {
      outcome = again;
      harmonicTests = testHarmonics(again.separation, plan.orders);
    }
  }
  return { separation: outcome.separation, stationTests: outcome.tests, harmonicTests };
}

function keyOf({ channel, order }: Pick<HarmonicTest, 'channel' | 'order'>): string {
  return `${channel} ${order}`;
}

/** Harmonics of the index, or all others, with their adjusted probabilities. */
function family(tests: readonly HarmonicTest[], index: boolean) {
  const members = tests.filter((t) => (t.channel === 'index') === index);
  const adjusted = adjustForFalseDiscoveries(members.map((t) => t.probability));
  return members.map((test, i) => ({ test, adjusted: adjusted[i]! }));
}

/** Whether a harmonic stands out in its family, by the test with its columns in the fit. */
function standsOut(tests: readonly HarmonicTest[], wanted: HarmonicTest): boolean {
  return family(tests, wanted.channel === 'index').some(
    ({ test, adjusted }) => keyOf(test) === keyOf(wanted) && adjusted <= FALSE_DISCOVERY_RATE,
  );
}

/** The most significant harmonic that is neither in the fit nor rejected, where it stands out in its family. */
function mostSignificant(tests: readonly HarmonicTest[], rejected: ReadonlySet<string>): HarmonicTest | null {
  for (const index of [true, false]) {
    const open = family(tests, index).flatMap(({ test, adjusted }) =>
      !test.fitted && !rejected.has(keyOf(test)) && adjusted <= FALSE_DISCOVERY_RATE ? [test] : [],
    );
    if (open.length > 0) return open.reduce((a, b) => (b.probability < a.probability ? b : a));
  }
  return null;
}
