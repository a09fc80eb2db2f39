/**
 * Takes the pictures of the first use that the README shows: `npm run build && npx tsx test/end-to-end/first-use-screenshots.ts`.
 * Not a test, see window-screenshots.ts.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { repackPng } from '../support/png.ts';
import { unfamiliarPoints } from '../support/unfamiliar-points.ts';
import { launchChromium, startBuiltHost, watchedPage } from '../support/window.ts';

const pictures = fileURLToPath(new URL('./screenshots/', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'hubtrue-pictures-'));
const points = join(folder, 'protokoll.csv');
writeFileSync(points, unfamiliarPoints('drifting', { without: '5 FLANK' }));
const [host, browser] = await Promise.all([startBuiltHost(), launchChromium()]);

async function picture(page: Page, name: string): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(300);
  writeFileSync(`${pictures}${name}.png`, repackPng(await page.screenshot()));
}

for (const colours of ['light', 'dark'] as const) {
  const { page } = await watchedPage(browser, { width: 1280, height: 800, colours });
  await page.goto(host.address);
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByTestId('choose-files').click(),
  ]);
  await chooser.setFiles(points);
  await page.getByRole('button', { name: 'Read these points and make a plan' }).click();
  await page.locator('.count-ring svg').waitFor();
  if (colours === 'light') await picture(page, 'import-light-1280');
  await page.getByRole('button', { name: 'Use this reading' }).click();
  await page.locator('[data-start="face-bore-slot"]').click();
  await page.locator('.plan-nav').getByRole('button', { name: 'Blade seat' }).click();
  for (const [name, value] of [
    ['Radius', '228'],
    ['Axial place', '-16'],
    ['Height angle φ', '7'],
    ['Stagger angle ξ', '33'],
  ] as const)
    await page.locator('.plan-form').getByRole('textbox', { name, exact: true }).fill(value);
  await page.locator('.plan-nav').getByRole('button', { name: 'Hub datums' }).click();
  if (colours === 'dark') await picture(page, 'plan-dark-1280');
  await page.context().close();
}
await browser.close();
await host.stop();
rmSync(folder, { recursive: true });
