/** A disc whose plan asks for two levels of position and screens its bore, through the built window and command line. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import { hubtrue } from '../support/command-line.ts';
import { samplePath } from '../support/sample-results.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

interface LoosePlan {
  readonly blade: { readonly position: Record<string, unknown> };
  readonly disc: { readonly datums: readonly Record<string, unknown>[] };
}

const session = windowSession();

test('both levels of position and the flagged points are shown with the numbers of result.json', async () => {
  const plan = JSON.parse(readFileSync(samplePath('off-centre', 'plan.json'), 'utf8')) as LoosePlan;
  plan.blade.position['featureRelating'] = { tolerance: 0.08 };
  plan.disc.datums[0]!['screen'] = { method: 'huber', cutoff: 1.8, exclude: false };
  const planPath = join(session.folder, 'plan.json');
  writeFileSync(planPath, JSON.stringify(plan));
  const points = samplePath('off-centre', 'points.csv');
  const run = hubtrue('reduce', points, '--plan', planPath, '--json');
  expect(run.status, run.stderr).toBe(1);
  const { pattern, screened } = JSON.parse(run.stdout) as ResultDocument;
  if (pattern === null) throw new Error('The plan asks for the second level.');

  const { page } = session;
  await page.goto(session.address);
  await session.give(points, planPath);
  await discShown(page);

  const relative = await session.cells('relative');
  expect(relative).toHaveLength(20);
  // Half a unit of the fourth decimal, which the window shows.
  for (const { station, value } of pattern.stations)
    expect(Math.abs(relative[station - 1]! - value!)).toBeLessThan(0.5001e-4);

  const fact = page.getByRole('button', { name: `${pattern.value!.toFixed(4)} mm` });
  await fact.click();
  const dialog = page.getByRole('dialog', { name: 'Position relative to each other' });
  const told = await shownText(dialog);
  expect(told).toContain('nonconforming');
  expect(told).toContain(`at station ${pattern.at!.station}, ${pattern.at!.checkPoint}`);
  expect(told).toContain(pattern.leastSquares!.value.toFixed(4));
  await page.keyboard.press('Escape');

  await page.getByRole('radio', { name: /^Relative position/ }).check();
  await page.getByRole('heading', { name: 'Relative position' }).waitFor();
  await session.row(3).click();
  const third = pattern.stations.find(({ station }) => station === 3)!;
  expect(await shownText(page.getByTestId('live-line'))).toContain(
    `Relative position ${third.value!.toFixed(4)}`,
  );
  expect(await shownText(page.locator('.levels'))).toContain(third.value!.toFixed(4));

  expect(screened.length).toBeGreaterThan(0);
  await page.getByRole('button', { name: `${screened.length} flagged` }).click();
  const list = page.getByRole('dialog', { name: 'Points left out or flagged' });
  expect(await list.locator('tbody tr').count()).toBe(screened.length);
  expect(await shownText(list)).toContain('only reported');
});

test('a table of two levels fits its panel on a small screen', async () => {
  const plan = JSON.parse(readFileSync(samplePath('conforming', 'plan.json'), 'utf8')) as LoosePlan;
  plan.blade.position['featureRelating'] = { tolerance: 0.01 };
  const planPath = join(session.folder, 'plan.json');
  writeFileSync(planPath, JSON.stringify(plan));
  const { page } = session;
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto(session.address);
  await session.give(samplePath('conforming', 'points.csv'), planPath);
  await discShown(page);
  const [inside, wanted] = await page
    .locator('.table-scroll')
    .evaluate((part) => [part.clientWidth, part.scrollWidth]);
  expect(wanted).toBeLessThanOrEqual(inside!);
});
