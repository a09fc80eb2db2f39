/** The disc view in Chromium, through the browser host, on the built program. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import { resultOfSample } from '../support/sample-results.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

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
      await session.openSample(sample);
      for (const standing of ['conforming', 'nonconforming', 'unproven'] as const)
        expect(await shownText(session.page.locator(`.tally [data-standing="${standing}"] b`))).toBe(
          String(summary[standing]),
        );
      expect(await shownText(session.page.locator('.tally [data-standing="missing"] b'))).toBe(
        String(summary.missing.length),
      );
      expect(await session.page.locator('tbody tr[data-station]').count()).toBe(summary.stations);
      const facts = await shownText(session.page.locator('.facts'));
      expect(facts).toContain('uncertainty at 95 % coverage');
      expect(facts).not.toContain('not evaluated');
      if (source.points.excluded.length > 0)
        await session.page
          .getByRole('button', { name: `${source.points.excluded.length} excluded` })
          .waitFor();
      for (const missing of summary.missing)
        expect(await shownText(session.row(missing.station))).toContain(missing.reason);

      const compare = async (
        pick: (station: ResultDocument['stations'][number]) => Record<string, number | null>,
      ) => {
        for (const name of Object.keys(pick(stations[0]!))) {
          const isRotation = /^rot|lean|sweep|stagger/.test(name);
          const expected = stations.map(
            (station) => (pick(station)[name] ?? Number.NaN) * (isRotation ? 180 / Math.PI : 1),
          );
          const found = await session.cells(name);
          expect(found.length, name).toBe(expected.length);
          // Half a unit of the fourth decimal, which the window shows.
          for (const [index, value] of expected.entries())
            if (!Number.isNaN(value))
              expect(Math.abs((found[index] ?? Number.NaN) - value), `${name} ${index}`).toBeLessThan(
                0.5001e-4,
              );
        }
      };
      await compare((station) => ({
        ...station.error,
        position: station.position.value,
        expanded: station.position.expanded,
      }));
      for (const { station, position } of stations) {
        const shown = await shownText(session.row(station).locator('[data-quantity="probability"]'));
        const percent = 100 * (position.probability ?? Number.NaN);
        if (shown === '>99.9') expect(percent).toBeGreaterThanOrEqual(99.95);
        else if (shown === '<0.1') expect(percent).toBeLessThan(0.05);
        else expect(shown).toBe(percent.toFixed(1));
      }
      await session.page.getByRole('radio', { name: 'Six errors in the disc frame' }).check({ force: true });
      await compare((station) => ({ ...station.disc }));
      for (const station of stations)
        expect(await shownText(session.row(station.station))).toContain(station.verdict);
    },
  );

  test('starts at the worst station and sorts by each column', async () => {
    const { summary, stations } = resultOf('off-centre');
    await session.openSample('off-centre');
    expect(await session.currentStation()).toBe(String(summary.worst?.station));
    const order = async () =>
      (
        await session.page
          .locator('tbody tr[data-station]')
          .evaluateAll((rows) => rows.map((entry) => entry.getAttribute('data-station')))
      ).map(Number);
    await session.page.getByRole('button', { name: 'Sort by Position', exact: true }).click();
    expect(
      await session.page.locator('th:has(button[aria-label="Sort by Position"])').getAttribute('aria-sort'),
    ).toBe('descending');
    const byPosition = [...stations].sort((a, b) => (b.position.value ?? 0) - (a.position.value ?? 0));
    expect(await order()).toEqual(byPosition.map((station) => station.station));
    await session.page.getByRole('button', { name: 'Sort by Lateral', exact: true }).click();
    await session.page.getByRole('button', { name: 'Sort by Lateral', exact: true }).click();
    expect(
      await session.page.locator('th:has(button[aria-label="Sort by Lateral"])').getAttribute('aria-sort'),
    ).toBe('descending');
    const byLateral = [...stations].sort((a, b) => (b.error.lateral ?? 0) - (a.error.lateral ?? 0));
    expect(await order()).toEqual(byLateral.map((station) => station.station));
  });

  test('an unproven station differs in shape, word and colour, and its card shows U, P and the ellipses', async () => {
    const { stations, decision } = resultOf('drifting');
    await session.openSample('drifting');
    const unproven = stations.find(({ position }) => position.verdict === 'unproven');
    const conforming = stations.find(({ verdict }) => verdict === 'conforming');
    if (unproven === undefined || conforming === undefined)
      throw new Error('The sample has no such stations.');
    const mark = async (station: number) => {
      const svg = session.row(station).locator('.standing .mark');
      const shape = await svg.evaluate((one) => [...one.children].map((part) => part.tagName).join(' '));
      return { shape, colour: await svg.evaluate((one) => getComputedStyle(one).color) };
    };
    const [one, other] = [await mark(unproven.station), await mark(conforming.station)];
    expect(one.shape).not.toBe(other.shape);
    expect(one.colour).not.toBe(other.colour);
    expect(await shownText(session.row(unproven.station))).toContain('unproven');

    await session.row(unproven.station).click();
    const card = session.page.locator('.station-card');
    const text = await shownText(card);
    const { position, uncertainty } = unproven;
    expect(text).toContain(`${position.value?.toFixed(4)} + ${position.expanded?.toFixed(4)} mm`);
    expect(text).toContain(`P(conform) ${(100 * (position.probability ?? 0)).toFixed(1)} %`);
    for (const name of ['oscillation', 'lateral', 'upset'] as const)
      expect(text).toContain(`± ${uncertainty?.expanded[name]?.toFixed(4)}`);
    if (position.settle !== null) expect(text).toContain(position.settle);
    // The ellipse stands to the drawing's scale: its area against the zone's is k²·√det over the squared radius.
    const zone = Number(await card.locator('circle.tolerance').getAttribute('r'));
    const ellipses = card.locator('ellipse.coverage');
    expect(await ellipses.count()).toBe(position.checkPoints.length);
    for (const [index, { covariance, tolerance }] of position.checkPoints.entries()) {
      const [rx, ry] = [
        Number(await ellipses.nth(index).getAttribute('rx')),
        Number(await ellipses.nth(index).getAttribute('ry')),
      ];
      const [[a, b], [, c]] = covariance as unknown as [[number, number], [number, number]];
      const area = -2 * Math.log(1 - decision.coverage) * Math.sqrt(a * c - b * b);
      expect((rx * ry) / zone ** 2 / (area / (tolerance / 2) ** 2)).toBeCloseTo(1, 6);
    }

    await session.page.locator('.facts').getByRole('button', { name: 'conformity proven at 95 %' }).click();
    const dialog = session.page.getByRole('dialog', { name: 'Decision rule' });
    expect(await shownText(dialog)).toContain(decision.risk);
  });

  test('one selection runs through table, map, card and arrow keys', async () => {
    await session.openSample('conforming');
    const everywhere = async (station: number) => {
      await expect.poll(session.currentStation).toBe(String(station));
      expect(await shownText(session.page.locator('.station-card h2'))).toBe(`Station ${station}`);
      expect(await shownText(session.page.getByTestId('live-line'))).toContain(`Station ${station} at`);
      await expect
        .poll(() => session.page.locator('.dial-reading text').allTextContents())
        .toContain(`Station ${station}`);
    };
    await session.row(5).click();
    await everywhere(5);
    const ground = (station: number) =>
      session.row(station).evaluate((entry) => getComputedStyle(entry).backgroundColor);
    await session.page.mouse.move(0, 0);
    expect(await ground(5)).not.toBe(await ground(3));
    await session.page.keyboard.press('ArrowDown');
    await everywhere(6);
    await session.page.keyboard.press('End');
    await everywhere(18);
    await session.page.keyboard.press('Home');
    await everywhere(1);
    await session.page.locator('figure.dial').focus();
    await session.page.keyboard.press('ArrowLeft');
    await everywhere(18);
    await session.page.getByRole('button', { name: 'Next station' }).click();
    await everywhere(1);
    // A mark on the map: the conforming stations are drawn in the order of their numbers.
    const mark = session.page.locator('.dial .scatterlayer .point').nth(3);
    const box = await mark.boundingBox();
    if (box === null) throw new Error('The mark is not drawn.');
    await session.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await session.page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    await everywhere(4);
  });

  test('the map switches between all quantities and says each in words', async () => {
    await session.openSample('off-centre');
    const live = session.page.getByTestId('live-line');
    const figure = session.page.locator('figure.dial');
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
      await session.page
        .locator('.rail')
        .getByRole('radio', { name: new RegExp(`^${title}`) })
        .check({ force: true });
      await expect.poll(() => shownText(live)).toContain(title);
      expect(await figure.getAttribute('aria-label')).toContain(`${title} of 20 stations`);
    }
    // The plan limits the six errors but no disc-frame quantity: rings on the one kind, none on the other.
    expect(await shownText(session.page.locator('.legend'))).not.toContain('limit ±');
    await session.page
      .locator('.rail')
      .getByRole('radio', { name: /^↻ Upset/ })
      .check({ force: true });
    await expect.poll(() => shownText(session.page.locator('.legend'))).toContain('limit ±');
    expect(await shownText(live)).toContain('Rotation about upset');
  });

  test('units change the text and nothing else, and stay for the next visit', async () => {
    const { stations } = resultOf('conforming');
    await session.openSample('conforming');
    await session.page.getByRole('radio', { name: 'Micrometres' }).check({ force: true });
    await session.page.getByRole('radio', { name: 'Arc-seconds' }).check({ force: true });
    const check = async () => {
      const position = await session.cells('position');
      const rotation = await session.cells('rotUpset');
      for (const [index, station] of stations.entries()) {
        expect(Math.abs((position[index] ?? 0) - (station.position.value ?? 0) * 1000)).toBeLessThan(0.0501);
        const seconds = ((station.error.rotUpset ?? 0) * 180 * 3600) / Math.PI;
        expect(Math.abs((rotation[index] ?? 0) - seconds)).toBeLessThan(0.0501);
      }
    };
    await check();
    await session.page.reload();
    await discShown(session.page);
    await check();
    await session.page.getByRole('radio', { name: 'Inches' }).check({ force: true });
    const inches = await session.cells('position');
    for (const [index, station] of stations.entries())
      expect(Math.abs((inches[index] ?? 0) - (station.position.value ?? 0) / 25.4)).toBeLessThan(0.5001e-6);
  });

  test('light and dark follow the system until the person chooses', async () => {
    await session.openSample('conforming');
    const ground = () => session.page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const light = await ground();
    await session.page.emulateMedia({ colorScheme: 'dark' });
    await expect.poll(ground).not.toBe(light);
    await session.page.getByRole('radio', { name: 'Light colours' }).check({ force: true });
    await expect.poll(ground).toBe(light);
    await session.page.getByRole('radio', { name: 'Dark colours' }).check({ force: true });
    await session.page.emulateMedia({ colorScheme: 'light' });
    expect(await ground()).not.toBe(light);
  });

  test('fits 1280 × 800 without scrolling the page', async () => {
    await session.openSample('off-centre');
    for (const [width, height] of [
      [1280, 800],
      [1920, 1080],
    ] as const) {
      await session.page.setViewportSize({ width, height });
      const overflow = await session.page.evaluate(() => {
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

  test('on a screen of 1024 × 700 the panels stand apart and the page scrolls', async () => {
    await session.page.setViewportSize({ width: 1024, height: 700 });
    await session.openSample('drifting');
    await session.page.getByRole('radio', { name: 'Inches' }).check({ force: true });
    const { page, panels, rows } = await session.page.evaluate(() => {
      const boxOf = (part: Element) => {
        const { left, right, top, bottom } = part.getBoundingClientRect();
        return { name: part.className, left, right, top, bottom };
      };
      const scroll = document.querySelector('.table-scroll')!.getBoundingClientRect();
      const head = document.querySelector('.table-scroll thead')!.getBoundingClientRect().bottom;
      const { scrollHeight, scrollWidth } = document.documentElement;
      return {
        page: { scrolls: scrollHeight > innerHeight, right: scrollWidth - innerWidth, top: scrollY },
        // The drawing of the zone and the bars beside it are watched too.
        panels: [
          [...document.querySelectorAll('.disc-view > .panel, .foot')].map(boxOf),
          [...document.querySelectorAll('.error-bars, .zone, .card-tables')].map(boxOf),
        ],
        rows: [...document.querySelectorAll('tr[data-station]')]
          .map((row) => row.getBoundingClientRect())
          .filter(({ top, bottom }) => top >= head - 1 && bottom <= scroll.bottom + 1).length,
      };
    });
    expect(page).toEqual({ scrolls: true, right: 0, top: 0 });
    expect(rows).toBeGreaterThanOrEqual(5);
    expect(panels.map((group) => group.length)).toEqual([5, 3]);
    for (const group of panels)
      for (const [index, a] of group.entries())
        for (const b of group.slice(index + 1))
          expect(
            a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top,
            `${a.name} and ${b.name}`,
          ).toBe(true);
  });

  test('the toolbar of the plot has no button that sends data away', async () => {
    await session.openSample('off-centre');
    const titles = await session.page
      .locator('.modebar-btn')
      .evaluateAll((buttons) => buttons.map((button) => button.getAttribute('data-title') ?? ''));
    expect(titles.length).toBeGreaterThan(0);
    for (const title of titles) expect(title).not.toMatch(/share|send|cloud|edit|upload|plotly/i);
  });

  test('table and map are handed out', async () => {
    const { stations } = resultOf('off-centre');
    await session.openSample('off-centre');
    await session.page.getByRole('button', { name: 'Copy table' }).click();
    await session.page.getByText('20 rows copied').waitFor();
    const lines = (await session.page.evaluate(() => navigator.clipboard.readText())).trimEnd().split('\n');
    expect(lines).toHaveLength(21);
    const head = lines[0]?.split('\t') ?? [];
    const first = lines[1]?.split('\t') ?? [];
    expect(Number(first[head.indexOf('position (mm)')])).toBeCloseTo(
      stations[0]?.position.value ?? Number.NaN,
      6,
    );
    const save = async (name: string) => {
      const [download] = await Promise.all([
        session.page.waitForEvent('download'),
        session.page.getByRole('button', { name }).click(),
      ]);
      return readFileSync(await download.path());
    };
    expect((await save('Save CSV')).toString()).toMatch(/^station,angle \(deg\),oscillation \(mm\)/);
    expect(Number(first[head.indexOf('P position conforms')])).toBe(stations[0]?.position.probability);
    expect((await save('Save the map as PNG')).subarray(1, 4).toString()).toBe('PNG');
    const svg = (await save('Save the map as SVG')).toString();
    expect(svg).toMatch(/^<svg/);
    expect(svg).toContain('0.2022');
  });
});
