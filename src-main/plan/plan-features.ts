/** The feature names that a datum of the plan stands for. */
import type { PlanDatum, PlanMember } from './plan-schema.ts';

export function featuresOf({
  feature,
  features,
}: Pick<PlanMember, 'feature' | 'features'>): readonly string[] {
  return features ?? (feature === undefined ? [] : [feature]);
}

/** Those of its members, for a pattern. */
export function allFeaturesOf(datum: PlanDatum): readonly string[] {
  return datum.members?.flatMap(featuresOf) ?? featuresOf(datum);
}
