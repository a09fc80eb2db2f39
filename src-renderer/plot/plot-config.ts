import type { Config } from 'plotly.js/lib/core';

/**
 * The one configuration of every plot. `showSendToCloud` is false because the library's default offers to upload
 * the chart's data to a public server.
 */
export const plotConfig: Partial<Config> = {
  showSendToCloud: false,
  displaylogo: false,
  displayModeBar: true,
  responsive: false,
  scrollZoom: false,
  modeBarButtonsToRemove: ['toImage', 'select2d', 'lasso2d'],
};
