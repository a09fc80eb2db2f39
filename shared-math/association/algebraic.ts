/** Linear (algebraic) starts for round features, and back substitution for them. */
import type { TriangularFactor } from './triangular-factor.ts';

/**
 * Solves the least-squares problem whose rows [a | b] were gathered in `rows` (one right side); components that
 * the rows do not determine (pivot under 1e-12 of the largest) are set to zero, good enough for a start.
 */
export function backSubstitute(rows: TriangularFactor): Float64Array {
  const p = rows.columns - 1;
  const solution = new Float64Array(p);
  let largest = 0;
  for (let i = 0; i < p; i++) largest = Math.max(largest, Math.abs(rows.at(i, i)));
  for (let i = p - 1; i >= 0; i--) {
    let rest = rows.at(i, p);
    for (let j = i + 1; j < p; j++) rest -= rows.at(i, j) * solution[j]!;
    solution[i] = Math.abs(rows.at(i, i)) > 1e-12 * largest ? rest / rows.at(i, i) : 0;
  }
  return solution;
}
