/**
 * Takes the pictures of the window that the README shows: `npm run build && npx tsx test/end-to-end/window-screenshots.ts`.
 * Not a test: a picture differs by a pixel from one machine's fonts to the next.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { repackPng } from '../support/png.ts';
import { discShown, launchChromium, startBuiltHost, watchedPage, withSample } from '../support/window.ts';

const folder = fileURLToPath(new URL('./screenshots/', import.meta.url));
mkdirSync(folder, { recursive: true });
const [host, browser] = await Promise.all([startBuiltHost(), launchChromium()]);
for (const [width, height] of [
  [1280, 800],
  [1920, 1080],
] as const)
  for (const colours of ['light', 'dark'] as const) {
    const { page } = await watchedPage(browser, { width, height, colours });
    await page.goto(withSample(host.address, 'off-centre'));
    await discShown(page);
    await page.evaluate(() => document.fonts.ready);
    // The plot settles its size after its first drawing.
    await page.waitForTimeout(300);
    writeFileSync(`${folder}disc-${colours}-${width}.png`, repackPng(await page.screenshot()));
    await page.context().close();
  }
await browser.close();
await host.stop();
