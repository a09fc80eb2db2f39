/**
 * What a pattern of features can fix, from its nominal geometry alone.
 *
 * Each member holds a small motion (turn ω, shift v at the middle of the pattern) by linear equations: its direction does
 * not tilt, its place does not shift where its type has a place. The motions that all equations allow are the pattern's
 * freedom. Turns of a rigid body that leave a pattern in place form a group, so they are none, those about one
 * axis (coaxial bores, parallel planes), or all (spheres about one point). Our own.
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import type { FeatureType, PatternDatum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { Vec3 } from '../geometry/types.ts';
import {
  add,
  addScaled,
  cross,
  dot,
  norm,
  normalize,
  perpendicular,
  scale,
  subtract,
} from '../geometry/vector.ts';
import { STRUCTURAL_SINE } from './freedoms.ts';

export interface PatternOffer {
  /** All three turns; the two that tilt `axis`; the one turn that was still free; or none. */
  readonly turns: 'all' | 'tilts' | 'turn' | 'none';
  /** For `tilts`: the direction about which the pattern may still turn, nominal coordinates. */
  readonly axis: Vec3 | null;
  /** Nominal point that the translations hold: the mean of the members' points, or the one on the open axis. */
  readonly reference: Vec3;
  /** Orthonormal directions, nominal coordinates, along which the pattern fixes its place. */
  readonly translations: readonly Vec3[];
  /** Orthonormal directions, nominal coordinates, about which a fit can observe turns. */
  readonly observed: readonly Vec3[];
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Orthonormal directions along which a feature of this type has a place. */
export function placeDirections(type: FeatureType, direction: Vec3): readonly Vec3[] {
  switch (type) {
    case 'plane':
    case 'midplane':
      return [direction];
    case 'line':
    case 'cylinder': {
      const one = perpendicular(direction);
      return [one, cross(direction, one)];
    }
    case 'circle':
    case 'cone':
    case 'sphere':
    case 'point':
      return AXES;
  }
}

/**
 * @param turns unit directions, nominal coordinates, about which the pattern may turn: three, one or none.
 * @throws ReductionError `invalid-definition` where the pattern leaves a screw motion open.
 */
export function patternOffer(
  { label, members, nominal }: PatternDatum,
  turns: readonly Vec3[],
): PatternOffer {
  const centre = nominal.point;
  const size = Math.max(...members.map((m) => norm(subtract(m.nominal.point, centre)))) || 1;
  const rows = members.flatMap((m) => {
    const { point, direction } = m.nominal;
    const arm = scale(subtract(point, centre), 1 / size);
    const tilts = direction === null ? [] : tiltsOf(direction);
    return [
      ...tilts.map((e) => [...turns.map((t) => dot(t, e)), 0, 0, 0]),
      ...placeDirections(m.type, direction ?? [0, 0, 1]).map((e) => [
        ...turns.map((t) => dot(e, cross(t, arm))),
        ...e,
      ]),
    ];
  });
  const free = nullSpace(rows, turns.length + 3).map((n) => ({
    turn: turns.reduce<Vec3>((sum, t, k) => addScaled(sum, t, n[k]!), [0, 0, 0]),
    shift: n.slice(turns.length) as unknown as Vec3,
  }));
  const turning = free.length === 0 ? null : turningPart(free.map((f) => f.turn));
  const rank = turning?.directions.length ?? 0;
  const combined = (weights: readonly number[]): Vec3 =>
    free.reduce<Vec3>((sum, f, i) => addScaled(sum, f.shift, weights[i]!), [0, 0, 0]);
  const openShifts = turning === null ? [] : orthonormal(turning.still.map(combined));
  const translations = complement(openShifts);
  const base = { translations, observed: turns };
  if (rank === 0) {
    const fixed = turns.length === 3 ? 'all' : turns.length === 1 ? 'turn' : 'none';
    return { ...base, turns: fixed, axis: null, reference: centre };
  }
  if (rank > 1) return { ...base, observed: [], turns: 'none', axis: null, reference: centre };
  const { axis, weights } = turning!.directions[0]!;
  const drift = openShifts.reduce<Vec3>((v, t) => addScaled(v, t, -dot(v, t)), combined(weights));
  if (Math.abs(dot(drift, axis)) > STRUCTURAL_SINE) throw screwOpen(label);
  return {
    ...base,
    observed: turns.length === 3 ? tiltsOf(axis) : [],
    turns: turns.length === 3 ? 'tilts' : 'none',
    axis: turns.length === 3 ? axis : null,
    reference: addScaled(centre, cross(axis, drift), size),
  };
}

function tiltsOf(direction: Vec3): readonly Vec3[] {
  const one = perpendicular(direction);
  return [one, cross(direction, one)];
}

/** Orthonormal vectors that all rows are square to. */
function nullSpace(rows: readonly (readonly number[])[], columns: number): number[][] {
  const { rightSingularVectors: v, diagonal: s } = svdOf(rows, columns);
  return Array.from({ length: columns }, (_, k) => k)
    .filter((k) => !(s[k]! > STRUCTURAL_SINE * s[0]!))
    .map((k) => v.getColumn(k));
}

/**
 * The directions of the turns among some motions, each with the weights that combine the motions to a unit turn about
 * it, and the weights of combinations that do not turn at all.
 */
function turningPart(motions: readonly Vec3[]) {
  const n = motions.length;
  const rows = AXES.map((_, k) => motions.map((m) => m[k as 0 | 1 | 2]));
  const { leftSingularVectors: u, rightSingularVectors: v, diagonal: s } = svdOf(rows, n);
  const all = Array.from({ length: n }, (_, k) => k);
  return {
    directions: all
      .filter((k) => s[k]! > STRUCTURAL_SINE)
      .map((k) => ({
        axis: normalize([u.get(0, k), u.get(1, k), u.get(2, k)]),
        weights: v.getColumn(k).map((x) => x / s[k]!),
      })),
    still: all.filter((k) => !(s[k]! > STRUCTURAL_SINE)).map((k) => v.getColumn(k)),
  };
}

/** Singular value decomposition with at least as many rows as columns. */
function svdOf(rows: readonly (readonly number[])[], columns: number): SingularValueDecomposition {
  const filled = [...rows];
  while (filled.length < columns) filled.push(new Array<number>(columns).fill(0));
  return new SingularValueDecomposition(new Matrix(filled.map((row) => [...row])));
}

function orthonormal(vectors: readonly Vec3[]): readonly Vec3[] {
  const basis: Vec3[] = [];
  for (const v of vectors) {
    const rest = basis.reduce((sum, b) => addScaled(sum, b, -dot(sum, b)), v);
    if (norm(rest) > STRUCTURAL_SINE) basis.push(normalize(rest));
  }
  return basis;
}

/** Orthonormal basis of what is square to an orthonormal set. */
function complement(basis: readonly Vec3[]): readonly Vec3[] {
  const [one, two, three] = basis;
  if (three) return [];
  if (one && two) return [cross(one, two)];
  return one ? tiltsOf(one) : AXES;
}

function screwOpen(label: string): ReductionError {
  return new ReductionError(
    'invalid-definition',
    `The pattern of datum ${label} leaves a screw motion open, which no datum after it can be told to fix.`,
    'Add a member that fixes the place along or the turn about that axis.',
    { datum: label },
  );
}

/** Mean of the nominal points of the members: the point at which the pattern's place is told. */
export function meanPoint(points: readonly Vec3[]): Vec3 {
  return scale(
    points.reduce<Vec3>((sum, p) => add(sum, p), [0, 0, 0]),
    1 / points.length,
  );
}
