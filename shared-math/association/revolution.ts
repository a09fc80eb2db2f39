/**
 * Cylinder and cone as one surface: straight generators about an axis. The signed orthogonal distance of a point at
 * axial position s and distance ρ from the axis is
 *
 *   d = ρ·cos α − s·sin α − c,
 *
 * α the half angle (0 for a cylinder) and c the distance of the anchor, the axis point nearest the centroid,
 * from the surface. Points beyond the apex of a cone are measured from the prolonged generator.
 *
 * Local parameters, re-based at each step, in (e1, e2) = tangentBasis(axis direction): shift1, shift2 of the axis at the
 * anchor, the parameters of the direction, c, and for a cone α. Lengths in units of the cloud's size.
 */
import type { Vec3 } from '../geometry/types.ts';
import { addScaled, dot, negate } from '../geometry/vector.ts';
import type { Cloud } from './cloud.ts';
import { type DirectionFreedom, isReversed, tangentBasis, tiltsOf, turn } from './direction.ts';
import type { LeastSquaresProblem } from './solver.ts';
import { scaleCofactor } from './substitute.ts';

export interface RevolutionState {
  /** Axis point nearest the centroid, relative to it, scaled. */
  readonly anchor: Vec3;
  /** Unit. */
  readonly direction: Vec3;
  /** Orthogonal distance of the anchor from the surface, scaled: the radius of a cylinder, r·cos α of a cone. */
  readonly gap: number;
  /** α, rad; 0 for a cylinder. */
  readonly halfAngle: number;
}

/** The state with its anchor carried along the axis to the foot of the centroid. */
export function reanchored(state: RevolutionState): RevolutionState {
  const slip = -dot(state.anchor, state.direction);
  return {
    ...state,
    anchor: addScaled(state.anchor, state.direction, slip),
    gap: state.gap + slip * Math.sin(state.halfAngle),
  };
}

/** Residual d − offset in scaled units with its derivatives. */
export function revolutionProblem(
  cloud: Cloud,
  freedom: DirectionFreedom,
  conical: boolean,
): LeastSquaresProblem<RevolutionState> {
  const parameters = 3 + freedom.size + (conical ? 1 : 0);
  return {
    parameters,
    evaluate: (state, rows) => {
      const { points, xyz, offsets, weights, centroid, size } = cloud;
      const { row } = rows;
      const [cx, cy, cz] = centroid;
      const [qx, qy, qz] = state.anchor;
      const [ax, ay, az] = state.direction;
      const [[e1x, e1y, e1z], [e2x, e2y, e2z]] = tangentBasis(state.direction);
      const tilts = tiltsOf(freedom, state.direction);
      const turning = tilts.length;
      const [t11, t12] = tilts[0] ?? [0, 0];
      const [t21, t22] = tilts[1] ?? [0, 0];
      const cosine = Math.cos(state.halfAngle);
      const sine = Math.sin(state.halfAngle);
      const gap = state.gap;
      for (let i = 0; i < points; i++) {
        const w = weights ? Math.sqrt(weights[i]!) : 1;
        const x = (xyz[3 * i]! - cx) / size - qx;
        const y = (xyz[3 * i + 1]! - cy) / size - qy;
        const z = (xyz[3 * i + 2]! - cz) / size - qz;
        const s = x * ax + y * ay + z * az;
        const u = x * e1x + y * e1y + z * e1z;
        const v = x * e2x + y * e2y + z * e2z;
        const rho = Math.sqrt(u * u + v * v);
        const inverse = rho > 0 ? cosine / rho : 0;
        const g1 = -w * u * inverse;
        const g2 = -w * v * inverse;
        row[0] = g1;
        row[1] = g2;
        if (turning > 0) {
          // Tilting the axis moves it by s across and shortens or lengthens s by u or v.
          const tilt1 = s * g1 - w * u * sine;
          const tilt2 = s * g2 - w * v * sine;
          row[2] = t11 * tilt1 + t12 * tilt2;
          if (turning > 1) row[3] = t21 * tilt1 + t22 * tilt2;
        }
        row[2 + turning] = -w;
        if (conical) row[3 + turning] = -w * (rho * sine + s * cosine);
        row[parameters] = w * (rho * cosine - s * sine - gap - (offsets ? offsets[i]! / size : 0));
        rows.push();
      }
    },
    move: (state, step) => {
      const [e1, e2] = tangentBasis(state.direction);
      return reanchored({
        anchor: addScaled(addScaled(state.anchor, e1, step[0]!), e2, step[1]!),
        direction: turn(freedom, state.direction, step, 2),
        gap: state.gap + step[2 + freedom.size]!,
        halfAngle: conical ? state.halfAngle + step[3 + freedom.size]! : 0,
      });
    },
    roundingNorm: 8e-16 * Math.sqrt(cloud.totalWeight),
  };
}

/** A solution in the sense that the orientation asks for, its cofactor in mm and rad. */
export function inSense(
  solution: { readonly state: RevolutionState; readonly cofactor: readonly (readonly number[])[] },
  freedom: DirectionFreedom,
  conical: boolean,
  size: number,
  reverse = isReversed(freedom, solution.state.direction),
): { readonly state: RevolutionState; readonly cofactor: readonly (readonly number[])[] } {
  const { state, cofactor } = solution;
  const units = [1, 1, ...freedom.names.map(() => 1 / size), 1, ...(conical ? [1 / size] : [])];
  if (!reverse) return { state, cofactor: scaleCofactor(cofactor, units) };
  // tangentBasis(−a) is (−e1, e2): a shift along e1 and a tilt towards e2 change sign, as does the half angle.
  const turning = [[], [1], [1, -1]][freedom.size]!;
  const signs = [-1, 1, ...turning, 1, ...(conical ? [-1] : [])];
  return {
    state: { ...state, direction: negate(state.direction), halfAngle: -state.halfAngle },
    cofactor: scaleCofactor(
      cofactor,
      units.map((unit, i) => unit * signs[i]!),
    ),
  };
}
