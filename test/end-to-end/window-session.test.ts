/** A piece of work as a session file: saved, opened where its points are not, matched by SHA-256, recovered, guarded. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Download, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { samplePath } from '../support/disc-files.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

const workspace = (name: string) =>
  session.page.locator('.tabs').getByRole('button', { name, exact: true }).click();

/** The sample disc from files that the person gives, so that nobody finds the points again by their place. */
async function reduceGivenFiles(): Promise<void> {
  await session.page.goto(session.address);
  await session.give(
    ...['points.csv', 'plan.json', 'welds.csv'].map((name) => samplePath('off-centre', name)),
  );
  await discShown(session.page);
}

async function saved(act: () => Promise<unknown>): Promise<string> {
  const [download]: [Download, unknown] = await Promise.all([session.page.waitForEvent('download'), act()]);
  const path = join(session.folder, download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

async function choose(page: Page, act: () => Promise<unknown>, ...paths: string[]): Promise<void> {
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), act()]);
  await chooser.setFiles(paths);
}

async function noteAndSave(): Promise<string> {
  const { page } = session;
  await reduceGivenFiles();
  expect(await page.title()).not.toMatch(/^●/);
  await workspace('Session');
  await page.getByLabel('On the disc as a whole').fill('Measured after cleaning.');
  await page.getByLabel('On station 13').fill('Clamp looked loose.');
  await expect.poll(() => page.title()).toMatch(/^●/);
  const path = await saved(() => page.keyboard.press('Control+s'));
  await expect.poll(() => page.title()).not.toMatch(/^●/);
  expect(await shownText(page.getByTestId('message'))).toContain('Saved as');
  return path;
}

test('is saved, opened without its points as results only, and whole again with the right points', async () => {
  const { page } = session;
  const path = await noteAndSave();
  const kept = JSON.parse(readFileSync(path, 'utf8'));
  expect(kept.notes).toEqual({
    disc: 'Measured after cleaning.',
    stations: [{ station: 13, text: 'Clamp looked loose.' }],
  });
  expect(kept.reduced.result.summary.conforming).toBe(16);

  await page.goto(session.address);
  await page.locator('[data-sample]').first().waitFor();
  await choose(page, () => page.keyboard.press('Control+o'), path);
  await discShown(page);
  const band = page.locator('.saved-band');
  expect(await shownText(band)).toMatch(
    /^Results only, of Hubtrue .* as saved on .*points\.csv.*SHA-256 [0-9a-f]{16}…/s,
  );
  expect(await page.title()).toContain('(results only)');
  expect(await shownText(page.locator('.headline'))).toBe('16 of 20 stations conform');

  await workspace('Features');
  await page.getByText('reduce the disc again').waitFor();
  await workspace('Disc');

  // Points of another disc are refused, with both named.
  const other = join(session.folder, 'points.csv');
  writeFileSync(other, `${readFileSync(samplePath('off-centre', 'points.csv'), 'utf8')}\n`);
  const ask = () => page.getByRole('button', { name: 'Give these files' }).click();
  await choose(page, ask, other);
  const refusal = page.locator('.problems');
  await refusal.waitFor();
  expect(await shownText(refusal)).toMatch(/not the file that the session was saved with.*SHA-256/is);
  expect(await shownText(page.locator('.headline'))).toBe('16 of 20 stations conform');
  await page.getByRole('button', { name: 'Keep the disc on view' }).click();

  // The right ones make it whole: reduced again, the results are those that were saved.
  await choose(page, ask, samplePath('off-centre', 'points.csv'), samplePath('off-centre', 'welds.csv'));
  await band.waitFor({ state: 'detached' });
  await page.getByTestId('message').getByText('the results are those that were saved').waitFor();
  expect(await page.title()).not.toMatch(/results only|^●/);
  await workspace('Session');
  expect(await page.getByLabel('On the disc as a whole').inputValue()).toBe('Measured after cleaning.');
  await workspace('Features');
  await page.locator('.features-view .residual-list, .features-view svg').first().waitFor();
});

test('is on the list of recent work, and can be taken off it', async () => {
  const { page } = session;
  await noteAndSave();
  await page.goto(session.address);
  const recent = page.getByRole('region', { name: 'Recent work' });
  const entry = recent.locator('li').first();
  expect(await shownText(entry)).toContain('16 of 20 conform');
  await entry.getByRole('button').first().click();
  await discShown(page);
  await workspace('Session');
  const before = await page.locator('.recent li').count();
  await page.locator('.recent .forget').first().click();
  await expect.poll(() => page.locator('.recent li').count()).toBe(before - 1);
});

test('that was not saved is guarded, kept, and offered to the next page', async () => {
  const { page } = session;
  await reduceGivenFiles();
  await workspace('Session');
  await page.getByLabel('On the disc as a whole').fill('Not saved by anybody.');
  await page.getByText('kept against loss').waitFor();
  let asked = 0;
  page.on('dialog', (dialog) => {
    asked += 1;
    void dialog.accept();
  });
  await page.goto(session.address);
  expect(asked).toBe(1);
  const recovery = page.getByRole('region', { name: 'Work that was not saved' });
  await recovery.waitFor();
  await recovery.getByRole('button', { name: /^Recover/ }).click();
  await discShown(page);
  await expect.poll(() => page.title()).toMatch(/^●/);
  await workspace('Session');
  expect(await page.getByLabel('On the disc as a whole').inputValue()).toBe('Not saved by anybody.');
  // Saved, it is no longer guarded and no longer offered.
  await saved(() => page.getByRole('button', { name: 'Save session' }).click());
  await expect.poll(() => page.title()).not.toMatch(/^●/);
  await page.goto(session.address);
  expect(asked).toBe(1);
  await page.locator('[data-sample]').first().waitFor();
  expect(await recovery.count()).toBe(0);
});

test('a plan that nobody has saved is kept, too, before there is any disc', async () => {
  const { page } = session;
  await page.goto(session.address);
  await page.getByTestId('new-plan').click();
  await page.locator('[data-start="face-bore-slot"]').click();
  await page.locator('.plan-nav').getByRole('button', { name: 'Disc and stations' }).click();
  await page.getByLabel('Stations', { exact: true }).first().fill('23');
  await workspace('Session');
  await page.getByText('kept against loss').waitFor();
  await page.goto(session.address);
  await page
    .getByRole('region', { name: 'Work that was not saved' })
    .getByRole('button', { name: /^Recover/ })
    .click();
  await workspace('Plan');
  await page.locator('.plan-nav').getByRole('button', { name: 'Disc and stations' }).click();
  await expect.poll(() => page.getByLabel('Stations', { exact: true }).first().inputValue()).toBe('23');
});

test('that was not saved gives way to other files only when the person says so', async () => {
  const { page } = session;
  await session.openSample('off-centre');
  await workspace('Session');
  await page.getByLabel('On the disc as a whole').fill('A thought.');
  const conforming = ['points.csv', 'plan.json'].map((name) => samplePath('conforming', name));
  await choose(page, () => page.keyboard.press('Control+o'), ...conforming);
  const dialog = page.getByRole('dialog', { name: 'Not saved' });
  await dialog.getByRole('button', { name: 'Keep working' }).click();
  await dialog.waitFor({ state: 'hidden' });
  expect(await page.getByLabel('On the disc as a whole').inputValue()).toBe('A thought.');
  await choose(page, () => page.keyboard.press('Control+o'), ...conforming);
  await dialog.getByRole('button', { name: 'Open without saving' }).click();
  await expect.poll(() => page.title(), { timeout: 20_000 }).toContain('trial disc 1');
  await page.locator('.progress').waitFor({ state: 'detached' });
  expect(await page.getByLabel('On the disc as a whole').inputValue()).toBe('');
  expect(await page.title()).not.toMatch(/^●/);
});

describe('commands', () => {
  test('go by keys from one table, which the window can show', async () => {
    const { page } = session;
    await session.openSample('conforming');
    await page.keyboard.press('F1');
    const dialog = page.getByRole('dialog', { name: 'Keyboard shortcuts' });
    expect(await shownText(dialog)).toMatch(/Save the session.*Ctrl\+S.*Undo.*Ctrl\+Z.*Report.*Alt\+7/s);
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+p');
    await page.locator('.report-preview').waitFor();
    await page.keyboard.press('Alt+l');
    expect(await page.getByRole('radio', { name: /Micrometres$/ }).isChecked()).toBe(true);
    await page.keyboard.press('Alt+n');
    await page.locator('.plan-view').waitFor();
  });

  test('leave what is being typed to the field', async () => {
    const { page } = session;
    await session.openSample('conforming');
    await workspace('Session');
    const note = page.getByLabel('On the disc as a whole');
    await note.focus();
    await page.keyboard.type('ab');
    await page.keyboard.press('Control+z');
    expect(await note.inputValue()).not.toBe('ab');
    expect(await page.locator('.progress').count()).toBe(0);
  });
});
