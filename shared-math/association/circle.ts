/**
 * Circle: points projected along a direction (given by earlier datums, else the normal of their own least-squares
 * plane), then the orthogonal least-squares circle in that plane (Gander, Golub & Strebel, BIT 34 (1994) 558–578).
 */

import type { Vec3 } from '../geometry/types.ts';
import { addScaled } from '../geometry/vector.ts';
import { backSubstitute } from './algebraic.ts';
import {
  type Cloud,
  cloudOf,
  degenerate,
  principalAxes,
  requireSpread,
  requireSpreadAcross,
  sampleOf,
} from './cloud.ts';
import { freedomOf, tangentBasis, tiltsOf } from './direction.ts';
import { normalOf, tiltRows } from './plane.ts';
import { type LeastSquaresProblem, solveLeastSquares } from './solver.ts';
import { cofactorOf, substitute } from './substitute.ts';
import { TriangularFactor } from './triangular-factor.ts';
import type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';

/** Centre in the basis (e1, e2) about the centroid, and radius, scaled. */
export interface CircleState {
  readonly u: number;
  readonly v: number;
  readonly radius: number;
}

/** The linear start needs no more points than this. */
const START_SAMPLE = 4000;

/**
 * Fits a circle. Residuals are in-plane radial distances; degreesOfFreedom = n − 3.
 *
 * Parameters of `cofactor`, in the basis (e1, e2) = tangentBasis(direction): `shift1`, `shift2`, `radius` from the fit in
 * the plane; `axial` shift along the direction and `tilt1`, `tilt2` (or `azimuth`) from the plane of the points. The two
 * groups do not correlate for points whose errors are equal in all directions. Lengths mm, angles rad.
 * @param input at least 3 points; offsets count away from the centre
 * @returns point: the centre, in the plane through the weighted centroid
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points`, `not-converged`, `invalid-argument`
 */
export function associateCircle(input: AssociationInput, orientation: Orientation): SubstituteFeature {
  const freedom = freedomOf(orientation);
  const cloud = cloudOf(input, 3, 'circle');
  const axes = principalAxes({ ...cloud, offsets: null });
  requireSpread(cloud, axes.spreads, 2, 'circle');
  const { direction } = normalOf(cloud, axes, freedom, 'circle-plane');
  const [e1, e2] = tangentBasis(direction);
  requireSpreadAcross(axes, direction, 'circle');
  const basis = [e1, e2] as const;
  const solution = solveLeastSquares(
    circleProblem(cloud, basis),
    linearStart(sampleOf(cloud, START_SAMPLE), basis),
  );
  if (solution.rank < 3) throw degenerate('circle', 'several-out');
  const { u, v, radius } = solution.state;
  const none = freedom.names.map(() => 0);
  // Tilting acts about the centroid; seen from the centre it also shifts along the direction.
  const root = Math.sqrt(cloud.totalWeight);
  const turned = tiltsOf(freedom, direction).map(([t1, t2]) => -root * (t1 * u + t2 * v));
  const plane = cofactorOf(
    [[-root, ...turned], ...tiltRows(axes, freedom, direction).map((row) => [0, ...row])],
    [1, ...freedom.names.map(() => 1 / cloud.size)],
  );
  return substitute(
    {
      type: 'circle',
      point: addScaled(addScaled(cloud.centroid, e1, u * cloud.size), e2, v * cloud.size),
      direction,
      radius: radius * cloud.size,
      halfAngle: null,
    },
    input,
    {
      ...solution,
      parameters: ['shift1', 'shift2', 'radius', 'axial', ...freedom.names],
      cofactor: [
        ...solution.cofactor.map((row) => [...row, 0, ...none]),
        ...plane.cofactor.map((row) => [0, 0, 0, ...row]),
      ],
      conditionNumber: Math.max(solution.conditionNumber, plane.conditionNumber),
    },
  );
}

/** Residual √(u² + v²) − r − offset in scaled units, with its derivatives by shift1, shift2, radius. */
export function circleProblem(cloud: Cloud, basis: readonly [Vec3, Vec3]): LeastSquaresProblem<CircleState> {
  return {
    parameters: 3,
    evaluate: (state, rows) => {
      const { row } = rows;
      const { offsets, size } = cloud;
      forEachProjected(cloud, basis, (pu, pv, w, i) => {
        const u = pu - state.u;
        const v = pv - state.v;
        const distance = Math.sqrt(u * u + v * v);
        const factor = distance > 0 ? -w / distance : 0;
        row[0] = factor * u;
        row[1] = factor * v;
        row[2] = -w;
        row[3] = w * (distance - state.radius - (offsets ? offsets[i]! / size : 0));
        rows.push();
      });
    },
    move: ({ u, v, radius }, step) => ({ u: u + step[0]!, v: v + step[1]!, radius: radius + step[2]! }),
    roundingNorm: 8e-16 * Math.sqrt(cloud.totalWeight),
  };
}

/** Calls `visit(u, v, √w, i)` with the scaled in-plane coordinates of each point. */
function forEachProjected(
  cloud: Cloud,
  [[e1x, e1y, e1z], [e2x, e2y, e2z]]: readonly [Vec3, Vec3],
  visit: (u: number, v: number, w: number, i: number) => void,
): void {
  const { points, xyz, weights, centroid, size } = cloud;
  const [cx, cy, cz] = centroid;
  for (let i = 0; i < points; i++) {
    const x = (xyz[3 * i]! - cx) / size;
    const y = (xyz[3 * i + 1]! - cy) / size;
    const z = (xyz[3 * i + 2]! - cz) / size;
    const w = weights ? Math.sqrt(weights[i]!) : 1;
    visit(x * e1x + y * e1y + z * e1z, x * e2x + y * e2y + z * e2z, w, i);
  }
}

function linearStart(cloud: Cloud, basis: readonly [Vec3, Vec3]): CircleState {
  const rows = new TriangularFactor(4);
  forEachProjected(cloud, basis, (u, v, w) => {
    rows.row.set([2 * w * u, 2 * w * v, w, w * (u * u + v * v)]);
    rows.push();
  });
  const [u, v, rest] = backSubstitute(rows.finish()) as unknown as [number, number, number];
  return { u, v, radius: Math.sqrt(Math.max(0, rest + u * u + v * v)) - cloud.meanOffset / cloud.size };
}
