/** Combinations of causes that the welded stations cannot tell apart, from the rank of the design, in words. */

import { smallSpectrum } from '../association/small-spectrum.ts';
import type { Component, ComponentName, Confounding } from './findings.ts';
import type { Separation } from './separation.ts';
import { dotProduct } from './symmetric.ts';
import { listed, TITLES } from './words.ts';

/** A pattern of which the other cause leaves less than this share is the same to it. */
const SAME = 0.05;

const OFFSET: Confounding = {
  between: ['common', 'toolSetup'],
  words:
    'A shift of all blades along the axis or a turn of all blades about it comes from the hub datum or the zero of the index, or from the tool: both make the same errors. It is stated as the common component, with both corrections.',
};

/**
 * @param offsetIsCommon whether a constant offset and a common motion make the same errors at these seats.
 * @param component of a name, for whether it was examined.
 */
export function confoundings(
  s: Separation,
  offsetIsCommon: boolean,
  component: (name: ComponentName) => Component,
): Confounding[] {
  const found: Confounding[] = offsetIsCommon ? [OFFSET] : [];
  for (const block of s.blocks)
    if (block.confounded.length > 0) {
      const others = [...new Set(block.confounded.flatMap((c) => c.with))];
      const name = TITLES[block.name].toLowerCase();
      found.push({
        between: [...others, block.name],
        words: `${count(block.confounded.length)} of the ${block.keys.length} directions of ${name} cannot be told from ${listed(others.map((o) => TITLES[o].toLowerCase()))} with these stations. ${block.confounded.length === 1 ? 'It is' : 'They are'} counted there; read them as ${name} instead where that is known to be the cause.`,
      });
    }
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
