/** Which causes can be examined with these stations and welds, and why others cannot. */

import type { Note } from '../notes/notes.ts';
import {
  commonBlock,
  type DesignBlock,
  harmonicBlock,
  ringShiftBlock,
  tellsOffsetFromMotion,
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
  readonly notExamined: ReadonlyMap<ComponentName, Note>;
  /** Whether a constant offset of the tool and a common motion of all blades make the same errors. */
  readonly offsetIsCommon: boolean;
  /** Harmonics 1 … this order are examined. */
  readonly orders: number;
}

/** Index harmonics that every fit has: an eccentric and an oval index table. */
export const ALWAYS = 2;
/**
 * Dimensions that the index direction must keep for its own scatter once mean, tools and the harmonics up to this order are taken
 * from it. An eccentric index table (order 1) must be in the fit wherever possible: left out, it would bend the ring shift.
 */
const FEWEST_INDEX: readonly number[] = [1, 3];

/**
 * The blocks of the first fit, in the order of separation.
 *
 * @param order weld order; null: no welds file, tool change and wear are then not examined.
 */
export function planBlocks(observations: readonly Observation[], order: WeldOrder | null): PlannedBlocks {
  const notExamined = new Map<ComponentName, Note>();
  const common = commonBlock(observations);
  const blocks: DesignBlock[] = [ringShiftBlock(observations), common, toolSetupBlock(observations, common)];
  const welds = weldsOf(observations, order);
  const candidates: DesignBlock[] = [...blocks];
  for (const name of ['toolChange', 'wear'] as const) {
    const why = whyNotByWelds(name, observations, order, welds);
    if (why !== null) notExamined.set(name, why);
    else candidates.push(name === 'wear' ? wearBlock(welds!) : toolChangeBlock(welds!, order!));
  }
  const orders = Math.floor(observations.length / 2);
  for (let h = 1; h <= Math.min(ALWAYS, orders); h++)
    candidates.push(harmonicBlock(observations, 'index', h));

  // What the index direction has left for its own scatter.
  let left = observations.length - 1;
  const all = 6 * observations.length;
  const kept = new Set<DesignBlock>();
  rankBlocks(
    candidates,
    observations.map(() => true),
    (block, dimensions, before) => {
      const enough = all - before - dimensions >= FEWEST_FREE;
      if (block.name === 'toolChange' || block.name === 'wear') {
        if (dimensions === 0) notExamined.set(block.name, { code: 'cause-not-separable', values: {} });
        else if (!enough) notExamined.set(block.name, { code: 'too-few-for-cause', values: {} });
        if (dimensions === 0 || !enough) return false;
        left -= block.name === 'wear' ? 1 : block.keys.length / 6;
      } else if (block.name === 'index') {
        if (!enough || left - 2 < FEWEST_INDEX[block.harmonic!.order - 1]!) return false;
        left -= 2;
      }
      kept.add(block);
      return true;
    },
  );
  return {
    blocks: candidates.filter((b) => kept.has(b)),
    notExamined,
    offsetIsCommon: !tellsOffsetFromMotion(observations, common),
    orders,
  };
}

function whyNotByWelds(
  name: 'toolChange' | 'wear',
  observations: readonly Observation[],
  order: WeldOrder | null,
  welds: readonly OrderedWeld[] | null,
): Note | null {
  if (order === null) return { code: 'no-welds-file', values: {} };
  if (welds === null) return whatWeldsLack(missingWelds(observations, order), observations.length);
  if (name === 'toolChange' && order.tools.length < 2)
    return { code: order.tools[0] === '' ? 'welds-name-no-tool' : 'one-tool', values: {} };
  if (name === 'wear' && welds.every((w) => w.age === welds[0]!.age))
    return { code: 'one-weld-a-tool', values: {} };
  return null;
}

function whatWeldsLack(missing: readonly number[], measured: number): Note {
  return missing.length > MOST_NAMED
    ? { code: 'welds-lack-many', values: { missing: missing.length, measured } }
    : { code: 'welds-lack-stations', values: { stations: missing } };
}

const MOST_NAMED = 6;

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
