/**
 * Bookkeeping of what a list of datums has fixed: rotations as a state, translations as linear equations.
 *
 * A rigid motion T carries nominal coordinates into measured coordinates, y = R·x + t. Rotations about any centre form
 * groups of dimension 3, 1 or 0, so their state is `free`, `axis` (one turn left about a common axis) or `fixed`.
 * Each translation equation c·(R·p + t − q) = 0 says that the nominal point p and the measured point q agree along c.
 */
import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { apply, applyTransposed } from '../geometry/matrix.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import type { Mat3, RigidMotion, Vec3 } from '../geometry/types.ts';
import {
  add,
  combine,
  cross,
  dot,
  negate,
  normalize,
  perpendicular,
  rejectFrom,
  subtract,
} from '../geometry/vector.ts';

/**
 * Two directions count as parallel, and a projected constraint as empty, below this sine. Nominal geometry and the
 * orientation constraints hold such angles to rounding (1e-15); a drawing never separates features by less than
 * about 0.01° = 2e-4 rad. 1e-6 lies between the two with a wide margin on both sides.
 */
export const STRUCTURAL_SINE = 1e-6;

export type RotationState =
  | { readonly kind: 'free' }
  | { readonly kind: 'axis'; readonly nominal: Vec3; readonly measured: Vec3 }
  | { readonly kind: 'fixed' };

export interface TranslationEquation {
  /** Unit vector in measured coordinates. */
  readonly along: Vec3;
  readonly nominalPoint: Vec3;
  readonly measuredPoint: Vec3;
}

/** Orthonormal basis of the translations (measured coordinates) that the equations leave free: 0 to 3 vectors. */
export function freeTranslations(equations: readonly TranslationEquation[]): readonly Vec3[] {
  if (equations.length === 0)
    return [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
  if (equations.length >= 3) return [];
  const first = equations[0]!.along;
  if (equations.length === 1) {
    const one = perpendicular(first);
    return [one, cross(first, one)];
  }
  return [normalize(cross(first, equations[1]!.along))];
}

/**
 * Which combinations of the directions in `wanted` (orthonormal) still act on the free translations.
 * Returns unit vectors along which new, independent equations hold; empty when the feature adds none.
 */
export function independentDirections(wanted: readonly Vec3[], free: readonly Vec3[]): readonly Vec3[] {
  if (wanted.length === 0 || free.length === 0) return [];
  const projected = new Matrix(wanted.map((c) => free.map((f) => dot(c, f))));
  const svd = new SingularValueDecomposition(projected, { autoTranspose: true });
  const left = svd.leftSingularVectors;
  return svd.diagonal.flatMap((value, k) => {
    if (value <= STRUCTURAL_SINE) return [];
    const direction = wanted.reduce<Vec3>((sum, c, i) => combine(1, sum, left.get(i, k), c), [0, 0, 0]);
    return [normalize(direction)];
  });
}

/** The motion with the same rotation whose translation satisfies every equation with the least change. */
export function satisfyTranslations(
  motion: RigidMotion,
  equations: readonly TranslationEquation[],
): RigidMotion {
  if (equations.length === 0) return motion;
  const misfit = equations.map(({ along, nominalPoint, measuredPoint }) =>
    dot(along, subtract(measuredPoint, add(apply(motion.rotation, nominalPoint), motion.translation))),
  );
  const gram = new Matrix(equations.map((a) => equations.map((b) => dot(a.along, b.along))));
  const factors = solve(gram, Matrix.columnVector(misfit));
  const change = equations.reduce<Vec3>(
    (sum, e, i) => combine(1, sum, factors.get(i, 0), e.along),
    [0, 0, 0],
  );
  return { rotation: motion.rotation, translation: add(motion.translation, change) };
}

/**
 * The point through which the remaining turn about `axis` passes, as measured (`centre`) and as nominal (`pivot`), or
 * null while a translation square to the axis is still free.
 *
 * Where one turn is left and both translations square to it are fixed, one feature has fixed both (an axis, a circle,
 * a sphere or a point): a plane or a line square to the turn would have fixed the turn as well. The image of that
 * feature's nominal point stays put under the turn.
 */
export function turningCentre(
  motion: RigidMotion,
  equations: readonly TranslationEquation[],
  axis: Vec3,
): { readonly centre: Vec3; readonly pivot: Vec3 } | null {
  if (freeTranslations(equations).some((f) => Math.abs(dot(f, axis)) < 1 - STRUCTURAL_SINE)) return null;
  const across = equations.find((e) => Math.abs(dot(e.along, axis)) < 1 - STRUCTURAL_SINE);
  return across ? { centre: applyToPoint(motion, across.nominalPoint), pivot: across.nominalPoint } : null;
}

/** Directions within this of a coordinate axis carry its name; for words only. */
const NAMED_COSINE = 1e-4;

/** Names of coordinate directions, for messages. */
export interface AxisNames {
  readonly x: string;
  readonly y: string;
  readonly z: string;
}

/** A coordinate axis of the nominal frame, or the components of another direction. */
export type NamedDirection = 'x' | 'y' | 'z' | Vec3;

/** Freedoms that a datum fixes or a list leaves open. */
export type Freedom =
  | { readonly kind: 'translation' | 'rotation'; readonly along: readonly NamedDirection[] }
  /** The two rotations that tilt a direction. */
  | { readonly kind: 'tilt'; readonly along: readonly [NamedDirection] }
  | { readonly kind: 'rotations' };

const ALL_AXES = ['x', 'y', 'z'] as const;

/** The coordinate axis (nominal frame) that a direction lies along, or the direction itself. */
export function namedDirection(direction: Vec3): NamedDirection {
  const k = direction.findIndex((c) => Math.abs(c) > 1 - NAMED_COSINE);
  return ALL_AXES[k] ?? direction;
}

/** Components of a spelled-out direction, as they are written. */
export function spelledDirection(direction: Vec3): readonly number[] {
  return direction.map((c) => (Math.abs(c) < 5e-4 ? 0 : c));
}

/** The freedom in words. */
export function freedomWords(freedom: Freedom, names: AxisNames): string {
  if (freedom.kind === 'rotations') return 'all three rotations';
  const along = freedom.along.map((direction) =>
    typeof direction === 'string'
      ? names[direction]
      : `(${spelledDirection(direction)
          .map((c) => c.toFixed(3))
          .join(', ')})`,
  );
  const list = along.length < 2 ? along.join('') : `${along.slice(0, -1).join(', ')} and ${along.at(-1)}`;
  if (freedom.kind === 'tilt') return `the two rotations that tilt ${list}`;
  return freedom.kind === 'translation' ? `translation along ${list}` : `rotation about ${list}`;
}

/** Translations spanned by an orthonormal basis (measured coordinates): none or one entry. */
export function namedTranslations(basis: readonly Vec3[], motionRotation: Mat3): Freedom[] {
  const [one, two, three] = basis.map((f) => applyTransposed(motionRotation, f));
  if (one === undefined) return [];
  const along = three ? ALL_AXES : (two ? followAxes(one, two) : [one]).map(namedDirection);
  return [{ kind: 'translation', along }];
}

/** Free translations and turns in words, in nominal coordinates. */
export function nameOpenFreedoms(
  rotation: RotationState,
  equations: readonly TranslationEquation[],
  motionRotation: Mat3,
  names: AxisNames,
): readonly string[] {
  const open = namedTranslations(freeTranslations(equations), motionRotation);
  if (rotation.kind === 'free') open.push({ kind: 'rotation', along: ALL_AXES });
  if (rotation.kind === 'axis') open.push({ kind: 'rotation', along: [namedDirection(rotation.nominal)] });
  return open.map((freedom) => freedomWords(freedom, names));
}

/** A basis of the same plane that follows the coordinate axes where the plane contains one. */
function followAxes(one: Vec3, two: Vec3): readonly [Vec3, Vec3] {
  const normal = cross(one, two);
  const axis = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).find((e) => Math.abs(dot(e, normal)) < NAMED_COSINE);
  if (axis === undefined) return [one, two];
  const first = normalize(rejectFrom(axis, normal));
  const second = cross(normal, first);
  return [first, second.some((c) => c < -0.9) ? negate(second) : second];
}
