import { describe, expect, it } from 'vitest';
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { moveBlock } from '../../shared-math/pose/blade-pose.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { randomSource } from '../support/random.ts';
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
} from '../support/synthetic-disc.ts';

const random = randomSource(3);

function make(options: DiscOptions): {
  definition: PartDefinition;
  blocks: readonly PointBlock[];
  errors: readonly RigidMotion[];
} {
  const definition = discDefinition(options);
  const errors = definition.stations.map(() => randomError(random));
  return { definition, errors, blocks: discBlocks(definition, errors, random.motion(400), random) };
}

const run = (blocks: readonly PointBlock[], definition: PartDefinition) =>
  reduce({ blocks, definition, gaps: [] });

const onlyStations = (blocks: readonly PointBlock[], keep: readonly number[]): readonly PointBlock[] =>
  blocks.filter((b) => b.station === null || keep.includes(b.station));

const renumber = (blocks: readonly PointBlock[], to: (station: number) => number): readonly PointBlock[] =>
  blocks.map((b) => (b.station === null ? b : { ...b, station: to(b.station) }));

describe('rough alignment', () => {
  it('refuses a plan with the wrong sense and says which fits', () => {
    const { blocks } = make({ sense: 'clockwise' });
    expect(() => run(blocks, discDefinition())).toThrow(
      expect.objectContaining({
        failure: 'alignment',
        remedy: expect.stringMatching(/"sense": "clockwise" fits/),
      }),
    );
  });

  it('refuses explicit angles counted the other way round', () => {
    const angles = [0, 0.31, 0.66, 1.5, 2.2, 2.9, 3.3, 4.4, 5.0, 5.9];
    const { blocks } = make({ angles: angles.map((a) => -a) });
    expect(() => run(blocks, discDefinition({ angles }))).toThrow(
      expect.objectContaining({ remedy: expect.stringMatching(/angles the other way round fits/) }),
    );
  });

  it('refuses a first angle that is off by one pitch and says which fits', () => {
    const { blocks } = make({ firstAngle: 20 * DEGREE });
    expect(() => run(blocks, discDefinition())).toThrow(
      expect.objectContaining({ remedy: expect.stringMatching(/first station at 20\.0\d° would fit/) }),
    );
  });

  it.each([
    ['two neighbours swapped', (k: number) => (k === 4 ? 5 : k === 5 ? 4 : k), /stations 4, 5 lie/],
    ['every number scrambled', (k: number) => (7 * k) % 19 || 18, /stations .* lie/],
  ] as const)('refuses station numbers that do not fit: %s', (_, to, words) => {
    const { blocks, definition } = make({});
    expect(() => run(renumber(blocks, to), definition)).toThrow(words);
  });

  it('recognises inches read as millimetres', () => {
    const { blocks, definition } = make({});
    const small = blocks.map((b) => ({ ...b, xyz: b.xyz.map((x) => x / 25.4) }));
    expect(() => run(small, definition)).toThrow(
      expect.objectContaining({ remedy: expect.stringMatching(/inches read as millimetres/) }),
    );
  });

  it.each([[[1]], [[3, 12]], [[5, 6]], [[2, 7, 11]], [[1, 10]]])(
    'places a disc with only stations %j measured',
    (keep) => {
      const { blocks, definition, errors } = make({});
      const { stations, summary } = run(onlyStations(blocks, keep), definition);
      expect(stations.map((s) => s.station)).toEqual(keep);
      expect(summary.missing).toHaveLength(18 - keep.length);
      for (const s of stations) {
        const [oscillation, lateral, upset] = errors[s.station - 1]!.translation;
        expect(s.error.oscillation).toBeCloseTo(oscillation, 9);
        expect(s.error.lateral).toBeCloseTo(lateral, 9);
        expect(s.error.upset).toBeCloseTo(upset, 9);
      }
    },
  );

  it('refuses two opposite stations that fit in two positions of a symmetric disc', () => {
    // Seen from below, turned about the line through stations 1 and 3, the same points fit the plan again.
    const symmetric: DiscOptions = {
      stations: 4,
      seat: { ...SEAT, axial: 0, heightAngle: 0, staggerAngle: 0 },
      hubDatums: [FACE, BORE, datum('C', 'plane', { point: [0, 0, 0], direction: [0, 1, 0] })],
      bladeDatums: [
        datum('D', 'plane', { point: [0, 0, 12], direction: [0, 0, 1] }),
        datum('E', 'plane', { point: [0, 0, 6], direction: [0, 1, 0] }),
        datum('F', 'plane', { point: [0, 0, 6], direction: [1, 0, 0] }),
      ],
    };
    const { blocks, definition } = make(symmetric);
    expect(() => run(onlyStations(blocks, [1, 3]), definition)).toThrow(/about equally well/);
    expect(run(blocks, definition).stations).toHaveLength(4);
  });

  it('accepts patches that lie far from their nominal points', () => {
    const { blocks, errors } = make({});
    const shifted = discDefinition({
      bladeDatums: discDefinition().bladeDatums.map((d): typeof d => {
        const slide: Vec3 = d.label === 'D' ? [9, -7, 0] : d.label === 'E' ? [-12, 0, 5] : [0, 6, -9];
        const p = d.nominal.point;
        return {
          ...d,
          nominal: { ...d.nominal, point: [p[0] + slide[0], p[1] + slide[1], p[2] + slide[2]] },
        };
      }),
    });
    run(blocks, shifted).stations.forEach((s, i) => {
      expect(s.error.upset).toBeCloseTo(errors[i]!.translation[2], 9);
      expect(s.error.lateral).toBeCloseTo(errors[i]!.translation[1], 9);
    });
  });

  it.each([[3], [300], [1e5]])(
    'lets a wild point %d mm off pass to the fit, and names its feature',
    (off) => {
      const { blocks, definition, errors } = make({});
      const wild = blocks.map((b) =>
        b.station === 6 && b.feature === 'E-FEATURE'
          ? { ...b, xyz: b.xyz.map((x, i) => (i === 4 ? x + off : x)) }
          : b,
      );
      const { stations, warnings } = run(wild, definition);
      expect(stations).toHaveLength(18);
      expect(stations[0]!.error.upset).toBeCloseTo(errors[0]!.translation[2], 9);
      expect(warnings).toEqual([expect.stringMatching(/^Station 6: .* lie point 2 \(.* mm\) of E-FEATURE/)]);
    },
  );

  it('does not depend on where the machine has its origin', () => {
    const { blocks, definition, errors } = make({});
    const far = blocks.map((b) =>
      moveBlock(b, {
        rotation: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        translation: [1e4, -1e4, 1e4],
      }),
    );
    run(far, definition).stations.forEach((s, i) => {
      expect(Math.abs(s.error.upset! - errors[i]!.translation[2])).toBeLessThan(1e-8);
    });
  });
});
