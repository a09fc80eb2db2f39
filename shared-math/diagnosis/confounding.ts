/** Combinations of causes that the welded stations cannot tell apart, from the rank of the design, in words. */

import { smallSpectrum } from '../association/small-spectrum.ts';
import { harmonicBlock } from './design.ts';
import type { Component, ComponentName, Confounding, Harmonic, HarmonicChannel } from './findings.ts';
import { CHANNELS } from './harmonics.ts';
import type { PlannedBlocks } from './plan-blocks.ts';
import type { RankedBlock } from './rank.ts';
import type { Separation } from './separation.ts';
import { dotProduct } from './symmetric.ts';
import type { WeldOrder } from './weld-order.ts';
import { CHANNEL_WORDS, listed, TITLES } from './words.ts';

/** A pattern of which the other cause leaves less than this share is the same to it. */
const SAME = 0.05;

const OFFSET: Confounding = {
  between: ['common', 'toolSetup'],
  words:
    'A shift of all blades along the axis or a turn of all blades about it comes from the hub datum or the zero of the index, or from the tool: both make the same errors. It is stated as the common component, with both corrections.',
};

/**
 * @param plan whether a constant offset and a common motion make the same errors at these seats; how many orders are examined.
 * @param order weld order, where known.
 * @param harmonics those that were tested.
 * @param component of a name, for whether it was examined.
 */
export function confoundings(
  s: Separation,
  { offsetIsCommon, orders }: Pick<PlannedBlocks, 'offsetIsCommon' | 'orders'>,
  order: WeldOrder | null,
  harmonics: readonly Pick<Harmonic, 'channel' | 'order'>[],
  component: (name: ComponentName) => Component,
): Confounding[] {
  const found: Confounding[] = offsetIsCommon ? [OFFSET] : [];
  for (const block of s.blocks)
    if (block.confounded.length > 0) {
      const others = [...new Set(block.confounded.flatMap((c) => c.with))];
      const name = nameOf(block);
      const one = block.confounded.length === 1;
      found.push({
        between: [...others.filter((o) => o !== block.name), block.name],
        words: `${count(block.confounded.length)} of the ${block.keys.length} directions of ${name} cannot be told from ${listed(others.map((o) => othersName(o, block)))} with these stations. ${one ? 'It is' : 'They are'} counted there; read ${one ? 'it' : 'them'} as ${name} instead where that is known to be the cause.`,
      });
    }
  found.push(...leftOutOrders(s, harmonics, orders));
  if (component('toolChange').notExamined === null)
    for (const { station, tool } of singleWelds(s, order))
      found.push({
        between: ['toolChange', 'outliers'],
        words: `Only station ${station} was welded with ${tool}: ${singleWeldReadings(station, tool)} It is counted as tool change.`,
      });
  for (const name of ['toolChange', 'wear'] as const)
    if (component(name).notExamined === null && makesIndexPattern(s, name))
      found.push({
        between: [name, 'index'],
        words:
          name === 'wear'
            ? 'A drift of the index from weld to weld makes the same errors as wear along the index direction: read what wear has of it either as the tool or as the index.'
            : 'An index zero that moved with the tool makes the same errors as a step of the tool along the index direction: read it either as the tool or as the index.',
      });
  return found;
}

/** The name of a block within a sentence; of harmonics with the order. */
function nameOf({ name, harmonic }: Pick<RankedBlock, 'name' | 'harmonic'>): string {
  return harmonic === null
    ? TITLES[name].toLowerCase()
    : `${CHANNEL_WORDS[harmonic.channel]} of order ${harmonic.order}`;
}

function othersName(other: ComponentName, { name }: Pick<RankedBlock, 'name'>): string {
  if (other !== name) return TITLES[other].toLowerCase();
  return name === 'index' ? 'index of lower orders' : 'the harmonics before it';
}

/** Orders that were not tested, because other causes make the same errors or leave too little of them. */
function leftOutOrders(
  s: Separation,
  harmonics: readonly Pick<Harmonic, 'channel' | 'order'>[],
  orders: number,
): Confounding[] {
  const missing = CHANNELS.flatMap((channel) => {
    const left = Array.from({ length: orders }, (_, i) => i + 1).filter(
      (order) => !harmonics.some((h) => h.channel === channel && h.order === order),
    );
    return left.length === 0 ? [] : [{ channel, left }];
  });
  return (['index', 'harmonics'] as const).flatMap((name): Confounding[] => {
    const own = missing.filter(({ channel }) => (channel === 'index') === (name === 'index'));
    if (own.length === 0) return [];
    const others = new Set(
      own.flatMap(({ channel, left }) => left.flatMap((order) => sharersOf(s, channel, order))),
    );
    others.delete(name);
    const what = own.map(
      ({ channel, left }) =>
        `${CHANNEL_WORDS[channel]} of ${left.length === 1 ? 'order' : 'orders'} ${listed(left.map(String))}`,
    );
    // Where no cause makes it, there is too little left for scatter beside it.
    if (others.size === 0) others.add('scatter');
    return [
      {
        between: [...others, name],
        words: `Not examined: ${what.join('; ')}. With these stations ${listed([...others].map((o) => TITLES[o].toLowerCase()))} can make nearly the same errors.`,
      },
    ];
  });
}

/** Components that make at least this share of a column of the order are named. */
const NAMED_SHARE = 0.1;

function sharersOf(s: Separation, channel: HarmonicChannel, order: number): readonly ComponentName[] {
  const { rows } = harmonicBlock(s.observations, channel, order);
  const counted = rows.filter((_, k) => s.counts[k]);
  const columns = [0, 1].map((c) => counted.flatMap((six) => six.map((row) => row[c]!)));
  return s.blocks.flatMap(({ name, basis }) => {
    const shares = columns.map(
      (column) => basis.reduce((sum, q) => sum + dotProduct(q, column) ** 2, 0) / dotProduct(column, column),
    );
    return shares.some((share) => share >= NAMED_SHARE) ? [name] : [];
  });
}

/** Tools with which one single station of the fit was welded. */
export function singleWelds(
  s: Separation,
  order: WeldOrder | null,
): readonly { readonly station: number; readonly tool: string }[] {
  if (order === null) return [];
  const counted = new Set(s.observations.flatMap((o, k) => (s.counts[k] ? [o.station] : [])));
  return order.tools.flatMap((tool, t) => {
    const own = order.welds.filter((w) => w.toolNumber === t && counted.has(w.station));
    return own.length === 1
      ? [{ station: own[0]!.station, tool: tool === '' ? 'an unnamed tool' : tool }]
      : [];
  });
}

/** Both readings of the only weld of a tool, one sentence. */
function singleWeldReadings(station: number, tool: string): string {
  return `${tool} holds the blades off, or station ${station} slipped; both make the same errors.`;
}

/** Whether the cause can turn every blade about the disc axis by an amount of its own pattern. */
function makesIndexPattern(s: Separation, name: 'toolChange' | 'wear'): boolean {
  const block = s.blocks.find((b) => b.name === name);
  if (block === undefined || block.dimensions === 0) return false;
  // Size of each station's columns times the index direction there, against what the columns themselves make of it.
  const target = s.observations.flatMap((o, k) => {
    const size = Math.sqrt(block.rows[k]!.reduce((sum, row) => sum + dotProduct(row, row), 0));
    return o.motions[5]!.map((x) => x * size);
  });
  const columns = block.map[0]!.map((_, c) => block.reduced.flatMap((rows) => rows.map((row) => row[c]!)));
  const { images, singularValues } = smallSpectrum(columns.map((c) => [...c]));
  const rest = target.slice();
  images.forEach((image, i) => {
    if (!(singularValues[i]! > 0)) return;
    const q = image.map((x) => x / singularValues[i]!);
    const along = dotProduct(q, target);
    for (let r = 0; r < rest.length; r++) rest[r] = rest[r]! - along * q[r]!;
  });
  const length = Math.sqrt(dotProduct(target, target));
  return length > 0 && Math.sqrt(dotProduct(rest, rest)) < SAME * length;
}

function count(n: number): string {
  return n === 1 ? 'One' : String(n);
}
