/** The plot library with only the traces that views use: none of them needs WebGL or run-time code evaluation. */

import barpolar from 'plotly.js/lib/barpolar';
import Plotly from 'plotly.js/lib/core';
import scatter from 'plotly.js/lib/scatter';
import scatterpolar from 'plotly.js/lib/scatterpolar';

Plotly.register([scatter, scatterpolar, barpolar]);

export { Plotly };
