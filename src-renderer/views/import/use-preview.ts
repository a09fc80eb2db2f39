import { useEffect } from 'react';
import type { HubtrueApi, ImportMapping } from '../../../src-main/api.ts';
import { knownNames } from '../plan/nominal.ts';
import { type PlanState, planActions } from '../plan/plan-store.ts';

/** Asks again whenever something is stated; the last good look stays on view meanwhile. */
export function usePreview(api: HubtrueApi, { points, stated, history }: PlanState): void {
  const names = knownNames(history.present);
  const key = JSON.stringify([points?.ticket, stated, names]);
  useEffect(() => {
    const [ticket, mapping, plan] = JSON.parse(key) as [
      string | null,
      ImportMapping,
      ReturnType<typeof knownNames>,
    ];
    if (ticket === null || ticket === undefined) return;
    let isStale = false;
    void api
      .previewPoints({ points: ticket, import: mapping, ...(plan === null ? {} : { plan }) })
      .then((outcome) => {
        if (isStale) return;
        planActions.update(
          outcome.ok
            ? { preview: outcome.value, previewProblems: [] }
            : { previewProblems: outcome.problems },
        );
      });
    return () => {
      isStale = true;
    };
  }, [api, key]);
}
