/**
 * What settings do to the blades. A blade that shows the error E would show
 *
 *   E_new = N⁻¹·H·Z·N·C·E,
 *
 * C the change of its tool (nominal blade axes, about the blade origin), Z the index offset of its station (a turn about the disc
 * axis), H the change of the hub seating (disc frame, about the disc origin). Displacements and rotation vector as in `SixErrors`.
 */
import { apply, applyTransposed, multiply, transpose } from '../../geometry/matrix.ts';
import { applyToPoint, compose, inverse } from '../../geometry/rigid-motion.ts';
import { rotationFromVector } from '../../geometry/rotation.ts';
import { leftJacobian } from '../../geometry/rotation-jacobian.ts';
import type { RigidMotion, Vec3 } from '../../geometry/types.ts';
import { cross, dot, subtract } from '../../geometry/vector.ts';
import type { NormProblem } from '../../pattern/norm-problem.ts';
import type { Blade, BladePoint } from './blades.ts';
import type { Unknown } from './settings.ts';

/** What acts on one blade: six values each (mm, rad) of tool and hub, index in rad. */
export interface SettingParts {
  readonly tool: readonly number[];
  readonly hub: readonly number[];
  readonly index: number;
}

function partsOf(blade: Blade, unknowns: readonly Unknown[], values: ArrayLike<number>): SettingParts {
  const tool = [0, 0, 0, 0, 0, 0];
  const hub = [0, 0, 0, 0, 0, 0];
  let index = 0;
  unknowns.forEach(({ kind, axis, moves }, p) => {
    if (!moves(blade)) return;
    if (kind === 'index') index += values[p]!;
    else (kind === 'tool' ? tool : hub)[axis]! += values[p]!;
  });
  return { tool, hub, index };
}

function motionOf([x, y, z, a, b, c]: readonly number[]): RigidMotion {
  return { rotation: rotationFromVector([a!, b!, c!]), translation: [x!, y!, z!] };
}

const turned = (index: number): RigidMotion => motionOf([0, 0, 0, 0, 0, index]);

/**
 * N⁻¹·H·Z·N·C, what stands to the left of E after the settings.
 *
 * @param values of the unknowns, mm and rad.
 */
export function motionBySettings(
  blade: Blade,
  unknowns: readonly Unknown[],
  values: ArrayLike<number>,
): RigidMotion {
  return motionByParts(blade.nominal, partsOf(blade, unknowns, values));
}

/** The same for the blade of nominal frame N. */
export function motionByParts(nominal: RigidMotion, { tool, hub, index }: SettingParts): RigidMotion {
  const inDisc = compose(compose(motionOf(hub), turned(index)), compose(nominal, motionOf(tool)));
  return compose(inverse(nominal), inDisc);
}

/** Position of every point as share of its tolerance, exactly. */
export function sharesAfter(
  blades: readonly Blade[],
  points: readonly BladePoint[],
  unknowns: readonly Unknown[],
  values: ArrayLike<number>,
): Float64Array {
  // Only of blades that have points here: one station's index is looked for among the points of one blade.
  const moved = new Map<number, RigidMotion>();
  const motionOfBlade = (k: number): RigidMotion => {
    const known = moved.get(k);
    if (known !== undefined) return known;
    const motion = compose(motionBySettings(blades[k]!, unknowns, values), blades[k]!.error);
    moved.set(k, motion);
    return motion;
  };
  return Float64Array.from(points, ({ blade, at, directions, tolerance }) => {
    const delta = subtract(applyToPoint(motionOfBlade(blade), at), at);
    return (2 / tolerance) * Math.hypot(...directions.map((d) => dot(d, delta)));
  });
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/**
 * The shares about given settings as vectors a + B·x, x the change of the unknowns in units of their scales. The derivatives are
 * exact: zones measure along fixed directions of the blade frame.
 */
export function linearised(
  blades: readonly Blade[],
  points: readonly BladePoint[],
  unknowns: readonly Unknown[],
  values: ArrayLike<number>,
): NormProblem {
  const size = unknowns.length;
  const offsets = new Float64Array(3 * points.length);
  const rows = new Float64Array(3 * points.length * size);
  const parts = new Map<number, SettingParts>();
  points.forEach((point, j) => {
    const blade = blades[point.blade]!;
    const { nominal } = blade;
    const part = parts.get(point.blade) ?? partsOf(blade, unknowns, values);
    parts.set(point.blade, part);
    const { tool, hub, index } = part;
    const [toolMotion, hubMotion, indexMotion] = [motionOf(tool), motionOf(hub), turned(index)];
    const inBlade = applyToPoint(toolMotion, applyToPoint(blade.error, point.at));
    const indexed = applyToPoint(indexMotion, applyToPoint(nominal, inBlade));
    const place = applyToPoint(hubMotion, indexed);
    const delta = subtract(applyToPoint(inverse(nominal), place), point.at);
    const byIndex = apply(hubMotion.rotation, cross([0, 0, 1], indexed));
    const toolChanges = changesBy(tool, subtract(inBlade, toolMotion.translation));
    const hubChanges = changesBy(hub, subtract(place, hubMotion.translation));
    const outer = multiply(hubMotion.rotation, indexMotion.rotation);
    const share = 2 / point.tolerance;
    point.directions.forEach((direction, c) => {
      const row = 3 * j + c;
      offsets[row] = share * dot(direction, delta);
      // The zone's direction in the disc frame, and in that of the tool behind hub and index.
      const inDisc = apply(nominal.rotation, direction);
      const behind = applyTransposed(nominal.rotation, applyTransposed(outer, inDisc));
      unknowns.forEach(({ kind, axis, scale, moves }, p) => {
        if (!moves(blade)) return;
        const slope =
          kind === 'index'
            ? dot(inDisc, byIndex)
            : kind === 'hub'
              ? dot(inDisc, hubChanges[axis]!)
              : dot(behind, toolChanges[axis]!);
        rows[row * size + p] = share * scale * slope;
      });
    });
  });
  return { count: points.length, size, offsets, rows };
}

/** How a point at `arm` from the displaced origin moves with each of the six values of a motion. */
function changesBy(values: readonly number[], arm: Vec3): readonly Vec3[] {
  // Rows of the transpose are J·e_k.
  const turns = transpose(leftJacobian([values[3]!, values[4]!, values[5]!]));
  return [...AXES, ...turns.map((omega) => cross(omega, arm))];
}
