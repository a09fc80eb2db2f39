/**
 * How a feature by another criterion than least squares answers to small disturbances of its points.
 *
 * Minimum zone, inscribed and circumscribed features: see extremal-sensitivity.ts, also for what is not followed. A circle
 * lies in its least-squares plane. The outer Gaussian plane keeps the direction of the least-squares plane and passes
 * through its one contact; round outer Gaussian features move in nothing but their size.
 */
import type { CriterionFeature } from '../association/criteria/index.ts';
import type { AssociationInput, Orientation } from '../association/types.ts';
import type { Vec3 } from '../geometry/types.ts';
import { combine, cross, dot, norm, scale, subtract } from '../geometry/vector.ts';
import { extremalSensitivity } from './extremal-sensitivity.ts';
import { type FeatureSensitivity, featureSensitivity, parametersOf } from './feature-sensitivity.ts';

const NO: Vec3 = [0, 0, 0];

/**
 * @param feature as associated by a criterion, in the coordinates of the input (mm).
 * @param input all points of the feature; orientation: what was held when it was associated.
 * @param variances of each point, relative to the variance sought; null: all 1.
 * @returns the same shape as `featureSensitivity`.
 */
export function contactSensitivity(
  feature: CriterionFeature,
  input: AssociationInput,
  orientation: Orientation,
  variances: Float64Array | null = null,
): FeatureSensitivity {
  const leastSquares = () => featureSensitivity(feature, [input], orientation, [variances]);
  if (feature.criterion === 'gaussian-outer')
    return feature.type === 'plane' ? outerPlane(feature, input, orientation, variances) : leastSquares();
  if (feature.type !== 'circle')
    return extremalSensitivity(feature, parametersOf(feature, orientation), input, variances);
  return inItsPlane(feature, leastSquares(), input, variances);
}

/**
 * A circle: tilts and axial place of its plane by least squares, centre and radius by the contacts, as seen along the
 * plane's normal. In-plane and axial disturbances of a point are independent.
 */
function inItsPlane(
  feature: CriterionFeature,
  plane: FeatureSensitivity,
  input: AssociationInput,
  variances: Float64Array | null,
): FeatureSensitivity {
  const direction = feature.direction!;
  const within = extremalSensitivity(
    feature,
    parametersOf({ ...feature, type: 'cylinder' }, { kind: 'fixed', direction }),
    input,
    variances,
  );
  const tilts = plane.turns.flatMap((turn, k) => (norm(turn) > 0 ? [k] : []));
  // The axial place is the part along the normal of the three shifts.
  const shifts = plane.shifts.flatMap((shift, k) => (norm(shift) > 0 ? [k] : []));
  const pick = [
    ...tilts.map((k) => new Map([[k, 1]])),
    new Map(shifts.map((k) => [k, dot(plane.shifts[k]!, direction)])),
  ];
  const outOfPlane = pick.map((row) => pick.map((column) => bilinear(plane.covariance, row, column)));
  const outResponse = pick.map((row) =>
    [...row].reduce<Vec3>((sum, [k, x]) => combine(1, sum, x, plane.response[k]!), NO),
  );
  // In the plane the centre follows the own tilts as it follows a held turn.
  const follow = within.response.map((r) => tilts.map((k) => dot(r, plane.turns[k]!)));
  const m = pick.length;
  const w = within.turns.length;
  const crossTerm = (i: number, j: number): number =>
    follow[i]!.reduce((sum, f, t) => sum + f * outOfPlane[t]![j]!, 0);
  const covariance = Array.from({ length: m + w }, (_, a) =>
    Array.from({ length: m + w }, (__, b) => {
      if (a < m && b < m) return outOfPlane[a]![b]!;
      if (a < m) return crossTerm(b - m, a);
      if (b < m) return crossTerm(a - m, b);
      const shared = follow[b - m]!.reduce((sum, f, t) => sum + f * crossTerm(a - m, t), 0);
      return within.covariance[a - m]![b - m]! + shared;
    }),
  );
  return {
    turns: [...tilts.map((k) => plane.turns[k]!), NO, ...within.turns],
    shifts: [...tilts.map(() => NO), direction, ...within.shifts],
    response: [
      ...outResponse,
      ...within.response.map((r, i) =>
        follow[i]!.reduce<Vec3>((sum, f, t) => combine(1, sum, f, outResponse[t]!), r),
      ),
    ],
    covariance,
  };
}

function bilinear(
  c: readonly (readonly number[])[],
  a: ReadonlyMap<number, number>,
  b: ReadonlyMap<number, number>,
): number {
  let sum = 0;
  for (const [i, x] of a) for (const [j, y] of b) sum += x * c[i]![j]! * y;
  return sum;
}

/** The least-squares direction with the offset of the one contact: offset = ε − ω·(lever × n). */
function outerPlane(
  feature: CriterionFeature,
  input: AssociationInput,
  orientation: Orientation,
  variances: Float64Array | null,
): FeatureSensitivity {
  const fit = featureSensitivity(feature, [input], orientation, [variances]);
  const cofactor = featureSensitivity(feature, [input], orientation).covariance;
  const normal = feature.direction!;
  const i = feature.certificate.contacts[0]!;
  const lever = subtract([input.xyz[3 * i]!, input.xyz[3 * i + 1]!, input.xyz[3 * i + 2]!], feature.point);
  const arm = cross(lever, normal);
  const variance = variances?.[i] ?? 1;
  const weight = input.weights?.[i] ?? 1;
  const tilts = fit.turns.flatMap((turn, k) => (norm(turn) > 0 ? [k] : []));
  const arms = tilts.map((k) => dot(arm, fit.turns[k]!));
  // The contact is one of the points of the least-squares fit: β = −C·JᵀW·ε.
  const derivative = (k: number): number => -dot(normal, fit.shifts[k]!) - dot(arm, fit.turns[k]!);
  const withContact = tilts.map(
    (t) => -weight * variance * cofactor[t]!.reduce((sum, c, k) => sum + c * derivative(k), 0),
  );
  const turned = tilts.map((t) => tilts.map((s) => fit.covariance[t]![s]!));
  const withOffset = tilts.map(
    (_, t) => withContact[t]! - arms.reduce((sum, a, s) => sum + a * turned[t]![s]!, 0),
  );
  const offset = variance - arms.reduce((sum, a, t) => sum + a * (withContact[t]! + withOffset[t]!), 0);
  return {
    turns: [...tilts.map((k) => fit.turns[k]!), NO],
    shifts: [...tilts.map(() => NO), normal],
    response: [
      ...tilts.map((k) => fit.response[k]!),
      tilts.reduce<Vec3>((sum, k, t) => combine(1, sum, -arms[t]!, fit.response[k]!), scale(arm, -1)),
    ],
    covariance: [...turned.map((row, t) => [...row, withOffset[t]!]), [...withOffset, offset]],
  };
}
