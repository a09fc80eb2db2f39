/** What settings do to blades: against the motions of the sample generator, and derivatives against differences. */
import { describe, expect, test } from 'vitest';
import { bladeFrame, compose, errorsOf, inverse, motionOf } from '../../sample-data/motion.ts';
import type { Blade } from '../../shared-math/diagnosis/corrections/blades.ts';
import { linearised, motionBySettings } from '../../shared-math/diagnosis/corrections/setting-motion.ts';
import { unknownsOf } from '../../shared-math/diagnosis/corrections/settings.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { applyToPoint, compose as composed } from '../../shared-math/geometry/rigid-motion.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { dot, subtract } from '../../shared-math/geometry/vector.ts';
import { sixErrors } from '../../shared-math/pose/blade-errors.ts';
import type { StationResult } from '../../shared-math/result.ts';
import { randomSource } from '../support/random.ts';
import { DEGREE, randomError, SEAT } from '../support/synthetic-disc.ts';

const random = randomSource(41);
const ANGLE = 0.7;
const AT: Vec3 = [12, -5, 140];
const blade: Blade = {
  // Only the station number of a measurement counts here.
  measured: { station: 4 } as StationResult,
  definition: {
    station: 4,
    angle: ANGLE,
    seat: SEAT,
    requirement: { checkPoints: [], limits: {} },
  },
  nominal: nominalBladeFrame(ANGLE, SEAT),
  error: randomError(random, 0.05, 5e-4),
  own: [],
  tool: null,
  age: 0,
  served: true,
};
const points = [
  {
    blade: 0,
    at: AT,
    directions: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const,
    tolerance: 0.05,
  },
];
const unknowns = unknownsOf('all', null, [], [blade], points);
/** Ten times what corrections are: the derivatives must hold away from nothing. */
const values = unknowns.map(({ axis }) =>
  axis < 3 ? random.between(-0.2, 0.2) : random.between(-2e-3, 2e-3),
);

describe('settings', () => {
  test('are six of the tool, six of the hub and one index', () => {
    expect(unknowns.map((u) => `${u.kind} ${u.freedom}`)).toEqual([
      ...['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'].map(
        (name) => `tool ${name}`,
      ),
      ...['x', 'y', 'z', 'rotX', 'rotY', 'rotZ'].map((name) => `hub ${name}`),
      'index index',
    ]);
  });

  test('move a blade as the generator would', () => {
    const motion = composed(motionBySettings(blade, unknowns, values), blade.error);
    const seat = {
      radius: SEAT.radius,
      axial: SEAT.axial,
      heightAngle: SEAT.heightAngle / DEGREE,
      staggerAngle: SEAT.staggerAngle / DEGREE,
    };
    const nominal = bladeFrame(seat, ANGLE);
    const [a, b, c, d, e, f] = values.slice(0, 6) as [number, number, number, number, number, number];
    const [x, y, z, p, q, r] = values.slice(6, 12) as [number, number, number, number, number, number];
    const six = sixErrors(blade.error);
    const expected = errorsOf(
      compose(
        inverse(nominal),
        motionOf([x, y, z, p, q, r]),
        motionOf([0, 0, 0, 0, 0, values[12]!]),
        nominal,
        motionOf([a, b, c, d, e, f]),
        motionOf([six.oscillation, six.lateral, six.upset, six.rotOscillation, six.rotLateral, six.rotUpset]),
      ),
    );
    Object.values(sixErrors(motion)).forEach((value, i) => {
      expect(Math.abs(value - expected[i]!)).toBeLessThan(i < 3 ? 1e-12 : 1e-14);
    });
  });

  test('have exact derivatives', () => {
    const displacement = (at: readonly number[]): readonly number[] => {
      const moved = composed(motionBySettings(blade, unknowns, at), blade.error);
      const delta = subtract(applyToPoint(moved, AT), AT);
      return points[0]!.directions.map((d) => (2 / 0.05) * dot(d, delta));
    };
    const { offsets, rows, size } = linearised([blade], points, unknowns, values);
    displacement(values).forEach((value, c) => {
      expect(offsets[c]!).toBeCloseTo(value, 10);
    });
    unknowns.forEach(({ scale, axis }, p) => {
      const step = axis < 3 ? 1e-3 : 1e-5;
      const changed = (by: number): readonly number[] =>
        displacement(values.map((v, i) => (i === p ? v + by : v)));
      const [up, down] = [changed(step), changed(-step)];
      for (let c = 0; c < 3; c++) {
        const slope = (scale * (up[c]! - down[c]!)) / (2 * step);
        expect(Math.abs(rows[c * size + p]! - slope)).toBeLessThan(1e-7);
      }
    });
  });
});
