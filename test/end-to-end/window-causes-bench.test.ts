/** Causes and bench as a person takes them away and tries them: exports, units, counts, limits, calculator. In Chromium, on the built program. */
import { readFileSync } from 'node:fs';
import type { Download, Locator } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { accessibilityFaults } from '../support/axe.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

const workspace = (name: string) =>
  session.page.locator('.tabs').getByRole('button', { name, exact: true }).click();

async function topic(name: string): Promise<void> {
  await workspace('Causes');
  await session.page.locator('.topics').getByRole('radio', { name, exact: true }).check({ force: true });
}

async function inInches(): Promise<void> {
  await session.page.getByRole('radio', { name: 'Inches' }).check({ force: true });
  await session.page.getByRole('radio', { name: 'Milliradians' }).check({ force: true });
}

async function saved(press: () => Promise<void>): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const [file] = await Promise.all([session.page.waitForEvent('download') as Promise<Download>, press()]);
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
}

const pages: readonly (readonly [name: string, go: () => Promise<void>])[] = [
  ...['Causes', 'Corrections', 'Around the disc', 'Weld sequence', 'Arrows', 'Calculator'].map(
    (name) => [name, () => topic(name)] as const,
  ),
  [
    'Causes, budget by line',
    async () => {
      await topic('Causes');
      await session.page.getByRole('radio', { name: 'Budget by line' }).check({ force: true });
    },
  ],
  ['What if', () => workspace('What if')],
];

describe('what leaves the pages', () => {
  test('every chart and table is copied and saved whole, in the units on view', async () => {
    await session.openSample('drifting');
    await inInches();
    const { page } = session;
    let [tables, pictures] = [0, 0];
    for (const [name, go] of pages) {
      await go();
      const tools = page.locator('main .chart-tools, main .table-tabs .chart-tools');
      const buttons = (kind: string): Promise<Locator[]> =>
        tools
          .getByRole('button', { name: kind, exact: true })
          .or(tools.locator(`text="${kind}"`))
          .all();
      for (const csv of await buttons('CSV')) {
        const { name: file, bytes } = await saved(() => csv.click());
        expect(file, name).toMatch(/\.csv$/);
        const [head = '', ...rows] = bytes.toString('utf8').trimEnd().split('\n');
        expect(rows.length, file).toBeGreaterThan(0);
        // Lengths and rotations in no other units than those chosen.
        expect(head, file).not.toMatch(/\((mm|um|deg|arcsec|arcmin)\)(?<!angle \(deg\))(?<!phase \(deg\))/);
        tables++;
      }
      for (const copy of await buttons('Copy')) {
        await page.evaluate(() => navigator.clipboard.writeText(''));
        await copy.click();
        await page.waitForFunction(async () => (await navigator.clipboard.readText()) !== '');
        const copied = await page.evaluate(() => navigator.clipboard.readText());
        expect(copied.split('\n').length, name).toBeGreaterThan(1);
      }
      for (const png of await buttons('PNG')) {
        const { name: file, bytes } = await saved(() => png.click());
        expect(file, name).toMatch(/\.png$/);
        expect(bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
        expect(bytes.length).toBeGreaterThan(4000);
        pictures++;
      }
      for (const svg of await buttons('SVG')) {
        const { name: file, bytes } = await saved(() => svg.click());
        expect(file, name).toMatch(/\.svg$/);
        const text = bytes.toString('utf8');
        expect(text).toContain('</svg>');
        expect(text, file).not.toMatch(/\bmm\b|µm|″/);
      }
    }
    // Tables and pictures: causes 3 and 2, corrections 2 and 1, around 2 and 2, sequence 1 and 1, arrows 2 and 2, calculator 1 and 0,
    // budget 3 and 1, what if 2 and 1.
    expect({ tables, pictures }).toEqual({ tables: 16, pictures: 10 });
  });

  test('sentences follow the units', async () => {
    await session.openSample('drifting');
    await inInches();
    for (const [name, go] of pages) {
      if (name === 'Calculator') continue;
      await go();
      expect(await shownText(session.page.locator('main')), name).not.toMatch(/\d (µm|mm)\b|\d″|\d°/);
    }
    await topic('Causes');
    await session.page.getByRole('button', { name: /^All \d+ findings/ }).click();
    const findings = await shownText(session.page.locator('dialog[open]'));
    expect(findings).toMatch(/\d\.\d{6} in\b/);
    expect(findings).not.toMatch(/µm|″/);
  });
});

describe('counts', () => {
  test('are of all stations of the plan, and say which have no say', async () => {
    await session.openSample('drifting');
    const disc = await shownText(session.page.locator('main'));
    expect(disc).toMatch(/12\s*of\s*16/);
    const words = '15 of 16 stations evaluated; station 12 missing';
    await workspace('What if');
    expect(await shownText(session.page.locator('.what-if-view'))).toContain(words);
    expect(await session.page.locator('.hub-figure').textContent()).toBe('12 of 16');
    await topic('Corrections');
    expect(await shownText(session.page.locator('.correction-card'))).toContain(words);
    await topic('Causes');
    expect(await shownText(session.page.locator('.topics'))).toContain(words);
  });
});

test('a correction that chases noise is listed, but another one is put forward', async () => {
  await session.openSample('off-centre');
  await topic('Corrections');
  const { page } = session;
  const first = page.locator('.corrections .cause-row').first();
  expect(await first.textContent()).toContain('chases noise');
  expect(await page.locator('.correction-card h2').textContent()).toBe('Hub seating');
});

describe('names', () => {
  test('of causes are shown whole beside their bars', async () => {
    await session.openSample('drifting');
    for (const width of [1280, 1024, 640]) {
      await session.page.setViewportSize({ width, height: 800 });
      await topic('Causes');
      await session.page.waitForTimeout(200);
      const titles = await session.page.locator('.chart .row-title').evaluateAll((all) =>
        all.map((title) => ({
          text: [...title.querySelectorAll('tspan')].map((line) => line.textContent).join(' '),
          end: (title as SVGGraphicsElement).getBBox().x + (title as SVGGraphicsElement).getBBox().width,
          bars: Number(
            /M([\d.]+)/.exec(document.querySelector('.chart .grid')?.getAttribute('d') ?? '')?.[1],
          ),
        })),
      );
      expect(titles.map(({ text }) => text)).toContain('Common axial shift and clocking');
      for (const { text, end, bars } of titles) expect(end, `${text} at ${width}`).toBeLessThanOrEqual(bars);
    }
  });
});

describe('limits of errors on the bench', () => {
  test('are moved, dropped, added and undone, and decide verdicts', async () => {
    await session.openSample('conforming');
    await workspace('What if');
    const { page } = session;
    const count = () => shownText(page.locator('.band-counts [data-standing="conforming"] b'));
    const measured = await count();
    expect(Number(measured)).toBeGreaterThan(10);
    await page.getByLabel('Try a limit that the plan does not have').selectOption('lean');
    await page.getByLabel(/^Limit of lean, /).fill('0.000001');
    await page.getByLabel(/^Limit of lean, /).blur();
    await expect.poll(count).toBe('0');
    expect(await shownText(page.locator('.band-changes'))).toContain('limit of lean');
    expect(await shownText(page.locator('.what-if-table tbody tr').first())).toContain('lean');
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(count).toBe(measured);
    expect(await page.locator('[data-limit="lean"]').count()).toBe(0);
    const planned = page.locator('[data-limit]').first();
    await planned.getByRole('checkbox').uncheck();
    expect(await shownText(page.locator('.band-changes'))).toContain('without the limit of');
    await planned.getByRole('button', { name: /as planned$/ }).click();
    expect(await shownText(page.locator('.what-if-band'))).toContain('As measured');
  });
});

describe('the calculator', () => {
  test('opens without a disc, by key and from the first view, and gives the focus back', async () => {
    const { page } = session;
    await page.goto(session.address);
    const entry = page.getByRole('button', { name: /^Calculator/ });
    await entry.click();
    const dialog = page.locator('dialog[open]');
    await dialog.getByRole('textbox', { name: /Force/ }).fill('2');
    expect(await shownText(dialog.locator('output').first())).toBe('20');
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.keyboard.press('Escape');
    expect(await entry.evaluate((button) => button === document.activeElement)).toBe(true);
    await page.keyboard.press('Alt+c');
    await dialog.getByRole('heading', { name: 'Calculator' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('F1');
    expect(await shownText(page.locator('dialog[open]'))).toContain('Alt+C');
  });
});

describe('narrow pages', () => {
  test.each([1024, 640])('%i px wide need no scrolling sideways, in inches', async (width) => {
    await session.openSample('off-centre');
    await inInches();
    await session.page.setViewportSize({ width, height: 800 });
    for (const [name, go] of pages) {
      await go();
      const wide = await session.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, name).toBe(0);
    }
  });
});
