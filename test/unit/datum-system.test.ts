import { describe, expect, it } from 'vitest';
import type { DatumDefinition } from '../../shared-math/definition.ts';
import { DISC_AXES } from '../../shared-math/frame/axis-names.ts';
import { buildDatumFrame, type SituationFeature } from '../../shared-math/frame/datum-system.ts';
import {
  applyToDirection,
  applyToPoint,
  compose,
  IDENTITY_MOTION,
  relativeMotion,
  twistOfMotion,
} from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { norm } from '../../shared-math/geometry/vector.ts';
import { randomSource } from '../support/random.ts';
import { BORE, datum, FACE, SEAT_DATUMS, SLOT } from '../support/synthetic-disc.ts';

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

/** Situation features that lie exactly where `truth` puts the nominal ones; axes offer another of their points. */
function exactly(truth: RigidMotion) {
  return ({ type, nominal }: DatumDefinition): SituationFeature => {
    const slide = type === 'cylinder' || type === 'line' ? 7 : 0;
    const d = nominal.direction;
    const point: Vec3 = d
      ? [nominal.point[0] + slide * d[0], nominal.point[1] + slide * d[1], nominal.point[2] + slide * d[2]]
      : nominal.point;
    return { point: applyToPoint(truth, point), direction: d && applyToDirection(truth, d) };
  };
}

const SYSTEMS: readonly (readonly [string, readonly DatumDefinition[]])[] = [
  ['face, bore, slot', [FACE, BORE, SLOT]],
  ['bore, face, slot', [BORE, FACE, SLOT]],
  ['bore, slot, face', [BORE, SLOT, FACE]],
  ['face, slot, bore', [FACE, SLOT, BORE]],
  [
    'face, bore, mid-plane by location',
    [FACE, BORE, datum('C', 'midplane', { point: [60, 0, 5], direction: Y })],
  ],
  [
    'face, bore, mid-plane by direction',
    [FACE, BORE, datum('C', 'midplane', { point: [60, 0, 5], direction: Y }, { clocking: 'direction' })],
  ],
  [
    'face, bore, plane by location',
    [FACE, BORE, datum('C', 'plane', { point: [60, 8, 5], direction: Y }, { clocking: 'location' })],
  ],
  [
    'face, circle, circle',
    [
      FACE,
      datum('B', 'circle', { point: [0, 0, 0], direction: Z, radius: 70 }),
      datum('C', 'circle', { point: [90, 20, 0], direction: Z, radius: 5 }),
    ],
  ],
  [
    'face, bore, dowel hole',
    [FACE, BORE, datum('C', 'cylinder', { point: [90, -20, 0], direction: Z, radius: 5 })],
  ],
  [
    'face, bore, radial pin by location',
    [FACE, BORE, datum('C', 'cylinder', { point: [90, 0, 10], direction: X, radius: 5 })],
  ],
  [
    'face, bore, radial pin by direction',
    [
      FACE,
      BORE,
      datum('C', 'cylinder', { point: [90, 30, 10], direction: X, radius: 5 }, { clocking: 'direction' }),
    ],
  ],
  ['face, bore, sphere', [FACE, BORE, datum('C', 'sphere', { point: [0, 110, 12], radius: 6 })]],
  [
    'three spheres',
    [
      datum('A', 'sphere', { point: [100, 0, 20], radius: 6 }),
      datum('B', 'sphere', { point: [-50, 90, 20], radius: 6 }),
      datum('C', 'sphere', { point: [-50, -90, 25], radius: 6 }),
    ],
  ],
  [
    'sphere, plane, sphere',
    [
      datum('A', 'sphere', { point: [100, 0, 20], radius: 6 }),
      datum('B', 'plane', { point: [0, 0, 3], direction: Z }),
      datum('C', 'sphere', { point: [-50, -90, 25], radius: 6 }),
    ],
  ],
  [
    'sphere, parallel cylinder',
    [
      datum('A', 'sphere', { point: [100, 0, 20], radius: 6 }),
      datum('B', 'cylinder', { point: [0, 0, 3], direction: Z, radius: 70 }),
    ],
  ],
  ['cone, slot', [datum('A', 'cone', { point: [0, 0, 4], direction: Z, radius: 60, halfAngle: 0.3 }), SLOT]],
  [
    'face, cone, line',
    [
      FACE,
      datum('B', 'cone', { point: [0, 0, 4], direction: Z, radius: 60, halfAngle: 0.3 }),
      datum('C', 'line', { point: [0, 40, 0], direction: X }),
    ],
  ],
  [
    'line, plane, point',
    [
      datum('A', 'line', { point: [10, 0, 0], direction: X }),
      datum('B', 'plane', { point: [0, 0, 4], direction: Z }),
      datum('C', 'point', { point: [33, 5, 1] }),
    ],
  ],
  ['blade planes', SEAT_DATUMS],
  [
    'oblique blade planes',
    [
      SEAT_DATUMS[0]!,
      datum('E', 'plane', { point: [0, 9, 6], direction: [0.1, 1, 0.2] }),
      datum('F', 'plane', { point: [30, 0, 6], direction: [1, 0.3, 0.4] }),
    ],
  ],
];

describe('datum system', () => {
  it.each(SYSTEMS)('carries nominal datums onto exact ones: %s', (_, datums) => {
    const random = randomSource(11);
    for (let k = 0; k < 20; k++) {
      const truth = random.motion(500);
      const slip: RigidMotion = {
        rotation: rotationFromVector([
          random.between(-0.05, 0.05),
          random.between(-0.05, 0.05),
          random.between(-0.05, 0.05),
        ]),
        translation: [random.between(-2, 2), random.between(-2, 2), random.between(-2, 2)],
      };
      const { motion } = buildDatumFrame(datums, exactly(truth), compose(truth, slip), DISC_AXES);
      const { rotation, translation } = twistOfMotion(relativeMotion(truth, motion));
      expect(norm(rotation)).toBeLessThan(1e-13);
      expect(norm(translation)).toBeLessThan(1e-11);
    }
  });

  it('takes from each datum only what the earlier ones left', () => {
    const { fixes } = buildDatumFrame(
      [FACE, BORE, SLOT],
      exactly(IDENTITY_MOTION),
      IDENTITY_MOTION,
      DISC_AXES,
    );
    expect(fixes).toEqual([
      ['translation along the disc axis Z', 'the two rotations that tilt the disc axis Z'],
      ['translation along disc X and disc Y'],
      ['rotation about the disc axis Z'],
    ]);
  });

  it('keeps the primary exact when later datums disagree with it', () => {
    // The bore is 2 mm off and the slot turned by 0.01 rad about Z: the face decides Z, the bore X and Y, the slot the turn.
    const turn = 0.01;
    const features: Record<string, SituationFeature> = {
      A: { point: [0, 0, 1.5], direction: Z },
      B: { point: [2, -1, 40], direction: Z },
      C: { point: [0, 30, 0], direction: [-Math.sin(turn), Math.cos(turn), 0] },
    };
    const { motion } = buildDatumFrame(
      [FACE, BORE, SLOT],
      (d) => features[d.label]!,
      IDENTITY_MOTION,
      DISC_AXES,
    );
    expect(applyToPoint(motion, [0, 0, 0])).toEqual([
      expect.closeTo(2, 14),
      expect.closeTo(-1, 14),
      expect.closeTo(1.5, 14),
    ]);
    expect(twistOfMotion(motion).rotation).toEqual([
      expect.closeTo(0, 14),
      expect.closeTo(0, 14),
      expect.closeTo(turn, 14),
    ]);
  });

  it('clocks a mid-plane by where it passes at the nominal radius, not by its direction', () => {
    const slot = datum('C', 'midplane', { point: [60, 0, 0], direction: Y });
    const tilted: Vec3 = [-Math.sin(0.02), Math.cos(0.02), 0];
    const features: Record<string, SituationFeature> = {
      A: { point: [0, 0, 0], direction: Z },
      B: { point: [0, 0, 0], direction: Z },
      C: { point: [60 * Math.cos(0.003), 60 * Math.sin(0.003), 0], direction: tilted },
    };
    const at = (d: DatumDefinition): SituationFeature => features[d.label]!;
    const byPlace = buildDatumFrame([FACE, BORE, slot], at, IDENTITY_MOTION, DISC_AXES);
    expect(twistOfMotion(byPlace.motion).rotation[2]).toBeCloseTo(0.003, 13);
    const byDirection = buildDatumFrame(
      [FACE, BORE, { ...slot, clocking: 'direction' }],
      at,
      IDENTITY_MOTION,
      DISC_AXES,
    );
    expect(twistOfMotion(byDirection.motion).rotation[2]).toBeCloseTo(0.02, 13);
  });

  it.each([
    ['face and bore alone', [FACE, BORE], 'open-freedom', /rotation about the disc axis Z/],
    ['face and slot alone', [FACE, SLOT], 'open-freedom', /translation along disc X/],
    [
      'a face alone',
      [FACE],
      'open-freedom',
      /translation along disc X and disc Y; rotation about the disc axis Z/,
    ],
    ['a second parallel face', [FACE, { ...FACE, label: 'B' }, BORE], 'redundant-datum', /Datum B/],
    [
      'a sphere on the axis as clocking',
      [FACE, BORE, datum('C', 'sphere', { point: [0, 0, 9], radius: 4 })],
      'redundant-datum',
      /Datum C/,
    ],
    [
      'a fourth datum',
      [FACE, BORE, SLOT, datum('G', 'sphere', { point: [50, 0, 9], radius: 4 })],
      'redundant-datum',
      /Datum G/,
    ],
  ] as const)('refuses %s and names what is wrong', (_, datums, failure, words) => {
    const build = () => buildDatumFrame(datums, exactly(IDENTITY_MOTION), IDENTITY_MOTION, DISC_AXES);
    expect(build).toThrow(words);
    expect(build).toThrow(expect.objectContaining({ failure }));
  });

  it('refuses a clocking mid-plane that lies beyond its nominal radius', () => {
    const slot = datum('C', 'midplane', { point: [60, 0, 0], direction: Y });
    const features: Record<string, SituationFeature> = {
      A: { point: [0, 0, 0], direction: Z },
      B: { point: [0, 0, 0], direction: Z },
      C: { point: [0, 61, 0], direction: Y },
    };
    expect(() =>
      buildDatumFrame([FACE, BORE, slot], (d) => features[d.label]!, IDENTITY_MOTION, DISC_AXES),
    ).toThrow(/farther from the axis/);
  });
});
