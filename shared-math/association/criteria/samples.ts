/** Subsets of an association's points, and medians. */
import type { AssociationInput } from '../types.ts';

/** The points that `keep` accepts, with their offsets and weights. */
export function subsetOf(input: AssociationInput, keep: (i: number) => boolean): AssociationInput {
  const indices: number[] = [];
  for (let i = 0; i < input.xyz.length / 3; i++) if (keep(i)) indices.push(i);
  return pick(input, indices);
}

/** The points of the given indices, in that order. */
export function pick(input: AssociationInput, indices: readonly number[]): AssociationInput {
  const xyz = new Float64Array(3 * indices.length);
  indices.forEach((i, k) => {
    xyz.set(input.xyz.subarray(3 * i, 3 * i + 3), 3 * k);
  });
  const some = (values: Float64Array | null | undefined): Float64Array | null =>
    values ? Float64Array.from(indices, (i) => values[i]!) : null;
  return { xyz, offsets: some(input.offsets), weights: some(input.weights) };
}

/** Median (mean of the middle two for an even count); NaN for none. */
export function medianOf(values: Float64Array): number {
  const sorted = values.slice().sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : 0.5 * (sorted[half - 1]! + sorted[half]!);
}
