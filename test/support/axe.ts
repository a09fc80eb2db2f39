/** Accessibility of what is on view, by axe-core: the rules of WCAG 2.2 level A and AA. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/**
 * What breaks the rules, one line for each element; empty where nothing does. The script runs through the debugger's
 * evaluation, which the page's content security policy leaves alone.
 *
 * @param within a selector, for a part of the page; the whole page otherwise
 */
export async function accessibilityFaults(page: Page, within = 'html'): Promise<readonly string[]> {
  const isThere = await page.evaluate(() => 'axe' in globalThis);
  if (!isThere) await page.evaluate(source);
  const results = await page.evaluate(
    ([selector, tags]) => {
      const { axe } = globalThis as unknown as { axe: { run(c: unknown, o: unknown): Promise<AxeResults> } };
      return axe.run(selector, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] });
    },
    [within, rules] as const,
  );
  return results.violations.flatMap(({ id, nodes }) =>
    nodes.map(
      (node) =>
        `${id}: ${node.target.join(' ')} ${node.failureSummary?.split('\n').slice(1, 2).join('').trim() ?? ''}`,
    ),
  );
}

/** Switches the window's colours with its own control, as a person would. */
export async function setColours(page: Page, colours: 'light' | 'dark'): Promise<void> {
  await page
    .getByRole('radio', { name: colours === 'light' ? 'Light colours' : 'Dark colours' })
    .check({ force: true });
  await page.locator(`html[data-theme="${colours}"]`).waitFor({ state: 'attached' });
}
