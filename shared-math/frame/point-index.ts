/** The measured blocks of a part, by station and feature name. */
import type { Datum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { PointBlock } from '../points.ts';

export interface PointIndex {
  /** Feature blocks of a datum, in the order of its feature names. Throws ReductionError `missing-feature`. */
  readonly blocksOf: (station: number | null, datum: Datum) => readonly PointBlock[];
  readonly hasStation: (station: number) => boolean;
}

/** Finds blocks by station and feature; a block without points counts as absent. */
export function indexPoints(blocks: readonly PointBlock[]): PointIndex {
  const key = (station: number | null, feature: string): string => `${station ?? 'hub'}\u0000${feature}`;
  const byKey = new Map(blocks.filter((b) => b.xyz.length > 0).map((b) => [key(b.station, b.feature), b]));
  const stations = new Set(blocks.map((b) => b.station));
  return {
    hasStation: (station) => stations.has(station),
    blocksOf: (station, datum) =>
      datum.features.map((feature) => {
        const block = byKey.get(key(station, feature));
        if (block) return block;
        const where = { station, feature, datum: datum.label };
        throw ReductionError.of('missing-feature', { code: 'feature-without-points', values: where }, where);
      }),
  };
}
