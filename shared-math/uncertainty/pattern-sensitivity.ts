/**
 * How a pattern of features answers to small disturbances of its points and of the turn that earlier datums hold: the
 * twist of its body fit at the image of its reference point.
 *
 * With J the derivatives of all distances by the turns that the fit was free to make and the three shifts, and H those by
 * a held turn, β = −(JᵀWJ)⁺·(JᵀWε + JᵀWH·ω_held). What the members do not observe is left still by the pseudo-inverse; the
 * reference lies on the axis that may stay open, so that this takes nothing from the shifts that the frame uses. Second
 * derivatives of the distances times residuals are left out.
 */
import { UNOBSERVED } from '../alignment/fit-body.ts';
import { distanceRows } from '../alignment/nominal-distance.ts';
import type { FeatureTarget } from '../alignment/targets.ts';
import { leverSize } from '../association/lever-size.ts';
import { spectrumOf, TriangularFactor } from '../association/triangular-factor.ts';
import { apply } from '../geometry/matrix.ts';
import { applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { cross, dot, subtract } from '../geometry/vector.ts';
import type { FeatureSensitivity } from './feature-sensitivity.ts';

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const NO: Vec3 = [0, 0, 0];

/**
 * @param targets nominal members and their points (mm).
 * @param pose nominal to measured coordinates; reference: the image of the nominal reference point.
 * @param turns directions, measured coordinates, about which the fit was free to turn.
 * @param variances of the points of each input, one list for each target; null: all 1.
 */
export function patternSensitivity(
  targets: readonly FeatureTarget[],
  pose: RigidMotion,
  reference: Vec3,
  turns: readonly Vec3[],
  variances: readonly (readonly (Float64Array | null)[])[],
): FeatureSensitivity {
  const size = leverSize(
    targets.flatMap((t) => t.inputs),
    reference,
  );
  const t = turns.length;
  const midplanes = targets.filter((target) => target.datum.type === 'midplane').length;
  const p = t + 3 + midplanes;
  // Columns: parameters, the held turn, the scale.
  const factor = new TriangularFactor(p + 4);
  const noise = new TriangularFactor(p);
  const back = inverse(pose);
  let midplane = -1;
  targets.forEach(({ datum, nominal, inputs }, index) => {
    if (datum.type === 'midplane') midplane++;
    inputs.forEach(({ xyz, offsets, weights }, face) => {
      for (let i = 0; 3 * i < xyz.length; i++) {
        const x: Vec3 = [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!];
        const lever = subtract(x, reference);
        const root = Math.sqrt(weights ? weights[i]! : 1);
        const deviation = Math.sqrt(variances[index]?.[face]?.[i] ?? 1);
        const q = applyToPoint(back, x);
        for (const { gradient } of distanceRows(datum.type, nominal, q, offsets?.[i] ?? 0)) {
          const g = apply(pose.rotation, gradient);
          const turned = cross(lever, g);
          const { row } = factor;
          row.fill(0);
          turns.forEach((direction, k) => {
            row[k] = (-root * dot(turned, direction)) / size;
          });
          for (let k = 0; k < 3; k++) {
            row[t + k] = -root * g[k]!;
            row[p + k] = (-root * turned[k]!) / size;
          }
          if (datum.type === 'midplane') row[t + 3 + midplane] = face === 0 ? -root : root;
          row[p + 3] = (root * dot(g, lever)) / size;
          for (let k = 0; k < p; k++) noise.row[k] = root * deviation * row[k]!;
          factor.push();
          noise.push();
        }
      }
    });
  });
  factor.finish();
  noise.finish();
  const { cofactor } = spectrumOf(factor.leading(p), UNOBSERVED);
  /** −C·JᵀW·(column). */
  const answer = (column: number): number[] =>
    cofactor.map((row) => row.reduce((sum, c, j) => sum - c * innerColumns(factor, j, column, p), 0));
  const units = [...turns.map(() => 1 / size), 1, 1, 1];
  const held = [0, 1, 2].map((a) => answer(p + a));
  const scaled = answer(p + 3);
  const half = Array.from({ length: p }, (_, k) =>
    units.map((unit, j) => {
      let sum = 0;
      for (let i = k; i < p; i++) sum += noise.at(k, i) * cofactor[i]![j]!;
      return unit * sum;
    }),
  );
  return {
    turns: [...turns, NO, NO, NO],
    shifts: [...turns.map(() => NO), ...AXES],
    response: units.map((unit, k): Vec3 => {
      const factorOf = unit * size;
      return [factorOf * held[0]![k]!, factorOf * held[1]![k]!, factorOf * held[2]![k]!];
    }),
    covariance: units.map((_, i) =>
      units.map((__, j) => half.reduce((sum, row) => sum + row[i]! * row[j]!, 0)),
    ),
    scaleResponse: units.map((unit, k) => unit * size * scaled[k]!),
  };
}

/** Entry of JᵀW times a column, from the triangular factor. */
function innerColumns(factor: TriangularFactor, i: number, j: number, p: number): number {
  let sum = 0;
  for (let k = 0; k <= Math.min(i, p - 1); k++) sum += factor.at(k, i) * factor.at(k, j);
  return sum;
}
