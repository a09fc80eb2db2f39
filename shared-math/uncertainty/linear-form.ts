/**
 * First-order quantities as linear forms in independent small disturbances.
 *
 * A scalar form is a row of K coefficients, one for each disturbance; a vector form is three such rows. All forms of one
 * propagation share the list of disturbances, so that correlations come out by themselves.
 */
import type { Mat3, Vec3 } from '../geometry/types.ts';

export type ScalarForm = Float64Array;
export type VectorForm = readonly [ScalarForm, ScalarForm, ScalarForm];

/** The vector form that is zero, over `size` variables. */
export function zeroVector(size: number): VectorForm {
  return [new Float64Array(size), new Float64Array(size), new Float64Array(size)];
}

/** a + factor·b. */
export function addForms(a: VectorForm, b: VectorForm, factor = 1): VectorForm {
  return mapRows((k) => a[k].map((x, i) => x + factor * b[k][i]!));
}

/** c·v of a constant vector c and a vector form. */
export function dotForm(c: Vec3, v: VectorForm): ScalarForm {
  return v[0].map((x, i) => c[0] * x + c[1] * v[1][i]! + c[2] * v[2][i]!);
}

/** v × r of a vector form (a small turn) and a constant vector. */
export function crossForm(v: VectorForm, r: Vec3): VectorForm {
  return [
    v[1].map((y, i) => y * r[2] - v[2][i]! * r[1]),
    v[2].map((z, i) => z * r[0] - v[0][i]! * r[2]),
    v[0].map((x, i) => x * r[1] - v[1][i]! * r[0]),
  ];
}

/** direction·s of a constant vector and a scalar form. */
export function along(direction: Vec3, s: ScalarForm): VectorForm {
  return mapRows((k) => s.map((x) => direction[k] * x));
}

/** M·v. */
export function applyToForm(m: Mat3, v: VectorForm): VectorForm {
  return [dotForm(m[0], v), dotForm(m[1], v), dotForm(m[2], v)];
}

/** a·s + b·t of scalar forms. */
export function combineForms(a: number, s: ScalarForm, b: number, t: ScalarForm): ScalarForm {
  return s.map((x, i) => a * x + b * t[i]!);
}

function mapRows(row: (k: 0 | 1 | 2) => ScalarForm): VectorForm {
  return [row(0), row(1), row(2)];
}
