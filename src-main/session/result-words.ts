/** Words that stand in several parts of a result. */
import { z } from 'zod';

export const verdict = z.enum(['conforming', 'nonconforming', 'unproven']);
export const errorName = z.enum([
  'oscillation',
  'lateral',
  'upset',
  'rotOscillation',
  'rotLateral',
  'rotUpset',
]);
export const discErrorName = z.enum(['radial', 'tangential', 'axial', 'lean', 'sweep', 'stagger']);
export const hubFreedom = z.enum(['x', 'y', 'z', 'rotX', 'rotY', 'rotZ']);
