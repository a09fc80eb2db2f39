/** Residuals, exclusions, the view in three dimensions, several stations at once, and comparison, in the built window. */
import { readFileSync } from 'node:fs';
import type { Locator } from 'playwright-core';
import { expect, test } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import { type ReductionInput, runReduction } from '../../src-main/jobs/run-reduction.ts';
import { accessibilityFaults, setColours } from '../support/axe.ts';
import { samplePath } from '../support/sample-results.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

const sample: ReductionInput = {
  pointsPath: samplePath('off-centre', 'points.csv'),
  planPath: samplePath('off-centre', 'plan.json'),
};

const positionOf = ({ result }: ReducedDisc, station: number): number =>
  result.stations.find((entry) => entry.station === station)!.position.value!;
/** Half a unit of the fourth decimal, which the window shows. */
const SHOWN = 0.5001e-4;

const workspace = (name: string): Promise<void> =>
  session.page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name }).click();
const pageOf = (name: string): Promise<void> =>
  session.page.getByRole('radio', { name }).check({ force: true });
const map = (): Locator => session.page.locator('.feature-map figure');
const note = (): Locator => session.page.getByTestId('left-out-note');

/** Opens the features of a station. */
async function openFeatures(station: number): Promise<void> {
  await session.openSample('off-centre');
  await session.row(station).click();
  await workspace('Features');
  await session.page.locator('.feature-map .dot-fill').first().waitFor();
}

async function leaveOutLargest(reason: string): Promise<number> {
  await map().focus();
  await session.page.keyboard.press('Home');
  await session.page.locator('.largest tbody tr').first().getByRole('button').first().click();
  const line = Number(
    await session.page.locator('.largest tr[aria-current="true"]').getAttribute('data-line'),
  );
  await map().focus();
  await session.page.keyboard.press('Delete');
  await session.page.keyboard.type(reason);
  await session.page.getByRole('button', { name: 'Leave out', exact: true }).click();
  await session.page.getByText('1 point left out by hand').waitFor();
  return line;
}

test('residuals are those of the result, for a plane and for a round feature', async () => {
  const { result } = await runReduction(sample);
  await openFeatures(7);
  const { page } = session;
  const station = result.stations.find((entry) => entry.station === 7)!;
  for (const feature of [...station.features, ...result.frame.datums]) {
    const button = page
      .locator('.feature-list')
      .getByRole('button', { name: new RegExp(`^${feature.label}`) });
    expect(await shownText(button)).toContain(feature.form.toFixed(4));
  }
  const flank = station.features[0]!;
  const facts = page.locator('.facts-line');
  expect(await shownText(facts)).toContain(
    `flatness ${flank.form.toFixed(4)} mm, r.m.s. ${flank.rms.toFixed(4)} mm`,
  );
  expect(await shownText(facts)).toContain('least squares');

  const bore = result.frame.datums[0]!;
  await page
    .locator('.feature-list')
    .getByRole('button', { name: /HUB-BORE/ })
    .click();
  await page.locator('.least-squares').waitFor();
  expect(await page.locator('.trace-form').textContent()).toBe(`${bore.form.toFixed(4)} mm`);
  expect(await shownText(page.locator('.feature-map'))).toMatch(/residuals ×\d/);
  await page.getByRole('radio', { name: /^Unrolled/ }).check({ force: true });
  await page.getByText('angle, degrees').waitFor();
});

test('a point is left out with a written reason, the disc is reduced without it, and undo brings it back', async () => {
  await openFeatures(7);
  const { page } = session;
  await map().focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Delete');
  // Without a reason nothing happens.
  const leaveOut = page.getByRole('button', { name: 'Leave out', exact: true });
  expect(await leaveOut.isDisabled()).toBe(true);
  await page.keyboard.type('   ');
  expect(await leaveOut.isDisabled()).toBe(true);
  await page.keyboard.press('Escape');
  expect(await shownText(note())).toBe('nothing left out by hand');

  const line = await leaveOutLargest('Dirt on the stylus');
  expect(await page.locator('.feature-map .dot-hollow').getAttribute('d')).not.toBe('');
  expect(await shownText(page.getByTestId('point-line'))).toContain(`Line ${line}`);
  expect(await shownText(page.getByTestId('point-line'))).toContain('Dirt on the stylus');
  expect(await shownText(page.locator('.feature-map .caption'))).toContain('1 not used');

  const exclusions = [{ line, reason: 'Dirt on the stylus' }];
  const [all, without] = [await runReduction(sample), await runReduction({ ...sample, exclusions })];
  expect(positionOf(all, 7)).not.toBeCloseTo(positionOf(without, 7), 5);
  await workspace('Disc');
  const { used, rows } = without.result.source.points;
  const count = (value: number): string => value.toLocaleString('en-US').replaceAll(',', '\u202f');
  const summary = page.locator('.summary');
  expect(await shownText(summary)).toContain(`${count(used)} of ${count(rows)}`);
  expect(await shownText(summary)).toContain('1 excluded');
  const shown = await session.cells('position');
  expect(Math.abs(shown[6]! - positionOf(without, 7))).toBeLessThan(SHOWN);
  // The station that was being looked at is still the one.
  expect(await session.currentStation()).toBe('7');

  await workspace('Features');
  await page.keyboard.press('Control+z');
  await page.getByText('nothing left out by hand').waitFor();
  await workspace('Disc');
  expect(await shownText(summary)).toContain('none excluded');
  const back = await session.cells('position');
  expect(Math.abs(back[6]! - positionOf(all, 7))).toBeLessThan(SHOWN);

  await workspace('Features');
  await page.getByRole('button', { name: 'Redo' }).click();
  await page.getByText('1 point left out by hand').waitFor();
  await pageOf('What is left out by hand');
  await page.getByRole('button', { name: `point on line ${line}, FLANK, station 7` }).waitFor();
  await page.getByRole('button', { name: `Take back the point on line ${line}` }).click();
  await page.getByText('nothing left out by hand').waitFor();
});

test('a feature left out makes its station missing; a datum that the hub needs is refused and changes nothing', async () => {
  await openFeatures(7);
  const { page } = session;
  await page.getByRole('button', { name: 'Leave FLANK out…' }).click();
  await page.keyboard.type('Burr');
  await page.keyboard.press('Control+Enter');
  await page.getByText('1 feature left out by hand').waitFor();
  expect(await shownText(page.locator('.feature-list'))).toContain('missing');
  await page.getByText('no point is used').waitFor();
  await page
    .locator('.feature-list')
    .getByRole('button', { name: /HUB-FACE/ })
    .click();
  await page.getByRole('button', { name: 'Leave HUB-FACE out…' }).click();
  await page.getByRole('button', { name: 'Burr' }).click();
  await page.getByRole('button', { name: 'Leave out', exact: true }).click();
  await page.locator('.problems').waitFor();
  expect(await shownText(page.locator('.problems'))).toContain('The exclusion was not accepted');
  expect(await shownText(page.locator('.problems'))).toContain('HUB-FACE');
  expect(await shownText(note())).toBe('1 feature left out by hand');
  await page.getByRole('button', { name: 'Keep the disc on view' }).click();
  await workspace('Disc');
  expect(await shownText(page.locator('.tally [data-standing="missing"]'))).toContain('1');
});

test('two reductions stand side by side with their differences, on one scale', async () => {
  await openFeatures(7);
  const { page } = session;
  await workspace('Compare');
  await page.getByRole('heading', { name: 'Nothing to compare with yet' }).waitFor();
  await page.getByRole('button', { name: 'Keep this reduction' }).click();
  await workspace('Features');
  const line = await leaveOutLargest('Dirt on the stylus');
  await workspace('Compare');
  await page.locator('.one-map .polar').nth(1).waitFor();
  expect(await shownText(page.locator('.differences'))).toContain(`left out: point on line ${line}`);
  expect(await shownText(page.locator('.differences'))).toContain('Dirt on the stylus');
  const [before, after] = [
    await runReduction(sample),
    await runReduction({ ...sample, exclusions: [{ line, reason: 'Dirt on the stylus' }] }),
  ];
  const change = positionOf(after, 7) - positionOf(before, 7);
  const cell = page.locator('.changes tr[data-station="7"] td[data-quantity="position"]');
  expect(Math.abs(Number((await shownText(cell)).replace('−', '-')) - change)).toBeLessThan(SHOWN);
  const chosen = await page
    .locator('.one-map .chosen-mark')
    .evaluateAll((marks) => marks.map((mark) => mark.getAttribute('data-station')));
  expect(chosen).toEqual(['7', '7']);
  const ranges = await page
    .locator('.one-map .js-plotly-plot')
    .evaluateAll((plots) =>
      plots.map(
        (plot) =>
          (plot as unknown as { layout: { polar: { radialaxis: { range: number[] } } } }).layout.polar
            .radialaxis.range,
      ),
    );
  expect(ranges).toHaveLength(2);
  expect(ranges[0]).toEqual(ranges[1]);
  await page.getByRole('checkbox', { name: 'only changed' }).check();
  expect(await page.locator('.changes tbody tr').count()).toBe(1);
});

test('another plan on the same points is held against the one before', async () => {
  await session.openSample('off-centre');
  const { page } = session;
  const plan = JSON.parse(readFileSync(sample.planPath, 'utf8')) as {
    blade: { position: { tolerance: number } };
  };
  const tolerance = plan.blade.position.tolerance;
  plan.blade.position.tolerance = 0.3;
  await session.drop('wide.json', JSON.stringify(plan));
  await page.getByText('wide.json').first().waitFor();
  await workspace('Compare');
  await page.locator('.one-map .polar').nth(1).waitFor();
  const told = await shownText(page.locator('.differences'));
  expect(told).toContain(`${tolerance} mm, cylindrical → 0.3 mm, cylindrical`);
  const counts = await page.locator('.differences tr[data-standing="nonconforming"] td').allTextContents();
  const { result } = await runReduction(sample);
  expect(Number(counts[0])).toBe(result.summary.nonconforming);
  expect(Number(counts[1])).toBeLessThan(result.summary.nonconforming);
});

test('the view in three dimensions turns by keys, follows the selection and says the same in figures', async () => {
  await openFeatures(7);
  const { page } = session;
  await pageOf('Hub and blades in three dimensions');
  const plot = page.locator('.scene-figure .js-plotly-plot');
  await plot.locator('canvas').first().waitFor();
  const eye = (): Promise<{ x: number; y: number; z: number }> =>
    plot.evaluate(
      (part) =>
        (part as unknown as { layout: { scene: { camera: { eye: { x: number; y: number; z: number } } } } })
          .layout.scene.camera.eye,
    );
  const first = await eye();
  await page.locator('.scene-figure').focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(eye).not.toEqual(first);
  await page.keyboard.press('Home');
  await expect.poll(eye).toEqual(first);
  await page.keyboard.press('PageDown');
  const current = page.locator('.scene-table tr[aria-current="true"]');
  await expect.poll(() => shownText(current.locator('th'))).toBe('8');
  expect(await shownText(page.locator('.scene-panel .caption'))).toMatch(/1\u202f752 points.*×\d/);
  const magnification = page.getByRole('spinbutton', { name: 'Magnification of the displacements' });
  await magnification.fill('250');
  await page.getByText('displaced ×250').waitFor();
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the view as PNG' }).click(),
  ]);
  expect(saved.suggestedFilename()).toMatch(/-3d\.png$/);
});

test('stations are filtered, chosen together, copied, and marked on the map', async () => {
  await session.openSample('off-centre');
  const { page } = session;
  await page.getByRole('searchbox', { name: 'Stations by number' }).fill('3, 7-9');
  expect(await page.locator('.station-table tbody tr').count()).toBe(4);
  await page.getByRole('button', { name: 'Show all' }).click();
  await page.getByRole('button', { name: /^Show conforming/ }).click();
  expect(await page.locator('.station-table tbody tr').count()).toBe(4);
  await page.getByRole('button', { name: 'Show all' }).click();

  await session.row(3).click();
  await session.row(6).click({ modifiers: ['Shift'] });
  await session.row(9).click({ modifiers: ['Control'] });
  await session.row(4).click({ modifiers: ['Control'] });
  await page.getByText('4 stations selected').waitFor();
  await page.getByRole('button', { name: 'Copy selected' }).click();
  await page.getByText('4 rows copied').waitFor();
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  expect(
    copied
      .trim()
      .split('\n')
      .map((row) => row.split('\t')[0]),
  ).toEqual(['station', '3', '5', '6', '9']);
  const grounds = await page
    .locator('.dial .chosen-ground')
    .evaluateAll((parts) => parts.map((part) => Number(part.getAttribute('data-station'))));
  // The four, and the station that the card shows.
  expect(grounds).toEqual([3, 4, 5, 6, 9]);

  await session.row(10).click();
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowDown');
  await page.getByText('3 stations selected').waitFor();
  await page.keyboard.press('Escape');
  await page.getByText('stations selected').waitFor({ state: 'detached' });
  expect(await session.currentStation()).toBe('12');
});

test('every page keeps the rules of accessibility, light and dark, and fits at 200 % zoom', async () => {
  await openFeatures(7);
  const { page } = session;
  await leaveOutLargest('Dirt on the stylus');
  const visit = async (check: (name: string) => Promise<void>): Promise<void> => {
    await workspace('Features');
    await pageOf('Residuals of a feature');
    await page.locator('.feature-map .dot-fill').first().waitFor();
    await check('plane');
    await page
      .locator('.feature-list')
      .getByRole('button', { name: /HUB-BORE/ })
      .click();
    await page.locator('.least-squares').waitFor();
    await check('round');
    await page.locator('.feature-list').getByRole('button', { name: /FLANK/ }).click();
    await pageOf('What is left out by hand');
    await check('left out');
    await pageOf('Hub and blades in three dimensions');
    await page.locator('.scene-figure canvas').first().waitFor();
    await check('scene');
    await workspace('Compare');
    await page.locator('.one-map .polar').nth(1).waitFor();
    await check('compare');
    await workspace('Disc');
    await discShown(page);
    await check('disc');
  };
  for (const colours of ['light', 'dark'] as const) {
    await setColours(page, colours);
    await visit(async (name) => {
      expect(await accessibilityFaults(page), `${name}, ${colours}`).toEqual([]);
    });
  }
  // Half the pixels of a window of 1280 by 800 are what a zoom of 200 % leaves.
  await page.setViewportSize({ width: 640, height: 400 });
  await visit(async (name) => {
    const beyond = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(beyond, name).toBeLessThanOrEqual(0);
  });
});
