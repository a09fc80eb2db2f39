/** Files going into the window: given, dropped, refused, cancelled. In Chromium, on the built program. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { samplePath } from '../support/sample-results.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

describe('the opening view', () => {
  test('says what it does, offers the sample discs, and tells what is still missing', async () => {
    await session.page.goto(session.address);
    await expect.poll(() => session.page.locator('[data-sample]').count()).toBe(3);
    expect(await shownText(session.page.locator('h1'))).toContain('six errors and true position');
    expect(new URL(session.page.url()).search).not.toContain('token');
    await session.give(samplePath('conforming', 'points.csv'));
    await session.page.getByText('Still missing: the plan (JSON).').waitFor();
    expect(await session.page.locator('.disc-view').count()).toBe(0);
    await session.give(samplePath('conforming', 'plan.json'));
    await discShown(session.page);
    expect(await shownText(session.page.locator('.headline'))).toBe('18 of 18 stations conform');
  });

  test('a sample opens by a press of its card', async () => {
    await session.page.goto(session.address);
    await session.page.locator('[data-sample="drifting"]').press('Enter');
    await discShown(session.page);
    expect(await shownText(session.page.locator('.disc-title h1'))).toContain('trial disc 3');
  });
});

describe('bad files', () => {
  test('are listed with place, found, expected and remedy, and the disc on view stays', async () => {
    await session.openSample('conforming');
    const before = await shownText(session.page.locator('.station-table'));
    const lines = readFileSync(samplePath('conforming', 'points.csv'), 'utf8').split('\n');
    const [station, feature, x, ...rest] = (lines[6] ?? '').split(',');
    lines[6] = [station, feature, `${x}O`, ...rest].join(',');
    await session.drop('broken.csv', lines.join('\n'));
    const problems = session.page.locator('.problems');
    await problems.waitFor();
    const list = await shownText(problems);
    expect(list).toContain('broken.csv, line 7, column x');
    expect(list).toContain(`${x}O`);
    for (const word of ['Place', 'Found', 'Expected', 'Remedy', 'The disc on view is unchanged.'])
      expect(list).toContain(word);
    expect(await shownText(session.page.locator('.station-table'))).toBe(before);
    await session.page.getByRole('button', { name: 'Keep the disc on view' }).click();
    expect(await session.page.locator('.problems').count()).toBe(0);
    await session.page.getByRole('button', { name: 'Open files' }).click();
    await expect.poll(() => shownText(session.page.locator('dialog .given'))).toContain('points.csv');
  });

  test('a file that is no text, and two plans at once, change nothing', async () => {
    await session.openSample('conforming');
    await session.drop('book.csv', 'PK\u0003\u0004\u0000\u0000');
    await expect.poll(() => shownText(session.page.locator('.problems'))).toContain('book.csv');
    await session.page.getByRole('button', { name: 'Keep the disc on view' }).click();
    await session.page.getByRole('button', { name: 'Open files' }).click();
    await session.give(samplePath('conforming', 'plan.json'), samplePath('drifting', 'plan.json'));
    await expect.poll(() => shownText(session.page.locator('.problems'))).toContain('both plan files');
    expect(await shownText(session.page.locator('.headline'))).toBe('18 of 18 stations conform');
  });
});

test('a running job shows its progress and can be cancelled', async () => {
  await session.openSample('conforming');
  // The same points two hundred times over: the same disc, and long enough to be caught at work.
  const [header, ...rows] = readFileSync(samplePath('conforming', 'points.csv'), 'utf8')
    .trimEnd()
    .split('\n');
  const path = join(session.folder, 'long.csv');
  writeFileSync(path, `${header}\n${`${rows.join('\n')}\n`.repeat(200)}`);
  await session.page.getByRole('button', { name: 'Open files' }).click();
  await session.give(path);
  await session.page.getByRole('progressbar').waitFor({ state: 'attached' });
  // Behind the dialog, which stays until a disc is there; Escape uncovers the button.
  await session.page.keyboard.press('Escape');
  await session.page.getByRole('button', { name: 'Cancel' }).click();
  await session.page.getByRole('progressbar').waitFor({ state: 'detached' });
  expect(await shownText(session.page.locator('.disc-title'))).not.toContain('long.csv');
  // Jobs run one after another: when the next one has ended, the cancelled one has too, and never came on view.
  await session.page.getByRole('button', { name: 'Open files' }).click();
  await session.page.locator('[data-sample="off-centre"]').click();
  await expect.poll(() => shownText(session.page.locator('.headline'))).toBe('16 of 20 stations conform');
});
