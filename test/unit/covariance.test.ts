/**
 * The analytic covariance of the six errors against central differences of the whole computation: every coordinate of
 * every point is moved in turn. Noise-free discs, so that second derivatives of the distances drop out.
 */
import { describe, expect, it } from 'vitest';
import type { Datum, DatumDefinition, UncertaintyDefinition } from '../../shared-math/definition.ts';
import { associateDatum } from '../../shared-math/frame/associate-datum.ts';
import { DISC_AXES } from '../../shared-math/frame/axis-names.ts';
import { datumInputs } from '../../shared-math/frame/datum-points.ts';
import { buildDatumFrame } from '../../shared-math/frame/datum-system.ts';
import { associatePattern } from '../../shared-math/frame/pattern-fit.ts';
import { relativeMotion } from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { poseByBestFit, poseByDatums } from '../../shared-math/pose/blade-pose.ts';
import {
  disturbBestFit,
  disturbDatumPose,
  disturbFrame,
  type FrameRecord,
  poolGroups,
  stationContributions,
  sumCovariance,
} from '../../shared-math/uncertainty/station-covariance.ts';
import { randomSource } from '../support/random.ts';
import {
  BORE,
  datum,
  FACE,
  featureBlocks,
  pattern,
  randomError,
  SEAT_DATUMS,
  SLOT,
} from '../support/synthetic-disc.ts';

const SIGMA = 0.001;
const STEP = 1e-4;
const STATED: UncertaintyDefinition = {
  probing: SIGMA,
  scale: 0,
  temperatureScale: 0,
  formCorrelation: 0,
  coverage: 0.95,
};
const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];

const FRAMES: readonly (readonly [string, readonly DatumDefinition[]])[] = [
  ['face, bore, slot', [FACE, BORE, SLOT]],
  ['bore, face, slot', [BORE, FACE, SLOT]],
  ['face, slot, bore', [FACE, SLOT, BORE]],
  [
    'face off the origin, bore, slot',
    [datum('A', 'plane', { point: [20, 30, 25], direction: Z }), BORE, SLOT],
  ],
  [
    'face, bore, mid-plane by location',
    [FACE, BORE, datum('C', 'midplane', { point: [60, 0, 5], direction: Y })],
  ],
  [
    'face, bore, plane by location',
    [FACE, BORE, datum('C', 'plane', { point: [60, 8, 5], direction: Y }, { clocking: 'location' })],
  ],
  [
    'face, circle, circle',
    [
      FACE,
      datum('B', 'circle', { point: [0, 0, -4], direction: Z, radius: 70 }),
      datum('C', 'circle', { point: [90, 20, -4], direction: Z, radius: 5 }),
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
  ['cone, slot', [datum('A', 'cone', { point: [0, 0, 4], direction: Z, radius: 60, halfAngle: 0.3 }), SLOT]],
  [
    'line, plane, point',
    [
      datum('A', 'line', { point: [10, 0, 0], direction: X }),
      datum('B', 'plane', { point: [0, 0, 4], direction: Z }),
      datum('C', 'point', { point: [33, 5, 1] }),
    ],
  ],
  [
    'oblique planes',
    [
      SEAT_DATUMS[0]!,
      datum('E', 'plane', { point: [0, 9, 6], direction: [0.1, 1, 0.2] }),
      datum('F', 'plane', { point: [30, 0, 6], direction: [1, 0.3, 0.4] }),
    ],
  ],
];

const COUNT = 8;

function blocksFor(datums: readonly Datum[], place: RigidMotion): PointBlock[] {
  const random = randomSource(9);
  return datums.flatMap((d) => [...featureBlocks(d, null, place, random, COUNT)]);
}

const pick = (blocks: readonly PointBlock[], d: Datum) =>
  d.features.map((f) => blocks.find((b) => b.feature === f)!);

/** Σ σ²·(∂e/∂x)(∂e/∂x)ᵀ by central differences over every coordinate. */
function numericCovariance(
  blocks: readonly PointBlock[],
  six: (blocks: readonly PointBlock[]) => number[],
): number[][] {
  const sum = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
  blocks.forEach((block, b) => {
    for (let i = 0; i < block.xyz.length; i++) {
      const moved = (by: number) =>
        blocks.map((other, k) =>
          k === b ? { ...other, xyz: other.xyz.map((x, j) => (j === i ? x + by : x)) } : other,
        );
      const [up, down] = [six(moved(STEP)), six(moved(-STEP))];
      const g = up.map((u, k) => (u - down[k]!) / (2 * STEP));
      for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) sum[r]![c]! += SIGMA ** 2 * g[r]! * g[c]!;
    }
  });
  return sum;
}

function expectSameCovariance(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): void {
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++) {
      const scale = Math.sqrt(b[i]![i]! * b[j]![j]!);
      expect(Math.abs(a[i]![j]! - b[i]![j]!) / scale, `entry ${i},${j}`).toBeLessThan(2e-5);
    }
}

const named = (error: RigidMotion): number[] => Object.values(sixErrors(error));

describe('covariance of a datum frame', () => {
  it.each(FRAMES)('agrees with central differences: %s', (_, datums) => {
    const random = randomSource(4);
    const error = randomError(random, 0.3, 2e-3);
    const blocks = blocksFor(datums, error);
    const pose = (from: readonly PointBlock[]) => poseByDatums(datums, (d) => pick(from, d));
    const built = pose(blocks);
    const record: FrameRecord = {
      datums,
      features: built.features,
      steps: built.steps,
      inputs: built.inputs,
      variances: built.inputs.map((i) => i.map(() => null)),
    };
    const disturbed = disturbDatumPose(record, built.error, [0, 0, 0], STATED);
    const none = { form: { turn: zero(), shift: zero(), centre: [0, 0, 0] as Vec3 }, groups: [] };
    const contributions = stationContributions(
      none,
      disturbed,
      built.error,
      error,
      poolGroups([disturbed]),
      STATED,
    )!;
    expectSameCovariance(
      sumCovariance(contributions),
      numericCovariance(blocks, (b) => named(pose(b).error)),
    );
  });
});

const zero = () => [new Float64Array(1), new Float64Array(1), new Float64Array(1)] as const;

describe('covariance of a best fit', () => {
  it.each([
    ['planes', SEAT_DATUMS],
    [
      'mixed features',
      [
        SEAT_DATUMS[0]!,
        datum('E', 'midplane', { point: [3, 0, 6], direction: Y }),
        datum('F', 'circle', { point: [5, 0, 30], direction: Y, radius: 6 }),
        datum('G', 'line', { point: [0, 0, 60], direction: X }),
        datum('H', 'sphere', { point: [-9, 0, 20], radius: 5 }),
        datum('I', 'cone', { point: [9, 0, 20], direction: Z, radius: 5, halfAngle: 0.2 }),
      ],
    ],
  ] as const)('agrees with central differences: %s', (_, datums) => {
    const random = randomSource(6);
    const error = randomError(random, 0.3, 2e-3);
    const blocks = blocksFor(datums, error);
    const pose = (from: readonly PointBlock[]) => poseByBestFit(datums, (d) => pick(from, d));
    const built = pose(blocks);
    const targets = datums.map((d, i) => ({ datum: d, nominal: d.nominal, inputs: built.inputs[i]! }));
    const disturbed = disturbBestFit(
      targets,
      built.inputs.map((i) => i.map(() => null)),
      built.fit!,
      built.error,
      [0, 0, 0],
      STATED,
    );
    const none = { form: { turn: zero(), shift: zero(), centre: [0, 0, 0] as Vec3 }, groups: [] };
    const contributions = stationContributions(
      none,
      disturbed,
      built.error,
      error,
      poolGroups([disturbed]),
      STATED,
    )!;
    expectSameCovariance(
      sumCovariance(contributions),
      numericCovariance(blocks, (b) => named(pose(b).error)),
    );
  });
});

const hole = (x: number, y: number, z: number, radius: number) =>
  datum('H', 'cylinder', { point: [x, y, z], direction: Z, radius });

const PATTERNS: readonly (readonly [string, readonly Datum[]])[] = [
  [
    'face and three holes',
    [FACE, pattern('P', [hole(95, 0, 0, 6), hole(-60, 70, 0, 6), hole(-40, -80, 0, 7)])],
  ],
  ['coaxial bores, face, slot', [pattern('P', [hole(0, 0, -20, 70), hole(0, 0, 30, 50)]), FACE, SLOT]],
];

describe('covariance from the hub', () => {
  it.each([...FRAMES.slice(0, 9), ...PATTERNS])(
    'agrees with central differences at a blade: %s',
    (_, datums) => {
      const random = randomSource(14);
      const machine = random.motion(200);
      const blade: RigidMotion = { rotation: random.rotation(), translation: [240, 30, 15] };
      const error = randomError(random, 0.3, 2e-3);
      const blocks = blocksFor(datums, machine);
      const frameOf = (from: readonly PointBlock[]) =>
        buildDatumFrame(
          datums,
          (d, o) => associateDatum(d, datumInputs(d, pick(from, d)), o),
          machine,
          DISC_AXES,
          (p, task) => associatePattern(p, datumInputs(p, pick(from, p)), task),
        );
      const built = frameOf(blocks);
      const inputs = datums.map((d) => datumInputs(d, pick(blocks, d)));
      const record: FrameRecord = {
        datums,
        features: built.features,
        steps: built.steps,
        inputs,
        variances: inputs.map((i) => i.map(() => null)),
      };
      const hub = disturbFrame(record, built.motion, built.motion.translation, STATED);
      const still = { form: [0, 1, 2, 3, 4, 5].map(() => new Float64Array(1)) as never, groups: [] };
      const inMachine = composeMotions(built.motion, blade);
      const contributions = stationContributions(hub, still, error, inMachine, new Map(), STATED)!;
      // The blade stands still in the machine: E = blade⁻¹·frame⁻¹·(fixed measured blade).
      const measured = composeMotions(inMachine, error);
      const six = (b: readonly PointBlock[]): number[] =>
        named(relativeMotion(composeMotions(frameOf(b).motion, blade), measured));
      expectSameCovariance(sumCovariance(contributions), numericCovariance(blocks, six));
    },
  );
});

function composeMotions(a: RigidMotion, b: RigidMotion): RigidMotion {
  const apply = (v: Vec3): Vec3 =>
    a.rotation.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]) as unknown as Vec3;
  const columns = [0, 1, 2].map((k) =>
    apply([b.rotation[0][k as 0], b.rotation[1][k as 0], b.rotation[2][k as 0]]),
  );
  const t = apply(b.translation);
  return {
    rotation: [0, 1, 2].map((r) => columns.map((c) => c[r]!)) as unknown as RigidMotion['rotation'],
    translation: [t[0] + a.translation[0], t[1] + a.translation[1], t[2] + a.translation[2]],
  };
}
