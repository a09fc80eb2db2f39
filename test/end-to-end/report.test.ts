/** The report as the command line writes it: options, the same bytes again, and the HTML in a real browser. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from '../support/axe.ts';
import { hubtrue } from '../support/command-line.ts';
import { samplePath, temporaryFolder } from '../support/disc-files.ts';
import { readPdf } from '../support/pdf-text.ts';
import { launchChromium } from '../support/window.ts';

const files = ['points.csv', 'plan.json', 'welds.csv'].map((name) => samplePath('drifting', name));

function reduce(...options: readonly string[]) {
  const [points = '', plan = '', welds = ''] = files;
  return hubtrue('reduce', points, '--plan', plan, '--welds', welds, ...options);
}

const time = ['--report-time', '2026-08-07T12:00:00+02:00'];

describe('hubtrue reduce --out', () => {
  const [first, second] = [join(temporaryFolder(), 'a'), join(temporaryFolder(), 'b')];

  it('writes the report in the language and on the paper asked for, the same bytes every time', async () => {
    for (const folder of [first, second]) {
      const { status } = reduce(
        '--out',
        folder,
        '--language',
        'de',
        '--paper',
        'letter',
        '--length',
        'mm',
        ...time,
      );
      expect(status).toBe(1);
    }
    for (const name of ['report.pdf', 'report.html', 'result.json', 'stations.csv'])
      expect(readFileSync(join(first, name)).equals(readFileSync(join(second, name))), name).toBe(true);
    const { pages, text } = await readPdf(readFileSync(join(first, 'report.pdf')));
    expect(pages[0]?.width).toBe(612);
    expect(text).toContain('Konformitätsbericht');
    expect(text).toContain('2026-08-07 10:00:00 UTC');
    const result = JSON.parse(readFileSync(join(first, 'result.json'), 'utf8'));
    expect(text).toContain(`${result.summary.worst.position.toFixed(4).replace('.', ',')} mm`);
  });

  it('states the present time where none is given, in English on A4', async () => {
    const folder = join(temporaryFolder(), 'out');
    const before = Math.floor(Date.now() / 1000) * 1000;
    reduce('--out', folder);
    const { pages, text } = await readPdf(readFileSync(join(folder, 'report.pdf')));
    const stated = /(\d{4}-\d\d-\d\d) (\d\d:\d\d:\d\d) UTC/.exec(text);
    const stamp = Date.parse(`${stated?.[1]}T${stated?.[2]}Z`);
    expect(stamp).toBeGreaterThanOrEqual(before);
    expect(stamp).toBeLessThanOrEqual(Date.now());
    expect(text).toContain('Conformance report');
    expect(pages[0]?.width).toBeCloseTo(595.28, 1);
  });

  it.each([
    [['--language', 'es'], '--language', 'en, de, fr'],
    [['--paper', 'a5'], '--paper', 'a4, letter'],
    [['--report-time', 'yesterday'], '--report-time', '2026-05-20T14:30:00Z'],
    [['--report-time', '2026-05-20T14:30:00'], '--report-time', '2026-05-20T14:30:00Z'],
  ])('refuses %s and writes nothing', (options, option, expected) => {
    const folder = join(temporaryFolder(), 'out');
    const { status, stderr, stdout } = reduce('--out', folder, ...options);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toContain(option);
    expect(stderr).toContain(expected);
    expect(existsSync(folder)).toBe(false);
  });

  it('refuses options of the report where none is written', () => {
    const { status, stderr } = reduce('--language', 'de');
    expect(status).toBe(2);
    expect(stderr).toContain('--out DIR');
  });
});

describe('report.html in Chromium', () => {
  let browser: Browser;
  const folder = join(temporaryFolder(), 'out');
  beforeAll(async () => {
    const { status, stderr } = reduce('--out', folder, '--language', 'fr', ...time);
    // Stations of this disc are not proven: 1, not 2.
    expect(status, stderr).toBe(1);
    browser = await launchChromium();
  });
  afterAll(() => browser?.close());

  it('loads from the disk alone, with its own fonts, and no fault', async () => {
    const page = await browser.newPage({ viewport: { width: 1000, height: 1400 } });
    const asked: string[] = [];
    const faults: string[] = [];
    page.on('request', (request) => asked.push(request.url().slice(0, 60)));
    page.on('console', (message) => faults.push(message.text()));
    page.on('pageerror', (error) => faults.push(error.message));
    const address = pathToFileURL(join(folder, 'report.html')).href;
    await page.goto(address);
    const fonts = await page.evaluate(async () => {
      await document.fonts.ready;
      return [...document.fonts].map(({ family, weight, status }) => `${family} ${weight} ${status}`).sort();
    });
    expect(fonts).toEqual(['Plex 400 loaded', 'Plex 600 loaded', 'Symbols 400 loaded']);
    expect(asked.filter((url) => !url.startsWith('data:font/woff'))).toEqual([address.slice(0, 60)]);
    expect(faults).toEqual([]);
    expect(await page.title()).toContain('Rapport de conformité');
    // Nothing sticks out of the sheet.
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    await page.close();
  });

  it('breaks no rule of accessibility, and scrolls wide tables alone on a narrow screen', async () => {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.goto(pathToFileURL(join(folder, 'report.html')).href);
    expect(await accessibilityFaults(page)).toEqual([]);
    expect(await page.locator('thead th[scope="col"]').count()).toBeGreaterThan(50);
    expect(await page.locator('tbody th[scope="row"]').count()).toBeGreaterThan(50);
    const unnamed = await page.locator('table:not([aria-label]):not(:has(caption))').count();
    expect(unnamed).toBe(0);
    await page.setViewportSize({ width: 400, height: 900 });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    await page.close();
  });

  it('prints on the sheet that it was made for, with page numbers', async () => {
    const page = await browser.newPage();
    await page.goto(pathToFileURL(join(folder, 'report.html')).href);
    const printed = await readPdf(await page.pdf({ preferCSSPageSize: true }));
    expect(printed.pages[0]?.width).toBeCloseTo(595, 0);
    const last = printed.pages.at(-1)?.lines.at(-1);
    expect(last).toContain(`${printed.pages.length} / ${printed.pages.length}`);
    await page.close();
  });
});
