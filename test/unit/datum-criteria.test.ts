/** Datums by other criteria than least squares, and the robust screen of their points, through the whole reduction. */
import { describe, expect, it } from 'vitest';
import type { DatumDefinition, ScreenDefinition } from '../../shared-math/definition.ts';
import { IDENTITY_MOTION } from '../../shared-math/geometry/rigid-motion.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { Reduction } from '../../shared-math/result.ts';
import { randomSource } from '../support/random.ts';
import {
  BORE,
  type DiscOptions,
  discBlocks,
  discDefinition,
  FACE,
  randomError,
  SEAT_DATUMS,
  SLOT,
} from '../support/synthetic-disc.ts';

const by = (d: DatumDefinition, more: Partial<DatumDefinition>): DatumDefinition => ({ ...d, ...more });

/** A disc whose points are moved after they were made. */
function reduceSpoilt(options: DiscOptions, spoil: (block: PointBlock) => PointBlock): Reduction {
  const definition = discDefinition({ stations: 6, ...options });
  const random = randomSource(3);
  const errors = definition.stations.map(() => randomError(random, 0, 0));
  const blocks = discBlocks(definition, errors, IDENTITY_MOTION, random).map(spoil);
  return reduce({ blocks, definition, gaps: [] });
}

/** Point `index` of one feature raised along z (hub: the disc axis) by `by` mm. */
const raise =
  (station: number | null, feature: string, index: number, mm: number) =>
  (b: PointBlock): PointBlock =>
    b.station === station && b.feature === feature
      ? { ...b, xyz: b.xyz.map((x, i) => (i === 3 * index + 2 ? x + mm : x)) }
      : b;

describe('the association of a datum', () => {
  it('changes the frame: an outer face stands on the highest point, a minimum zone in the middle', () => {
    const height = (
      association: DatumDefinition['association'],
      more: Partial<DatumDefinition> = {},
    ): number =>
      reduceSpoilt(
        // The bore fixes the axis, so that the face gives its place only.
        { hubDatums: [BORE, by(FACE, { association, ...more }), SLOT] },
        raise(null, 'A-FEATURE', 7, 0.04),
      ).frame.origin[2];
    expect(height('gaussian')).toBeCloseTo(0.04 / 40, 10);
    expect(height('gaussian-outer')).toBeCloseTo(0.04, 10);
    expect(height('minimax')).toBeCloseTo(0.02, 10);
    // The material lies on the other side: the outermost points are the others.
    expect(height('gaussian-outer', { material: 'positive' })).toBeCloseTo(0, 10);
  });

  it.each(['minimax', 'maximum-inscribed', 'minimum-circumscribed', 'gaussian-outer'] as const)(
    'is %s where the plan says so, with its form',
    (association) => {
      const { frame } = reduceSpoilt({ hubDatums: [FACE, by(BORE, { association }), SLOT] }, (b) =>
        b.feature === 'B-FEATURE' ? { ...b, xyz: b.xyz.map((x, i) => x * (i % 30 === 0 ? 1.0001 : 1)) } : b,
      );
      const least = reduceSpoilt({}, (b) =>
        b.feature === 'B-FEATURE' ? { ...b, xyz: b.xyz.map((x, i) => x * (i % 30 === 0 ? 1.0001 : 1)) } : b,
      ).frame;
      const [bore, plain] = [frame.datums[1]!, least.datums[1]!];
      expect(bore.radius).not.toBeCloseTo(plain.radius!, 5);
      if (association === 'minimax') expect(bore.form).toBeLessThan(plain.form);
      if (association === 'maximum-inscribed') expect(bore.radius!).toBeLessThan(plain.radius!);
      if (association === 'minimum-circumscribed') expect(bore.radius!).toBeGreaterThan(plain.radius!);
    },
  );

  it('needs the side of a round feature that is to touch its material from outside', () => {
    const bore = by(BORE, { association: 'gaussian-outer', side: null });
    expect(() => reduceSpoilt({ hubDatums: [FACE, bore, SLOT] }, (b) => b)).toThrow(
      expect.objectContaining({ failure: 'missing-side', remedy: expect.stringContaining('datum B') }),
    );
  });
});

describe('the screen of a datum', () => {
  const screen: ScreenDefinition = { method: 'biweight', cutoff: 5, exclude: false };
  const seat = SEAT_DATUMS[0]!;
  const rest = SEAT_DATUMS.slice(1);
  const spoil = raise(null, 'A-FEATURE', 7, 0.5);
  const spoilBlade = (b: PointBlock): PointBlock =>
    b.station === 2 && b.feature === 'D-FEATURE'
      ? { ...b, xyz: b.xyz.map((x, i) => (Math.floor(i / 3) === 4 ? x * (1 + 0.3 / 250) : x)) }
      : b;

  it('reports flagged points with their number in file order, and uses them unless told to leave them out', () => {
    const reported = reduceSpoilt({ hubDatums: [by(FACE, { screen }), BORE, SLOT] }, spoil);
    expect(reported.screened).toEqual([
      { station: null, feature: 'A-FEATURE', point: 8, distance: expect.closeTo(0.5, 9), excluded: false },
    ]);
    expect(reported.warnings.join('\n')).toMatch(/Hub, A-FEATURE: .*point 8 \(0\.5000 mm\).*used/);
    expect(reported.frame.datums[0]!.points).toBe(40);
    expect(reported.frame.datums[0]!.form).toBeGreaterThan(0.1);
    expect(Math.abs(reported.stations[0]!.error.upset!)).toBeGreaterThan(1e-4);
  });

  it('leaves them out where the plan says so, and says that it did', () => {
    const asked = by(FACE, { screen: { ...screen, exclude: true } });
    const cleaned = reduceSpoilt({ hubDatums: [asked, BORE, SLOT] }, spoil);
    expect(cleaned.screened).toEqual([
      { station: null, feature: 'A-FEATURE', point: 8, distance: expect.closeTo(0.5, 9), excluded: true },
    ]);
    expect(cleaned.warnings.join('\n')).toMatch(/left out, as the plan asks: 1 in all/);
    expect(cleaned.frame.datums[0]!.points).toBe(39);
    for (const s of cleaned.stations)
      for (const value of Object.values(s.error)) expect(Math.abs(value!)).toBeLessThan(1e-9);
    // The covariance is that of the points used: nothing of the far point's residual is left.
    const clean = reduceSpoilt({}, (b) => b).stations[0]!.position.expanded!;
    expect(cleaned.stations[0]!.position.expanded! / clean).toBeCloseTo(1, 1);
  });

  it.each(['datum', 'bestfit'] as const)('serves blade datums, pose %s', (pose) => {
    const asked = [by(seat, { screen: { ...screen, exclude: true } }), ...rest];
    const { stations, screened } = reduceSpoilt({ bladeDatums: asked, pose }, spoilBlade);
    expect(screened).toEqual([
      { station: 2, feature: 'D-FEATURE', point: 5, distance: expect.any(Number), excluded: true },
    ]);
    for (const value of Object.values(stations[1]!.error)) expect(Math.abs(value!)).toBeLessThan(1e-9);
  });

  it('finds nothing on clean points', () => {
    const noisy = (b: PointBlock): PointBlock => {
      const random = randomSource(b.xyz.length + (b.station ?? 0) * 31);
      return { ...b, xyz: b.xyz.map((x) => x + 1e-3 * random.normal()) };
    };
    const { screened } = reduceSpoilt(
      { hubDatums: [by(FACE, { screen: { ...screen, cutoff: 6 } }), BORE, SLOT] },
      noisy,
    );
    expect(screened).toEqual([]);
  });
});
