/**
 * Cylinders and cones must find their lowest minimum from any start or none: random poses up to 10 m away, radii from
 * 0.5 mm to 5 m, arcs from 20°, few points, noise up to 1e-3 of the sagitta.
 */
import { describe, expect, test } from 'vitest';
import {
  associateCone,
  associateCylinder,
  type Orientation,
  residualDistances,
} from '../../shared-math/association/index.ts';
import {
  addScaled,
  angleBetween,
  apply,
  applyToPoint,
  negate,
  normalize,
  rotationAbout,
  type Vec3,
} from '../../shared-math/geometry/index.ts';
import { type RandomSource, randomSource } from '../support/random.ts';

interface Made {
  readonly xyz: Float64Array;
  readonly axis: Vec3;
  readonly origin: Vec3;
  readonly radius: number;
  readonly halfAngle: number;
  readonly noise: number;
}

function make(random: RandomSource, points: number, conical: boolean, noisy: boolean): Made {
  const radius = 0.5 * 10 ** random.between(0, 4);
  const arc = ([20, 45, 90, 180, 360][Math.floor(5 * random.uniform())]! * Math.PI) / 180;
  const halfAngle = conical ? random.between(0.05, 0.9) * (random.uniform() < 0.5 ? -1 : 1) : 0;
  const slope = Math.tan(halfAngle);
  const longest = conical ? Math.min(10, 1.6 / Math.abs(slope)) : 10;
  const length = radius * Math.min(longest, 10 ** random.between(-0.7, 1));
  const sagitta = radius * (1 - Math.cos(Math.min(arc, Math.PI) / 2));
  const noise = noisy ? 1e-3 * sagitta : 0;
  const motion = random.motion(10_000);
  const xyz = new Float64Array(3 * points);
  for (let i = 0; i < points; i++) {
    // Spread evenly with some play, as an inspector would.
    const t = (arc * (i + random.uniform())) / points;
    const z = length * (((i * 0.618_034 + 0.2 * random.uniform()) % 1) - 0.5);
    const d = noise * random.normal();
    const r = radius + z * slope + d * Math.cos(halfAngle);
    xyz.set(applyToPoint(motion, [r * Math.cos(t), r * Math.sin(t), z - d * Math.sin(halfAngle)]), 3 * i);
  }
  return {
    xyz,
    axis: apply(motion.rotation, [0, 0, 1]),
    origin: motion.translation,
    radius,
    halfAngle,
    noise,
  };
}

/** No start, a start three degrees off, and one from anywhere. */
function starts(random: RandomSource, axis: Vec3): Orientation[] {
  return [null, normalize(addScaled(axis, random.direction(), 0.05)), random.direction()].map((start) => ({
    kind: 'free',
    start,
  }));
}

function expectLowest(made: Made, orientation: Orientation, conical: boolean): void {
  const { xyz, axis, origin, radius, halfAngle, noise } = made;
  const fit = conical
    ? associateCone({ xyz }, orientation, { halfAngle, radius })
    : associateCylinder({ xyz }, orientation);
  const truth = { type: fit.type, point: origin, direction: axis, radius, halfAngle };
  const atTruth = residualDistances(truth, { xyz }).reduce((sum, d) => sum + d * d, 0);
  // Points 10 m away are rounded to 2e-12 mm.
  expect(fit.sumOfSquares).toBeLessThan(atTruth * (1 + 1e-9) + 1e-20);
  if (noise === 0) {
    const off = Math.min(angleBetween(fit.direction!, axis), angleBetween(fit.direction!, negate(axis)));
    // 20·ε·κ·max|coordinate| over the size of the feature, which turns the bound into an angle.
    expect(off).toBeLessThan(
      1e-11 + (20 * Number.EPSILON * fit.conditionNumber * 1.8e4) / Math.min(radius, 100),
    );
  }
  if (orientation.kind === 'free' && orientation.start) {
    expect(angleBetween(fit.direction!, orientation.start)).toBeLessThanOrEqual(Math.PI / 2);
  }
}

describe('lowest minimum', () => {
  const counts = [12, 20, 40, 150];

  test.each([true, false])('cylinders, noise %s', (noisy) => {
    const random = randomSource(101);
    for (let k = 0; k < 60; k++) {
      const made = make(random, k % 3 === 0 && !noisy ? 6 : counts[k % 4]!, false, noisy);
      for (const orientation of starts(random, made.axis)) expectLowest(made, orientation, false);
    }
  });

  test.each([true, false])('cones, noise %s', (noisy) => {
    const random = randomSource(202);
    for (let k = 0; k < 24; k++) {
      const made = make(random, k % 3 === 0 && !noisy ? 7 : counts[k % 4]!, true, noisy);
      for (const orientation of starts(random, made.axis)) expectLowest(made, orientation, true);
    }
  });

  test('an axis that may only turn about another, from 80° of azimuth away', () => {
    const random = randomSource(303);
    for (let k = 0; k < 60; k++) {
      const made = make(random, counts[k % 4]!, k % 2 === 1, true);
      const about = normalize(addScaled(random.direction(), made.axis, -0.3));
      const start = apply(rotationAbout(about, random.between(-1.4, 1.4)), made.axis);
      const orientation: Orientation = { kind: 'about', axis: about, start };
      const fit =
        k % 2 === 1
          ? associateCone({ xyz: made.xyz }, orientation, made)
          : associateCylinder({ xyz: made.xyz }, orientation);
      const truth = {
        type: fit.type,
        point: made.origin,
        direction: made.axis,
        radius: made.radius,
        halfAngle: made.halfAngle,
      };
      const atTruth = residualDistances(truth, { xyz: made.xyz }).reduce((sum, d) => sum + d * d, 0);
      expect(fit.sumOfSquares).toBeLessThan(atTruth * (1 + 1e-9));
      expect(Math.abs(angleBetween(fit.direction!, about) - angleBetween(start, about))).toBeLessThan(1e-12);
    }
  });
});
