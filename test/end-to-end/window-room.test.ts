/** Room for everything: nothing covers the content, the focus lands where work goes on, and no figure or reason is cut off. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

const workspace = (name: string) =>
  session.page.locator('.tabs').getByRole('button', { name, exact: true }).click();

test('the focus lands on the heading of the disc that was opened by keyboard, and arrow keys go on from there', async () => {
  const { page } = session;
  await page.goto(session.address);
  await page.locator('[data-sample="off-centre"]').focus();
  await page.keyboard.press('Enter');
  await discShown(page);
  const focused = () => page.evaluate(() => document.activeElement?.textContent);
  await expect.poll(focused).toBe('16 of 20 stations conform');
  const before = await session.currentStation();
  await page.keyboard.press('ArrowRight');
  await expect.poll(session.currentStation).not.toBe(before);
  await page.keyboard.press('Tab');
  expect(await page.evaluate(() => document.activeElement?.closest('main') !== null)).toBe(true);
});

test.each([
  [1280, 800],
  [1024, 768],
  [640, 400],
])('at %i × %i a message covers nothing', async (width, height) => {
  const { page } = session;
  await page.setViewportSize({ width, height });
  await session.openSample('off-centre');
  await workspace('Session');
  const note = page.getByLabel('On the disc as a whole');
  await note.fill('A note.');
  await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const message = page.locator('.message').filter({ visible: true });
  await message.first().waitFor();
  expect(await message.count()).toBe(1);
  // In sight, wherever the page has been scrolled to.
  expect(
    await message.first().evaluate((part) => {
      const { top, bottom } = part.getBoundingClientRect();
      return top >= 0 && bottom <= innerHeight;
    }),
  ).toBe(true);
  const covered = await message.first().evaluate((element) => {
    const box = element.getBoundingClientRect();
    const others = [
      ...document.querySelectorAll('textarea, select, main .button, .tabs button, .top .button, .foot .link'),
    ];
    return others
      .filter((other) => {
        const part = other.getBoundingClientRect();
        return (
          part.width > 0 &&
          part.left < box.right &&
          box.left < part.right &&
          part.top < box.bottom &&
          box.top < part.bottom
        );
      })
      .map((other) => other.className);
  });
  expect(covered).toEqual([]);
});

test('an upright screen gives its room to drawings and tables, not to bands and lists above them', async () => {
  const { page } = session;
  await page.setViewportSize({ width: 1080, height: 900 });
  await session.openSample('off-centre');
  const height = (band: string) => page.locator(band).evaluate((part) => part.getBoundingClientRect().height);
  /** A band is as high as what it holds, however high the window is. */
  const staysAsItIs = async (band: string): Promise<void> => {
    await page.locator(band).waitFor();
    const low = await height(band);
    await page.setViewportSize({ width: 1080, height: 1920 });
    await page.waitForTimeout(200);
    expect(await height(band), band).toBeCloseTo(low, 0);
    await page.setViewportSize({ width: 1080, height: 900 });
  };
  await staysAsItIs('.disc-view > .summary');
  await workspace('Causes');
  await page.locator('.topics').getByRole('radio', { name: 'Arrows' }).check({ force: true });
  await staysAsItIs('.arrows-controls');
  await workspace('Compare');
  await page.getByRole('button', { name: 'Keep this reduction' }).click();
  await staysAsItIs('.compare-view > .topics');
  await staysAsItIs('.compare-view > .differences');
});

test('every column of the station table has room at 1280 pixels in every unit', async () => {
  const { page } = session;
  await session.openSample('off-centre');
  for (const unit of ['Millimetres', 'Micrometres', 'Inches']) {
    await page.getByRole('radio', { name: unit }).check({ force: true });
    const hidden = await page
      .locator('.station-table .table-scroll')
      .evaluate((box) => box.scrollWidth - box.clientWidth);
    expect(hidden, unit).toBeLessThanOrEqual(0);
  }
});

test('why a point was left out stands in words beside it, however long', async () => {
  const { page } = session;
  const reason = 'The stylus touched a clamp that the operator had moved after the third blade was measured';
  await session.openSample('conforming');
  await workspace('Features');
  await page
    .getByRole('button', { name: /^Leave out the point on line/ })
    .first()
    .click();
  await page.keyboard.type(reason);
  await page.getByRole('button', { name: 'Leave out', exact: true }).click();
  const words = page.locator('.largest .why');
  await words.waitFor();
  expect((await shownText(words)).trim()).toBe(reason);
  expect(
    await words.evaluate((part) => part.parentElement!.scrollWidth <= part.parentElement!.clientWidth),
  ).toBe(true);
});

test('what the decision rule does not ask for cannot be set, and says why', async () => {
  const { page } = session;
  await session.openSample('off-centre');
  await workspace('Plan');
  await page
    .locator('.plan-nav')
    .getByRole('button', { name: /^Uncertainty/ })
    .click();
  const probability = page.getByLabel('Probability to prove');
  const factor = page.getByLabel('Guard band factor');
  const choose = (name: RegExp) => page.getByRole('radio', { name }).check({ force: true });
  await choose(/^Simple/);
  for (const field of [probability, factor]) {
    expect(await field.isDisabled()).toBe(true);
    const hint = await field.getAttribute('aria-describedby');
    expect(await shownText(page.locator(`[id="${hint}"]`))).toMatch(/guarded/);
  }
  await choose(/^Guarded/);
  for (const field of [probability, factor]) expect(await field.isEnabled()).toBe(true);
});

test('the figures and the zone of the selected station are handed out', async () => {
  const { page } = session;
  await session.openSample('off-centre');
  const save = async (name: string): Promise<string> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name, exact: true }).click(),
    ]);
    return readFileSync(await download.path(), 'utf8');
  };
  expect(await save('Save the figures of station 13 as CSV')).toMatch(/^station 13,unit,value,U,limit/);
  const picture = await save('Save the position zone as SVG');
  expect(picture).toContain('station 13, position zone');
  expect(picture).toContain('>tip</text>');
});
