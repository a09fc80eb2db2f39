/**
 * What each datum of a list fixes and what the list leaves open, on the nominal features alone: for lists that are
 * still being written, where `checkDatumSystems` would only refuse.
 */
import type { Datum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { IDENTITY_MOTION } from '../geometry/rigid-motion.ts';
import { freeFrame, takeDatum } from './datum-system.ts';
import { fixedFreedoms } from './datum-words.ts';
import type { FrameState } from './frame-state.ts';
import { type AxisNames, freedomWords, freeTranslations, nameOpenFreedoms } from './freedoms.ts';

/** Shares (0 … 1) of the six freedoms along and about x, y, z of the frame. Between 0 and 1 where a datum lies askew. */
export interface FreedomShares {
  readonly translations: readonly [number, number, number];
  readonly rotations: readonly [number, number, number];
}

export interface DatumEffect {
  readonly label: string;
  /** What this datum takes of the six freedoms. */
  readonly takes: FreedomShares;
  /** What is open before it. */
  readonly openBefore: FreedomShares;
  /** In words; empty for a datum that adds nothing. */
  readonly fixes: readonly string[];
  /** Why the datum cannot be used as it is; null where it can. */
  readonly fault: string | null;
}

export interface DatumSystemDescription {
  readonly datums: readonly DatumEffect[];
  readonly open: FreedomShares;
  /** Open freedoms in words; empty for a complete list. */
  readonly openWords: readonly string[];
}

/**
 * @param datums in order of precedence; directions are unit vectors in the frame that the list builds.
 * @param names words for the coordinate axes.
 */
export function describeDatumSystem(datums: readonly Datum[], names: AxisNames): DatumSystemDescription {
  let state = freeFrame(IDENTITY_MOTION);
  const effects: DatumEffect[] = [];
  for (const datum of datums) {
    const openBefore = openShares(state);
    const step = (next: FrameState, fault: string | null): void => {
      const after = openShares(next);
      effects.push({
        label: datum.label,
        openBefore,
        takes: {
          translations: difference(openBefore.translations, after.translations),
          rotations: difference(openBefore.rotations, after.rotations),
        },
        fixes: fixedFreedoms(state, next).map((freedom) => freedomWords(freedom, names)),
        fault,
      });
      state = next;
    };
    try {
      const { next } = takeDatum(
        datum,
        ({ nominal }) => nominal,
        ({ nominal }) => ({ ...nominal, pose: IDENTITY_MOTION }),
        state,
      );
      step(next, null);
    } catch (error) {
      if (!(error instanceof ReductionError)) throw error;
      step(state, error.message);
    }
  }
  return {
    datums: effects,
    open: openShares(state),
    openWords: nameOpenFreedoms(state.rotation, state.equations, state.motion.rotation, names),
  };
}

/** Squared cosines between each axis and what is open: nominal features keep the frame where it is. */
function openShares({ rotation, equations }: FrameState): FreedomShares {
  const open = freeTranslations(equations);
  const along = ([0, 1, 2] as const).map((axis) => open.reduce((sum, f) => sum + f[axis] * f[axis], 0));
  const about = ([0, 1, 2] as const).map((axis) =>
    rotation.kind === 'free' ? 1 : rotation.kind === 'fixed' ? 0 : rotation.nominal[axis] ** 2,
  );
  return { translations: three(along), rotations: three(about) };
}

function difference(before: FreedomShares['translations'], after: FreedomShares['translations']) {
  return three(before.map((share, axis) => Math.max(0, share - after[axis]!)));
}

function three(values: readonly number[]): readonly [number, number, number] {
  return [values[0]!, values[1]!, values[2]!];
}
