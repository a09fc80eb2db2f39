import { readPlotColours } from '../../plot/plot-colours.ts';
import { plotConfig } from '../../plot/plot-config.ts';
import { Plotly } from '../../plot/plotly.ts';
import { mapLayout } from './layout.ts';
import { type MapMark, mapScale } from './marks.ts';
import { mapData } from './series.ts';

/** A station of each kind, four times: what a map is made of, but nobody's disc. */
const marks = Array.from({ length: 16 }, (_, index): MapMark => {
  const standing = (['conforming', 'nonconforming', 'unproven', 'missing'] as const)[index % 4]!;
  const value = standing === 'missing' ? null : (index + 1) / 100;
  return { station: index + 1, angle: 22.5 * index, standing, value, expanded: 0.01, limit: 0.1, text: '' };
});

/**
 * Draws a map out of sight and lets it go. The plot library's code is compiled as it runs for the first time; done while the
 * person still looks for files, it does not make the first disc wait.
 */
async function drawOutOfSight(): Promise<void> {
  const box = document.createElement('div');
  box.className = 'out-of-sight';
  box.setAttribute('aria-hidden', 'true');
  document.body.append(box);
  const units = { length: 'mm', rotation: 'degree' } as const;
  const name = 'position';
  const options = {
    marks,
    name,
    units,
    scale: mapScale(marks, name, 1, 'all'),
    colours: readPlotColours(),
  } as const;
  await Plotly.newPlot(
    box,
    mapData({ ...options, selected: null, marked: [] }),
    { ...mapLayout(options), width: 500, height: 500 },
    plotConfig,
  );
  Plotly.purge(box);
  box.remove();
}

/** Readies the map when the page has nothing else to do. */
export function warmUpMap(): void {
  if ('requestIdleCallback' in window) requestIdleCallback(() => void drawOutOfSight());
  else setTimeout(() => void drawOutOfSight(), 200);
}
