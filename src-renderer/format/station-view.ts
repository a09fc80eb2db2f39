import type { PatternStation, ResultDocument, StationResult } from '../../shared-math/result.ts';

/** Second level of position of one blade, with the tolerance that all blades have there. */
export interface RelativePosition extends PatternStation {
  readonly tolerance: number;
}

/** A station as the views take it: with its second level of position, where the plan asks for one. */
export interface StationView extends StationResult {
  readonly relative?: RelativePosition | null;
}

export function stationViews({ stations, pattern }: ResultDocument): readonly StationView[] {
  if (pattern === null) return stations;
  const { tolerance } = pattern;
  const byNumber = new Map(pattern.stations.map((entry) => [entry.station, { ...entry, tolerance }]));
  return stations.map((station) => ({ ...station, relative: byNumber.get(station.station) ?? null }));
}

/** Names of the two levels; a disc with one level has no need to tell them apart. */
export const levelNames = {
  hub: 'Position relative to the hub',
  eachOther: 'Position relative to each other',
} as const;
