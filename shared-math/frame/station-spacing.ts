/** The scale against which misplacement is judged: how far apart the stations stand. */
import type { PartDefinition } from '../definition.ts';

/** Part of the station spacing that a station may lie away from its place; beyond it the disc is refused. */
export const LARGEST_MISPLACEMENT = 0.2;

/** Mean distance of neighbouring seats along the ring, mm; the diameter where there are fewer than four stations. */
export function stationSpacing({ stations }: PartDefinition): number {
  const mean = stations.reduce((sum, s) => sum + Math.abs(s.seat.radius), 0) / stations.length;
  return (2 * Math.PI * mean) / Math.max(stations.length, Math.PI);
}
