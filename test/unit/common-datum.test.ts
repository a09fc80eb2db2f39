/** Several features as one datum: datum targets on a plane, two bands of a bore, patches of any type. */
import { describe, expect, it } from 'vitest';
import type { DatumDefinition } from '../../shared-math/definition.ts';
import { applyToPoint, IDENTITY_MOTION } from '../../shared-math/geometry/rigid-motion.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { poseByDatums } from '../../shared-math/pose/blade-pose.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { expectTruth } from '../support/expect-truth.ts';
import { randomSource } from '../support/random.ts';
import {
  BORE,
  block,
  type DiscOptions,
  datum,
  discBlocks,
  discDefinition,
  FACE,
  randomError,
  SEAT_DATUMS,
  SLOT,
} from '../support/synthetic-disc.ts';

const X: Vec3 = [1, 0, 0];
const Z: Vec3 = [0, 0, 1];

/** The datum from several features instead of one. */
const from = (d: DatumDefinition, ...features: string[]): DatumDefinition => ({ ...d, features });

const FACE_PADS = from(FACE, 'PAD-1', 'PAD-2', 'PAD-3');
const BANDS = from(BORE, 'BAND-1', 'BAND-2');
const SEAT_PADS = [
  from(SEAT_DATUMS[0]!, 'D1', 'D2', 'D3'),
  from(SEAT_DATUMS[1]!, 'E1', 'E2'),
  SEAT_DATUMS[2]!,
];

const VARIANTS: readonly (readonly [string, DiscOptions])[] = [
  ['pads of a face, bands of a bore', { hubDatums: [FACE_PADS, BANDS, SLOT] }],
  ['bands of a bore first', { hubDatums: [BANDS, FACE_PADS, from(SLOT, 'SLOT-1', 'SLOT-2')] }],
  ['blade pads', { bladeDatums: SEAT_PADS }],
  ['blade pads, best fit', { bladeDatums: SEAT_PADS, pose: 'bestfit' }],
  [
    'edges, cones and spheres in patches',
    {
      hubDatums: [
        from(datum('A', 'cone', { point: [0, 0, 2], direction: Z, radius: 60, halfAngle: 0.25 }), 'A1', 'A2'),
        from(datum('B', 'sphere', { point: [95, 0, 12], radius: 8 }), 'B1', 'B2'),
      ],
      bladeDatums: [
        from(datum('D', 'line', { point: [0, 0, 12], direction: X }), 'D1', 'D2'),
        SEAT_DATUMS[1]!,
        from(datum('F', 'point', { point: [30, 0, 6] }), 'F1', 'F2'),
      ],
    },
  ],
  [
    'by other criteria',
    {
      hubDatums: [
        { ...FACE_PADS, association: 'gaussian-outer' },
        { ...BANDS, association: 'maximum-inscribed' },
        SLOT,
      ],
    },
  ],
];

describe('common datums', () => {
  it.each(VARIANTS)('recover the planted truth: %s', (_, options) => {
    const random = randomSource(41);
    const definition = discDefinition({ stations: 7, ...options });
    const errors = definition.stations.map(() => randomError(random));
    const blocks = discBlocks(definition, errors, random.motion(500), random);
    const { stations } = reduce({ blocks, definition, gaps: [] });
    expect(stations).toHaveLength(7);
    stations.forEach((s, i) => {
      expectTruth(s, errors[i]!);
    });
  });

  it('are what one feature with all the points is, uncertainty included', () => {
    const random = randomSource(6);
    const definition = discDefinition({
      stations: 5,
      hubDatums: [FACE_PADS, BANDS, SLOT],
      bladeDatums: SEAT_PADS,
    });
    const errors = definition.stations.map(() => randomError(random));
    const blocks = discBlocks(definition, errors, random.motion(500), random).map((b) => ({
      ...b,
      xyz: b.xyz.map((x) => x + 1e-3 * random.normal()),
      sigma: Float64Array.from({ length: b.xyz.length / 3 }, () => random.between(5e-4, 2e-3)),
    }));
    const joined = [FACE_PADS, BANDS, SLOT, ...SEAT_PADS].flatMap((d) =>
      [null, ...definition.stations.map((s) => s.station)].flatMap((station) => join(d, station, blocks)),
    );
    const whole = discDefinition({ stations: 5 });
    const one = reduce({ blocks, definition, gaps: [] });
    const other = reduce({ blocks: joined, definition: whole, gaps: [] });
    one.stations.forEach((s, i) => {
      const t = other.stations[i]!;
      Object.entries(s.error).forEach(([name, value]) => {
        expect(value!, name).toBeCloseTo(t.error[name as keyof typeof t.error]!, 11);
      });
      s.covariance!.forEach((row, a) => {
        row.forEach((x, b) => {
          const scale = Math.sqrt(t.covariance![a]![a]! * t.covariance![b]![b]!);
          expect((x - t.covariance![a]![b]!) / scale).toBeCloseTo(0, 9);
        });
      });
    });
    expect(one.frame.datums[0]).toMatchObject({ feature: 'PAD-1, PAD-2, PAD-3', points: 120 });
  });

  it('take single points as datum targets, three, two and one', () => {
    const targets = [
      from(SEAT_DATUMS[0]!, 'T1', 'T2', 'T3'),
      from(SEAT_DATUMS[1]!, 'T4', 'T5'),
      from(SEAT_DATUMS[2]!, 'T6'),
    ];
    const places: Record<string, Vec3> = {
      T1: [20, 6, 12],
      T2: [-20, 6, 12],
      T3: [0, -7, 12],
      T4: [18, 9, 6],
      T5: [-16, 9, 7],
      T6: [30, 2, 6],
    };
    const truth = randomError(randomSource(4), 0.3, 3e-3);
    const { error } = poseByDatums(targets, (d) =>
      d.features.map((f) => block(1, f, Float64Array.from(applyToPoint(truth, places[f]!)))),
    );
    const found = Object.values(sixErrors(error));
    const planted = Object.values(sixErrors(truth));
    found.forEach((value, i) => {
      expect(Math.abs(value - planted[i]!)).toBeLessThan(1e-12);
    });
  });

  it('are screened as one, and flagged points keep the name and number of their feature', () => {
    const random = randomSource(10);
    const screen = { method: 'biweight', cutoff: 6, exclude: true } as const;
    const definition = discDefinition({ stations: 5, hubDatums: [{ ...FACE_PADS, screen }, BANDS, SLOT] });
    const still = definition.stations.map(() => randomError(random, 0, 0));
    const blocks = discBlocks(definition, still, IDENTITY_MOTION, random).map((b) =>
      b.feature === 'PAD-2' || b.feature === 'PAD-3'
        ? { ...b, xyz: b.xyz.map((x, i) => (i === (b.feature === 'PAD-2' ? 5 : 29) ? x + 0.3 : x)) }
        : b,
    );
    const { screened, stations, frame } = reduce({ blocks, definition, gaps: [] });
    expect(screened).toEqual([
      { station: null, feature: 'PAD-2', point: 2, distance: expect.closeTo(0.3, 9), excluded: true },
      { station: null, feature: 'PAD-3', point: 10, distance: expect.closeTo(0.3, 9), excluded: true },
    ]);
    expect(frame.datums[0]!.points).toBe(118);
    for (const s of stations) for (const e of Object.values(s.error)) expect(Math.abs(e!)).toBeLessThan(1e-9);
  });

  it('say which of their features a station lacks', () => {
    const random = randomSource(8);
    const definition = discDefinition({ stations: 5, bladeDatums: SEAT_PADS });
    const still = definition.stations.map(() => randomError(random, 0, 0));
    const blocks = discBlocks(definition, still, IDENTITY_MOTION, random).filter(
      (b) => b.station !== 3 || b.feature !== 'D2',
    );
    const { summary } = reduce({ blocks, definition, gaps: [] });
    expect(summary.missing).toEqual([
      expect.objectContaining({
        station: 3,
        reason: expect.stringContaining('no points of feature D2 (datum D)'),
      }),
    ]);
  });
});

/** The blocks of a common datum as one block of the feature that the plain datum names. */
function join(d: DatumDefinition, station: number | null, blocks: readonly PointBlock[]): PointBlock[] {
  const parts = d.features.flatMap((f) => blocks.filter((b) => b.station === station && b.feature === f));
  if (parts.length === 0) return [];
  const all = (of: (b: PointBlock) => Float64Array): Float64Array =>
    Float64Array.from(parts.flatMap((b) => [...of(b)]));
  return [
    {
      ...block(
        station,
        `${d.label}-FEATURE`,
        all((b) => b.xyz),
      ),
      sigma: all((b) => b.sigma!),
    },
  ];
}
