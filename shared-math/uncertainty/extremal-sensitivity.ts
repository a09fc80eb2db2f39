/**
 * How a feature that hangs on a few contact points answers to their disturbances.
 *
 * A minimum zone, inscribed or circumscribed feature minimises t under F_j = s_j·(distance_j − size) − t ≤ 0. At its
 * optimum the contacts obey F_j = 0 and Σ λ_j ∇F_j = −∇t. Disturbing both by small motions of the contacts gives the
 * linear system
 *   [H Aᵀ; A 0]·(β, δλ) = −(mixed derivatives, s_j·ε_j),
 * A the rows ∇F_j, H = Σ λ_j ∇²F_j. With as many contacts as parameters this is β = −A⁻¹·s·ε; with fewer (two points that
 * span a circle) the curvature of the distances decides the rest.
 *
 * Changes of the contact set are not followed. Where form is well above the measuring noise the contacts stay, and the
 * result is right. Where many points nearly touch, noise chooses among them: of 30 points of a perfect feature, 400
 * simulated times, the scatter of minimum zone, inscribed and circumscribed axes and planes was 0.4 to 0.55 of what is
 * stated (which errs on the safe side), but the offset of the outer plane was pushed outwards by 2 σ of a point, twice what is stated.
 *
 * Sources: Fiacco, Introduction to Sensitivity and Stability Analysis in Nonlinear Programming (1983), ch. 3 (value from
 * memory); JCGM 102:2011, 6.3.
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { distanceRows } from '../alignment/nominal-distance.ts';
import type { CriterionFeature } from '../association/criteria/index.ts';
import { residualDistances } from '../association/residuals.ts';
import type { AssociationInput } from '../association/types.ts';
import type { Vec3 } from '../geometry/types.ts';
import { add, combine, cross, dot, norm, rejectFrom, scale, subtract } from '../geometry/vector.ts';
import type { FeatureSensitivity, Parameter } from './feature-sensitivity.ts';

/** Singular values of the scaled system below this fraction of the largest belong to motions that nothing determines. */
const UNDETERMINED = 1e-10;

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const NO: Vec3 = [0, 0, 0];

/** One contact: where it lies and how its distance changes. */
interface Contact {
  readonly sign: 1 | -1;
  readonly multiplier: number;
  readonly deviation: number;
  /** From the reported point, in units of the size of the feature. */
  readonly lever: Vec3;
  readonly normal: Vec3;
  /** Second derivative of the distance by the point, applied to a vector; scaled units. */
  readonly bend: (v: Vec3) => Vec3;
}

/** A small motion of the feature in scaled units. */
interface Twist {
  readonly turn: Vec3;
  readonly shift: Vec3;
}

/** @param parameters what the criterion sought; a circle's are those within its plane. */
export function extremalSensitivity(
  feature: CriterionFeature,
  parameters: readonly Parameter[],
  input: AssociationInput,
  variances: Float64Array | null,
): FeatureSensitivity {
  const { size, contacts } = contactsOf(feature, input, variances);
  const zone = feature.criterion === 'minimax' ? 1 : 0;
  const p = parameters.length;
  const n = p + zone;
  const order = n + contacts.length;
  const still = { turn: NO, shift: NO };
  const twists = parameters.map((q): Twist => (q.size === 'none' ? q : still));

  const system = Matrix.zeros(order, order);
  for (let a = 0; a < p; a++)
    for (let b = 0; b < p; b++) system.set(a, b, curvature(contacts, twists[a]!, twists[b]!));
  contacts.forEach((contact, j) => {
    const row = [
      ...parameters.map((q, k) =>
        q.size === 'radius' ? -contact.sign : contact.sign * slope(contact, twists[k]!),
      ),
      ...(zone === 1 ? [-1] : []),
    ];
    row.forEach((value, k) => {
      system.set(n + j, k, value);
      system.set(k, n + j, value);
    });
  });
  const inverse = pseudoInverse(system);
  /** First p unknowns for a right side. */
  const solve = (right: readonly number[]): number[] =>
    parameters.map((_, k) => right.reduce((sum, x, i) => sum + inverse.get(k, i) * x, 0));

  const columns = contacts.flatMap((contact, j) =>
    AXES.map((axis) => {
      const right = new Array<number>(order).fill(0);
      for (let k = 0; k < p; k++) right[k] = -mixed(contact, twists[k]!, axis);
      right[n + j] = -contact.sign * dot(contact.normal, axis);
      return solve(right).map((x) => x * contact.deviation);
    }),
  );
  const held = AXES.map((turn) => {
    const twist = { turn, shift: NO };
    const right = new Array<number>(order).fill(0);
    for (let k = 0; k < p; k++) right[k] = -heldCurvature(contacts, twists[k]!, twist);
    contacts.forEach((contact, j) => {
      right[n + j] = -contact.sign * slope(contact, twist);
    });
    return solve(right);
  });
  // A scaled turn is rad, a scaled shift or radius a fraction of the size; disturbances of 1 mm are 1/size.
  const units = parameters.map((q) => (norm(q.turn) > 0 ? 1 : size));
  return {
    turns: parameters.map((q) => q.turn),
    shifts: parameters.map((q) => q.shift),
    response: parameters.map((_, k): Vec3 => {
      const unit = units[k]!;
      return [unit * held[0]![k]!, unit * held[1]![k]!, unit * held[2]![k]!];
    }),
    covariance: parameters.map((_, a) =>
      parameters.map(
        (__, b) => ((units[a]! * units[b]!) / size ** 2) * columns.reduce((sum, c) => sum + c[a]! * c[b]!, 0),
      ),
    ),
  };
}

/** Derivative of a contact's distance by a twist of the feature: the point moves by −(v + ω × lever) against it. */
function slope({ normal, lever }: Contact, { turn, shift }: Twist): number {
  return -dot(normal, add(shift, cross(turn, lever)));
}

/** Σ λ·s·∂²(distance) by two twists of the feature; seen from it a point lies at exp(−ω)·(lever − v). */
function curvature(contacts: readonly Contact[], a: Twist, b: Twist): number {
  return secondDerivative(contacts, a, b, (lever) =>
    combine(0.5, cross(a.turn, cross(b.turn, lever)), 0.5, cross(b.turn, cross(a.turn, lever))),
  );
}

/** The same by a twist of the feature and the held turn, which comes first: exp(−ω)·exp(−ω_held)·lever − … */
function heldCurvature(contacts: readonly Contact[], a: Twist, held: Twist): number {
  return secondDerivative(contacts, a, held, (lever) => cross(a.turn, cross(held.turn, lever)));
}

function secondDerivative(
  contacts: readonly Contact[],
  a: Twist,
  b: Twist,
  turnedTwice: (lever: Vec3) => Vec3,
): number {
  return contacts.reduce((sum, { lever, normal, bend, multiplier, sign }) => {
    const moved = (t: Twist): Vec3 => add(t.shift, cross(t.turn, lever));
    const turnedShift = add(cross(a.turn, b.shift), cross(b.turn, a.shift));
    const value = dot(moved(a), bend(moved(b))) + dot(normal, add(turnedTwice(lever), turnedShift));
    return sum + multiplier * sign * value;
  }, 0);
}

/** λ·s·∂²(distance) by a twist and a motion of the point. */
function mixed(contact: Contact, { turn, shift }: Twist, motion: Vec3): number {
  const { lever, normal, bend, multiplier, sign } = contact;
  const moved = add(shift, cross(turn, lever));
  return -multiplier * sign * (dot(moved, bend(motion)) + dot(normal, cross(turn, motion)));
}

function contactsOf(feature: CriterionFeature, input: AssociationInput, variances: Float64Array | null) {
  const { certificate, criterion, type, point, direction } = feature;
  const residuals = residualDistances(feature, input);
  const at = (i: number): Vec3 => [input.xyz[3 * i]!, input.xyz[3 * i + 1]!, input.xyz[3 * i + 2]!];
  const levers = certificate.contacts.map((i) => subtract(at(i), point));
  const size = Math.sqrt(levers.reduce((sum, l) => sum + dot(l, l), 0) / levers.length) || 1;
  const contacts = certificate.contacts.map((i, j): Contact => {
    const lever = scale(levers[j]!, 1 / size);
    const normal = normalOf(feature, at(i));
    return {
      sign: criterion === 'maximum-inscribed' || (criterion === 'minimax' && residuals[i]! < 0) ? -1 : 1,
      multiplier: certificate.multipliers[j]!,
      deviation: Math.sqrt(variances?.[i] ?? 1),
      lever,
      normal,
      bend: bending(type, normal, direction, lever),
    };
  });
  return { size, contacts };
}

/** Unit gradient of the distance; for a line the direction away from it. */
function normalOf(feature: CriterionFeature, q: Vec3): Vec3 {
  if (feature.type === 'line') return distanceRows('cylinder', { ...feature, radius: 0 }, q, 0)[0]!.gradient;
  return distanceRows(feature.type, feature, q, 0)[0]!.gradient;
}

/** (I − n·nᵀ)/ρ about a centre, the same square to an axis, nothing for a plane. */
function bending(
  type: CriterionFeature['type'],
  normal: Vec3,
  axis: Vec3 | null,
  lever: Vec3,
): (v: Vec3) => Vec3 {
  if (type === 'plane') return () => NO;
  const centred = type === 'sphere';
  const rho = norm(centred ? lever : rejectFrom(lever, axis!));
  if (!(rho > 0)) return () => NO;
  return (v) => scale(rejectFrom(centred ? v : rejectFrom(v, axis!), normal), 1 / rho);
}

function pseudoInverse(matrix: Matrix): Matrix {
  const svd = new SingularValueDecomposition(matrix);
  const [u, v, s] = [svd.leftSingularVectors, svd.rightSingularVectors, svd.diagonal];
  const result = Matrix.zeros(matrix.columns, matrix.rows);
  s.forEach((value, k) => {
    if (!(value > UNDETERMINED * s[0]!)) return;
    for (let i = 0; i < result.rows; i++)
      for (let j = 0; j < result.columns; j++)
        result.set(i, j, result.get(i, j) + (v.get(i, k) * u.get(j, k)) / value);
  });
  return result;
}
