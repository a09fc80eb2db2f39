/** The plot library with traces in three dimensions as well: a part of its own, loaded with the view that needs it. */

import scatter3d from 'plotly.js/lib/scatter3d';
import { Plotly } from './plotly.ts';

Plotly.register([scatter3d]);

/** Whether this window can draw in three dimensions. */
export function canDraw3d(): boolean {
  const context = document.createElement('canvas').getContext('webgl');
  // The few contexts that a window may hold are for drawings.
  context?.getExtension('WEBGL_lose_context')?.loseContext();
  return context !== null;
}
