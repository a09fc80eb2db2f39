/** The joint fit of a disc: outliers set apart, harmonics that stand out taken in. */
import { FALSE_DISCOVERY_RATE } from './component-tests.ts';
import { type DesignBlock, harmonicBlock } from './design.ts';
import { refitted } from './harmonic-refits.ts';
import { type HarmonicTest, testHarmonics } from './harmonics.ts';
import { adjustForFalseDiscoveries } from './inference.ts';
import type { Observation } from './observations.ts';
import { robustCandidates, type StationTest, separateOutliers, stationTests } from './outliers.ts';
import type { PlannedBlocks } from './plan-blocks.ts';
import { type Separation, separate, withOneMore } from './separation.ts';

/** Harmonics are taken into the fit one by one; more than this many would be a description, not causes. */
const MOST_HARMONICS = 6;

export interface JointFit {
  readonly separation: Separation;
  readonly stationTests: readonly StationTest[];
  readonly harmonicTests: readonly HarmonicTest[];
}

/**
 * Outliers set apart, then harmonics that stand out taken in one by one, then the outliers looked at once more.
 *
 * @param onStep called before each fit.
 */
export function jointFit(
  observations: readonly Observation[],
  plan: PlannedBlocks,
  hub: Parameters<typeof separate>[3],
  onStep: () => void = () => {},
): JointFit | null {
  const errors = observations.map((o) => o.error);
  const outliersApart = (blocks: readonly DesignBlock[], candidates: readonly boolean[]) =>
    separateOutliers((counts, start) => {
      onStep();
      return separate(observations, blocks, counts, hub, start);
    }, candidates);
  const outcome = outliersApart(plan.blocks, robustCandidates(plan.blocks, errors));
  if (outcome === null) return null;
  const grown = withHarmonics(outcome.separation, plan.blocks, plan.orders, hub, onStep);
  if (grown.blocks === plan.blocks) return { ...grown, stationTests: outcome.tests };
  const again = outliersApart(
    grown.blocks,
    outcome.separation.counts.map((c) => !c),
  );
  if (again === null) return { ...grown, stationTests: outcome.tests };
  // What is no longer set apart, or newly so, can bring another harmonic out.
  const last = withHarmonics(again.separation, grown.blocks, plan.orders, hub, onStep);
  return {
    ...last,
    stationTests: last.blocks === grown.blocks ? again.tests : stationTests(last.separation),
  };
}

/** The fit with all harmonics taken in that stand out beside those that it has, and the tests of all. */
function withHarmonics(
  begin: Separation,
  beginBlocks: readonly DesignBlock[],
  orders: number,
  hub: Parameters<typeof separate>[3],
  onStep: () => void,
) {
  let [separation, blocks] = [begin, beginBlocks];
  for (;;) {
    const tested = separation;
    onStep();
    const harmonicTests = refitted(tested, testHarmonics(tested, orders), (block) => {
      onStep();
      return withOneMore(tested, block, hub);
    });
    const taken = blocks.length - beginBlocks.length;
    const next = taken < MOST_HARMONICS ? mostSignificant(harmonicTests) : null;
    if (next === null) return { separation, blocks, harmonicTests };
    const block = harmonicBlock(separation.observations, next.channel, next.order);
    const more = withBlock(blocks, block);
    const fitted = separate(separation.observations, more, separation.counts, hub, separation.fit.components);
    if (fitted === null) return { separation, blocks, harmonicTests };
    [separation, blocks] = [fitted, more];
  }
}

/** Index harmonics come before the others. */
function withBlock(blocks: readonly DesignBlock[], block: DesignBlock): readonly DesignBlock[] {
  if (block.name !== 'index') return [...blocks, block];
  const first = blocks.findIndex((b) => b.name === 'harmonics');
  return first < 0 ? [...blocks, block] : [...blocks.slice(0, first), block, ...blocks.slice(first)];
}

/** The most significant harmonic that is not in the fit, of the index before others, where it stands out in its family. */
function mostSignificant(tests: readonly HarmonicTest[]): HarmonicTest | null {
  for (const index of [true, false]) {
    const members = tests.filter((t) => (t.channel === 'index') === index);
    const adjusted = adjustForFalseDiscoveries(members.map((t) => t.probability));
    const open = members.filter((t, i) => !t.fitted && adjusted[i]! <= FALSE_DISCOVERY_RATE);
    if (open.length > 0) return open.reduce((a, b) => (b.probability < a.probability ? b : a));
  }
  return null;
}
