/**
 * Takes the pictures of features and of comparison: `npm run build && npx tsx test/end-to-end/features-screenshots.ts`.
 * Not a test: a picture differs by a pixel from one machine's fonts to the next.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { repackPng } from '../support/png.ts';
import { discShown, launchChromium, startBuiltHost, watchedPage, withSample } from '../support/window.ts';

const folder = fileURLToPath(new URL('./screenshots/', import.meta.url));
mkdirSync(folder, { recursive: true });
const [host, browser] = await Promise.all([startBuiltHost(), launchChromium()]);

async function take(page: Page, name: string): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  // Plots settle their size after their first drawing.
  await page.waitForTimeout(name.startsWith('features-3d') ? 2500 : 400);
  writeFileSync(`${folder}${name}.png`, repackPng(await page.screenshot()));
}

for (const [width, height, colours] of [
  [1280, 800, 'light'],
  [1920, 1080, 'dark'],
] as const) {
  const { page } = await watchedPage(browser, { width, height, colours });
  const pageOf = (name: string): Promise<void> => page.getByRole('radio', { name }).check({ force: true });
  const workspace = (name: string): Promise<void> =>
    page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name }).click();
  const end = `${colours}-${width}`;
  await page.goto(withSample(host.address, 'off-centre'));
  await discShown(page);
  await workspace('Features');
  await page.locator('.feature-map .dot-fill').first().waitFor();
  await page.locator('.feature-map figure').focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Delete');
  await page.keyboard.type('Dirt on the stylus');
  await page.getByRole('button', { name: 'Leave out', exact: true }).click();
  await page.getByText('1 point left out by hand').waitFor();
  await take(page, `features-plane-${end}`);
  await page
    .getByRole('button', { name: /HUB-BORE/ })
    .first()
    .click();
  await page.locator('.least-squares').waitFor();
  await take(page, `features-round-${end}`);
  await pageOf('Hub and blades in three dimensions');
  await page.locator('.scene-figure canvas').first().waitFor();
  await take(page, `features-3d-${end}`);
  await workspace('Compare');
  await page.locator('.one-map .polar').nth(1).waitFor();
  await take(page, `compare-${end}`);
  await page.context().close();
}
await browser.close();
await host.stop();
