/** Directions worth trying for the axis of a cylinder or cone. */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, normalize, rejectFrom } from '../geometry/vector.ts';
import { backSubstitute } from './algebraic.ts';
import { type Cloud, forEachScaled, type PrincipalAxes } from './cloud.ts';
import { allowedNear, azimuthFan, type DirectionFreedom } from './direction.ts';
import { spectrumOf, TriangularFactor } from './triangular-factor.ts';

/** Directions on the hemisphere: neighbours about 14° apart. */
const FAN = 96;
/** Directions around the mean surface normal. */
const SLANTED = 48;
/** Azimuths about a given axis. */
const AZIMUTHS = 72;

/** Directions worth trying, the most telling first. */
export function candidateDirections(
  sample: Cloud,
  axes: PrincipalAxes,
  freedom: DirectionFreedom,
  halfAngle: number | null,
): Vec3[] {
  if (freedom.size === 1) {
    const special = [...axes.axes, ...quadricAxes(sample), ...patchAxes(sample, axes, halfAngle ?? 0)];
    const near = special.map((d) => allowedNear(freedom, d)).filter((d) => d !== null);
    return [...azimuthFan(freedom, AZIMUTHS), ...near.filter((d) => dot(d, freedom.start!) >= 0)];
  }
  const fan = hemisphereFan(FAN);
  const stretched = fan.map(([x, y, z]) =>
    normalize(
      addScaled(
        addScaled(addScaled([0, 0, 0], axes.axes[0], x * axes.spreads[0]), axes.axes[1], y * axes.spreads[1]),
        axes.axes[2],
        z * axes.spreads[2],
      ),
    ),
  );
  const slope = halfAngle ?? 0;
  return [
    ...axes.axes,
    ...quadricAxes(sample),
    ...patchAxes(sample, axes, slope),
    ...slantedFan(axes, slope),
    ...fan,
    ...stretched,
  ];
}

/** Evenly spread unit vectors with z > 0 (golden-angle spiral of equal areas). */
function hemisphereFan(count: number): Vec3[] {
  const turnAngle = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, k) => {
    const z = (k + 0.5) / count;
    const across = Math.sqrt(1 - z * z);
    return [across * Math.cos(k * turnAngle), across * Math.sin(k * turnAngle), z] as const;
  });
}

/**
 * Axes from the curvature of a short arc: the height of the points over their mean plane is fitted by a quadratic; a
 * generator runs where it does not curve, and the axis leaves the generator by the half angle. Empty with fewer
 * than the six points a quadratic needs.
 */
function patchAxes(cloud: Cloud, { axes }: PrincipalAxes, halfAngle: number): Vec3[] {
  if (cloud.points < 6) return [];
  const [first, second, normal] = axes;
  const rows = new TriangularFactor(7);
  forEachScaled(cloud, (x, y, z, w) => {
    const p: Vec3 = [x, y, z];
    const a = dot(p, first);
    const b = dot(p, second);
    rows.row.set([w, w * a, w * b, w * a * a, 2 * w * a * b, w * b * b, w * dot(p, normal)]);
    rows.push();
  });
  const [, slopeA, slopeB, aa, ab, bb] = backSubstitute(rows.finish()) as unknown as number[];
  const azimuth = 0.5 * Math.atan2(2 * ab!, aa! - bb!);
  return [azimuth, azimuth + Math.PI / 2].flatMap((angle) => {
    const [ca, cb] = [Math.cos(angle), Math.sin(angle)];
    const flat = addScaled(addScaled([0, 0, 0], first, ca), second, cb);
    const generator = normalize(addScaled(flat, normal, slopeA! * ca + slopeB! * cb));
    const outward = normalize(rejectFrom(normal, generator));
    return [halfAngle, -halfAngle].map((tilt) =>
      addScaled(addScaled([0, 0, 0], generator, Math.cos(tilt)), outward, Math.sin(tilt)),
    );
  });
}

/** Axes of surfaces whose slope is the stated one where the points are: a short arc is nearly flat there. */
function slantedFan({ axes }: PrincipalAxes, halfAngle: number): Vec3[] {
  const [first, second, normal] = axes;
  return Array.from({ length: SLANTED }, (_, k) => {
    const azimuth = (2 * Math.PI * k) / SLANTED;
    const flat = addScaled(addScaled([0, 0, 0], first, Math.cos(azimuth)), second, Math.sin(azimuth));
    return addScaled(addScaled([0, 0, 0], normal, Math.sin(halfAngle)), flat, Math.cos(halfAngle));
  });
}

/**
 * Principal axes of the general quadric nearest to the points (algebraically); one of them is the axis of a cylinder
 * or cone. Empty with fewer than the nine points a quadric needs.
 */
function quadricAxes(cloud: Cloud): Vec3[] {
  if (cloud.points < 9) return [];
  const rows = new TriangularFactor(10);
  forEachScaled(cloud, (x, y, z, w) => {
    rows.row.set(
      [x * x, y * y, z * z, 2 * x * y, 2 * x * z, 2 * y * z, x, y, z, 1].map((value) => w * value),
    );
    rows.push();
  });
  const { rightVectors } = spectrumOf(rows.finish().leading(10));
  const [xx, yy, zz, xy, xz, yz] = rightVectors[9] as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const quadric = new Matrix([
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ]);
  const { eigenvectorMatrix } = new EigenvalueDecomposition(quadric, { assumeSymmetric: true });
  return [0, 1, 2].map((k) => normalize(eigenvectorMatrix.getColumn(k) as unknown as Vec3));
}
