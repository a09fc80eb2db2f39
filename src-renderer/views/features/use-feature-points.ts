import { useEffect, useState } from 'react';
import type { DiscPoints, FeaturePoints, HubtrueApi, Outcome, Problem } from '../../../src-main/api.ts';
import type { FeatureName } from '../../state/exclusions.ts';

export interface Asked<T> {
  readonly value: T | null;
  readonly problems: readonly Problem[];
}

const nothing = { value: null, problems: [] };

/** The answer to a question, asked again whenever its key changes; the last answer stays until the next one is there. */
function useAsked<T>(key: string | null, ask: () => Promise<Outcome<T>>): Asked<T> {
  const [asked, setAsked] = useState<Asked<T>>(nothing);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says all that the question depends on.
  useEffect(() => {
    if (key === null) {
      setAsked(nothing);
      return;
    }
    let current = true;
    void ask().then((outcome) => {
      if (!current) return;
      setAsked(
        outcome.ok ? { value: outcome.value, problems: [] } : { value: null, problems: outcome.problems },
      );
    });
    return () => {
      current = false;
    };
  }, [key]);
  return asked;
}

/** Points of one feature of the reduction on view. */
export function useFeaturePoints(
  api: HubtrueApi,
  job: string | null,
  name: FeatureName | null,
): Asked<FeaturePoints> {
  const key = job === null || name === null ? null : `${job} ${name.station} ${name.feature}`;
  return useAsked(key, () =>
    api.featurePoints({ job: job ?? '', station: name?.station ?? null, feature: name?.feature ?? '' }),
  );
}

/** Points of all features of the reduction on view, together about `most`. */
export function useDiscPoints(api: HubtrueApi, job: string | null, most: number): Asked<DiscPoints> {
  return useAsked(job === null ? null : `${job} ${most}`, () => api.discPoints({ job: job ?? '', most }));
}
