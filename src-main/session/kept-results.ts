/**
 * Whether the results in a session can be shown: of a known shape, whole since they were saved, of the files and the plan that
 * the session names, and agreeing with themselves. Where they cannot, the rest of the session still opens.
 */
import type { PartDefinition, StationDefinition } from '../../shared-math/definition.ts';
import type { StationResult, Summary, Verdict } from '../../shared-math/result.ts';
import { pathText } from '../plan/json-positions.ts';
import { resultsSchema, type SessionResults } from './result-schema.ts';
import type { SessionDocument } from './session-schema.ts';

/** Why the results are not to be shown, in words that follow the file name; null where they are. */
export function faultOfResults(
  reduced: unknown,
  { plan, points }: Pick<SessionDocument, 'plan' | 'points'>,
): string | null {
  const parsed = resultsSchema.safeParse(reduced);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return `the results in it cannot be read (${pathText(['reduced', ...(issue?.path ?? [])])}: ${issue?.message})`;
  }
  const { source, stations, summary } = (reduced as SessionResults).result;
  if (source.points.sha256 !== points?.sha256 || source.plan.sha256 !== plan?.sha256)
    return 'the results in it belong to other files';
  return addsUp(stations, summary) ? null : 'the results in it contradict themselves';
}

/** Every station once, and the counts of the summary those of the stations. */
function addsUp(stations: readonly StationResult[], summary: Summary): boolean {
  const numbers = [...stations, ...summary.missing].map(({ station }) => station);
  const of = (verdict: Verdict): number => stations.filter((station) => station.verdict === verdict).length;
  return (
    new Set(numbers).size === numbers.length &&
    summary.stations === numbers.length &&
    summary.conforming === of('conforming') &&
    summary.nonconforming === of('nonconforming') &&
    summary.unproven === of('unproven')
  );
}

/** Whether results were judged against what this plan asks for, station by station. */
export function answersPlan(
  { stations, summary, pattern }: SessionResults['result'],
  definition: PartDefinition,
): boolean {
  const planned = new Map(definition.stations.map((station) => [station.station, station]));
  return (
    summary.stations === planned.size &&
    summary.missing.every(({ station }) => planned.has(station)) &&
    (pattern?.tolerance ?? null) === (definition.pattern?.tolerance ?? null) &&
    stations.every((station) => answers(station, planned.get(station.station)))
  );
}

function answers(result: StationResult, planned: StationDefinition | undefined): boolean {
  if (planned === undefined) return false;
  const { checkPoints, limits } = planned.requirement;
  return (
    result.position.checkPoints.length === checkPoints.length &&
    checkPoints.every((point, i) => {
      const found = result.position.checkPoints[i];
      return found?.name === point.name && found.zone === point.zone && found.tolerance === point.tolerance;
    }) &&
    result.limits.length === Object.keys(limits).length &&
    result.limits.every(({ name, limit }) => limits[name] === limit)
  );
}
