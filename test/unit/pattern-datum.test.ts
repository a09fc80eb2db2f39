/** Patterns of features as one datum: what they fix, that they recover the truth, and their covariance. */
import { describe, expect, it } from 'vitest';
import type { Datum } from '../../shared-math/definition.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { DISC_AXES } from '../../shared-math/frame/axis-names.ts';
import { buildDatumFrame } from '../../shared-math/frame/datum-system.ts';
import { patternOffer } from '../../shared-math/frame/pattern-freedoms.ts';
import { IDENTITY_MOTION, relativeMotion, twistOfMotion } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { norm } from '../../shared-math/geometry/vector.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { poseByBestFit } from '../../shared-math/pose/blade-pose.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { expectTruth } from '../support/expect-truth.ts';
import {
  blocksOf,
  numericCovariance,
  numericScaleDerivatives,
  poseCovariance,
  poseOf,
  relativeDifference,
  scaleDerivatives,
} from '../support/pose-covariance.ts';
import { randomSource } from '../support/random.ts';
import {
  BORE,
  block,
  type DiscOptions,
  datum,
  discBlocks,
  discDefinition,
  FACE,
  featureBlocks,
  pattern,
  randomError,
  SEAT_DATUMS,
  SLOT,
} from '../support/synthetic-disc.ts';

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];
const AXES = [X, Y, Z];

const ring = (count: number, radius: number, at = 0.3): Vec3[] =>
  Array.from({ length: count }, (_, k) => {
    const angle = at + (2 * Math.PI * k) / count;
    return [radius * Math.cos(angle), radius * Math.sin(angle), -5];
  });
const hole = (point: Vec3, radius = 6) =>
  datum('H', 'cylinder', { point, direction: Z, radius }, { side: 'inside' });
const HOLES = pattern(
  'P',
  ring(6, 95).map((p) => hole(p)),
);
const BORES = pattern('Q', [hole([0, 0, -20], 70), hole([0, 0, 30], 50)]);
/** Coaxial, but not about the disc axis: the point on their axis is not the middle of the disc. */
const SPHERES = pattern(
  'S',
  ring(3, 100, 0).map((point) => datum('S', 'sphere', { point, radius: 8 })),
);
const PADS = pattern('R', [
  datum('R', 'plane', { point: [80, 0, 0], direction: Z }),
  datum('R', 'plane', { point: [-40, 70, 3], direction: Z }),
  datum('R', 'plane', { point: [-40, -70, 6], direction: Z }),
]);
const CIRCLES = pattern(
  'O',
  ring(4, 90).map((point) => datum('O', 'circle', { point, direction: Z, radius: 6 })),
);
const KEYS = pattern('K', [
  datum('K', 'midplane', { point: [66, 0, 3], direction: Y }),
  datum('K', 'midplane', { point: [0, 66, 3], direction: X }),
]);
const BLADE_PINS = pattern('G', [
  datum('G', 'cylinder', { point: [12, 5, 6], direction: Z, radius: 4 }),
  datum('G', 'cylinder', { point: [-14, -3, 6], direction: Z, radius: 4 }),
]);
const BLADE_MIX = pattern('D', [
  SEAT_DATUMS[0]!,
  datum('D', 'cylinder', { point: [12, 5, 6], direction: Z, radius: 4 }),
  datum('D', 'line', { point: [0, 0, 60], direction: X }),
]);

describe('what a pattern offers', () => {
  it.each([
    ['holes with depth', HOLES, AXES, { turns: 'all' }, 2],
    ['coaxial bores', BORES, AXES, { turns: 'tilts', axis: expect.anything() }, 2],
    ['coaxial bores that may only turn about their axis', BORES, [Z], { turns: 'none' }, 2],
    ['coaxial bores that may only turn across their axis', BORES, [X], { turns: 'turn' }, 2],
    ['holes that may not turn', HOLES, [], { turns: 'none' }, 2],
    ['holes that may turn about their axis', HOLES, [Z], { turns: 'turn' }, 2],
    ['three spheres', SPHERES, AXES, { turns: 'all' }, 3],
    ['parallel pads', PADS, AXES, { turns: 'tilts' }, 1],
    ['keys', KEYS, AXES, { turns: 'all' }, 2],
    ['circles', CIRCLES, AXES, { turns: 'all' }, 3],
  ] as const)('%s', (_, of, turns, expected, translations) => {
    const offer = patternOffer(of, turns);
    expect(offer).toMatchObject(expected);
    expect(offer.translations).toHaveLength(translations);
  });

  it('puts its reference on the axis that stays open', () => {
    const eccentric = pattern('Q', [
      hole([30, 10, -20], 70),
      hole([30, 10, 30], 50),
      datum('Q', 'plane', { point: [0, 0, 6], direction: Z }),
    ]);
    const { reference, turns, axis, translations } = patternOffer(eccentric, AXES);
    expect(turns).toBe('tilts');
    expect(Math.abs(axis![2])).toBeCloseTo(1, 12);
    expect(reference[0]).toBeCloseTo(30, 12);
    expect(reference[1]).toBeCloseTo(10, 12);
    expect(translations).toHaveLength(3);
  });
});

const SYSTEMS: readonly (readonly [string, DiscOptions])[] = [
  ['holes first, then a face', { hubDatums: [HOLES, FACE] }],
  ['face, then holes', { hubDatums: [FACE, HOLES] }],
  ['face, bore, holes for the turn', { hubDatums: [FACE, BORE, HOLES] }],
  ['coaxial bores, face, slot', { hubDatums: [BORES, FACE, SLOT] }],
  ['face, coaxial bores, slot', { hubDatums: [FACE, BORES, SLOT] }],
  ['face, coaxial bores, holes', { hubDatums: [FACE, BORES, HOLES] }],
  ['three spheres at once', { hubDatums: [SPHERES] }],
  ['pads, bore, keys', { hubDatums: [PADS, BORE, KEYS] }],
  ['circles at once', { hubDatums: [CIRCLES] }],
  ['face, slot, coaxial bores', { hubDatums: [FACE, SLOT, BORES] }],
  ['blade pins', { bladeDatums: [SEAT_DATUMS[0]!, BLADE_PINS] }],
  ['blade pins first', { bladeDatums: [BLADE_PINS, SEAT_DATUMS[0]!] }],
  [
    'blade pattern by best fit',
    { pose: 'bestfit', bladeDatums: [BLADE_MIX, SEAT_DATUMS[1]!, SEAT_DATUMS[2]!] },
  ],
  ['few stations', { stations: 2, hubDatums: [HOLES, FACE] }],
];

describe('reduction with patterns', () => {
  it.each(SYSTEMS)('recovers the planted truth: %s', (_, options) => {
    const random = randomSource(23);
    const definition = discDefinition({ stations: 7, ...options });
    const errors = definition.stations.map(() => randomError(random));
    const blocks = discBlocks(definition, errors, random.motion(500), random);
    const { stations, frame } = reduce({ blocks, definition, gaps: [] });
    expect(stations).toHaveLength(definition.stations.length);
    stations.forEach((s, i) => {
      expectTruth(s, errors[i]!);
      expect(s.position.expanded).toBeGreaterThan(0);
    });
    frame.datums.forEach((d, i) => {
      expect(d.type).toBe(definition.hubDatums[i]!.type);
      expect(d.fixes.length).toBeGreaterThan(0);
      expect(d.form).toBeLessThan(1e-8);
    });
  });

  it.each([0, 1e-3])(
    'a best fit reports a turn about a coordinate axis that nothing observes, noise %s',
    (noise) => {
      const random = randomSource(5);
      const datums = [
        datum('A', 'cylinder', { point: [0, 0, 0], direction: Z, radius: 20 }),
        datum('B', 'cylinder', { point: [0, 0, 40], direction: Z, radius: 10 }),
        datum('C', 'plane', { point: [0, 0, 60], direction: Z }),
      ];
      const truth = randomError(random, 0.1, 1e-3);
      const blocks = datums
        .flatMap((d) => featureBlocks(d, 1, truth, random, 12))
        .map((b) => ({ ...b, xyz: b.xyz.map((x) => x + noise * random.normal()) }));
      const { error, freeMotions } = poseByBestFit(datums, blocksOf(blocks));
      expect(freeMotions).toHaveLength(1);
      const { rotation, translation } = twistOfMotion(freeMotions[0]!);
      expect(Math.abs(rotation[2])).toBeGreaterThan(1e3 * Math.hypot(rotation[0], rotation[1]));
      expect(norm(translation)).toBeLessThan(1e-9);
      error.translation.forEach((t, k) => {
        expect(Math.abs(t - truth.translation[k]!)).toBeLessThan(noise === 0 ? 1e-4 : 5e-3);
      });
    },
  );

  it('shares what its members disagree on among them all', () => {
    // Six holes, one of them 0.06 mm along its tangent: the turn is a sixth of it over the radius.
    const angle = 0.3;
    const shifted: Vec3 = [-0.06 * Math.sin(angle), 0.06 * Math.cos(angle), 0];
    const still = randomError(randomSource(1), 0, 0);
    const random = randomSource(9);
    const blocks = HOLES.members.map((m, k) =>
      featureBlocks(m, null, k === 0 ? { ...still, translation: shifted } : still, random, 24),
    );
    const ringOf = (b: PointBlock): PointBlock =>
      evenly(
        b,
        HOLES.members[b.feature === 'P-1' ? 0 : Number(b.feature.slice(2)) - 1]!.nominal.point,
        b.feature === 'P-1' ? shifted : [0, 0, 0],
      );
    const { error } = poseOf(
      [FACE, HOLES],
      [...featureBlocks(FACE, null, still, random, 24), ...blocks.flat().map(ringOf)],
    );
    const { rotation, translation } = twistOfMotion(error);
    expect(rotation[2]).toBeCloseTo(0.01 / 95, 7);
    expect(translation[0]).toBeCloseTo(shifted[0] / 6, 5);
    expect(translation[1]).toBeCloseTo(shifted[1] / 6, 5);
    expect(translation[2]).toBeCloseTo(0, 9);
  });

  it('leaves earlier datums their freedoms and names what stays open', () => {
    const exactly = (truth: RigidMotion, datums: readonly Datum[]) =>
      buildDatumFrame(
        datums,
        ({ nominal }) => ({ ...nominal }),
        IDENTITY_MOTION,
        DISC_AXES,
        ({ nominal }) => ({ ...nominal, pose: truth }),
      );
    const turned: RigidMotion = { rotation: rotationFromVector([0, 0, 5e-3]), translation: [0.4, -0.3, 0.2] };
    // Face and bore at nominal place: the pattern acts on nothing but the turn about Z.
    const { motion, fixes } = exactly(turned, [FACE, BORE, HOLES]);
    const { rotation, translation } = twistOfMotion(relativeMotion(IDENTITY_MOTION, motion));
    expect(norm(translation)).toBeLessThan(1e-12);
    expect(rotation[2]).toBeCloseTo(5e-3, 14);
    expect(fixes[2]).toEqual(['rotation about the disc axis Z']);
    expect(() => exactly(turned, [FACE, BORES])).toThrow(/rotation about the disc axis Z/);
    expect(() => exactly(turned, [HOLES])).toThrow(/leaves open: translation along the disc axis Z/);
    expect(() => exactly(turned, [FACE, BORE, BORES])).toThrow(/Datum Q .*fixes no freedom/);
  });

  it('refuses holes that were probed at one depth and stand alone', () => {
    const still = randomError(randomSource(1), 0, 0);
    const flat = HOLES.members.map((m) => {
      const [b] = featureBlocks(m, null, still, randomSource(3), 12) as [PointBlock];
      return { ...b, xyz: b.xyz.map((x, i) => (i % 3 === 2 ? -5 : x)) };
    });
    const pose = () =>
      poseOf([HOLES, FACE], [...flat, ...featureBlocks(FACE, null, still, randomSource(4), 12)]);
    expect(pose).toThrow(ReductionError);
    expect(pose).toThrow(/pattern P do not determine/);
  });
});

/** Points evenly round a hole and over its depth, so that its centre is theirs. */
function evenly(b: PointBlock, centre: Vec3, shift: Vec3): PointBlock {
  const points = Array.from({ length: 24 }, (_, i): Vec3 => {
    const angle = (2 * Math.PI * i) / 12;
    return [
      centre[0] + shift[0] + 6 * Math.cos(angle),
      centre[1] + shift[1] + 6 * Math.sin(angle),
      centre[2] + (i < 12 ? -4 : 4),
    ];
  });
  return block(b.station, b.feature, Float64Array.from(points.flat()));
}

describe('covariance of frames with patterns', () => {
  it.each([
    ['six holes with depth, then a face', [HOLES, FACE]],
    ['face and six holes', [FACE, HOLES]],
    ['face, bore, holes for the turn', [FACE, BORE, HOLES]],
    ['coaxial bores, face, slot', [BORES, FACE, SLOT]],
    ['face, coaxial bores, slot', [FACE, BORES, SLOT]],
    ['pads, bore, keys', [PADS, BORE, KEYS]],
    ['three spheres', [SPHERES]],
    ['face, slot, coaxial bores', [FACE, SLOT, BORES]],
  ] as const)('agrees with central differences: %s', (_, datums) => {
    const random = randomSource(31);
    const place = randomError(random, 0.3, 2e-3);
    const blocks = datums.flatMap((d) => featureBlocks(d, null, place, random, 7));
    const numeric = numericCovariance(datums, blocks, 1e-4);
    expect(relativeDifference(poseCovariance(datums, blocks), numeric)).toBeLessThan(2e-5);
  });

  it.each([
    ['holes, then a face', [HOLES, FACE]],
    ['face, holes on one side', [FACE, pattern('P', HOLES.members.slice(0, 3))]],
    ['spheres off the middle', [pattern('S', [...SPHERES.members.slice(0, 2), hole([-20, -60, 10])])]],
    ['pads, bore, keys', [PADS, BORE, KEYS]],
  ] as const)('answers to a scale as central differences do: %s', (_, datums) => {
    const random = randomSource(12);
    const place = randomError(random, 0.3, 2e-3);
    const blocks = datums.flatMap((d) => featureBlocks(d, null, place, random, 9));
    const analytic = scaleDerivatives(datums, blocks);
    const largest = Math.max(...analytic.map(Math.abs));
    numericScaleDerivatives(datums, blocks, 1e-6).forEach((value, k) => {
      expect(Math.abs(analytic[k]! - value), `error ${k}`).toBeLessThan(1e-4 * largest);
    });
    expect(largest).toBeGreaterThan(0.1);
  });
});
