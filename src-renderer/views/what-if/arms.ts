import type { ReducedDisc } from '../../../src-main/api.ts';

/** Largest distance of a check point from the blade origin, and of a blade origin from the disc axis; mm. */
export function arms(disc: ReducedDisc): { readonly blade: number; readonly disc: number } {
  const { stations } = disc.definition;
  const points = stations.flatMap(({ requirement }) =>
    requirement.checkPoints.map(({ at }) => Math.hypot(...at)),
  );
  const blade = Math.max(1, ...points);
  return { blade, disc: blade + Math.max(1, ...stations.map(({ seat }) => Math.abs(seat.radius))) };
}
