/** Independent check of a certificate: optimality conditions by central differences of plainly computed distances. */
import { expect } from 'vitest';
import type { CriterionFeature } from '../../shared-math/association/criteria/index.ts';
import {
  type AssociationInput,
  residualDistances,
  tangentBasis,
} from '../../shared-math/association/index.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { addScaled, normalize } from '../../shared-math/geometry/vector.ts';

/** Step of the differences relative to the feature: their error stays near 1e-9. */
const STEP = 1e-5;

/** Features displaced by `step` (mm, or rad for tilts) along each freedom that the search had. */
function displacements(
  feature: CriterionFeature,
  turns: readonly Vec3[],
): ((step: number) => CriterionFeature)[] {
  const shiftAlong = (axis: Vec3) => (step: number) => ({
    ...feature,
    point: addScaled(feature.point, axis, step),
  });
  const tiltTo = (axis: Vec3) => (step: number) => ({
    ...feature,
    direction: normalize(addScaled(feature.direction!, axis, step)),
  });
  const shifts: readonly Vec3[] =
    feature.type === 'sphere'
      ? [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ]
      : feature.type === 'plane'
        ? []
        : tangentBasis(feature.direction!);
  return [...shifts.map(shiftAlong), ...turns.map(tiltTo)];
}

/**
 * Expects contacts at the extreme distances, multipliers ≥ 0 that add up to 1, and Σ λ ∇f = 0 over the freedoms; for a
 * zone also equal weight on both sides.
 * @param turns unit directions that the feature's direction was free to tilt to
 */
export function expectOptimal(
  feature: CriterionFeature,
  input: AssociationInput,
  turns: readonly Vec3[],
): void {
  const { contacts, multipliers, gap } = feature.certificate;
  const distances = residualDistances(feature, input);
  const both = feature.criterion === 'minimax' && feature.type !== 'line';
  const largest = both ? feature.form / 2 : feature.type === 'line' ? feature.form : 0;
  const sizeOf = input.xyz.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const rounding = 1e-12 * sizeOf;
  expect(gap).toBeLessThan(1e-10 * sizeOf);
  expect(Math.min(...multipliers)).toBeGreaterThan(0);
  expect(multipliers.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 12);
  const sides = contacts.map((i) => {
    if (feature.criterion === 'maximum-inscribed') return -1;
    return both ? Math.sign(distances[i]!) : 1;
  });
  contacts.forEach((i, a) => {
    expect(Math.abs(sides[a]! * distances[i]! - largest)).toBeLessThan(rounding);
  });
  for (const d of distances) {
    if (feature.criterion === 'maximum-inscribed') expect(d).toBeGreaterThan(-rounding);
    else expect(both ? Math.abs(d) : d).toBeLessThan(largest + rounding);
  }
  if (both) expect(sides.reduce((sum, s, a) => sum + s * multipliers[a]!, 0)).toBeCloseTo(0, 9);
  const slopes = displacements(feature, turns).map((displaced) => {
    const ahead = residualDistances(displaced(STEP), input);
    const behind = residualDistances(displaced(-STEP), input);
    return contacts.reduce(
      (sum, i, a) => sum + (multipliers[a]! * sides[a]! * (ahead[i]! - behind[i]!)) / (2 * STEP),
      0,
    );
  });
  for (const slope of slopes) expect(Math.abs(slope)).toBeLessThan(1e-7 * Math.max(1, sizeOf));
}
