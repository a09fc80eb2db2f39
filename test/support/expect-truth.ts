import { expect } from 'vitest';
import { rotationVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import type { StationResult } from '../../shared-math/result.ts';

/** A station's six errors are those planted, to 1e-9 mm and 1e-11 rad: points without noise leave rounding only. */
export function expectTruth({ error }: StationResult, truth: RigidMotion): void {
  const planted = [...truth.translation, ...rotationVector(truth.rotation)];
  const found = [
    error.oscillation,
    error.lateral,
    error.upset,
    error.rotOscillation,
    error.rotLateral,
    error.rotUpset,
  ];
  found.forEach((value, i) => {
    expect(Math.abs(value! - planted[i]!), `error ${i}`).toBeLessThan(i < 3 ? 1e-9 : 1e-11);
  });
}
