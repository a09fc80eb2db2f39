/**
 * Which quantities a pose determines. A best fit whose features leave some motion free cannot observe a quantity that
 * this motion changes; such a quantity is reported as null with a reason, never as zero.
 */

import { FREE_MOTION_SIZE } from '../alignment/fit-body.ts';
import type { CheckPoint, DiscErrorName, ErrorName, StationDefinition } from '../definition.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { discErrors, sixErrors } from './blade-errors.ts';
import { displacement, positionValue } from './position.ts';

/** A free motion of size 1e-6 changes a quantity if it moves it by more than a millionth of that (mm or rad). */
const CHANGE = 1e-6 * FREE_MOTION_SIZE;

const ERROR_WORDS: Readonly<Record<ErrorName, string>> = {
  oscillation: 'displacement along oscillation',
  lateral: 'lateral displacement',
  upset: 'displacement along upset',
  rotOscillation: 'rotation about oscillation',
  rotLateral: 'rotation about lateral',
  rotUpset: 'rotation about upset',
};

export interface Observability {
  readonly unobservable: readonly { readonly freedom: ErrorName; readonly reason: string }[];
  /** True where the named quantity is determined. */
  readonly observes: (name: ErrorName | DiscErrorName) => boolean;
  readonly observesPosition: (checkPoint: CheckPoint) => boolean;
}

/** @param freeMotions small motions that the pose cannot observe, nominal blade frame; none for datum poses. */
export function observabilityOf(
  freeMotions: readonly RigidMotion[],
  station: StationDefinition,
): Observability {
  const changes = freeMotions.map((motion) => ({
    ...sixErrors(motion),
    ...discErrors(motion, station.angle, station.seat),
  }));
  const observes = (name: ErrorName | DiscErrorName): boolean =>
    changes.every((c) => Math.abs(c[name]) <= CHANGE);
  return {
    observes,
    observesPosition: (checkPoint) =>
      freeMotions.every(
        (motion) => positionValue(displacement(motion, checkPoint.at), checkPoint) <= 2 * CHANGE,
      ),
    unobservable: (Object.keys(ERROR_WORDS) as ErrorName[])
      .filter((name) => !observes(name))
      .map((freedom) => ({
        freedom,
        reason: `The blade features of this best fit do not determine the ${ERROR_WORDS[freedom]}: add a feature that does, or use "pose": "datum".`,
      })),
  };
}
