/** The real window in Chromium, through the browser host, on the built program. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import { resultOfSample, samplePath } from '../support/sample-results.ts';
import {
  discShown,
  launchChromium,
  type RunningHost,
  startBuiltHost,
  type WatchedPage,
  watchedPage,
  withSample,
} from '../support/window.ts';

let host: RunningHost;
let browser: Browser;
let watched: WatchedPage;
let page: Page;
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  [host, browser] = await Promise.all([startBuiltHost(), launchChromium()]);
});
afterAll(async () => {
  await browser?.close();
  await host?.stop();
  rmSync(folder, { recursive: true, force: true });
});
beforeEach(async () => {
  watched = await watchedPage(browser);
  page = watched.page;
});
// Every path through the window must be silent on the console and stay on this machine.
afterEach(async () => {
  await page.context().close();
  expect(watched.complaints).toEqual([]);
  for (const name of watched.hosts) expect(['127.0.0.1', 'blob:', 'data:']).toContain(name);
});

async function openSample(sample: string): Promise<void> {
  await page.goto(withSample(host.address, sample));
  await discShown(page);
}

// biome-ignore lint/performance/useDomNodeTextContent: what a person sees is wanted, and this is no DOM node.
const text = (part: Locator): Promise<string> => part.innerText();
const row = (station: number) => page.locator(`tr[data-station="${station}"]`);
const currentStation = () => page.locator('tr[aria-current="true"]').getAttribute('data-station');

/** A number as the window writes it: true minus, thin spaces. */
function shown(text: string): number {
  return Number(
    text
      .replace('−', '-')
      .replaceAll('\u202f', '')
      .replace(/[^\d.+-].*$/s, ''),
  );
}

async function cells(quantity: string): Promise<number[]> {
  const texts = await page.locator(`tbody td[data-quantity="${quantity}"]`).allInnerTexts();
  return texts.map(shown);
}

async function give(...paths: string[]): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByTestId('choose-files').click(),
  ]);
  await chooser.setFiles(paths);
}

/** Drops a file on the window as a person would, through the page's own drop events. */
async function drop(name: string, content: string): Promise<void> {
  const transfer = await page.evaluateHandle(
    ([fileName, text]) => {
      const data = new DataTransfer();
      data.items.add(new File([text ?? ''], fileName ?? ''));
      return data;
    },
    [name, content],
  );
  await page.dispatchEvent('.stage', 'dragenter', { dataTransfer: transfer });
  await page.locator('.drop-veil').waitFor();
  await page.dispatchEvent('.stage', 'drop', { dataTransfer: transfer });
}

describe('the opening view', () => {
  test('says what it does, offers the sample discs, and tells what is still missing', async () => {
    await page.goto(host.address);
    await expect.poll(() => page.locator('[data-sample]').count()).toBe(3);
    expect(await text(page.locator('h1'))).toContain('six errors and true position');
    expect(new URL(page.url()).search).not.toContain('token');
    await give(samplePath('conforming', 'points.csv'));
    await page.getByText('Still missing: the plan (JSON).').waitFor();
    expect(await page.locator('.disc-view').count()).toBe(0);
    await give(samplePath('conforming', 'plan.json'));
    await discShown(page);
    expect(await text(page.locator('.headline'))).toBe('18 of 18 stations conform');
  });

  test('a sample opens by a press of its card', async () => {
    await page.goto(host.address);
    await page.locator('[data-sample="drifting"]').press('Enter');
    await discShown(page);
    expect(await text(page.locator('.disc-title h1'))).toContain('trial disc 3');
  });
});

describe('the disc view', () => {
  const results = new Map<string, ResultDocument>();
  const resultOf = (sample: string): ResultDocument => {
    const known = results.get(sample) ?? resultOfSample(sample);
    results.set(sample, known);
    return known;
  };

  test.each(['conforming', 'off-centre', 'drifting'])(
    'shows the numbers of result.json for %s',
    async (sample) => {
      const { stations, summary, source } = resultOf(sample);
      await openSample(sample);
      for (const standing of ['conforming', 'nonconforming', 'unproven'] as const)
        expect(await text(page.locator(`.tally [data-standing="${standing}"] b`))).toBe(
          String(summary[standing]),
        );
      expect(await text(page.locator('.tally [data-standing="missing"] b'))).toBe(
        String(summary.missing.length),
      );
      expect(await page.locator('tbody tr[data-station]').count()).toBe(summary.stations);
      expect(await text(page.locator('.facts'))).toContain('uncertainty not evaluated in this version');
      if (source.points.excluded.length > 0)
        await page.getByRole('button', { name: `${source.points.excluded.length} excluded` }).waitFor();
      for (const missing of summary.missing)
        expect(await text(row(missing.station))).toContain(missing.reason);

      const compare = async (
        pick: (station: ResultDocument['stations'][number]) => Record<string, number | null>,
      ) => {
        for (const name of Object.keys(pick(stations[0]!))) {
          const isRotation = /^rot|lean|sweep|stagger/.test(name);
          const expected = stations.map(
            (station) => (pick(station)[name] ?? Number.NaN) * (isRotation ? 180 / Math.PI : 1),
          );
          const found = await cells(name);
          expect(found.length, name).toBe(expected.length);
          // Half a unit of the fourth decimal, which the window shows.
          for (const [index, value] of expected.entries())
            if (!Number.isNaN(value))
              expect(Math.abs((found[index] ?? Number.NaN) - value), `${name} ${index}`).toBeLessThan(
                0.5001e-4,
              );
        }
      };
      await compare((station) => ({ ...station.error, position: station.position.value }));
      await page.getByRole('radio', { name: 'Six errors in the disc frame' }).check({ force: true });
      await compare((station) => ({ ...station.disc }));
      for (const station of stations) expect(await text(row(station.station))).toContain(station.verdict);
    },
  );

  test('starts at the worst station and sorts by each column', async () => {
    const { summary, stations } = resultOf('off-centre');
    await openSample('off-centre');
    expect(await currentStation()).toBe(String(summary.worst?.station));
    const order = async () =>
      (
        await page
          .locator('tbody tr[data-station]')
          .evaluateAll((rows) => rows.map((entry) => entry.getAttribute('data-station')))
      ).map(Number);
    await page.getByRole('button', { name: 'Sort by Position', exact: true }).click();
    expect(
      await page.locator('th:has(button[aria-label="Sort by Position"])').getAttribute('aria-sort'),
    ).toBe('descending');
    const byPosition = [...stations].sort((a, b) => (b.position.value ?? 0) - (a.position.value ?? 0));
    expect(await order()).toEqual(byPosition.map((station) => station.station));
    await page.getByRole('button', { name: 'Sort by Lateral', exact: true }).click();
    await page.getByRole('button', { name: 'Sort by Lateral', exact: true }).click();
    expect(await page.locator('th:has(button[aria-label="Sort by Lateral"])').getAttribute('aria-sort')).toBe(
      'descending',
    );
    const byLateral = [...stations].sort((a, b) => (b.error.lateral ?? 0) - (a.error.lateral ?? 0));
    expect(await order()).toEqual(byLateral.map((station) => station.station));
  });

  test('one selection runs through table, map, card and arrow keys', async () => {
    await openSample('conforming');
    const everywhere = async (station: number) => {
      await expect.poll(currentStation).toBe(String(station));
      expect(await text(page.locator('.station-card h2'))).toBe(`Station ${station}`);
      expect(await text(page.getByTestId('live-line'))).toContain(`Station ${station} at`);
      await expect
        .poll(() => page.locator('.dial .annotation').allTextContents())
        .toContain(`Station ${station}`);
    };
    await row(5).click();
    await everywhere(5);
    const ground = (station: number) =>
      row(station).evaluate((entry) => getComputedStyle(entry).backgroundColor);
    await page.mouse.move(0, 0);
    expect(await ground(5)).not.toBe(await ground(3));
    await page.keyboard.press('ArrowDown');
    await everywhere(6);
    await page.keyboard.press('End');
    await everywhere(18);
    await page.keyboard.press('Home');
    await everywhere(1);
    await page.locator('figure.dial').focus();
    await page.keyboard.press('ArrowLeft');
    await everywhere(18);
    await page.getByRole('button', { name: 'Next station' }).click();
    await everywhere(1);
    // A mark on the map: the conforming stations are drawn in the order of their numbers.
    const mark = page.locator('.dial .scatterlayer .point').nth(3);
    const box = await mark.boundingBox();
    if (box === null) throw new Error('The mark is not drawn.');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    await everywhere(4);
  });

  test('the map switches between all quantities and says each in words', async () => {
    await openSample('off-centre');
    const live = page.getByTestId('live-line');
    const figure = page.locator('figure.dial');
    for (const title of [
      'Oscillation',
      'Lateral',
      'Upset',
      'Radial',
      'Tangential',
      'Axial',
      'Lean',
      'Sweep',
      'Stagger',
    ]) {
      await page
        .locator('.rail')
        .getByRole('radio', { name: new RegExp(`^${title}`) })
        .check({ force: true });
      await expect.poll(() => text(live)).toContain(title);
      expect(await figure.getAttribute('aria-label')).toContain(`${title} of 20 stations`);
    }
    // The plan limits the six errors but no disc-frame quantity: rings on the one kind, none on the other.
    expect(await text(page.locator('.legend'))).not.toContain('limit ±');
    await page
      .locator('.rail')
      .getByRole('radio', { name: /^↻ Upset/ })
      .check({ force: true });
    await expect.poll(() => text(page.locator('.legend'))).toContain('limit ±');
    expect(await text(live)).toContain('Rotation about upset');
  });

  test('units change the text and nothing else, and stay for the next visit', async () => {
    const { stations } = resultOf('conforming');
    await openSample('conforming');
    await page.getByRole('radio', { name: 'Micrometres' }).check({ force: true });
    await page.getByRole('radio', { name: 'Arc-seconds' }).check({ force: true });
    const check = async () => {
      const position = await cells('position');
      const rotation = await cells('rotUpset');
      for (const [index, station] of stations.entries()) {
        expect(Math.abs((position[index] ?? 0) - (station.position.value ?? 0) * 1000)).toBeLessThan(0.0501);
        const seconds = ((station.error.rotUpset ?? 0) * 180 * 3600) / Math.PI;
        expect(Math.abs((rotation[index] ?? 0) - seconds)).toBeLessThan(0.0501);
      }
    };
    await check();
    await page.reload();
    await discShown(page);
    await check();
    await page.getByRole('radio', { name: 'Inches' }).check({ force: true });
    const inches = await cells('position');
    for (const [index, station] of stations.entries())
      expect(Math.abs((inches[index] ?? 0) - (station.position.value ?? 0) / 25.4)).toBeLessThan(0.5001e-6);
  });

  test('light and dark follow the system until the person chooses', async () => {
    await openSample('conforming');
    const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const light = await ground();
    await page.emulateMedia({ colorScheme: 'dark' });
    await expect.poll(ground).not.toBe(light);
    await page.getByRole('radio', { name: 'Light colours' }).check({ force: true });
    await expect.poll(ground).toBe(light);
    await page.getByRole('radio', { name: 'Dark colours' }).check({ force: true });
    await page.emulateMedia({ colorScheme: 'light' });
    expect(await ground()).not.toBe(light);
  });

  test('fits 1280 × 800 without scrolling the page', async () => {
    await openSample('off-centre');
    for (const [width, height] of [
      [1280, 800],
      [1920, 1080],
    ] as const) {
      await page.setViewportSize({ width, height });
      const overflow = await page.evaluate(() => {
        const { scrollHeight, scrollWidth } = document.documentElement;
        const wide = [...document.querySelectorAll('.table-scroll, .card-body')].filter(
          (box) => box.scrollWidth > box.clientWidth + 1,
        );
        return {
          down: scrollHeight - innerHeight,
          right: scrollWidth - innerWidth,
          wide: wide.map((box) => box.className),
        };
      });
      expect(overflow).toEqual({ down: 0, right: 0, wide: [] });
    }
  });

  test('the toolbar of the plot has no button that sends data away', async () => {
    await openSample('off-centre');
    const titles = await page
      .locator('.modebar-btn')
      .evaluateAll((buttons) => buttons.map((button) => button.getAttribute('data-title') ?? ''));
    expect(titles.length).toBeGreaterThan(0);
    for (const title of titles) expect(title).not.toMatch(/share|send|cloud|edit|upload|plotly/i);
  });

  test('table and map are handed out', async () => {
    const { stations } = resultOf('off-centre');
    await openSample('off-centre');
    await page.getByRole('button', { name: 'Copy table' }).click();
    await page.getByText('20 rows copied').waitFor();
    const lines = (await page.evaluate(() => navigator.clipboard.readText())).trimEnd().split('\n');
    expect(lines).toHaveLength(21);
    const head = lines[0]?.split('\t') ?? [];
    const first = lines[1]?.split('\t') ?? [];
    expect(Number(first[head.indexOf('position (mm)')])).toBeCloseTo(
      stations[0]?.position.value ?? Number.NaN,
      6,
    );
    const save = async (name: string) => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name }).click(),
      ]);
      return readFileSync(await download.path());
    };
    expect((await save('Save CSV')).toString()).toMatch(/^station,angle \(deg\),oscillation \(mm\)/);
    expect((await save('Save the map as PNG')).subarray(1, 4).toString()).toBe('PNG');
    const svg = (await save('Save the map as SVG')).toString();
    expect(svg).toMatch(/^<svg/);
    expect(svg).toContain('0.2022');
  });
});

describe('bad files', () => {
  test('are listed with place, found, expected and remedy, and the disc on view stays', async () => {
    await openSample('conforming');
    const before = await text(page.locator('.station-table'));
    const lines = readFileSync(samplePath('conforming', 'points.csv'), 'utf8').split('\n');
    const [station, feature, x, ...rest] = (lines[6] ?? '').split(',');
    lines[6] = [station, feature, `${x}O`, ...rest].join(',');
    await drop('broken.csv', lines.join('\n'));
    const problems = page.locator('.problems');
    await problems.waitFor();
    const list = await text(problems);
    expect(list).toContain('broken.csv, line 7, column x');
    expect(list).toContain(`${x}O`);
    for (const word of ['Place', 'Found', 'Expected', 'Remedy', 'The disc on view is unchanged.'])
      expect(list).toContain(word);
    expect(await text(page.locator('.station-table'))).toBe(before);
    await page.getByRole('button', { name: 'Keep the disc on view' }).click();
    expect(await page.locator('.problems').count()).toBe(0);
    await page.getByRole('button', { name: 'Open files' }).click();
    await expect.poll(() => text(page.locator('dialog .given'))).toContain('points.csv');
  });

  test('a file that is no text, and two plans at once, change nothing', async () => {
    await openSample('conforming');
    await drop('book.csv', 'PK\u0003\u0004\u0000\u0000');
    await expect.poll(() => text(page.locator('.problems'))).toContain('book.csv');
    await page.getByRole('button', { name: 'Keep the disc on view' }).click();
    await page.getByRole('button', { name: 'Open files' }).click();
    await give(samplePath('conforming', 'plan.json'), samplePath('drifting', 'plan.json'));
    await expect.poll(() => text(page.locator('.problems'))).toContain('both plan files');
    expect(await text(page.locator('.headline'))).toBe('18 of 18 stations conform');
  });
});

test('a running job shows its progress and can be cancelled', async () => {
  await openSample('conforming');
  // The same points two hundred times over: the same disc, and long enough to be caught at work.
  const [header, ...rows] = readFileSync(samplePath('conforming', 'points.csv'), 'utf8')
    .trimEnd()
    .split('\n');
  const path = join(folder, 'long.csv');
  writeFileSync(path, `${header}\n${`${rows.join('\n')}\n`.repeat(200)}`);
  await page.getByRole('button', { name: 'Open files' }).click();
  await give(path);
  await page.getByRole('progressbar').waitFor({ state: 'attached' });
  // Behind the dialog, which stays until a disc is there; Escape uncovers the button.
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('progressbar').waitFor({ state: 'detached' });
  expect(await text(page.locator('.disc-title'))).not.toContain('long.csv');
  // Jobs run one after another: when the next one has ended, the cancelled one has too, and never came on view.
  await page.getByRole('button', { name: 'Open files' }).click();
  await page.locator('[data-sample="off-centre"]').click();
  await expect.poll(() => text(page.locator('.headline'))).toBe('16 of 20 stations conform');
});
