/** Errors against the weld sequence: what remains for the tools, and the lines of the joint fit. */
import type { PartDefinition } from '../definition.ts';
import { ERRORS } from '../pose/error-names.ts';
import { positionValue } from '../pose/position.ts';
import { natural } from './component-size.ts';
import { combinations } from './contrast.ts';
import type { Component, SequenceFinding } from './findings.ts';
import { estimate } from './inference.ts';
import { abscissaeOf, lineBand } from './line-band.ts';
import { displaced, SCALE } from './observations.ts';
import { blocksOf, coefficientsOf, contrastOf, contribution, type Separation } from './separation.ts';
import { toolToTool } from './tool-to-tool.ts';
import type { OrderedWeld, WeldOrder } from './weld-order.ts';

/**
 * @param wear the component, for the welds left; null where it was not examined.
 */
export function sequenceFinding(
  s: Separation,
  order: WeldOrder,
  wear: Component | null,
  definition: PartDefinition,
  coverage: number,
): SequenceFinding {
  const others = (['ringShift', 'common', 'index', 'harmonics'] as const).flatMap((name) =>
    coefficientsOf(s, name),
  );
  const welds = order.welds.map(({ station, sequence, tool, age }) => {
    const k = s.observations.findIndex((o) => o.station === station);
    const taken = k < 0 ? null : contribution(s, k, others);
    return {
      station,
      sequence,
      tool,
      age,
      error: taken && natural(s.observations[k]!.error.map((e, i) => e - taken[i]!)),
    };
  });
  const first = (tool: string): OrderedWeld => order.welds.find((w) => w.tool === tool)!;
  return {
    welds,
    changes: order.tools.slice(1).map((to, t) => ({
      sequence: first(to).sequence,
      from: order.tools[t]!,
      to,
    })),
    lines: lines(s, order, coverage),
    toolToTool: toolToTool(welds, coverage),
    weldsLeft: weldsLeft(s, order, wear, definition),
  };
}

/** Tool set-up, changes and wear of the joint fit at the first and last weld of each tool. */
function lines(s: Separation, order: WeldOrder, coverage: number): SequenceFinding['lines'] {
  const setup = coefficientsOf(s, 'toolSetup');
  const counted = s.counts.flatMap((c, k) => (c ? [k] : []));
  return ERRORS.flatMap((error, i) =>
    order.tools.map((tool, toolNumber) => {
      const own = order.welds.filter((w) => w.tool === tool);
      const scale = 1 / SCALE[i]!;
      const unworn = s.fit.beta.map(() => 0);
      for (const c of setup)
        unworn[c] = counted.reduce((sum, k) => sum + s.design[k]![i]![c]!, 0) / counted.length;
      for (const block of blocksOf(s, 'toolChange'))
        for (let t = 1; t <= toolNumber; t++)
          block.map[6 * (t - 1) + i]!.forEach((x, c) => {
            unworn[block.first + c] = unworn[block.first + c]! + x;
          });
      const perWeld = s.fit.beta.map(() => 0);
      for (const block of blocksOf(s, 'wear'))
        block.map[i]!.forEach((x, c) => {
          perWeld[block.first + c] = x;
        });
      const at = ({ age, sequence }: OrderedWeld) => {
        const l = unworn.map((x, c) => x + age * perWeld[c]!);
        return { sequence, ...estimate(contrastOf(s, l), coverage, scale) };
      };
      const [from, to] = [own[0]!, own.at(-1)!];
      const ages = abscissaeOf(from.age, to.age);
      const combination = combinations(s.fit, s.shared, [unworn, perWeld]);
      const band = lineBand(combination, ages, coverage, scale).map(({ value, low, high }, p) => ({
        sequence: sequenceAt(own, ages[p]!),
        value,
        low,
        high,
      }));
      return { error, tool, from: at(from), to: at(to), band };
    }),
  );
}

/** Place in the weld order at an age of the tool, straight between its welds. */
function sequenceAt(own: readonly OrderedWeld[], age: number): number {
  const next = own.find((w) => w.age >= age) ?? own.at(-1)!;
  const before = own.findLast((w) => w.age <= age) ?? own[0]!;
  if (next.age === before.age) return before.sequence;
  const part = (age - before.age) / (next.age - before.age);
  return before.sequence + part * (next.sequence - before.sequence);
}

/** Budget over the position that one weld of wear makes, less the welds that the last tool has made. */
function weldsLeft(
  s: Separation,
  order: WeldOrder,
  wear: Component | null,
  { budget }: PartDefinition,
): SequenceFinding['weldsLeft'] {
  const allowance = budget?.lines.wear;
  if (allowance === undefined || !wear?.significant || wear.size === null) return null;
  const [block] = blocksOf(s, 'wear');
  if (block === undefined || !(wear.size.value > 0)) return null;
  const slope = block.map.map((row) => row.reduce((sum, x, c) => sum + x * s.fit.beta[block.first + c]!, 0));
  const perWeld = Math.max(
    ...s.observations.flatMap(({ checkPoints }) =>
      checkPoints.map((c) => positionValue(displaced(slope, c.at), c)),
    ),
  );
  if (!(perWeld > 0)) return null;
  // The interval of the slope is that of the size at the oldest weld, relative to it.
  const { value, low, high } = wear.size;
  const made = order.welds.filter((w) => w.tool === order.welds.at(-1)!.tool).length;
  const left = (slopeFactor: number): number => Math.max(0, allowance / (perWeld * slopeFactor) + 1 - made);
  return {
    value: left(1),
    low: left(high / value),
    high: low > 0 ? left(low / value) : null,
  };
}
