/** The selection on the polar map, which the page draws beside the plot: in Chromium, on the built program. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { setColours } from '../support/axe.ts';
import { windowSession } from '../support/window-session.ts';

const session = windowSession();

/** Distance of the chosen mark from the plot's own mark of the same station, pixels; null where there is none. */
function distanceFromPlot(page: Page): Promise<number | null> {
  return page.locator('.dial').evaluate((dial) => {
    const chosen = dial.querySelector<SVGElement>('.chosen-mark svg');
    const station = Number(dial.querySelector<HTMLElement>('.chosen-mark')?.dataset['station']);
    const middle = (part: Element): readonly [number, number] => {
      const { left, top, width, height } = part.getBoundingClientRect();
      return [left + width / 2, top + height / 2];
    };
    const graph = dial.querySelector('.js-plotly-plot') as unknown as {
      data: { customdata?: number[]; mode?: string }[];
    };
    const traces = graph.data.filter(({ mode }) => mode === 'markers');
    const layers = [...dial.querySelectorAll('.scatterlayer .trace')].filter(
      (layer) => layer.querySelector('.point') !== null,
    );
    for (const [index, { customdata }] of traces.entries()) {
      const at = customdata?.indexOf(station) ?? -1;
      const point = layers[index]?.querySelectorAll('.point')[at];
      if (chosen === null || point === undefined) continue;
      const [[x, y], [px, py]] = [middle(chosen), middle(point)];
      return Math.hypot(x - px, y - py);
    }
    return null;
  });
}

const hub = (page: Page): Promise<string[]> => page.locator('.dial-reading text').allTextContents();
/** Edges of marks lie on half pixels; anything more would show. */
const PIXEL = 1;

describe('the selection on the map', () => {
  test('is there as soon as the one in the table', async () => {
    await session.openSample('off-centre');
    const seen = await session.page.evaluate(async () => {
      const press = async (key: string) => {
        document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
        // React has answered a key by the end of its microtasks: no frame, no timer.
        await Promise.resolve();
        const station = (selector: string) =>
          document.querySelector<HTMLElement>(selector)?.dataset['station'];
        return [
          station('tr[aria-current="true"]'),
          station('.chosen-mark'),
          station('.chosen-ground'),
          document.querySelector('.dial-reading .head')?.textContent,
        ];
      };
      return [await press('Home'), await press('ArrowRight'), await press('End')];
    });
    expect(seen).toEqual([
      ['1', '1', '1', 'Station 1'],
      ['2', '2', '2', 'Station 2'],
      ['20', '20', '20', 'Station 20'],
    ]);
  });

  test.each(['light', 'dark'] as const)(
    'lies on the marks of the plot, whatever their kind and the size of the window, in %s',
    async (colours) => {
      await session.openSample('drifting');
      const { page } = session;
      await setColours(page, colours);
      for (const [width, height] of [
        [1280, 800],
        [1920, 1080],
      ] as const) {
        await page.setViewportSize({ width, height });
        for (const quantity of ['Lateral', 'Position']) {
          await page
            .locator('.rail')
            .getByRole('radio', { name: new RegExp(`^${quantity}`) })
            .check({ force: true });
          await page.locator('figure.dial').focus();
          for (const key of ['Home', ...Array.from({ length: 15 }, () => 'ArrowRight')]) {
            await page.keyboard.press(key);
            await expect
              .poll(() => distanceFromPlot(page), { message: `${quantity} ${width} ${key}` })
              .toBeLessThan(PIXEL);
          }
        }
      }
      const [ground, theme] = await page
        .locator('.chosen-ground')
        .evaluate((part) => [
          getComputedStyle(part).fill,
          getComputedStyle(document.documentElement).getPropertyValue('--select').trim(),
        ]);
      const channels = theme?.match(/[0-9a-f]{2}/gi)?.map((part) => Number.parseInt(part, 16));
      expect(ground).toBe(`rgb(${channels?.join(', ')})`);
    },
  );

  test('follows a box that is drawn on the map, and comes back with it', async () => {
    await session.openSample('off-centre');
    const { page } = session;
    const place = () => page.locator('.chosen-mark').evaluate((mark) => mark.getBoundingClientRect().x);
    await session.row(1).click();
    const before = await place();
    const box = await page.locator('figure.dial').boundingBox();
    if (box === null) throw new Error('The map is not drawn.');
    const [cx, cy] = [box.x + box.width / 2, box.y + box.height / 2];
    const rim = Math.min(box.width - 60, box.height - 52) / 2;
    // From the hub outwards to three quarters of the rim, where no station stands.
    await page.mouse.move(cx, cy + 0.36 * rim);
    await page.mouse.down();
    await page.mouse.move(cx, cy + 0.5 * rim);
    await page.mouse.move(cx, cy + 0.75 * rim);
    await page.mouse.up();
    await expect.poll(async () => Math.abs((await place()) - before)).toBeGreaterThan(5);
    await expect.poll(() => distanceFromPlot(page)).toBeLessThan(PIXEL);
    await page.mouse.dblclick(cx, cy + 0.6 * rim);
    await expect.poll(async () => Math.abs((await place()) - before)).toBeLessThan(PIXEL);
    await expect.poll(() => distanceFromPlot(page)).toBeLessThan(PIXEL);
  });

  test('is in the pictures that are saved of the map', async () => {
    await session.openSample('off-centre');
    const { page } = session;
    await session.row(6).click();
    const save = async (name: string) => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name }).click(),
      ]);
      return readFileSync(await download.path(), 'utf8');
    };
    const words = await hub(page);
    const picture = await save('Save the map as SVG');
    for (const word of words) expect(picture).toContain(word);
    expect(picture).toContain('scale in mm');
    // The ground behind the station, in the theme's colour for what is selected.
    expect(picture).toMatch(/fill:\s*rgb\(246, 227, 180\)/);
  });
});

test('the first view readies the plot out of sight, and leaves nothing of it behind', async () => {
  const { page } = session;
  await page.addInitScript(() => {
    const counts = { added: 0, removed: 0 };
    Object.assign(globalThis, { outOfSight: counts });
    const count = (nodes: NodeList): number =>
      [...nodes].filter((node) => node instanceof Element && node.matches('.out-of-sight')).length;
    new MutationObserver((records) => {
      for (const { addedNodes, removedNodes } of records) {
        counts.added += count(addedNodes);
        counts.removed += count(removedNodes);
      }
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(session.address);
  await expect
    .poll(() => page.evaluate(() => (globalThis as unknown as { outOfSight: object }).outOfSight))
    .toEqual({ added: 1, removed: 1 });
});
