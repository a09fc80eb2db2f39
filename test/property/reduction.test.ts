/** Invariances and truth recovery of the whole reduction, on noise-free discs of known truth. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Datum, PartDefinition } from '../../shared-math/definition.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { discErrors } from '../../shared-math/pose/blade-errors.ts';
import { moveBlock } from '../../shared-math/pose/blade-pose.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { Reduction, StationResult } from '../../shared-math/result.ts';
import { expectTruth } from '../support/expect-truth.ts';
import { type RandomSource, randomSource } from '../support/random.ts';
import {
  BORE,
  DEGREE,
  type DiscOptions,
  datum,
  discBlocks,
  discDefinition,
  FACE,
  randomError,
  SEAT,
  SLOT,
} from '../support/synthetic-disc.ts';

const RUNS = { numRuns: 12, seed: 20261125 };
const ANY_SEED = fc.integer({ min: 1, max: 1_000_000 });

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];
const pin = datum('E', 'cylinder', { point: [12, 5, 6], direction: Z, radius: 4 });
const end = datum('F', 'plane', { point: [30, 0, 6], direction: X });
const oblique = datum('E', 'plane', { point: [0, 9, 6], direction: [0.1, 1, 0.18] });
const seat = datum('D', 'plane', { point: [0, 0, 12], direction: Z });

const VARIANTS: readonly (readonly [string, DiscOptions])[] = [
  ['face, bore, slot plane', {}],
  ['bore, face, slot plane', { hubDatums: [BORE, FACE, SLOT] }],
  ['face, slot plane, bore', { hubDatums: [FACE, SLOT, BORE] }],
  ['clockwise from 33°', { sense: 'clockwise', firstAngle: 33 * DEGREE }],
  ['uneven pitch', { angles: [0, 0.31, 0.66, 1.5, 2.2, 2.9, 3.3, 4.4, 5.0, 5.9] }],
  [
    'slot mid-plane',
    { hubDatums: [FACE, BORE, datum('C', 'midplane', { point: [0, 66, 3], direction: X })] },
  ],
  [
    'bore circle and hole circle',
    {
      hubDatums: [
        FACE,
        datum('B', 'circle', { point: [0, 0, -3], direction: Z, radius: 70 }),
        datum('C', 'circle', { point: [40, 88, -3], direction: Z, radius: 6 }),
      ],
    },
  ],
  [
    'cone and clocking sphere',
    {
      hubDatums: [
        datum('A', 'cone', { point: [0, 0, 2], direction: Z, radius: 60, halfAngle: 0.25 }),
        datum('B', 'sphere', { point: [95, 0, 12], radius: 8 }),
      ],
    },
  ],
  [
    'three spheres',
    {
      hubDatums: [
        datum('A', 'sphere', { point: [100, 0, 20], radius: 8 }),
        datum('B', 'sphere', { point: [-50, 90, 20], radius: 8 }),
        datum('C', 'sphere', { point: [-50, -90, 25], radius: 8 }),
      ],
    },
  ],
  ['face, bore, line', { hubDatums: [FACE, BORE, datum('C', 'line', { point: [0, 44, 0], direction: X })] }],
  ['blade pin', { bladeDatums: [seat, pin, end] }],
  [
    'oblique blade side',
    { bladeDatums: [seat, oblique, datum('F', 'plane', { point: [30, 0, 6], direction: [1, 0.1, -0.1] })] },
  ],
  [
    'blade points',
    {
      bladeDatums: [
        datum('D', 'point', { point: [20, 0, 10] }),
        datum('E', 'point', { point: [-20, 8, 10] }),
        datum('F', 'point', { point: [0, -9, 40] }),
      ],
    },
  ],
  ['best fit of planes', { pose: 'bestfit' }],
  [
    'best fit of mixed features',
    {
      pose: 'bestfit',
      bladeDatums: [
        seat,
        datum('E', 'midplane', { point: [3, 0, 6], direction: Y }),
        datum('F', 'circle', { point: [5, 0, 30], direction: Y, radius: 6 }),
        datum('G', 'line', { point: [0, 0, 60], direction: X }),
        datum('H', 'sphere', { point: [-9, 0, 20], radius: 5 }),
      ],
    },
  ],
  ['few stations of a symmetric disc', { stations: 4, seat: { ...SEAT, heightAngle: 0, staggerAngle: 0 } }],
];

interface MadeDisc {
  readonly definition: PartDefinition;
  readonly errors: readonly RigidMotion[];
  readonly blocks: readonly PointBlock[];
}

function makeDisc(options: DiscOptions, random: RandomSource, machine = random.motion(600)): MadeDisc {
  const definition = discDefinition(options);
  const errors = definition.stations.map(() => randomError(random));
  return { definition, errors, blocks: discBlocks(definition, errors, machine, random) };
}

const run = (blocks: readonly PointBlock[], definition: PartDefinition): Reduction =>
  reduce({ blocks, definition, gaps: [] });

function expectSame(a: StationResult, b: StationResult, mm = 1e-9, rad = 1e-11): void {
  const near = (
    x: Readonly<Record<string, number | null>>,
    y: Readonly<Record<string, number | null>>,
  ): void => {
    for (const name of Object.keys(x)) {
      const limit = /^rot|lean|sweep|stagger/.test(name) ? rad : mm;
      expect(Math.abs(x[name]! - y[name]!), name).toBeLessThan(limit);
    }
  };
  near(a.error, b.error);
  near(a.disc, b.disc);
  expect(Math.abs(a.position.value! - b.position.value!)).toBeLessThan(4 * mm);
  expect(a.verdict).toBe(b.verdict);
}

describe('reduction of noise-free discs', () => {
  it.each(VARIANTS)('recovers the planted truth to 1e-9 mm and 1e-11 rad: %s', (_, options) => {
    const random = randomSource(77);
    for (let k = 0; k < 3; k++) {
      const { definition, errors, blocks } = makeDisc(options, random);
      const { stations } = run(blocks, definition);
      expect(stations).toHaveLength(definition.stations.length);
      stations.forEach((station, i) => {
        expectTruth(station, errors[i]!);
      });
    }
  });

  it('gives the same result wherever the disc stands in the machine', () => {
    fc.assert(
      fc.property(ANY_SEED, (seed) => {
        const random = randomSource(seed);
        const { definition, blocks } = makeDisc({ stations: 9 }, random);
        const together = random.motion(1000);
        const once = run(blocks, definition);
        const twice = run(
          blocks.map((b) => moveBlock(b, together)),
          definition,
        );
        for (const [i, s] of once.stations.entries()) expectSame(s, twice.stations[i]!);
      }),
      RUNS,
    );
  });

  it('does not depend on the order of points and features', () => {
    fc.assert(
      fc.property(ANY_SEED, (seed) => {
        const random = randomSource(seed);
        const { definition, blocks } = makeDisc({ stations: 9 }, random);
        const shuffled = [...blocks].reverse().map((b) => ({ ...b, xyz: shuffleTriples(b.xyz, random) }));
        const once = run(blocks, definition);
        const twice = run(shuffled, definition);
        for (const [i, s] of once.stations.entries()) expectSame(s, twice.stations[i]!);
      }),
      RUNS,
    );
  });

  it('only renumbers the stations when the sense is reversed', () => {
    fc.assert(
      fc.property(ANY_SEED, fc.integer({ min: 3, max: 20 }), (seed, n) => {
        const random = randomSource(seed);
        const { definition, blocks } = makeDisc({ stations: n, firstAngle: 0.4 }, random);
        const renumber = (k: number): number => ((n - k + 1) % n) + 1;
        const reversed = discDefinition({ stations: n, firstAngle: 0.4, sense: 'clockwise' });
        const once = run(blocks, definition);
        const twice = run(
          blocks.map((b) => (b.station === null ? b : { ...b, station: renumber(b.station) })),
          reversed,
        );
        for (const s of once.stations) expectSame(s, twice.stations[renumber(s.station) - 1]!);
      }),
      RUNS,
    );
  });

  it('negates tangential, lean and stagger under reflection and keeps radial, axial and sweep', () => {
    fc.assert(
      fc.property(ANY_SEED, (seed) => {
        const random = randomSource(seed);
        const machine = random.motion(500);
        const options: DiscOptions = { stations: 9, firstAngle: 0.4 };
        const { definition, errors } = makeDisc(options, random, machine);
        const blocks = discBlocks(definition, errors, machine, randomSource(seed));
        const mirrored = discDefinition({
          stations: 9,
          firstAngle: -0.4,
          sense: 'clockwise',
          seat: { ...SEAT, staggerAngle: -SEAT.staggerAngle },
          hubDatums: definition.hubDatums.map(mirrorDatum),
          bladeDatums: definition.bladeDatums.map(mirrorDatum),
        });
        const once = run(blocks, definition);
        const twice = run(
          blocks.map((b) => ({ ...b, xyz: b.xyz.map((x, i) => (i % 3 === 1 ? -x : x)) })),
          mirrored,
        );
        const signs = { radial: 1, tangential: -1, axial: 1, lean: -1, sweep: 1, stagger: -1 } as const;
        once.stations.forEach((s, i) => {
          const image = twice.stations[i]!.disc;
          for (const name of Object.keys(signs) as (keyof typeof signs)[])
            expect(Math.abs(s.disc[name]! - signs[name] * image[name]!), name).toBeLessThan(1e-9);
        });
      }),
      RUNS,
    );
  });

  it('reads back an error made by raising the nominal angles', () => {
    // The points are made with a larger stagger (height) angle than the plan states.
    const random = randomSource(5);
    const raised = discDefinition({ seat: { ...SEAT, staggerAngle: SEAT.staggerAngle + 0.002 } });
    const stated = discDefinition();
    const still = raised.stations.map(() => randomError(random, 0, 0));
    const { stations } = run(discBlocks(raised, still, random.motion(300), random), stated);
    for (const { disc, error } of stations) {
      expect(disc.stagger).toBeCloseTo(0.002, 11);
      expect(error.rotUpset).toBeCloseTo(-0.002, 11);
      expect(disc.lean).toBeCloseTo(0, 11);
      expect(disc.sweep).toBeCloseTo(0, 11);
    }
    const higher = discDefinition({ seat: { ...SEAT, heightAngle: SEAT.heightAngle + 0.003 } });
    const tilted = run(discBlocks(higher, still, random.motion(300), random), stated);
    for (const { disc } of tilted.stations) expect(disc.sweep).toBeCloseTo(0.003, 11);
  });

  it('agrees with the disc view of the planted error, large errors included', () => {
    const random = randomSource(8);
    const definition = discDefinition({ stations: 7 });
    const errors = definition.stations.map((_, k) =>
      randomError(random, k === 3 ? 6 : 0.05, k === 3 ? 0.2 : 5e-4),
    );
    const { stations } = run(discBlocks(definition, errors, random.motion(300), random), definition);
    stations.forEach((s, i) => {
      expectTruth(s, errors[i]!);
      const planted = discErrors(errors[i]!, definition.stations[i]!.angle, SEAT);
      for (const name of Object.keys(planted) as (keyof typeof planted)[])
        expect(Math.abs(s.disc[name]! - planted[name]), name).toBeLessThan(1e-9);
    });
  });
});

function shuffleTriples(xyz: Float64Array, random: RandomSource): Float64Array {
  const order = Array.from({ length: xyz.length / 3 }, (_, i) => i)
    .map((i) => [random.uniform(), i] as const)
    .sort((a, b) => a[0] - b[0]);
  return Float64Array.from(order.flatMap(([, i]) => [...xyz.subarray(3 * i, 3 * i + 3)]));
}

function mirrorDatum<D extends Datum>(d: D): D {
  const mirror = (v: Vec3): Vec3 => [v[0], -v[1], v[2]];
  return {
    ...d,
    nominal: {
      ...d.nominal,
      point: mirror(d.nominal.point),
      direction: d.nominal.direction && mirror(d.nominal.direction),
    },
  };
}
