/** Runs of a station, posed one by one in the frame that all points gave. */
import { describe, expect, it } from 'vitest';
import { indexRepeatability } from '../../shared-math/diagnosis/repeatability.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { compose, inverse, rotationAboutLine } from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { type RepeatPose, repeatPoses } from '../../shared-math/stations/repeat-poses.ts';
import { randomSource } from '../support/random.ts';
import { DEGREE, discBlocks, discDefinition } from '../support/synthetic-disc.ts';

const definition = discDefinition({ stations: 4 });
const VISITS = [
  { run: 1, direction: 1 },
  { run: 1, direction: -1 },
  { run: 2, direction: 1 },
  { run: 2, direction: -1 },
] as const;

/** Index of each station in each visit, rad; the hub stays. */
const INDEX = [
  [5e-6, -2e-6, 9e-6, -4e-6],
  [0, 1e-6, 2e-6, 3e-6],
  [-7e-6, -7e-6, -7e-6, -7e-6],
  [1e-5, 0, -1e-5, 0],
];

function turned(station: number, angle: number): RigidMotion {
  const { angle: theta, seat } = definition.stations[station - 1]!;
  const nominal = nominalBladeFrame(theta, seat);
  return compose(inverse(nominal), compose(rotationAboutLine([0, 0, 0], [0, 0, 1], angle), nominal));
}

/** One block a feature, the visits of each station behind each other. */
function visitedBlocks(machine: RigidMotion): readonly PointBlock[] {
  const random = randomSource(21);
  const visits = VISITS.map((_, v) =>
    discBlocks(
      definition,
      INDEX.map((angles, k) => turned(k + 1, angles[v]!)),
      machine,
      random,
    ),
  );
  return visits[0]!.map((first, b): PointBlock => {
    if (first.station === null) return first;
    const each = first.xyz.length / 3;
    return {
      ...first,
      xyz: Float64Array.from(visits.flatMap((blocks) => [...blocks[b]!.xyz])),
      run: Uint32Array.from(VISITS.flatMap(({ run }) => new Array<number>(each).fill(run))),
      direction: Int8Array.from(VISITS.flatMap(({ direction }) => new Array<number>(each).fill(direction))),
    };
  });
}

const machine = {
  ...rotationAboutLine([0, 0, 0], [0.3, 0.5, 0.8], 20 * DEGREE),
  translation: [300, -40, 90],
} as const;
const blocks = visitedBlocks(machine);
const reduction = reduce({ blocks, definition, gaps: [] });
const poses = repeatPoses(blocks, definition, reduction.frame)!;

describe('poses of the runs', () => {
  it('are found one by one, in the order of stations, runs and directions', () => {
    expect(poses.map(({ station, run, direction }) => [station, run, direction])).toEqual(
      [1, 2, 3, 4].flatMap((station) => VISITS.map(({ run, direction }) => [station, run, direction])),
    );
    poses.forEach(({ station, error }, k) => {
      const truth = Object.values(sixErrors(turned(station, INDEX[station - 1]![k % 4]!)));
      error.forEach((e, i) => {
        expect(Math.abs(e - truth[i]!)).toBeLessThan(i < 3 ? 1e-9 : 1e-11);
      });
    });
  });

  it('give the repeatability of the index', () => {
    const deviations = INDEX.map((angles, k) => ({
      station: k + 1,
      deviation: angles.reduce((sum, x) => sum + x, 0) / 4,
    }));
    const found = indexRepeatability(poses, deviations, definition)!;
    found.targets.forEach(({ meanUp, meanDown, standardUp, standardDown }, k) => {
      const [u1, d1, u2, d2] = INDEX[k] as [number, number, number, number];
      const pairs = [
        [meanUp, (u1 + u2) / 2],
        [meanDown, (d1 + d2) / 2],
        [standardUp, Math.abs(u1 - u2) / Math.SQRT2],
        [standardDown, Math.abs(d1 - d2) / Math.SQRT2],
      ] as const;
      // The arc is straight to second order only: 1e-5² of it.
      for (const [ours, truth] of pairs) expect(Math.abs(ours! - truth)).toBeLessThan(1e-10);
    });
    expect(found.runs).toBe(2);
    // Station 1: up 7, down −3 µrad.
    expect(found.reversal).toBeCloseTo(1e-5, 9);
  });

  it('do not exist where no station is visited twice', () => {
    const plain = blocks.map(({ run: _, direction: __, ...block }) => block);
    expect(repeatPoses(plain, definition, reduction.frame)).toBeNull();
    const once = blocks.map((block) =>
      block.run ? { ...block, run: block.run.map(() => 3), direction: null } : block,
    );
    expect(repeatPoses(once, definition, reduction.frame)).toBeNull();
  });

  it('leave a run out whose points do not determine the blade', () => {
    const [feature] = definition.bladeDatums[0]!.features;
    const short = blocks.map((block) => {
      if (block.station !== 2 || block.feature !== feature) return block;
      // All of run 2 upwards but one point counts as taken downwards.
      let kept = 0;
      const direction = block.direction!.map((d, i) =>
        block.run![i] === 2 && d === 1 && kept++ > 0 ? -1 : d,
      );
      return { ...block, direction };
    });
    const found = repeatPoses(short, definition, reduction.frame)!;
    const of = (list: readonly RepeatPose[]) => list.filter(({ station }) => station === 2);
    expect(of(found).map(({ run, direction }) => [run, direction])).toEqual([
      [1, 1],
      [1, -1],
      [2, -1],
    ]);
    expect(found).toHaveLength(15);
  });

  it('leave the reduction as it is without runs', () => {
    const plain = blocks.map(({ run: _, direction: __, ...block }) => block);
    expect(reduce({ blocks: plain, definition, gaps: [] })).toEqual(reduction);
  });
});
