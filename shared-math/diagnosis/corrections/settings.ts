/** What can be set differently, as unknowns of the optimisation. */
import type { AdjustmentDefinition, AdjustmentRange, ErrorName } from '../../definition.ts';
import { norm } from '../../geometry/vector.ts';
import { PATTERN_FREEDOMS } from '../../pattern/pattern-motion.ts';
import { ERRORS } from '../../pose/error-names.ts';
import type { Blade, BladePoint } from './blades.ts';
import type { CorrectionKind, HubFreedom, Setting } from './correction.ts';

export interface Unknown {
  readonly kind: Setting['kind'];
  /** Index of the freedom: 0 … 2 displacements, 3 … 5 rotations; 5 (about the disc axis) for an index offset. */
  readonly axis: number;
  readonly freedom: ErrorName | HubFreedom | 'index';
  /** Tool name or station number where there are several; else null. */
  readonly of: string | null;
  readonly range: AdjustmentRange;
  /** mm or rad that move the farthest check point by about half a tolerance. */
  readonly scale: number;
  /** Whether it moves this blade. */
  readonly moves: (blade: Blade) => boolean;
}

const FREE: AdjustmentRange = { limit: null, step: null };

/** Without a word about adjustments everything can be set, without bounds or steps. */
const EVERYTHING: AdjustmentDefinition = {
  tool: Object.fromEntries(ERRORS.map((name) => [name, FREE])),
  hub: Object.fromEntries(PATTERN_FREEDOMS.map((name) => [name, FREE])),
  index: FREE,
};

/** Settings that can be made, tools first (in weld order), then hub, then the index of each of the blades. */
export function unknownsOf(
  kind: CorrectionKind,
  adjustments: AdjustmentDefinition | null,
  tools: readonly string[],
  blades: readonly Blade[],
  points: readonly BladePoint[],
): readonly Unknown[] {
  const { tool, hub, index } = adjustments ?? EVERYTHING;
  const half = Math.max(...points.map((p) => p.tolerance)) / 2;
  const bladeReach = Math.max(...points.map((p) => norm(p.at))) || 1;
  const discReach = Math.max(...blades.map((b) => norm(b.nominal.translation))) + bladeReach;
  const wants = (k: Setting['kind']): boolean => kind === k || kind === 'all';
  const six = <N extends ErrorName | HubFreedom>(
    of: Setting['kind'],
    names: readonly N[],
    ranges: Partial<Record<N, AdjustmentRange>>,
    reach: number,
    owner: string | null,
    moves: (blade: Blade) => boolean,
  ): Unknown[] =>
    names.flatMap((freedom, axis) => {
      const range = ranges[freedom];
      if (range === undefined) return [];
      return [{ kind: of, axis, freedom, of: owner, range, scale: axis < 3 ? half : half / reach, moves }];
    });
  const owners = tools.length > 0 ? tools : [null];
  return [
    ...(wants('tool')
      ? owners.flatMap((name) =>
          six('tool', ERRORS, tool, bladeReach, name, (b) => name === null || b.tool === name),
        )
      : []),
    ...(wants('hub') ? six('hub', PATTERN_FREEDOMS, hub, discReach, null, () => true) : []),
    ...(wants('index') && index !== null
      ? blades.map(
          ({ measured: { station } }): Unknown => ({
            kind: 'index',
            axis: 5,
            freedom: 'index',
            of: String(station),
            range: index,
            scale: half / discReach,
            moves: (b) => b.measured.station === station,
          }),
        )
      : []),
  ];
}
