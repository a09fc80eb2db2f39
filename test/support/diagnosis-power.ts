/**
 * Power that theory gives a test of a planted cause, from its definition and dense matrices: the quadratic form of the planted
 * parameters in the precision that generalised least squares has with the true weights, and the noncentral F distribution.
 */
import { inverse, Matrix } from 'ml-matrix';
import type { PartDefinition } from '../../shared-math/definition.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { incompleteBeta } from '../../shared-math/uncertainty/incomplete-functions.ts';
import { errorsOfMotion, HUB_COVARIANCE, OWN_COVARIANCE, type Six } from './simulated-stations.ts';

/** Steps of the central differences, mm or rad. */
const STEP = [1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6] as const;

/** Columns of ring motions, constant offset, wear and index harmonics 1 and 2: six rows for each station. */
function columnsOf(definition: PartDefinition, ages: readonly number[]): Matrix {
  const rows = definition.stations.flatMap(({ angle, seat }, k) => {
    const nominal = nominalBladeFrame(angle, seat);
    const motions = STEP.map((step, m) =>
      errorsOfMotion(
        nominal,
        STEP.map((_, i) => (i === m ? step : 0)),
      ).map((x) => x / step),
    );
    const d = motions[5]!;
    return [0, 1, 2, 3, 4, 5].map((i) => [
      ...[0, 1, 3, 4].map((m) => motions[m]![i]!),
      ...[0, 1, 2, 3, 4, 5].map((j) => (i === j ? 1 : 0)),
      ...[0, 1, 2, 3, 4, 5].map((j) => (i === j ? ages[k]! : 0)),
      ...[1, 2].flatMap((h) => [d[i]! * Math.cos(h * angle), d[i]! * Math.sin(h * angle)]),
    ]);
  });
  return new Matrix(rows);
}

/** Which columns of the design a cause has. */
export const COLUMNS = {
  ringShift: [0, 1, 2, 3],
  wear: [10, 11, 12, 13, 14, 15],
} as const;

/**
 * Probability that the F test of a cause is beyond 5 %.
 *
 * @param planted the cause's parameters, mm and rad. @param scatter standard deviations between stations.
 * @param denominator degrees of freedom of the test.
 */
export function predictedPower(
  definition: PartDefinition,
  ages: readonly number[],
  cause: keyof typeof COLUMNS,
  planted: readonly number[],
  scatter: Six,
  denominator: number,
): number {
  const x = columnsOf(definition, ages);
  const n = definition.stations.length;
  const own = OWN_COVARIANCE.map((row, i) => row.map((c, j) => c + (i === j ? scatter[i]! ** 2 : 0)));
  // Scaled, so that the inverse is well conditioned.
  const unit = [1e3, 1e3, 1e3, 1e5, 1e5, 1e5];
  const weight = inverse(new Matrix(own.map((row, i) => row.map((c, j) => c * unit[i]! * unit[j]!))));
  const p = x.columns;
  const scale = Array.from({ length: p }, (_, c) => {
    const column = Array.from({ length: n * 6 }, (__, r) => x.get(r, c) * unit[r % 6]!);
    return Math.hypot(...column);
  });
  const normal = Matrix.zeros(p, p);
  for (let k = 0; k < n; k++) {
    const block = new Matrix(
      [0, 1, 2, 3, 4, 5].map((i) =>
        Array.from({ length: p }, (_, c) => (x.get(6 * k + i, c) * unit[i]!) / scale[c]!),
      ),
    );
    normal.add(block.transpose().mmul(weight).mmul(block));
  }
  const covariance = inverse(normal);
  const at = COLUMNS[cause];
  const own2 = new Matrix(at.map((r) => at.map((c) => covariance.get(r, c) / (scale[r]! * scale[c]!))));
  // The hub's own noise is seen as a motion of the ring.
  if (cause === 'ringShift')
    [0, 1, 3, 4].forEach((r, a) => {
      [0, 1, 3, 4].forEach((c, b) => {
        own2.set(a, b, own2.get(a, b) + HUB_COVARIANCE[r]![c]!);
      });
    });
  const norms = at.map((_, a) => Math.sqrt(own2.get(a, a)));
  const correlation = new Matrix(
    at.map((_, a) => at.map((__, b) => own2.get(a, b) / (norms[a]! * norms[b]!))),
  );
  const z = planted.map((v, a) => v / norms[a]!);
  const solved = inverse(correlation).mmul(Matrix.columnVector(z)).to1DArray();
  const noncentrality = z.reduce((sum, v, a) => sum + v * solved[a]!, 0);
  return noncentralFSurvival(criticalF(at.length, denominator), at.length, denominator, noncentrality);
}

function centralCdf(x: number, n1: number, n2: number): number {
  const total = n1 * x + n2;
  return incompleteBeta(n1 / 2, n2 / 2, (n1 * x) / total, n2 / total).lower;
}

/** Upper 5 % point of F by bisection. */
function criticalF(n1: number, n2: number): number {
  let [low, high] = [0, 100];
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (centralCdf(middle, n1, n2) < 0.95) low = middle;
    else high = middle;
  }
  return low;
}

/** Poisson mixture of beta distributions: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2 (1995), ch. 30. */
export function noncentralFSurvival(x: number, n1: number, n2: number, noncentrality: number): number {
  const half = noncentrality / 2;
  const total = n1 * x + n2;
  let weight = Math.exp(-half);
  let cdf = 0;
  for (let j = 0; j < 500; j++) {
    cdf += weight * incompleteBeta(n1 / 2 + j, n2 / 2, (n1 * x) / total, n2 / total).lower;
    weight *= half / (j + 1);
  }
  return 1 - cdf;
}
