/**
 * Mid-plane of two opposed faces: one common normal and two free offsets, fitted jointly by orthogonal least squares;
 * the mid-plane lies at the mean of the offsets. Each face is centred on its own centroid, which takes its offset out;
 * the common normal is then the direction of least spread of both together, as for the plane.
 */

import { ReductionError } from '../errors.ts';
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, subtract } from '../geometry/vector.ts';
import { type Cloud, cloudOf, principalAxes } from './cloud.ts';
import { freedomOf, tangentBasis, tiltsOf } from './direction.ts';
import { normalOf, tiltRows } from './plane.ts';
import { type ResidualSummary, residualDistances, summarizeResiduals } from './residuals.ts';
import { cofactorOf, substitute } from './substitute.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

export interface MidplaneFeature extends SubstituteFeature {
  /** The first face lies at +faceOffset along the direction, the second at −faceOffset (mm; either sign). */
  readonly faceOffset: number;
}

/**
 * Fits a mid-plane to two faces.
 *
 * Offsets of the input (tip radii) are signed along +direction, face by face. Parameters of `cofactor`: `offset` of the
 * mid-plane along the direction at the returned point (mm), `tilt1`, `tilt2` (rad) or `azimuth` about the given
 * axis (rad), and `faceOffset` (mm).
 * @param faceA at least 1 point
 * @param faceB at least 1 point; both together enough for the normal: 4, 3 about an axis, 2 fixed
 * @returns point: the common centroid carried onto the mid-plane; direction: common normal; the residual summary is
 * that of both faces, each from its own plane
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points`, `invalid-argument`
 */
export function associateMidplane(
  faceA: AssociationInput,
  faceB: AssociationInput,
  orientation: Orientation,
): MidplaneFeature {
  const freedom = freedomOf(orientation);
  const a = cloudOf(faceA, 1, 'face');
  const b = cloudOf(faceB, 1, 'face');
  const points = a.points + b.points;
  if (points < 2 + freedom.size) {
    throw ReductionError.of('too-few-points', {
      code: 'too-few-on-faces',
      values: { needed: 2 + freedom.size, found: points },
    });
  }
  const cloud = joined(a, b);
  const axes = principalAxes({ ...a, size: cloud.size }, b);
  const normal = normalOf(cloud, axes, freedom, 'normal');
  const { direction } = normal;

  const offsetA = dot(subtract(a.centroid, cloud.centroid), direction) - a.meanOffset;
  const offsetB = dot(subtract(b.centroid, cloud.centroid), direction) - b.meanOffset;
  const faceOffset = (offsetA - offsetB) / 2;
  const point = addScaled(cloud.centroid, direction, (offsetA + offsetB) / 2);

  const tilts = tiltsOf(freedom, direction);
  const [e1, e2] = tangentBasis(direction);
  const faceRow = (face: Cloud, side: 1 | -1): number[] => {
    const root = Math.sqrt(face.totalWeight);
    const lever = subtract(face.centroid, point);
    const turned = tilts.map(([t1, t2]) => (root * (t1 * dot(lever, e1) + t2 * dot(lever, e2))) / cloud.size);
    return [-root, ...turned, -side * root];
  };
  const fit = cofactorOf(
    [faceRow(a, 1), faceRow(b, -1), ...tiltRows(axes, freedom, direction).map((row) => [0, ...row, 0])],
    [1, ...freedom.names.map(() => 1 / cloud.size), 1],
  );
  const surface = { type: 'midplane', point, direction, radius: null, halfAngle: null } as const;
  const feature = substitute(
    surface,
    faceA,
    { ...normal, ...fit, parameters: ['offset', ...freedom.names, 'faceOffset'] },
    1,
    summaryOf(point, direction, faceOffset, faceA, faceB),
    points,
  );
  return { ...feature, faceOffset };
}

/** Signed distances (mm) along +direction of the points of each face from its own plane, offsets taken off. */
export function midplaneResiduals(
  feature: Pick<MidplaneFeature, 'point' | 'direction' | 'faceOffset'>,
  faceA: AssociationInput,
  faceB: AssociationInput,
): { readonly faceA: Float64Array; readonly faceB: Float64Array } {
  const [planeA, planeB] = facesOf(feature.point, feature.direction!, feature.faceOffset);
  return { faceA: residualDistances(planeA, faceA), faceB: residualDistances(planeB, faceB) };
}

function facesOf(point: Vec3, direction: Vec3, faceOffset: number) {
  const plane = (offset: number) =>
    ({
      type: 'plane',
      point: addScaled(point, direction, offset),
      direction,
      radius: null,
      halfAngle: null,
    }) as const;
  return [plane(faceOffset), plane(-faceOffset)] as const;
}

function summaryOf(
  point: Vec3,
  direction: Vec3,
  faceOffset: number,
  faceA: AssociationInput,
  faceB: AssociationInput,
): ResidualSummary {
  const [planeA, planeB] = facesOf(point, direction, faceOffset);
  const a = summarizeResiduals(planeA, faceA);
  const b = summarizeResiduals(planeB, faceB);
  const [nA, nB] = [faceA.xyz.length / 3, faceB.xyz.length / 3];
  return {
    sumOfSquares: a.sumOfSquares + b.sumOfSquares,
    rms: Math.sqrt((nA * a.rms ** 2 + nB * b.rms ** 2) / (nA + nB)),
    // The worse face: the two planes are apart, so their extremes do not add up to a form.
    form: Math.max(a.form, b.form),
  };
}

/** Centroid, weight and size of both faces together; the points themselves stay where they are. */
function joined(a: Cloud, b: Cloud): Cloud {
  const totalWeight = a.totalWeight + b.totalWeight;
  const centroid = addScaled(a.centroid, subtract(b.centroid, a.centroid), b.totalWeight / totalWeight);
  return { ...a, centroid, totalWeight, size: Math.max(a.size, b.size), reach: Math.max(a.reach, b.reach) };
}
