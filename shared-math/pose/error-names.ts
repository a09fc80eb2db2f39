/** Names of a blade's twelve errors in the order of every result, vector and covariance. */
import type { DiscErrorName, ErrorName } from '../definition.ts';

/** In the nominal blade frame: displacements of the blade origin (mm), then the rotation vector (rad). */
export const ERRORS: readonly ErrorName[] = [
  'oscillation',
  'lateral',
  'upset',
  'rotOscillation',
  'rotLateral',
  'rotUpset',
];

/** The same in the disc's words: displacements (mm), then angles (rad). */
export const DISC_ERRORS: readonly DiscErrorName[] = [
  'radial',
  'tangential',
  'axial',
  'lean',
  'sweep',
  'stagger',
];
