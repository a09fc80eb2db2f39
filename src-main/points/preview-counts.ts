/** Points of a previewed file by station and feature, and which of them have no place. */
import type { PreviewCount, PreviewRequest } from '../api.ts';

/** Rows that share what the file says of station and feature. */
export interface CountedRows {
  readonly station: number | null;
  readonly feature: string;
  /** First line of them. */
  readonly line: number;
  /** Why they belong nowhere; null where they do. */
  readonly fault: string | null;
  readonly count: number;
}

/** Groups by station (hub first) and feature, each judged by the plan, or by the shape of the file without one. */
export function judgedCounts(
  all: readonly CountedRows[],
  plan: PreviewRequest['plan'],
): readonly PreviewCount[] {
  const merged = new Map<string, CountedRows>();
  for (const group of all) {
    const key = `${group.station ?? ''}\n${group.feature}\n${group.fault ?? ''}`;
    const known = merged.get(key);
    merged.set(key, known === undefined ? group : { ...known, count: known.count + group.count });
  }
  const groups = [...merged.values()].filter((group) => group.count > 0);
  const stations = new Set(groups.flatMap(({ station }) => (station === null ? [] : [station])));
  const stationsWith = new Map<string, number>();
  for (const { station, feature } of groups)
    if (station !== null) stationsWith.set(feature, (stationsWith.get(feature) ?? 0) + 1);
  return groups
    .map((group) => {
      const reason =
        group.fault ??
        (plan === undefined
          ? oddity(group, stations.size, stationsWith.get(group.feature) ?? 0)
          : againstPlan(group, plan));
      const { station, feature, count, line } = group;
      return {
        station,
        feature,
        count,
        line,
        standing: reason === null ? ('planned' as const) : ('stray' as const),
        reason,
      };
    })
    .sort((a, b) => (a.station ?? 0) - (b.station ?? 0) || a.line - b.line);
}

/** Fewer stations than this say nothing about what is usual. */
const FEWEST_STATIONS = 4;
/** A name that less than this share of the stations have is odd. */
const USUAL_SHARE = 0.25;

/** A name that only a few of many stations have does not look like a feature of the blades. */
function oddity({ station, feature }: CountedRows, stations: number, having: number): string | null {
  if (station === null || stations < FEWEST_STATIONS || having > USUAL_SHARE * stations) return null;
  return having === 1
    ? `only station ${station} has ${feature}`
    : `only ${having} of ${stations} stations have ${feature}`;
}

function againstPlan(
  { station, feature }: CountedRows,
  { stations, hub, blade }: NonNullable<PreviewRequest['plan']>,
): string | null {
  if (station === null) return hub.includes(feature) ? null : `the plan has no hub feature ${feature}`;
  if (station < 1 || station > stations) return `the plan has stations 1 to ${stations}`;
  return blade.includes(feature) ? null : `the plan has no blade feature ${feature}`;
}
