/** Every workspace and dialog for everybody: the rules of WCAG 2.2 AA in light and dark, enlarged, and by keyboard alone. */
import { describe, expect, test } from 'vitest';
import { accessibilityFaults, setColours } from '../support/axe.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();

const workspace = (name: string) =>
  session.page.locator('.tabs').getByRole('button', { name, exact: true }).click();

/** Opens a page of the workspace on view. */
const topic = (name: string | RegExp) =>
  session.page.locator('main .topics').getByRole('radio', { name }).check({ force: true });

/** What each view is, how to get there from the one before it, and what shows that it is drawn. */
const views: readonly (readonly [name: string, go: () => Promise<unknown>, shown: string])[] = [
  ['Disc', () => workspace('Disc'), '.dial .polar'],
  [
    'Disc, a station chosen with others',
    async () => {
      await session.row(4).click();
      await session.row(6).click({ modifiers: ['Control'] });
    },
    '.station-card h2',
  ],
  ['Features', () => workspace('Features'), '.features-view svg'],
  ['Features, in three dimensions', () => topic(/^3-D/), '.scene-figure canvas'],
  ['Features, left out', () => topic(/^Left out/), '.features-view'],
  ['Compare, nothing to compare with', () => workspace('Compare'), '.compare-view'],
  ['Causes', () => workspace('Causes'), '.causes-view svg'],
  ...(['Corrections', 'Around the disc', 'Weld sequence', 'Arrows', 'Calculator'] as const).map(
    (name) => [`Causes, ${name}`, () => topic(name), '.causes-view .panel'] as const,
  ),
  ['What if', () => workspace('What if'), '.what-if-view svg'],
  ['Plan', () => workspace('Plan'), '.plan-view svg'],
  ['Report', () => workspace('Report'), '.report-preview'],
  ['Session', () => workspace('Session'), '.session-view'],
];

async function everyView(look: (name: string) => Promise<void>): Promise<void> {
  for (const [name, go, shown] of views) {
    await go();
    await session.page.locator(shown).first().waitFor();
    await look(name);
  }
}

/** Opens each dialog, looks at it and closes it again. */
async function everyDialog(look: (name: string) => Promise<void>): Promise<void> {
  const { page } = session;
  const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  const dialogs: readonly (readonly [title: string, open: () => Promise<unknown>])[] = [
    ['Files', () => press('Open files')],
    ['How the files were read', () => page.locator('.foot .import button').click()],
    ['Keyboard shortcuts', () => page.keyboard.press('F1')],
    [
      'Decision rule',
      () =>
        page
          .locator('.summary .facts')
          .getByRole('button', { name: /limit|proven/ })
          .click(),
    ],
    [
      'Leave out',
      async () => {
        await workspace('Features');
        await topic(/^Residuals/);
        await page
          .getByRole('button', { name: /^Leave .* out/ })
          .first()
          .click();
      },
    ],
    [
      'Not saved',
      async () => {
        await workspace('Session');
        await page.getByLabel('On the disc as a whole').fill('A note.');
        await press('Open files');
        await page.locator('dialog [data-sample="conforming"]').click();
      },
    ],
  ];
  await workspace('Disc');
  for (const [title, open] of dialogs) {
    await open();
    const dialog = page.getByRole('dialog', { name: title, exact: true });
    await dialog.waitFor();
    await look(title);
    while ((await page.locator('dialog[open]').count()) > 0) await page.keyboard.press('Escape');
  }
}

const overflow = (): Promise<number> =>
  session.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

describe.each(['light', 'dark'] as const)('no rule of WCAG is broken, %s,', (colours) => {
  test('in any workspace or dialog', async () => {
    const { page } = session;
    await session.openSample('off-centre');
    await setColours(page, colours);
    const faults: string[] = [];
    const look = async (name: string): Promise<void> => {
      for (const fault of await accessibilityFaults(page)) faults.push(`${name}: ${fault}`);
    };
    await everyView(look);
    await everyDialog(look);
    expect(faults).toEqual([]);
  });
});

test('at 200 % nothing is lost sideways', async () => {
  const { page } = session;
  // A window of 1280 × 800 enlarged twice has room for 640 × 400.
  await page.setViewportSize({ width: 640, height: 400 });
  await session.openSample('off-centre');
  const wide: string[] = [];
  const look = async (name: string): Promise<void> => {
    if ((await overflow()) > 0) wide.push(`${name}: ${await overflow()} px too wide`);
  };
  await everyView(look);
  await everyDialog(look);
  expect(wide).toEqual([]);
});

test('nothing moves where the system asks for calm', async () => {
  const { page } = session;
  await session.openSample('off-centre');
  const moving = (): Promise<readonly string[]> =>
    page.evaluate(() =>
      [...document.querySelectorAll('*')]
        .filter((element) => {
          const { animationName, transitionDuration } = getComputedStyle(element);
          return (
            animationName !== 'none' || transitionDuration.split(',').some((part) => parseFloat(part) > 0)
          );
        })
        .map((element) => element.outerHTML.slice(0, 80)),
    );
  const found: string[] = [];
  await everyView(async (name) => {
    for (const element of await moving()) found.push(`${name}: ${element}`);
  });
  expect(found).toEqual([]);
});

test('from a sample to its report by keyboard alone, with the focus in sight and the outcome said', async () => {
  const { page } = session;
  await page.goto(session.address);
  await page.locator('[data-sample]').first().waitFor();
  /** What has the focus, and whether it shows. */
  const here = () =>
    page.evaluate(() => {
      const element = document.activeElement as HTMLElement | null;
      if (element === null || element === document.body) return null;
      const text = element.getAttribute('aria-label') ?? element.textContent ?? '';
      const shown = [element, element.parentElement].some((part) => {
        if (part === null) return false;
        const { outlineStyle, outlineWidth } = getComputedStyle(part);
        return outlineStyle !== 'none' && outlineWidth !== '0px';
      });
      return { text, shown };
    });
  const tabTo = async (name: RegExp): Promise<void> => {
    for (let stops = 0; stops < 200; stops += 1) {
      await page.keyboard.press('Tab');
      const focus = await here();
      if (focus === null) continue;
      expect(focus.shown, `focus on "${focus.text}"`).toBe(true);
      if (name.test(focus.text)) return;
    }
    throw new Error(`The focus never reached ${name}.`);
  };

  // The first stop leads past the title bar.
  await page.keyboard.press('Tab');
  expect((await here())?.text).toBe('Skip to the content');
  await page.keyboard.press('Enter');
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('content');

  await tabTo(/^Seated off-centre/);
  await page.keyboard.press('Enter');
  await discShown(page);
  await expect
    .poll(() => page.getByTestId('announcer').textContent())
    .toBe('Reduced: 16 of 20 stations conform.');

  // Features: one is left out with its reason, and comes back with undo.
  await page.keyboard.press('Alt+2');
  await page.locator('.features-view svg').first().waitFor();
  await tabTo(/^Leave .* out/);
  await page.keyboard.press('Enter');
  await page.getByRole('dialog', { name: 'Leave out' }).waitFor();
  await page.keyboard.type('burr on the flank');
  await page.keyboard.press('Control+Enter');
  await expect.poll(() => page.title(), { timeout: 20_000 }).toMatch(/^●/);
  await page.keyboard.press('Control+z');
  await expect.poll(() => page.title(), { timeout: 20_000 }).not.toMatch(/^●/);

  // A note, the session, the report.
  await page.keyboard.press('Alt+8');
  await tabTo(/^On the disc as a whole|^$/);
  const [session1] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  expect(session1.suggestedFilename()).toMatch(/\.hubtrue$/);
  await page.keyboard.press('Control+p');
  await page.locator('.report-preview').waitFor();
  await tabTo(/^Save PDF$/);
  const [report] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect(report.suggestedFilename()).toMatch(/report\.pdf$/);
  await expect.poll(() => shownText(page.locator('.outcome'))).toContain('Saved: ');
});
