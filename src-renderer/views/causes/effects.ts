/** What a component of the errors does at the check points of a station. */
import type { Vec6 } from '../../../shared-math/diagnosis/findings.ts';
import { rotationFromVector } from '../../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../../shared-math/geometry/types.ts';
import { norm } from '../../../shared-math/geometry/vector.ts';
import { ERRORS } from '../../../shared-math/pose/error-names.ts';
import { displacement, positionValue } from '../../../shared-math/pose/position.ts';
import type { SixErrors, StationResult } from '../../../shared-math/result.ts';

/** The six errors in the order of the diagnosis; null where one is not observed. */
export function vectorOf(error: SixErrors): Vec6 | null {
  const values = ERRORS.map((name) => error[name]);
  return values.some((value) => value === null) ? null : (values as unknown as Vec6);
}

export function addErrors(a: Vec6, b: Vec6, factor: number): Vec6 {
  return a.map((value, index) => value + factor * (b[index] ?? 0)) as unknown as Vec6;
}

export function motionOf([o, l, u, aboutO, aboutL, aboutU]: Vec6): RigidMotion {
  return { translation: [o, l, u], rotation: rotationFromVector([aboutO, aboutL, aboutU]) };
}

export interface CheckPointEffect {
  readonly name: string;
  /** In the nominal blade frame, mm. */
  readonly at: Vec3;
  readonly delta: Vec3;
  /** 2·|δ|, what the diagnosis calls the size of a component, mm. */
  readonly size: number;
  /** Full zone size, mm. */
  readonly position: number;
}

export function effectsOf(error: Vec6, { position }: StationResult): readonly CheckPointEffect[] {
  const motion = motionOf(error);
  return position.checkPoints.map(({ name, at, zone, direction }) => {
    const delta = displacement(motion, at);
    return { name, at, delta, size: 2 * norm(delta), position: positionValue(delta, { zone, direction }) };
  });
}

/** The check point that moves farthest. */
export function worstEffect(error: Vec6, station: StationResult): CheckPointEffect | null {
  return effectsOf(error, station).reduce<CheckPointEffect | null>(
    (worst, one) => (worst === null || one.size > worst.size ? one : worst),
    null,
  );
}
