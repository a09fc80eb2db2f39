/** Words for the coordinate axes of the two frames, used in messages and in what each datum fixes. */
import type { AxisNames } from './freedoms.ts';

export const DISC_AXES: AxisNames = { x: 'disc X', y: 'disc Y', z: 'the disc axis Z' };
export const BLADE_AXES: AxisNames = { x: 'oscillation', y: 'lateral', z: 'upset' };
