/**
 * Least median of squares: of the features through random minimal subsets of the points, the one with the smallest median
 * distance (Rousseeuw, J. Am. Statist. Assoc. 79 (1984) 871–880). Nearly half of the points may be wrong.
 */
import { ReductionError } from '../../errors.ts';
import { residualDistances } from '../residuals.ts';
import type { AssociationInput, SubstituteFeature } from '../types.ts';
import { medianOf, pick } from './samples.ts';

/** With 40 % outliers, 500 subsets of four miss a clean one with a probability of 1e-30. */
const SUBSETS = 500;
/** Points that a subset's feature is judged by. */
const JUDGES = 500;

/**
 * @param minimal points that fix the feature
 * @param associate association of such a subset
 * @returns null where no subset determines the feature
 */
export function leastMedianFeature(
  input: AssociationInput,
  minimal: number,
  associate: (subset: AssociationInput) => SubstituteFeature,
): SubstituteFeature | null {
  const points = input.xyz.length / 3;
  let seed = 20_117;
  const next = (): number => {
    seed = (seed * 48_271) % 2_147_483_647;
    return seed / 2_147_483_647;
  };
  const draw = (count: number): number[] => {
    const drawn = new Set<number>();
    while (drawn.size < count) drawn.add(Math.floor(next() * points));
    return [...drawn];
  };
  const judges = points <= JUDGES ? input : pick(input, draw(JUDGES));
  let best: SubstituteFeature | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < SUBSETS; k++) {
    try {
      const feature = associate(pick(input, draw(minimal)));
      const median = medianOf(residualDistances(feature, judges).map(Math.abs));
      if (median < least) {
        least = median;
        best = feature;
      }
    } catch (error) {
      // Subsets on a line, coincident or without a solution are no candidates.
      if (!(error instanceof ReductionError)) throw error;
    }
  }
  return best;
}
