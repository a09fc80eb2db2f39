/** The length by which small turns of points become comparable with shifts. */
import type { Vec3 } from '../geometry/types.ts';
import type { AssociationInput } from './types.ts';

/** Root mean square distance of the points from the centre, mm; 1 where they all lie there. */
export function leverSize(inputs: readonly AssociationInput[], [cx, cy, cz]: Vec3): number {
  let [squares, n] = [0, 0];
  for (const { xyz } of inputs)
    for (let i = 0; i < xyz.length; i += 3) {
      squares += (xyz[i]! - cx) ** 2 + (xyz[i + 1]! - cy) ** 2 + (xyz[i + 2]! - cz) ** 2;
      n++;
    }
  return Math.sqrt(squares / n) || 1;
}
