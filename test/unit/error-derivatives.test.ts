import { describe, expect, it } from 'vitest';
import { rotationFromVector, rotationVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { discErrors, sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { displacement } from '../../shared-math/pose/position.ts';
import { displacementJacobian, errorGradients } from '../../shared-math/uncertainty/error-derivatives.ts';
import { randomSource } from '../support/random.ts';
import { randomError, SEAT } from '../support/synthetic-disc.ts';

const STEP = 1e-6;
const ANGLE = 0.7;
const AT: Vec3 = [4, -7, 160];

function moved(error: RigidMotion, k: number, by: number): RigidMotion {
  const rho = rotationVector(error.rotation);
  const e = [...error.translation, ...rho].map((x, i) => (i === k ? x + by : x));
  return { translation: [e[0]!, e[1]!, e[2]!], rotation: rotationFromVector([e[3]!, e[4]!, e[5]!]) };
}

function central(error: RigidMotion, value: (e: RigidMotion) => number): number[] {
  return [0, 1, 2, 3, 4, 5].map(
    (k) => (value(moved(error, k, STEP)) - value(moved(error, k, -STEP))) / (2 * STEP),
  );
}

describe.each([
  ['small', 0.05, 5e-4],
  ['large', 5, 0.5],
] as const)('derivatives at %s errors agree with central differences', (_, mm, rad) => {
  const error = randomError(randomSource(3), mm, rad);

  it('of the six errors and the disc view', () => {
    const gradients = errorGradients(error, ANGLE, SEAT);
    const values = (e: RigidMotion) => ({ ...sixErrors(e), ...discErrors(e, ANGLE, SEAT) });
    for (const [name, gradient] of Object.entries(gradients))
      central(error, (e) => values(e)[name as keyof typeof gradients]).forEach((g, k) => {
        expect(gradient[k], `${name} by ${k}`).toBeCloseTo(g, 8);
      });
  });

  it('of the displacement of a check point', () => {
    displacementJacobian(error, AT).forEach((row, i) => {
      central(error, (e) => displacement(e, AT)[i as 0 | 1 | 2]).forEach((g, k) => {
        expect(row[k]).toBeCloseTo(g, 6);
      });
    });
  });
});
