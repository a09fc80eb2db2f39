/** Entry of the browser host: `node out/main/browser.js [--open] [--sample ID]`. */
import { parseArgs } from 'node:util';
import { placesFrom, runBrowserHost } from './run.ts';

const { values } = parseArgs({
  options: { open: { type: 'boolean', default: false }, sample: { type: 'string' } },
});
await runBrowserHost(placesFrom(import.meta.url), values.sample ?? null, values.open);
