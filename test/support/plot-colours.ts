import type { PlotColours } from '../../src-renderer/plot/plot-colours.ts';

/** Colours that tell in a test which of them was used. */
export const plotColours: PlotColours = {
  ink: '#000001',
  ink2: '#000002',
  line: '#000003',
  surface: '#000004',
  dial: '#000005',
  brass: '#000006',
  select: '#000007',
  limit: '#000008',
  conforming: '#000009',
  nonconforming: '#00000a',
  unproven: '#00000b',
  missing: '#00000c',
};
