/**
 * Covariances of a mixed model fitted: of its variance components, of its coefficients, and the latter adjusted for weights that are
 * themselves estimated.
 *
 * Source: M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983–997 (Q_ij and P_i as there), from memory.
 */
import { backward, forward } from './flat-cholesky.ts';
import { COMPONENTS, directionsOf, type Evaluation, type FlatModel } from './mixed-evaluation.ts';
import { inverseDefinite, product, type ReadonlyRows, type Rows, zeros } from './symmetric.ts';

/** On the diagonal of the information: keeps it regular where τ² and the σ² can hardly be told apart. */
export const RIDGE = 1 + 1e-9;

/** Covariance of the components; zero for the index's variance where it is held at none. */
export function invertInformation(information: ReadonlyRows, freeIndex: boolean): Rows {
  const at = freeIndex ? [0, 1, 2, 3, 4, 5, 6] : [0, 1, 2, 3, 4, 5];
  const scale = at.map((i) => Math.sqrt(information[i]![i]!));
  const unit = at.map((i, a) =>
    at.map((j, b) => (i === j ? RIDGE : information[i]![j]! / (scale[a]! * scale[b]!))),
  );
  const inverse = inverseDefinite(unit)?.inverse;
  const covariance = zeros(COMPONENTS, COMPONENTS);
  at.forEach((i, a) => {
    at.forEach((j, b) => {
      covariance[i]![j] = (inverse?.[a]?.[b] ?? (i === j ? 1 : 0)) / (scale[a]! * scale[b]!);
    });
  });
  return covariance;
}

/**
 * Covariance of the variance components for what hangs on their inverses. 2·v²/ν is the variance of an estimated variance v with ν
 * degrees of freedom, but weights go as 1/v, which spreads more: by ν/(ν − 2), as the mean of an inverse chi-squared does. With
 * many stations the factor is 1; below ten it keeps intervals from being too short (see test/coverage).
 */
export function widened(degrees: readonly number[], covariance: ReadonlyRows): Rows {
  const factors = [...degrees.map((nu) => Math.sqrt(nu / (nu - 2))), 1];
  return covariance.map((row, i) => row.map((x, j) => x * factors[i]! * factors[j]!));
}

/** Fewest degrees of freedom of the variance of one error; a mean of its inverse exists beyond two only. */
export const FEWEST_DEGREES = 3;

/** N⁻¹ = (XᵀV⁻¹X)⁻¹ from its factor. */
export function inverseOfFactor({ factor, beta }: Evaluation): Rows {
  const p = beta.length;
  const inverse = zeros(p, p);
  const column = new Float64Array(p);
  for (let c = 0; c < p; c++) {
    column.fill(0);
    column[c] = 1;
    forward(factor, p, column, 0);
    backward(factor, p, column);
    for (let r = 0; r < p; r++) inverse[r]![c] = column[r]!;
  }
  return inverse;
}

/** B_i = Σ u·uᵀ over the stations. */
export function sensitivitiesOf(model: FlatModel, at: Evaluation): Rows[] {
  const { columns: p, count } = model;
  const sensitivities = Array.from({ length: COMPONENTS }, () => zeros(p, p));
  const us = new Float64Array(COMPONENTS * p);
  const ws = new Float64Array(COMPONENTS * COMPONENTS);
  for (let k = 0; k < count; k++) {
    directionsOf(model, at, k, us, ws);
    for (let i = 0; i < COMPONENTS; i++) {
      const b = sensitivities[i]!;
      for (let r = 0; r < p; r++) {
        const u = us[i * p + r]!;
        if (u === 0) continue;
        const row = b[r]!;
        for (let c = 0; c < p; c++) row[c] = row[c]! + u * us[i * p + c]!;
      }
    }
  }
  return sensitivities;
}

/**
 * Φ + 2·Φ·{Σ W_ij·(Q_ij − B_i·Φ·B_j)}·Φ; V is linear in its components, so that the term of second derivatives is zero.
 */
export function adjustedCovariance(
  model: FlatModel,
  at: Evaluation,
  covariance: ReadonlyRows,
  sensitivities: readonly ReadonlyRows[],
  componentCovariance: ReadonlyRows,
): Rows {
  const { columns: p, count } = model;
  const sum = zeros(p, p);
  const us = new Float64Array(COMPONENTS * p);
  const ws = new Float64Array(COMPONENTS * COMPONENTS);
  const mixed = new Float64Array(p);
  for (let k = 0; k < count; k++) {
    directionsOf(model, at, k, us, ws);
    for (let i = 0; i < COMPONENTS; i++) {
      // Σ_j W_ij·(g_iᵀV⁻¹g_j)·u_j.
      mixed.fill(0);
      for (let j = 0; j < COMPONENTS; j++) {
        const m = ws[COMPONENTS * i + j]! * componentCovariance[i]![j]!;
        for (let c = 0; c < p; c++) mixed[c] = mixed[c]! + m * us[j * p + c]!;
      }
      for (let r = 0; r < p; r++) {
        const u = us[i * p + r]!;
        if (u === 0) continue;
        const row = sum[r]!;
        for (let c = 0; c < p; c++) row[c] = row[c]! + u * mixed[c]!;
      }
    }
  }
  for (let i = 0; i < COMPONENTS; i++) {
    // Σ_j W_ij·B_j first: one product for each i.
    const together = zeros(p, p);
    for (let j = 0; j < COMPONENTS; j++) {
      const w = componentCovariance[i]![j]!;
      sensitivities[j]!.forEach((row, r) => {
        const target = together[r]!;
        for (let c = 0; c < p; c++) target[c] = target[c]! + w * row[c]!;
      });
    }
    const part = product(product(sensitivities[i]!, covariance), together);
    for (let r = 0; r < p; r++) for (let c = 0; c < p; c++) sum[r]![c] = sum[r]![c]! - part[r]![c]!;
  }
  const change = product(product(covariance, sum), covariance);
  return covariance.map((row, r) => row.map((x, c) => x + change[r]![c]! + change[c]![r]!));
}
