/** The covariance of a pose by datums, analytic and by central differences of the whole computation. */
import type { Datum, UncertaintyDefinition } from '../../shared-math/definition.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { type BladePose, poseByDatums } from '../../shared-math/pose/blade-pose.ts';
import { statedVariances } from '../../shared-math/uncertainty/feature-noise.ts';
import {
  disturbDatumPose,
  poolGroups,
  stationContributions,
  sumCovariance,
} from '../../shared-math/uncertainty/station-covariance.ts';

/** Standard uncertainty of a point without its own, mm. */
const SIGMA = 0.001;

const STATED: UncertaintyDefinition = {
  probing: SIGMA,
  scale: 0,
  temperatureScale: 0,
  formCorrelation: 0,
  coverage: 0.95,
};

type Matrix = readonly (readonly number[])[];

export const sixOf = (error: RigidMotion): number[] => Object.values(sixErrors(error));

/** The blocks of a datum among those of a blade or hub. */
export const blocksOf =
  (blocks: readonly PointBlock[]) =>
  (d: Pick<Datum, 'features'>): readonly PointBlock[] =>
    d.features.map((f) => blocks.find((b) => b.feature === f)!);

export const poseOf = (datums: readonly Datum[], blocks: readonly PointBlock[]): BladePose =>
  poseByDatums(datums, blocksOf(blocks));

function disturbed(datums: readonly Datum[], blocks: readonly PointBlock[]) {
  const { features, steps, inputs, error } = poseOf(datums, blocks);
  const variances = datums.map((d) => statedVariances(blocksOf(blocks)(d), STATED));
  const record = { datums, features, steps, inputs, variances };
  return { error, own: disturbDatumPose(record, error, [0, 0, 0], STATED) };
}

/** Analytic derivatives of the six errors by a relative scale of all points about the origin. */
export function scaleDerivatives(datums: readonly Datum[], blocks: readonly PointBlock[]): number[] {
  return disturbed(datums, blocks).own.form.map((row) => row[0]!);
}

/** The same by central differences of the whole computation. */
export function numericScaleDerivatives(
  datums: readonly Datum[],
  blocks: readonly PointBlock[],
  step: number,
): number[] {
  const six = (by: number): number[] =>
    sixOf(
      poseOf(
        datums,
        blocks.map((b) => ({ ...b, xyz: b.xyz.map((x) => x * (1 + by)) })),
      ).error,
    );
  const [up, down] = [six(step), six(-step)];
  return up.map((u, k) => (u - down[k]!) / (2 * step));
}

/** Analytic covariance of the six errors for points of the stated uncertainty (what residuals add is left out). */
export function poseCovariance(datums: readonly Datum[], blocks: readonly PointBlock[]): Matrix {
  const { error, own } = disturbed(datums, blocks);
  const zero = () => [new Float64Array(1), new Float64Array(1), new Float64Array(1)] as const;
  const none = { form: { turn: zero(), shift: zero(), centre: [0, 0, 0] as Vec3 }, groups: [] };
  const pooled = poolGroups([own]);
  const contributions = stationContributions(none, own, error, error, pooled, STATED)!;
  return sumCovariance(contributions, (source) => source === 'probing');
}

/** Σ σ²·(∂e/∂x)(∂e/∂x)ᵀ by central differences over every coordinate of every point. */
export function numericCovariance(
  datums: readonly Datum[],
  blocks: readonly PointBlock[],
  step: number,
): Matrix {
  const sum = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
  blocks.forEach((block, b) => {
    for (let i = 0; i < block.xyz.length; i++) {
      const six = (by: number): number[] => {
        const xyz = block.xyz.map((x, j) => (j === i ? x + by : x));
        return sixOf(
          poseOf(
            datums,
            blocks.map((other, k) => (k === b ? { ...block, xyz } : other)),
          ).error,
        );
      };
      const [up, down] = [six(step), six(-step)];
      const sigma = block.sigma?.[Math.floor(i / 3)] ?? SIGMA;
      const g = up.map((u, k) => (sigma * (u - down[k]!)) / (2 * step));
      for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) sum[r]![c]! += g[r]! * g[c]!;
    }
  });
  return sum;
}

/** Largest difference of two covariances, relative to the standard deviations of the second. */
export function relativeDifference(a: Matrix, b: Matrix): number {
  return Math.max(
    ...a.flatMap((row, i) => row.map((x, j) => Math.abs(x - b[i]![j]!) / Math.sqrt(b[i]![i]! * b[j]![j]!))),
  );
}
