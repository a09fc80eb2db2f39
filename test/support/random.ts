/** Seeded random numbers for tests: mulberry32 and Box–Muller. */

import { rotationAbout } from '../../shared-math/geometry/rotation.ts';
import type { Mat3, RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { normalize } from '../../shared-math/geometry/vector.ts';

export interface RandomSource {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  readonly between: (low: number, high: number) => number;
  readonly normal: () => number;
  readonly direction: () => Vec3;
  readonly rotation: () => Mat3;
  readonly motion: (reach: number) => RigidMotion;
}

export function randomSource(seed: number): RandomSource {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const between = (low: number, high: number): number => low + (high - low) * uniform();
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const direction = (): Vec3 => normalize([normal(), normal(), normal()]);
  const rotation = (): Mat3 => rotationAbout(direction(), between(-Math.PI, Math.PI));
  const motion = (reach: number): RigidMotion => ({
    rotation: rotation(),
    translation: [between(-reach, reach), between(-reach, reach), between(-reach, reach)],
  });
  return { uniform, between, normal, direction, rotation, motion };
}
