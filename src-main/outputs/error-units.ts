import type { LimitName } from '../../shared-math/definition.ts';

/** Unit of each of a blade's twelve errors in every file. */
export const ERROR_UNITS: Readonly<Record<LimitName, 'mm' | 'rad'>> = {
  oscillation: 'mm',
  lateral: 'mm',
  upset: 'mm',
  rotOscillation: 'rad',
  rotLateral: 'rad',
  rotUpset: 'rad',
  radial: 'mm',
  tangential: 'mm',
  axial: 'mm',
  lean: 'rad',
  sweep: 'rad',
  stagger: 'rad',
};
