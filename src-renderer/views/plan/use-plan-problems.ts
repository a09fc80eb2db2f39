import { useEffect, useState } from 'react';
import type { HubtrueApi, Problem } from '../../../src-main/api.ts';

/** Long enough that typing does not ask at every key, short enough to seem immediate. */
const PAUSE = 120;

export interface PlanCheck {
  readonly problems: readonly Problem[];
  /** True once the main floor has judged this very text. */
  readonly isCurrent: boolean;
}

/** The main floor's judgement of a plan, kept up with what is being written. */
export function usePlanProblems(api: HubtrueApi, text: string): PlanCheck {
  const [judged, setJudged] = useState<{ readonly text: string; readonly problems: readonly Problem[] }>({
    text: '',
    problems: [],
  });
  useEffect(() => {
    let isStale = false;
    const timer = setTimeout(() => {
      void api.checkPlan({ text }).then((outcome) => {
        if (!isStale) setJudged({ text, problems: outcome.ok ? outcome.value : outcome.problems });
      });
    }, PAUSE);
    return () => {
      isStale = true;
      clearTimeout(timer);
    };
  }, [api, text]);
  return { problems: judged.problems, isCurrent: judged.text === text };
}
