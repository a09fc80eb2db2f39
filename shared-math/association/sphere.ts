/**
 * Sphere of orthogonal least squares: linear start (|x|² = 2·c·x + r² − |c|²), then the shared solver.
 * Local parameters: centre x, y, z and radius, in units of the cloud's size.
 */
import type { Vec3 } from '../geometry/types.ts';
import { addScaled } from '../geometry/vector.ts';
import { backSubstitute } from './algebraic.ts';
import { type Cloud, cloudOf, degenerate, principalAxes, requireSpread, sampleOf } from './cloud.ts';
import { type LeastSquaresProblem, solveLeastSquares } from './solver.ts';
import { scaleCofactor, substitute } from './substitute.ts';
import { TriangularFactor } from './triangular-factor.ts';
import type { AssociationInput, SubstituteFeature } from './types.ts';

/** Centre relative to the centroid and radius, scaled. */
export interface SphereState {
  readonly centre: Vec3;
  readonly radius: number;
}

/** The linear start needs no more points than this. */
const START_SAMPLE = 4000;

/**
 * Fits a sphere. Parameters of `cofactor`: centre `x`, `y`, `z`, `radius` (mm).
 * @param input at least 4 points, not in one plane; offsets count away from the centre
 * @throws ReductionError `too-few-points`, `not-finite`, `degenerate-points`, `not-converged`, `invalid-argument`
 */
export function associateSphere(input: AssociationInput): SubstituteFeature {
  const cloud = cloudOf(input, 4, 'sphere');
  requireSpread(cloud, principalAxes(cloud).spreads, 3, 'sphere');
  const solution = solveLeastSquares(sphereProblem(cloud), linearStart(sampleOf(cloud, START_SAMPLE)));
  if (solution.rank < 4) throw degenerate('sphere', 'several-out');
  const { centre, radius } = solution.state;
  return substitute(
    {
      type: 'sphere',
      point: addScaled(cloud.centroid, centre, cloud.size),
      direction: null,
      radius: radius * cloud.size,
      halfAngle: null,
    },
    input,
    {
      ...solution,
      parameters: ['x', 'y', 'z', 'radius'],
      cofactor: scaleCofactor(solution.cofactor, [1, 1, 1, 1]),
    },
  );
}

/** Residual |x − c| − r − offset in scaled units, with its derivatives. */
export function sphereProblem(cloud: Cloud): LeastSquaresProblem<SphereState> {
  const { points, xyz, offsets, weights, centroid, size } = cloud;
  return {
    parameters: 4,
    evaluate: ({ centre, radius }, rows) => {
      const [cx, cy, cz] = centroid;
      const [mx, my, mz] = centre;
      const { row } = rows;
      for (let i = 0; i < points; i++) {
        const w = weights ? Math.sqrt(weights[i]!) : 1;
        const x = (xyz[3 * i]! - cx) / size - mx;
        const y = (xyz[3 * i + 1]! - cy) / size - my;
        const z = (xyz[3 * i + 2]! - cz) / size - mz;
        const distance = Math.sqrt(x * x + y * y + z * z);
        const factor = distance > 0 ? -w / distance : 0;
        row[0] = factor * x;
        row[1] = factor * y;
        row[2] = factor * z;
        row[3] = -w;
        row[4] = w * (distance - radius - (offsets ? offsets[i]! / size : 0));
        rows.push();
      }
    },
    move: ({ centre, radius }, step) => ({
      centre: [centre[0] + step[0]!, centre[1] + step[1]!, centre[2] + step[2]!],
      radius: radius + step[3]!,
    }),
    roundingNorm: 8e-16 * Math.sqrt(cloud.totalWeight),
  };
}

function linearStart(cloud: Cloud): SphereState {
  const { points, xyz, weights, centroid, size, meanOffset } = cloud;
  const rows = new TriangularFactor(5);
  for (let i = 0; i < points; i++) {
    const w = weights ? Math.sqrt(weights[i]!) : 1;
    const x = (xyz[3 * i]! - centroid[0]) / size;
    const y = (xyz[3 * i + 1]! - centroid[1]) / size;
    const z = (xyz[3 * i + 2]! - centroid[2]) / size;
    rows.row.set([2 * w * x, 2 * w * y, 2 * w * z, w, w * (x * x + y * y + z * z)]);
    rows.push();
  }
  const [x, y, z, rest] = backSubstitute(rows.finish()) as unknown as [number, number, number, number];
  const radius = Math.sqrt(Math.max(0, rest + x * x + y * y + z * z));
  return { centre: [x, y, z], radius: radius - meanOffset / size };
}
