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

/** Every page of the workspaces on the three sample discs; one disc is taken in the dark. */
const topics = ['Causes', 'Corrections', 'Around the disc', 'Weld sequence', 'Arrows', 'Calculator'];
for (const [sample, colours] of [
  ['conforming', 'light'],
  ['off-centre', 'light'],
  ['drifting', 'dark'],
] as const) {
  const { page } = await watchedPage(browser, { width: 1280, height: 800, colours });
  await page.goto(withSample(host.address, sample));
  await discShown(page);
  await page.evaluate(() => document.fonts.ready);
  const take = async (name: string) => {
    await page.waitForTimeout(300);
    const file = `${folder}causes-${sample}-${name.toLowerCase().replaceAll(' ', '-')}.png`;
    writeFileSync(file, repackPng(await page.screenshot()));
  };
  const workspace = (title: string) => page.locator('.tabs').getByRole('button', { name: title }).click();
  await workspace('Causes');
  for (const topic of topics) {
    // The calculator knows nothing of the disc.
    if (topic === 'Calculator' && sample !== 'off-centre') continue;
    await page.locator('.topics').getByRole('radio', { name: topic, exact: true }).check({ force: true });
    await take(topic);
  }
  await page.locator('.topics').getByRole('radio', { name: 'Causes', exact: true }).check({ force: true });
  await page.getByRole('radio', { name: 'Budget by line' }).check({ force: true });
  await take('Budget');
  await workspace('What if');
  await page.getByLabel('Start from a correction').selectOption(sample === 'drifting' ? 'tool' : 'hub');
  await page.mouse.move(0, 0);
  await take('What if');
  await page.context().close();
}
await browser.close();
await host.stop();
