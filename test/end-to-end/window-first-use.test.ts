/** The whole way, from an unfamiliar point file and a drawing to the report, in Chromium, on the built program. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import { hubtrue } from '../support/command-line.ts';
import { readPdf } from '../support/pdf-text.ts';
import { hasPoppler, inkOfPages, popplerLines } from '../support/poppler.ts';
import { resultOfSample, samplePath } from '../support/sample-results.ts';
import { unfamiliarPoints } from '../support/unfamiliar-points.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

/** Gives a file of the sample as another machine would have written it, and goes to its reading. */
async function readUnfamiliar(options: Parameters<typeof unfamiliarPoints>[1] = {}): Promise<string> {
  const path = join(session.folder, 'protokoll.csv');
  writeFileSync(path, unfamiliarPoints('conforming', options));
  await session.page.goto(session.address);
  await session.give(path);
  await session.page.getByRole('button', { name: 'Read these points and make a plan' }).click();
  await session.page.locator('.count-ring svg').waitFor();
  return path;
}

const part = (title: string): Promise<void> =>
  session.page.locator('.plan-nav').getByRole('button', { name: title }).click();
const field = (name: string): Locator =>
  session.page.locator('.plan-form').getByRole('textbox', { name, exact: true });
const fill = async (values: Readonly<Record<string, string>>): Promise<void> => {
  for (const [name, value] of Object.entries(values)) await field(name).fill(value);
};
const freedoms = (): Promise<string> => shownText(session.page.locator('.freedoms .verdict'));

/** Adds a datum on a feature of the file and gives its nominal place. */
async function addDatum(
  page: Page,
  type: string,
  feature: string,
  letter: string,
  point: string,
  direction: string,
) {
  const choice = page.getByLabel('Add a datum on');
  if ((await choice.count()) > 0 && feature !== '') await choice.selectOption(feature);
  await page.getByRole('button', { name: `+ ${type}`, exact: true }).click();
  const axes = point.includes('o=') ? ['o', 'l', 'u'] : ['X', 'Y', 'Z'];
  const values = point.replace('o=', '').split(' ');
  for (const [at, axis] of axes.entries())
    await field(`Datum ${letter}, point, ${axis}`).fill(values[at] ?? '');
  await page.getByRole('button', { name: `Datum ${letter}: direction ${direction}`, exact: true }).click();
}

const workspace = (name: string): Promise<void> =>
  session.page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name }).click();

/** Leaves out the point of a station's first feature that lies farthest off, and returns its line in the file. */
async function leaveOutLargest(station: number, reason: string): Promise<number> {
  const { page } = session;
  await session.row(station).click();
  await workspace('Features');
  await page.locator('.feature-map .dot-fill').first().waitFor();
  await page.locator('.largest tbody tr').first().getByRole('button').first().click();
  const row = page.locator('.largest tr[aria-current="true"]');
  const line = Number(await row.getAttribute('data-line'));
  await page.locator('.feature-map figure').focus();
  await page.keyboard.press('Delete');
  await page.keyboard.type(reason);
  await page.getByRole('button', { name: 'Leave out', exact: true }).click();
  await page.getByText('1 point left out by hand').waitFor();
  return line;
}

/** Presses a button of the report workspace and keeps what it saves. */
async function savedAs(button: string, name: string): Promise<string> {
  const { page } = session;
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.locator('.report-choices').getByRole('button', { name: button, exact: true }).click(),
  ]);
  const path = join(session.folder, name);
  await download.saveAs(path);
  return path;
}

/** As the report prints a length in the unit of the window: four decimals, a true minus sign. */
function millimetres(mm: number): string {
  return mm
    .toFixed(4)
    .replace(/^-(?!0\.0000$)/, '−')
    .replace('-', '');
}

test('an unfamiliar file, a plan from a blank sheet, and the same result as the plan of the sample, an exclusion, and the report', async () => {
  const path = await readUnfamiliar();
  const { page } = session;
  // What was detected.
  for (const name of [
    'Semicolon',
    'Decimal comma, as in 1,5',
    'mm (millimetres)',
    'Yes, a row names the columns',
    'Latin-1 (Windows-1252)',
  ])
    expect(
      await page.locator('.import-view').getByRole('radio', { name, exact: true }).isChecked(),
      name,
    ).toBe(true);
  for (const [column, role] of [
    ['Nr', ''],
    ['Punkt', 'label'],
    ['X-Ist', 'x'],
    ['Z-Ist', 'z'],
    ['NX', 'i'],
  ])
    expect(await page.locator(`select[data-column="${column}"]`).inputValue()).toBe(role);
  const ring = session.page.locator('.count-ring');
  expect(await shownText(ring)).toContain(
    '18 stations × 3 features, 1\u202f552 of 1\u202f552 rows hold a point.',
  );
  // A change shows at once on the rows, and so does its taking back.
  await page.getByRole('radio', { name: 'Decimal point' }).check({ force: true });
  await expect.poll(() => page.locator('.first-rows tr.unread').count()).toBeGreaterThan(3);
  expect(await page.getByRole('button', { name: 'Use this reading' }).isDisabled()).toBe(true);
  await page.getByRole('radio', { name: 'Decimal comma' }).check({ force: true });
  await expect.poll(() => page.locator('.first-rows tr.point').count()).toBeGreaterThan(3);
  await page.getByRole('button', { name: 'Use this reading' }).click();

  await page.locator('[data-start="blank"]').click();
  expect(await field('Stations').inputValue()).toBe('18');
  await fill({ 'Angle of station 1': '0' });
  await page.getByRole('radio', { name: 'Counterclockwise' }).check({ force: true });

  await part('Hub datums');
  expect(await freedoms()).toBe('All six freedoms are open: add the first datum.');
  await addDatum(page, 'Plane', 'HUB-FACE', 'A', '0 0 0', '+Z');
  expect(await freedoms()).toContain('translation along disc X and disc Y; rotation about the disc axis Z');
  await addDatum(page, 'Cylinder', 'HUB-BORE', 'B', '0 0 0', '+Z');
  await page.locator('[data-datum="B"]').getByLabel('Radius').fill('72');
  await page.locator('[data-datum="B"]').getByLabel('It is').selectOption('inside');
  expect(await freedoms()).toBe('Still open: rotation about the disc axis Z.');
  await addDatum(page, 'Mid-plane of two faces', 'HUB-SLOT-LEFT', 'C', '96 0 0', '+Y');
  await page.getByLabel('Datum C, feature 2').fill('HUB-SLOT-RIGHT');
  await expect.poll(freedoms).toBe('All six freedoms are fixed.');

  await part('Blade seat');
  await fill({ Radius: '236', 'Axial place': '-18', 'Height angle φ': '5,5', 'Stagger angle ξ': '36' });
  expect(await page.locator('.blade-drawing').getAttribute('aria-label')).toContain(
    'height angle 5.5 degrees, stagger angle 36 degrees',
  );

  await part('Blade datums');
  await addDatum(page, 'Plane', 'FLANK', 'D', 'o=0 9 80', '+l');
  await addDatum(page, 'Plane', 'EDGE', 'E', 'o=28 0 80', '+o');
  await addDatum(page, 'Plane', 'SEAT', 'F', 'o=0 0 12', '+u');
  await expect.poll(freedoms).toBe('All six freedoms are fixed.');

  await part('Position');
  await fill({ 'Position tolerance': '0.05' });
  await page.getByRole('radio', { name: '⌀ Cylindrical' }).check({ force: true });
  await page.getByRole('button', { name: '+ At the blade origin' }).click();
  await page.getByRole('button', { name: '+ Check point' }).click();
  await fill({ 'Check point tip, u': '160' });

  await part('Limits');
  await fill({ Oscillation: '0.025', Lateral: '0.025', Upset: '0.05' });
  await fill({
    'Rotation about oscillation': '0.0005',
    'Rotation about lateral': '0.0005',
    'Rotation about upset': '0.001',
  });
  await part('Uncertainty and decision');
  await fill({ Point: '0.0012', 'Scale of the machine': '2.5e-6', Coverage: '0.95' });
  await page.getByRole('radio', { name: 'Simple' }).check({ force: true });
  await page.getByRole('radio', { name: '20 °C values' }).check({ force: true });
  await fill({
    'Part temperature': '20',
    Expansion: '8.6e-6',
    'u (temperature)': '0.2',
    'u (expansion)': '5e-7',
  });
  await part('Part and inspection');
  await fill({ Title: 'From the drawing' });
  await page.getByText('The plan is complete and sound.').waitFor();

  // The plan as a file does the same on the command line.
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save plan' }).click(),
  ]);
  const planPath = join(session.folder, 'plan.json');
  await download.saveAs(planPath);
  expect(JSON.parse(readFileSync(planPath, 'utf8')).import).toEqual({
    encoding: 'latin1',
    delimiter: ';',
    decimal: ',',
    unit: 'mm',
    header: true,
    columns: { label: 'Punkt', x: 'X-Ist', y: 'Y-Ist', z: 'Z-Ist', i: 'NX', j: 'NY', k: 'NZ' },
    label: '[A-Za-z]*[ _.:-]?(?<station>\\d+)[ _.:/-]+(?<feature>.+)',
  });
  const run = hubtrue('reduce', path, '--plan', planPath, '--json');
  expect(run.status, run.stderr).toBe(0);
  const positions = ({ stations }: ResultDocument): number[] =>
    stations.map(({ position }) => position.value ?? Number.NaN);
  const expected = positions(resultOfSample('conforming'));
  positions(JSON.parse(run.stdout) as ResultDocument).forEach((value, at) => {
    expect(value).toBeCloseTo(expected[at] ?? Number.NaN, 12);
  });

  await page.getByTestId('reduce').click();
  await discShown(page);
  expect(await shownText(page.locator('.headline'))).toBe('18 of 18 stations conform');
  expect(await shownText(page.locator('.disc-title h1'))).toBe('From the drawing');
  const shown = await session.cells('position');
  const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
  sorted(shown).forEach((value, at) => {
    expect(value).toBeCloseTo(sorted(expected)[at] ?? Number.NaN, 4);
  });

  // On to the end: a point is left out with a reason, and the report says what the result says.
  const line = await leaveOutLargest(7, 'Chip beside the seat');
  await workspace('Report');
  await page.locator('.report-preview').waitFor();
  const result = JSON.parse(readFileSync(await savedAs('JSON', 'result.json'), 'utf8')) as ResultDocument;
  expect(result.source.points.used).toBe(result.source.points.rows - 1);
  expect(result.source.points.excluded).toEqual([
    { line, reason: expect.stringContaining('Chip beside the seat') },
  ]);
  const reportPath = await savedAs('Save PDF', 'report.pdf');
  const { pages, text } = await readPdf(readFileSync(reportPath));
  expect(text).toContain('From the drawing');
  expect(text).toContain(result.source.points.sha256);
  expect(text).toContain('Chip beside the seat');
  expect(text).toContain('All 18 planned stations were reduced and conform.');
  const readers = [
    pages.flatMap((sheet) => sheet.lines),
    ...(hasPoppler() ? [popplerLines(reportPath)] : []),
  ];
  for (const { station, error, position } of result.stations) {
    const row = [error.oscillation, error.lateral, error.upset, position.value, position.expanded].map(
      (value) => millimetres(value ?? Number.NaN),
    );
    for (const lines of readers) {
      const printed = lines.filter(
        (words) => words.startsWith(`${station} `) && words.includes('conforming'),
      );
      expect(
        printed.some((words) => row.every((figure) => words.split(' ').includes(figure))),
        `station ${station}: ${row.join(' ')} in ${printed.join(' | ')}`,
      ).toBe(true);
    }
  }
  if (hasPoppler()) {
    const ink = inkOfPages(reportPath);
    expect(ink).toHaveLength(pages.length);
    // Running head and foot alone leave about a hundredth of a page not white.
    for (const [at, share] of ink.entries()) expect(share, `page ${at + 1}`).toBeGreaterThan(0.03);
  }
}, 120_000);

test('a refused file leads to its reading, and the plan at hand learns it', async () => {
  const { page } = session;
  const path = join(session.folder, 'protokoll.csv');
  writeFileSync(path, unfamiliarPoints('conforming'));
  await page.goto(session.address);
  await session.give(path, samplePath('conforming', 'plan.json'));
  await page.locator('.problems').waitFor();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await page.getByRole('button', { name: 'See how these points are read' }).click();
  await expect.poll(() => shownText(page.locator('.count-ring'))).toContain('1\u202f552 of 1\u202f552 rows');
  await page.getByRole('button', { name: 'Use this reading' }).click();
  await page.getByText('The plan is complete and sound.').waitFor();
  expect(await shownText(page.locator('.plan-steps'))).toContain('(not saved)');
  await page.getByTestId('reduce').click();
  await discShown(page);
  expect(await shownText(page.locator('.headline'))).toBe('18 of 18 stations conform');
});

describe('the look at the points', () => {
  test('shows gaps and strays, and follows the roles of columns', async () => {
    await readUnfamiliar({
      without: '7 EDGE',
      more: ['1;B03_BLOB;1,0;2,0;3,0;0;0;1', '2;B31_FLANK;1,0;2,0;3,0;0;0;1'],
    });
    const { page } = session;
    const ring = page.locator('.count-ring');
    // Without a plan the largest number makes the ring; a name at one station only is odd.
    expect(await shownText(ring)).toContain('station 3, BLOB: 1 point from line');
    expect(await shownText(ring)).toContain('station 7 has no EDGE');
    expect(await page.locator('.count-ring .cell.gap').count()).toBeGreaterThan(0);
    // The plan knows better: station 31 is then a stray.
    await page.getByRole('button', { name: 'Use this reading' }).click();
    await page.locator('[data-start="face-bore-slot"]').click();
    await fill({ Stations: '18' });
    await page.locator('.plan-steps').getByRole('button', { name: 'Reading the points' }).click();
    await expect.poll(() => shownText(ring)).toContain('station 31, FLANK: 1 point from line');
    expect(await shownText(ring)).toContain('the plan has stations 1 to 18');
    expect(await page.locator('.count-ring .cell.gap').count()).toBe(1);
    // A column without a role leaves the rows without points.
    await page.locator('select[data-column="Z-Ist"]').selectOption('');
    await expect
      .poll(() => shownText(page.locator('.reading-problems')))
      .toContain('no column was recognised as z');
    await page.getByRole('button', { name: 'Detect everything again' }).click();
    await expect.poll(() => page.locator('select[data-column="Z-Ist"]').inputValue()).toBe('z');
  });

  test('takes labels apart by another pattern', async () => {
    await readUnfamiliar();
    const { page } = session;
    await page.getByText('Another pattern').click();
    await page.getByLabel('Regular expression with the groups').fill('B(?<station>\\d)(?<feature>.+)');
    await expect.poll(() => shownText(page.locator('.count-ring'))).toContain('1_FLANK');
  });
});

describe('the plan editor', () => {
  test('opens the plan of a disc, compares it with what was changed, undoes and redoes', async () => {
    await session.openSample('conforming');
    const { page } = session;
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByText('The plan is complete and sound.').waitFor();
    await part('Blade seat');
    expect(await field('Radius').inputValue()).toBe('236');
    await field('Radius').fill('240.5');
    await part('Hub datums');
    await page.getByRole('button', { name: 'Remove Datum C' }).click();
    await page.getByText('Still open: rotation about the disc axis Z.').waitFor();
    await expect
      .poll(() => shownText(page.locator('.plan-problems')))
      .toContain('leaves open: rotation about the disc axis Z');
    await page.getByRole('button', { name: 'Compare plans' }).click();
    await page.getByRole('button', { name: 'plan.json as saved' }).click();
    const table = page.locator('.difference-table');
    await expect.poll(() => shownText(table)).toContain('blade.seat.radius');
    expect(await shownText(table.locator('tr', { hasText: 'blade.seat.radius' }))).toMatch(/236\s+240\.5/);
    expect(await shownText(table)).toContain('disc.datums[2]');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+z');
    await page.getByText('All six freedoms are fixed.').waitFor();
    await page.keyboard.press('Control+z');
    await part('Blade seat');
    expect(await field('Radius').inputValue()).toBe('236');
    await page.keyboard.press('Control+y');
    expect(await field('Radius').inputValue()).toBe('240.5');
  });

  test('a word where a number belongs is a problem of the plan until it is mended, whatever part is on view', async () => {
    await session.openSample('conforming');
    const { page } = session;
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await part('Limits');
    await field('Upset').fill('O.05');
    await page.getByText('not a number').waitFor();
    const sound = page.getByText('The plan is complete and sound.');
    await expect.poll(() => sound.count()).toBe(0);
    expect(await page.getByTestId('reduce').isDisabled()).toBe(true);
    await part('Position');
    await expect.poll(() => shownText(page.locator('.plan-problems'))).toContain('Limits: upset');
    expect(await shownText(page.locator('.plan-problems'))).toContain('“O.05” is not a number.');
    await part('Limits');
    expect(await field('Upset').inputValue()).toBe('O.05');
    await field('Upset').fill('50 µm');
    await sound.waitFor();
    expect(await field('Upset').inputValue()).toBe('50 µm');
    expect(await page.getByTestId('reduce').isDisabled()).toBe(false);
  });

  test('takes nominals pasted from a spreadsheet as exceptions of single stations', async () => {
    await session.openSample('conforming');
    const { page } = session;
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await part('Single stations');
    const paste = page.getByLabel('Paste nominals from a spreadsheet');
    await paste.fill('station\tradius\ttolerance\n3\t236,25\t0,05\n7\t236\t0,08\nx\t1\t2');
    expect(await shownText(page.locator('.paste-result'))).toContain('“x” is not a number');
    expect(await page.getByRole('button', { name: 'Take into the plan' }).isDisabled()).toBe(true);
    await paste.fill('station\tradius\ttolerance\n3\t236,25\t0,05\n7\t236\t0,08');
    await page.getByRole('button', { name: 'Take into the plan' }).click();
    // What equals the blade's own value is no exception.
    expect(await page.getByLabel('Radius of station 3').inputValue()).toBe('236.25');
    expect(await page.getByLabel('Tolerance of station 7').inputValue()).toBe('0.08');
    expect(await page.getByLabel('Radius of station 7').inputValue()).toBe('');
    await part('Plan as text');
    expect(
      JSON.parse(await page.getByRole('textbox', { name: 'Plan as text' }).inputValue()).overrides,
    ).toEqual({
      3: { seat: { radius: 236.25 } },
      7: { position: { tolerance: 0.08 } },
    });
    await page.getByText('The plan is complete and sound.').waitFor();
  });

  test('an example of the sample opens by its file as well', async () => {
    await session.page.goto(session.address);
    await session.page.getByTestId('new-plan').click();
    await session.page.locator('.plan-view').waitFor();
    const [chooser] = await Promise.all([
      session.page.waitForEvent('filechooser'),
      session.page.keyboard.press('Control+o'),
    ]);
    await chooser.setFiles(samplePath('off-centre', 'plan.json'));
    await session.page.getByText('The plan is complete and sound.').waitFor();
    expect(await session.page.locator('.disc-drawing').getAttribute('aria-label')).toContain('20 stations');
  });
});
