/** From a typed error of the mathematics to a problem with file and place. */
import type { ReductionError } from '../../shared-math/errors.ts';
import type { Problem } from '../api.ts';
import { describe } from '../problems.ts';

/** Failures that the plan alone causes; all others show in the points. */
const OF_THE_PLAN = new Set<ReductionError['failure']>([
  'open-freedom',
  'redundant-datum',
  'missing-side',
  'invalid-definition',
]);

export function reductionProblem(
  error: ReductionError,
  plan: { readonly name: string },
  points: { readonly name: string },
): Problem {
  const { station, feature, datum } = error.place;
  const says = error.message.replace(/\.$/, '');
  // The message often names its place already; only what it leaves out is added.
  const place = [
    station === null && !/\bhub\b/i.test(says) ? 'hub' : undefined,
    typeof station === 'number' && !new RegExp(`\\bstation ${station}\\b`, 'i').test(says)
      ? `station ${station}`
      : undefined,
    datum !== undefined && !says.includes(`atum ${datum}`) ? `datum ${datum}` : undefined,
    feature !== undefined && !says.includes(feature) ? `feature ${feature}` : undefined,
  ].filter((part) => part !== undefined);
  const remedy = error.remedy.replace(/\.$/, '');
  return describe({
    code: error.failure,
    file: OF_THE_PLAN.has(error.failure) ? plan.name : points.name,
    says: place.length > 0 ? `${place.join(', ')}: ${says}` : says,
    ...(remedy === '' ? {} : { remedy }),
  });
}
