/**
 * How the error motion E of a blade answers to disturbances: the twist that acts on its measured side, in nominal blade
 * coordinates, as a linear form.
 */

import { UNOBSERVED } from '../alignment/fit-body.ts';
import type { FeatureTarget } from '../alignment/targets.ts';
import { leverSize } from '../association/lever-size.ts';
import { spectrumOf, TriangularFactor } from '../association/triangular-factor.ts';
import { transpose } from '../geometry/matrix.ts';
import { applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import { rotationVector } from '../geometry/rotation.ts';
import { inverseLeftJacobian } from '../geometry/rotation-jacobian.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { subtract } from '../geometry/vector.ts';
import { distanceGradients } from './distance-gradients.ts';
import type { TwistForm } from './frame-sensitivity.ts';
import { addForms, applyToForm, crossForm, type ScalarForm, type VectorForm } from './linear-form.ts';

/** Six rows in the order of the six errors: translation (mm), rotation vector (rad). */
export type ErrorForm = readonly [ScalarForm, ScalarForm, ScalarForm, ScalarForm, ScalarForm, ScalarForm];

/**
 * The six errors' response to a twist on the measured side of E, x ↦ x + ω × (x − centre) + v:
 * δt = ω × (t − centre) + v, δρ = J(ρ)⁻¹·ω with J the left Jacobian of the exponential map.
 * Source: Lynch & Park, Modern Robotics (2017), ch. 3; J⁻¹ = I − ½[ρ]× + (1/θ² − (1 + cos θ)/(2θ sin θ))·[ρ]×².
 */
export function errorForm(error: RigidMotion, { turn, shift, centre }: TwistForm): ErrorForm {
  const t = addForms(crossForm(turn, subtract(error.translation, centre)), shift);
  const rho = applyToForm(inverseLeftJacobian(rotationVector(error.rotation)), turn);
  return [...t, ...rho];
}

/**
 * A twist of the disc frame (machine coordinates) as the twist it makes on the measured side of E: the blade's points,
 * seen from a frame that moved, move the other way.
 *
 * @param blade the nominal blade frame in machine coordinates.
 */
export function seenFromBlade({ turn, shift, centre }: TwistForm, blade: RigidMotion): TwistForm {
  const back = (v: VectorForm): VectorForm => {
    const [x, y, z] = applyToForm(transpose(blade.rotation), v);
    return [x.map((c) => -c), y.map((c) => -c), z.map((c) => -c)];
  };
  return { turn: back(turn), shift: back(shift), centre: applyToPoint(inverse(blade), centre) };
}

export interface BestFitSensitivity {
  /** (JᵀWJ)⁻¹ over the observed freedoms, parameters: turn about `centre`, shift. Rows. */
  readonly cofactor: readonly (readonly number[])[];
  /** Covariance of the twist for points of unit (or stated) variance, rows. */
  readonly covariance: readonly (readonly number[])[];
  /** Twist for a unit relative scale disturbance about `scaleCentre`. */
  readonly scaleResponse: readonly number[];
  readonly centre: Vec3;
}

/**
 * The twist on the measured side of E found by a best fit, from its Jacobian at the solution.
 *
 * @param targets nominal features and points, nominal blade coordinates.
 * @param scaleCentre the disc's origin in nominal blade coordinates.
 * @param variances of the points of each input, one list for each target; null: all 1.
 */
export function bestFitSensitivity(
  targets: readonly FeatureTarget[],
  error: RigidMotion,
  scaleCentre: Vec3,
  variances: readonly (readonly (Float64Array | null)[])[],
): BestFitSensitivity {
  const centre = applyToPoint(error, meanNominal(targets));
  const size = leverSize(
    targets.flatMap((t) => t.inputs),
    centre,
  );
  const midplanes = targets.filter((t) => t.datum.type === 'midplane').length;
  const p = 6 + midplanes;
  const factor = new TriangularFactor(p + 1);
  const noise = new TriangularFactor(p);
  const { rotation, translation } = inverse(error);
  const [[bxx, bxy, bxz], [byx, byy, byz], [bzx, bzy, bzz]] = rotation;
  const [bx, by, bz] = translation;
  const [cx, cy, cz] = centre;
  const [sx, sy, sz] = scaleCentre;
  const { row } = factor;
  /** The point at hand, nominal blade axes. */
  const there = new Float64Array(3);
  let midplane = -1;
  targets.forEach(({ datum, nominal, inputs }, index) => {
    if (datum.type === 'midplane') midplane++;
    const width = datum.type === 'midplane' ? 6 + midplane : -1;
    const { rows, gradients, write } = distanceGradients(datum.type, nominal);
    inputs.forEach(({ xyz, weights }, face) => {
      const own = variances[index]?.[face] ?? null;
      for (let i = 0; 3 * i < xyz.length; i++) {
        const x = xyz[3 * i]!;
        const y = xyz[3 * i + 1]!;
        const z = xyz[3 * i + 2]!;
        there[0] = bxx * x + bxy * y + bxz * z + bx;
        there[1] = byx * x + byy * y + byz * z + by;
        there[2] = bzx * x + bzy * y + bzz * z + bz;
        write(there, 0);
        const root = weights ? Math.sqrt(weights[i]!) : 1;
        const deviation = root * (own ? Math.sqrt(own[i]!) : 1);
        for (let component = 0; component < rows; component++) {
          const nx = gradients[3 * component]!;
          const ny = gradients[3 * component + 1]!;
          const nz = gradients[3 * component + 2]!;
          // Turned with the blade: the transpose of `back`.
          const gx = bxx * nx + byx * ny + bzx * nz;
          const gy = bxy * nx + byy * ny + bzy * nz;
          const gz = bxz * nx + byz * ny + bzz * nz;
          row[0] = (-root * ((y - cy) * gz - (z - cz) * gy)) / size;
          row[1] = (-root * ((z - cz) * gx - (x - cx) * gz)) / size;
          row[2] = (-root * ((x - cx) * gy - (y - cy) * gx)) / size;
          row[3] = -root * gx;
          row[4] = -root * gy;
          row[5] = -root * gz;
          for (let k = 6; k < p; k++) row[k] = 0;
          if (width >= 0) row[width] = face === 0 ? -root : root;
          for (let k = 0; k < p; k++) noise.row[k] = deviation * row[k]!;
          row[p] = root * (gx * (x - sx) + gy * (y - sy) + gz * (z - sz));
          factor.push();
          noise.push();
        }
      }
    });
  });
  factor.finish();
  noise.finish();
  const { cofactor } = spectrumOf(factor.leading(p), UNOBSERVED);
  const all = factor.leading(p + 1);
  const r = noise.leading(p);
  const units = [1 / size, 1 / size, 1 / size, 1, 1, 1];
  const half = Array.from({ length: p }, (_, k) =>
    units.map((unit, j) => {
      let sum = 0;
      for (let i = k; i < p; i++) sum += r.get(k, i) * cofactor[i]![j]!;
      return unit * sum;
    }),
  );
  const right = Array.from({ length: p }, (_, j) => {
    let sum = 0;
    for (let k = 0; k <= j; k++) sum += all.get(k, j) * all.get(k, p);
    return sum;
  });
  return {
    cofactor: units.map((a, i) => units.map((b, j) => a * b * cofactor[i]![j]!)),
    covariance: units.map((_, i) =>
      units.map((__, j) => half.reduce((sum, row) => sum + row[i]! * row[j]!, 0)),
    ),
    scaleResponse: units.map((unit, i) => -unit * right.reduce((sum, c, j) => sum + cofactor[i]![j]! * c, 0)),
    centre,
  };
}

function meanNominal(targets: readonly FeatureTarget[]): Vec3 {
  const n = targets.length;
  const sum = (k: 0 | 1 | 2): number => targets.reduce((s, t) => s + t.nominal.point[k], 0) / n;
  return [sum(0), sum(1), sum(2)];
}
