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

/** Resolves when the page has nothing else to do. */
function idle(): Promise<void> {
  return new Promise((resolve) => {
    if ('requestIdleCallback' in window) requestIdleCallback(() => resolve());
    else setTimeout(resolve, 200);
  });
}

/**
 * Draws a map out of sight and lets it go. The plot library's code is compiled as it runs for the first time; done while the
 * person still looks for files, it does not make the first disc wait. It is drawn in steps, between which the page answers.
 */
export async function warmUpMap(): Promise<void> {
  await idle();
  const units = { length: 'mm', rotation: 'degree' } as const;
  const name = 'position';
  const scale = mapScale(marks, name, 1, 'all');
  const options = { marks, name, units, scale, colours: readPlotColours() } as const;
  const data = mapData({ ...options, selected: null, marked: [] });
  const layout = { ...mapLayout(options), width: 500, height: 500 };
  const box = document.createElement('div');
  box.className = 'out-of-sight';
  box.setAttribute('aria-hidden', 'true');
  document.body.append(box);
  try {
    for (const traces of [0, 1, 3, data.length]) {
      await idle();
      await Plotly.react(box, data.slice(0, traces), layout, plotConfig);
    }
  } catch {
    // Nobody sees this map; the first real one says what is wrong.
  } finally {
    Plotly.purge(box);
    box.remove();
  }
}
