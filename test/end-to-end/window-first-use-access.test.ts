/** The way from an unfamiliar file to the result for everybody: by keyboard alone, enlarged, and by the rules of WCAG. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { accessibilityFaults, setColours } from '../support/axe.ts';
import { unfamiliarPoints } from '../support/unfamiliar-points.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

function protocol(): string {
  const path = join(session.folder, 'protokoll.csv');
  writeFileSync(path, unfamiliarPoints('conforming'));
  return path;
}

const sectionNames = [
  'Starting points',
  'Part and inspection',
  'Disc and stations',
  'Hub datums',
  'Blade seat',
  'Blade datums',
  'Position',
  'Limits',
  'Single stations',
  'Uncertainty and decision',
  'Budget and settings',
  'Characteristics',
  'Plan as text',
];

describe.each(['light', 'dark'] as const)('no rule of WCAG is broken, %s', (colours) => {
  test('in the opening view and the reading of points', async () => {
    const { page } = session;
    await page.goto(session.address);
    await page.locator('[data-sample]').first().waitFor();
    await setColours(page, colours);
    expect(await accessibilityFaults(page)).toEqual([]);
    await session.give(protocol());
    await page.locator('.no-plan').waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.getByRole('button', { name: 'Read these points and make a plan' }).click();
    await page.locator('.count-ring svg').waitFor();
    await page.getByText('As a table').click();
    await page.getByText('Another pattern').click();
    await page.locator('select[data-column="Z-Ist"]').selectOption('');
    await page.locator('.reading-problems').waitFor();
    expect(await accessibilityFaults(page)).toEqual([]);
  });

  test('in every part of the plan editor, empty and filled', async () => {
    const { page } = session;
    await session.openSample('conforming');
    await setColours(page, colours);
    await page.getByRole('button', { name: 'Plan', exact: true }).click();
    await page.getByText('The plan is complete and sound.').waitFor();
    const everywhere = async (): Promise<readonly string[]> => {
      const faults: string[] = [];
      for (const name of sectionNames) {
        await page.locator('.plan-nav').getByRole('button', { name }).click();
        for (const summary of await page.locator('.plan-form summary').all()) await summary.click();
        for (const fault of await accessibilityFaults(page)) faults.push(`${name}: ${fault}`);
      }
      return faults;
    };
    expect(await everywhere()).toEqual([]);
    await page.getByRole('button', { name: 'Compare plans' }).click();
    await page.getByRole('button', { name: 'plan.json as saved' }).click();
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('.plan-tools').getByRole('button', { name: 'New' }).click();
    await page.locator('[data-start="bore-face-hole"]').click();
    await page.locator('.plan-nav .badge').first().waitFor();
    expect(await everywhere()).toEqual([]);
  });
});

test('at 200 % nothing is cut off sideways', async () => {
  const { page } = session;
  // A window of 1280 × 800 enlarged twice has room for 640 × 400.
  await page.setViewportSize({ width: 640, height: 400 });
  await page.goto(session.address);
  await session.give(protocol());
  const overflow = (): Promise<number> =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  await page.locator('.no-plan').waitFor();
  expect(await overflow()).toBe(0);
  await page.getByRole('button', { name: 'Read these points and make a plan' }).click();
  await page.locator('.count-ring svg').waitFor();
  expect(await overflow()).toBe(0);
  await page.getByRole('button', { name: 'Use this reading' }).click();
  await page.locator('[data-start="face-bore-slot"]').click();
  for (const name of sectionNames) {
    await page.locator('.plan-nav').getByRole('button', { name }).click();
    expect(await overflow(), name).toBe(0);
  }
});

test('the whole way goes by keyboard alone, and the focus can be seen at every stop', async () => {
  const { page } = session;
  await page.goto(session.address);
  await page.locator('[data-sample]').first().waitFor();
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Control+o')]);
  await chooser.setFiles(protocol());
  await page.locator('.no-plan').waitFor();

  /** Goes on with Tab until the focus is where it should be; every stop on the way must show that it has the focus. */
  const tabTo = async (name: RegExp): Promise<void> => {
    for (let stops = 0; stops < 250; stops += 1) {
      await page.keyboard.press('Tab');
      const here = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement | null;
        if (element === null || element === document.body) return null;
        const labels = (element as HTMLInputElement).labels;
        const text =
          element.getAttribute('aria-label') ??
          (labels?.length
            ? [...labels].map((label) => label.textContent).join(' ')
            : (element.textContent ?? ''));
        // A radio button without a face of its own is shown by its label.
        const shown = [element, element.parentElement].some(
          (part) =>
            part !== null &&
            getComputedStyle(part).outlineStyle !== 'none' &&
            getComputedStyle(part).outlineWidth !== '0px',
        );
        return { text, shown };
      });
      if (here === null) continue;
      expect(here.shown, `focus on "${here.text}"`).toBe(true);
      if (name.test(here.text)) return;
    }
    throw new Error(`The focus never reached ${name}.`);
  };
  const enter = async (name: RegExp, value: string): Promise<void> => {
    await tabTo(name);
    await page.keyboard.press('Control+a');
    await page.keyboard.type(value);
  };
  const press = async (name: RegExp): Promise<void> => {
    await tabTo(name);
    await page.keyboard.press('Enter');
  };

  const focused = () => page.evaluate(() => document.activeElement?.textContent);

  await press(/^Read these points/);
  await page.locator('.count-ring svg').waitFor();
  await press(/^Use this reading/);
  expect(await focused()).toBe('Starting points');
  await press(/^Face – bore – slot/);
  await enter(/^Angle of station 1/, '0');
  await tabTo(/^Counterclockwise/);
  await page.keyboard.press('Space');
  await press(/^Hub datums/);
  await enter(/^Radius/, '72');
  await enter(/^Datum C, point, X/, '96');
  await press(/^Blade seat/);
  await enter(/^Radius/, '236');
  await enter(/^Axial place/, '-18');
  await enter(/^Height angle/, '5,5');
  await enter(/^Stagger angle/, '36');
  await press(/^Blade datums/);
  for (const [name, value] of [
    ['D, point, l', '9'],
    ['D, point, u', '80'],
    ['E, point, o', '28'],
    ['E, point, u', '80'],
    ['F, point, u', '12'],
  ] as const)
    await enter(new RegExp(`^Datum ${name}`), value);
  await press(/^Position/);
  await enter(/^Position tolerance/, '0.05');
  await tabTo(/^⌀ Cylindrical/);
  await page.keyboard.press('Space');
  await press(/^\+ At the blade origin/);
  // The focus is on the name of the point that has come, before the button that made it.
  expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).value)).toBe('root');
  await page.getByText('The plan is complete and sound.').waitFor();
  await press(/^Reduce the points/);
  await discShown(page);
  expect(await shownText(page.locator('.headline'))).toContain('of 18 stations conform');
});
