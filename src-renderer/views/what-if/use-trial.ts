import { useEffect, useState } from 'react';
import type { HubtrueApi, JobEvent, Problem, ReducedDisc } from '../../../src-main/api.ts';
import type { Session } from '../../state/session.ts';
import type { DroppedPoint } from './history.ts';

export type Trial =
  | { readonly kind: 'none' }
  | { readonly kind: 'running' }
  | { readonly kind: 'done'; readonly disc: ReducedDisc }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

/** Reductions of a measured disc without some of its points, by their lines; they end with the disc. */
const trials = new WeakMap<ReducedDisc, Map<string, Trial>>();

const none: Trial = { kind: 'none' };
const running: Trial = { kind: 'running' };

/** Why the points are left out of a trial, in its reduction. The measured result and the session never see it. */
const REASON = 'what-if trial, not measured';

/**
 * Reduces the disc on view again without the points, beside the session: its result, files and exclusions stay as they are.
 */
export function useTrial(api: HubtrueApi, session: Session, points: readonly DroppedPoint[]): Trial {
  const { disc } = session;
  const key = points.map(({ line }) => line).join(' ');
  const [, repaint] = useState(0);
  const known = disc === null ? undefined : trials.get(disc)?.get(key);

  // biome-ignore lint/correctness/useExhaustiveDependencies: a trial belongs to its disc; the rest of the session may change.
  useEffect(() => {
    if (disc === null || key === '') return;
    const all = trials.get(disc) ?? new Map<string, Trial>();
    trials.set(disc, all);
    if (all.has(key)) return;
    const job = startTrial(api, session, key.split(' ').map(Number), (trial) => {
      all.set(key, trial);
      repaint((count) => count + 1);
    });
    return () => {
      if (!all.has(key)) job.cancel();
    };
  }, [api, disc, key]);

  return key === '' ? none : (known ?? running);
}

function startTrial(
  api: HubtrueApi,
  { discFiles, exclusions }: Session,
  lines: readonly number[],
  onEnd: (trial: Trial) => void,
): { readonly cancel: () => void } {
  const { points, plan, welds } = discFiles;
  let id: string | null = null;
  let over = false;
  const early: JobEvent[] = [];
  const take = (event: JobEvent) => {
    if (event.kind === 'progress' || over) return;
    over = true;
    stop();
    if (event.kind === 'finished') onEnd({ kind: 'done', disc: event.disc });
    else if (event.kind === 'refused') onEnd({ kind: 'refused', problems: event.problems });
  };
  const stop = api.onJob((event) => {
    if (id === null) early.push(event);
    else if (event.job === id) take(event);
  });
  const cancel = () => {
    over = true;
    stop();
    if (id !== null) void api.cancel(id);
  };
  if (points === undefined || plan === undefined) {
    stop();
    onEnd({ kind: 'refused', problems: [] });
    return { cancel };
  }
  const { present } = exclusions;
  const known = new Set(present.points.map(({ line }) => line));
  void api
    .reduce({
      points: points.ticket,
      plan: plan.ticket,
      ...(welds === undefined ? {} : { welds: welds.ticket }),
      exclusions: [
        ...present.points,
        ...lines.filter((line) => !known.has(line)).map((line) => ({ line, reason: REASON })),
      ],
      excludedFeatures: present.features,
      diagnose: false,
    })
    .then((outcome) => {
      if (!outcome.ok) {
        stop();
        if (!over) onEnd({ kind: 'refused', problems: outcome.problems });
        over = true;
        return;
      }
      id = outcome.value.job;
      if (over) void api.cancel(id);
      for (const event of early) if (event.job === id) take(event);
    });
  return { cancel };
}
