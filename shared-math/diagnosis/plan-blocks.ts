/** Which causes can be examined with these stations and welds, and why others cannot. */
import {
  commonBlock,
  type DesignBlock,
  harmonicBlock,
  ringShiftBlock,
  toolChangeBlock,
  toolSetupBlock,
  wearBlock,
} from './design.ts';
import type { ComponentName } from './findings.ts';
import type { Observation } from './observations.ts';
import { rankBlocks } from './rank.ts';
import { FEWEST_FREE } from './separation.ts';
import type { OrderedWeld, WeldOrder } from './weld-order.ts';

export interface PlannedBlocks {
  readonly blocks: readonly DesignBlock[];
  readonly notExamined: ReadonlyMap<ComponentName, string>;
  /** Welds of the observed stations, in their order; null where not known of all. */
  readonly welds: readonly OrderedWeld[] | null;
  /** Harmonics 1 … this order are examined. */
  readonly orders: number;
  readonly warnings: readonly string[];
}

/** Index harmonics that every fit has: an eccentric and an oval index table. */
const ALWAYS = 2;
/**
 * Dimensions that the index direction must keep for its own scatter once mean, tools and the harmonics up to this order are taken
 * from it. An eccentric index table (order 1) must be in the fit wherever possible: left out, it would bend the ring shift.
 */
const FEWEST_INDEX: readonly number[] = [1, 3];

export function planBlocks(observations: readonly Observation[], order: WeldOrder | null): PlannedBlocks {
  const notExamined = new Map<ComponentName, string>();
  const common = commonBlock(observations);
  const blocks: DesignBlock[] = [ringShiftBlock(observations), common, toolSetupBlock(observations, common)];
  const everybody = observations.map(() => true);
  const free = (more: readonly DesignBlock[]): number =>
    6 * observations.length - rankBlocks(more, everybody).reduce((sum, b) => sum + b.dimensions, 0);
  const welds = weldsOf(observations, order);
  const byWelds: [
    ComponentName,
    (known: readonly OrderedWeld[], o: WeldOrder) => DesignBlock,
    string | null,
  ][] = [
    [
      'toolChange',
      toolChangeBlock,
      order !== null && order.tools.length < 2 ? 'one tool made all welds.' : null,
    ],
    [
      'wear',
      wearBlock,
      welds !== null && new Set(welds.map((w) => w.age)).size < 2 ? 'no tool made more than one weld.' : null,
    ],
  ];
  for (const [name, make, why] of byWelds) {
    if (order === null) notExamined.set(name, 'no welds file was given.');
    else if (why !== null) notExamined.set(name, why);
    else if (welds === null)
      notExamined.set(name, `the welds file lacks station ${missingWelds(observations, order).join(', ')}.`);
    else {
      const block = make(welds, order);
      const ranked = rankBlocks([...blocks, block], everybody).at(-1)!;
      if (free([...blocks, block]) < FEWEST_FREE)
        notExamined.set(name, 'too few stations were measured for so many causes.');
      else if (ranked.dimensions === 0)
        notExamined.set(name, 'the measured stations cannot tell it from the causes before it.');
      else blocks.push(block);
    }
  }
  const orders = Math.floor(observations.length / 2);
  let left = observations.length - 1;
  for (const b of blocks)
    if (b.name === 'toolChange') left -= b.keys.length / 6;
    else if (b.name === 'wear') left -= 1;
  for (let h = 1; h <= Math.min(ALWAYS, orders); h++) {
    const block = harmonicBlock(observations, 'index', h);
    if (left - 2 < FEWEST_INDEX[h - 1]! || free([...blocks, block]) < FEWEST_FREE) break;
    left -= 2;
    blocks.push(block);
  }
  return { blocks, notExamined, welds, orders, warnings: [] };
}

function weldsOf(observations: readonly Observation[], order: WeldOrder | null): OrderedWeld[] | null {
  if (order === null) return null;
  const found = observations.map((o) => order.welds.find((w) => w.station === o.station));
  return found.every((w) => w !== undefined) ? (found as OrderedWeld[]) : null;
}

function missingWelds(observations: readonly Observation[], order: WeldOrder): number[] {
  return observations
    .map((o) => o.station)
    .filter((station) => !order.welds.some((w) => w.station === station));
}
