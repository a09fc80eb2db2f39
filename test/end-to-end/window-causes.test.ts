/** The views of causes, corrections and the what-if bench in Chromium, through the browser host, on the built program. */
import { readFileSync } from 'node:fs';
import type { Download } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { withFigures } from '../../shared-math/diagnosis/figures.ts';
import type { Diagnosis, Figure } from '../../shared-math/diagnosis/findings.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { samplePath } from '../support/sample-results.ts';
import { discShown } from '../support/window.ts';
import { shownText, windowSession } from '../support/window-session.ts';

const session = windowSession();
const samples = ['conforming', 'off-centre', 'drifting'] as const;
type Sample = (typeof samples)[number];
const discs = new Map<Sample, ReducedDisc>();

beforeAll(async () => {
  for (const sample of samples) {
    const path = (name: string) => samplePath(sample, name);
    discs.set(
      sample,
      await runReduction({
        pointsPath: path('points.csv'),
        planPath: path('plan.json'),
        weldsPath: path('welds.csv'),
      }),
    );
  }
});

function discOf(sample: Sample): ReducedDisc & { readonly diagnosis: Diagnosis } {
  const disc = discs.get(sample);
  if (disc?.result.diagnosis == null) throw new Error(`${sample} has no diagnosis.`);
  return { ...disc, diagnosis: disc.result.diagnosis };
}

const workspace = (title: string) =>
  session.page
    .getByRole('navigation', { name: 'Workspaces' })
    .getByRole('button', { name: title, exact: true })
    .click();

async function topic(title: string): Promise<void> {
  await workspace('Causes');
  await session.page
    .locator('.topics')
    .getByRole('radio', { name: title, exact: true })
    .check({ force: true });
}

/** What stands in the drawings. */
const texts = (within: string) => session.page.locator(`${within} svg.chart text`).allTextContents();

/** A number as the window writes it. */
const shown = (value: number, decimals = 4): string => value.toFixed(decimals).replace('-', '−');

/** A sentence as the window says it: its sizes in mm and degrees. */
function said(text: string, figures: readonly Figure[] | undefined): string {
  return withFigures(text, figures ?? [], ({ kind, values, signed }) => {
    const unit = kind === 'length' ? ' mm' : '°';
    const written = values.map((value) => {
      const number = shown(kind === 'length' ? value : (value * 180) / Math.PI).replace(/^−(0\.0+)$/, '$1');
      return signed && value > 0 && Number(number) !== 0 ? `+${number}` : number;
    });
    return `${written.join(' to ')}${unit}`;
  });
}

async function saved(press: () => Promise<void>): Promise<{ readonly name: string; readonly text: string }> {
  const [file] = await Promise.all([session.page.waitForEvent('download') as Promise<Download>, press()]);
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
}

describe('causes', () => {
  test.each(samples)(
    'of %s: leading cause, sizes, intervals and sentences are those of the diagnosis',
    async (sample) => {
      const { diagnosis } = discOf(sample);
      await session.openSample(sample);
      await topic('Causes');
      expect(await shownText(session.page.locator('.findings .lead'))).toBe(
        said(diagnosis.sentences[0] ?? '', diagnosis.sentenceFigures?.[0]),
      );
      const leading = diagnosis.components.find(({ name }) => name === diagnosis.leading);
      const chosen = session.page.locator('.cause-row.chosen');
      expect(await chosen.getAttribute('data-component')).toBe(leading?.name);
      expect(await shownText(session.page.locator('.component-card > header h2'))).toBe(leading?.title);
      for (const { name, title, size, notExamined, significant } of diagnosis.components) {
        const row = session.page.locator(`[data-component="${name}"]`);
        const label = await row.locator('title').textContent();
        expect(label).toContain(title);
        if (notExamined !== null) expect(label).toContain(notExamined);
        else if (size !== null) expect(label).toContain(shown(size.value));
        if (!significant && notExamined === null && name !== 'scatter')
          expect(label).toContain('not distinguishable from scatter');
        await row.click();
        const card = await shownText(session.page.locator('.component-card'));
        const found = diagnosis.components.find((component) => component.name === name);
        // The page begins every sentence with a capital.
        expect(card.toLowerCase()).toContain(
          (found?.notExamined ?? said(found?.sentence ?? '?', found?.figures)).toLowerCase(),
        );
        for (const parameter of found?.parameters ?? []) {
          const factor = parameter.unit.startsWith('rad') ? 180 / Math.PI : 1;
          const decimals = parameter.unit === 'degree' ? 2 : 4;
          expect(card.replaceAll('+', '')).toContain(
            shown(factor * parameter.value, decimals).replace(/^−(0\.0+)$/, '$1'),
          );
        }
      }
      for (const { words } of diagnosis.confounded) {
        const names = diagnosis.confounded.find((entry) => entry.words === words)?.between ?? [];
        await session.page.locator(`[data-component="${names[0]}"]`).click();
        expect(await shownText(session.page.locator('.component-card'))).toContain(words);
      }
      await session.page.getByRole('button', { name: /^All \d+ findings$/ }).click();
      const list = await shownText(session.page.getByRole('dialog', { name: 'Findings' }));
      diagnosis.sentences.forEach((sentence, i) => {
        expect(list).toContain(said(sentence, diagnosis.sentenceFigures?.[i]));
      });
    },
  );

  test('the budget table shows each line, found against allocated', async () => {
    const { budget } = discOf('off-centre').diagnosis;
    await session.openSample('off-centre');
    await topic('Causes');
    await session.page.getByRole('radio', { name: 'Budget by line' }).check({ force: true });
    for (const line of budget.lines) {
      const row = await shownText(session.page.locator(`[data-line="${line.name}"]`));
      expect(row).toContain(line.title);
      if (line.allocated !== null) expect(row).toContain(shown(line.allocated));
      if (line.found !== null) expect(row).toContain(shown(line.found.value));
    }
    const foot = await shownText(session.page.locator('.budget-table tfoot'));
    for (const sum of [budget.found, budget.left])
      for (const value of [sum.worstCase, sum.rootSumSquare]) expect(foot).toContain(shown(value));
  });

  test('arrow keys walk the causes, and the chart leaves as table and as drawing', async () => {
    await session.openSample('off-centre');
    await topic('Causes');
    const chosen = () => session.page.locator('.cause-row.chosen').getAttribute('data-component');
    await session.page.locator('.overview figure').first().focus();
    const first = await chosen();
    await session.page.keyboard.press('ArrowDown');
    expect(await chosen()).not.toBe(first);
    await session.page.keyboard.press('ArrowUp');
    expect(await chosen()).toBe(first);
    const csv = await saved(() =>
      session.page.getByRole('button', { name: 'Save the table of Causes by size as CSV' }).click(),
    );
    expect(csv.name).toMatch(/-causes\.csv$/);
    expect(csv.text.trim().split('\n')).toHaveLength(10);
    const svg = await saved(() =>
      session.page.getByRole('button', { name: 'Save Causes by size as SVG' }).click(),
    );
    expect(svg.text).toContain('Ring shift');
    // It stands by itself: no class and no custom property is left.
    expect(svg.text).not.toMatch(/class=|var\(/);
    const png = await saved(() =>
      session.page.getByRole('button', { name: 'Save Causes by size as PNG' }).click(),
    );
    expect(png.text.slice(1, 4)).toBe('PNG');
  });

  test('one selection runs through the charts and the disc view', async () => {
    await session.openSample('drifting');
    await topic('Weld sequence');
    const { sequence } = discOf('drifting').diagnosis;
    const weld = sequence?.welds.find(({ station }) => station === 5);
    await expect
      .poll(() => session.page.locator('g.weld').count())
      .toBe(6 * (sequence?.welds.filter((one) => one.error).length ?? 0));
    await session.page.locator('rect.hit', { hasText: 'station 5,' }).first().click();
    expect(await shownText(session.page.locator('.sequence .chart-foot'))).toContain(
      `station 5: weld ${weld?.sequence}, tool ${weld?.tool}`,
    );
    await topic('Around the disc');
    expect(await texts('.around')).toContain('Station 5');
    await session.page.locator('.around figure').first().focus();
    await session.page.keyboard.press('ArrowRight');
    expect(await texts('.around')).toContain('Station 6');
    await session.page.keyboard.press('Alt+1');
    await session.page.locator('.dial .polar').waitFor();
    expect(await session.currentStation()).toBe('6');
  });

  test('arrows are drawn for every blade at the magnification that is stated', async () => {
    const { result } = discOf('off-centre');
    await session.openSample('off-centre');
    await topic('Arrows');
    const front = session.page.locator('.arrows .chart-panel').first();
    expect(await front.locator('g.arrow.out, g.arrow.in').count()).toBeGreaterThanOrEqual(
      2 * result.stations.length,
    );
    const length = async () => {
      const path = (await front.locator('g[data-station="13"] path.shaft').first().getAttribute('d')) ?? '';
      const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = path.match(/-?[\d.]+/g)?.map(Number) ?? [];
      return Math.hypot(x2 - x1, y2 - y1);
    };
    const field = session.page.getByLabel('Magnification of the displacements');
    const before = await length();
    const stated = Number(await field.inputValue());
    await field.fill(String(stated / 2));
    expect(await shownText(front)).toContain(`×${stated / 2}`);
    // Half the displacement; the head keeps its size, so that the shaft loses more than half.
    expect(await length()).toBeLessThan(0.55 * before);
    await session.page.getByRole('radio', { name: 'A component alone' }).check({ force: true });
    await session.page.getByRole('radio', { name: 'Ring shift' }).check();
    expect(await shownText(front)).toContain('ring shift alone');
  });

  test('without welds the sequence asks for them, and a dropped file is examined', async () => {
    await session.page.goto(session.address);
    await session.give(samplePath('drifting', 'points.csv'), samplePath('drifting', 'plan.json'));
    await discShown(session.page);
    await topic('Weld sequence');
    await session.page.getByText('Give a welds file to examine tool change and wear').waitFor();
    await session.drop('welds.csv', readFileSync(samplePath('drifting', 'welds.csv'), 'utf8'));
    await session.page.locator('g.weld').first().waitFor();
    expect(await shownText(session.page.locator('.sequence-words'))).toContain('T2');
  });

  test('a disc with too few stations says why its causes were not examined', async () => {
    const [head = '', ...rows] = readFileSync(samplePath('conforming', 'points.csv'), 'utf8')
      .trim()
      .split('\n');
    const kept = rows.filter((row) => !/^\d+,/.test(row) || Number(row.split(',')[0]) <= 2);
    await session.openSample('conforming');
    await session.drop('few.csv', `${[head, ...kept].join('\n')}\n`);
    await expect.poll(() => shownText(session.page.locator('.headline'))).toContain('2 of 18');
    await workspace('Causes');
    expect(await shownText(session.page.locator('.no-diagnosis'))).toContain('No diagnosis: causes need');
  });
});

describe('corrections', () => {
  test.each(samples)(
    'of %s are those of the diagnosis, and the bench agrees with their prediction',
    async (sample) => {
      const { diagnosis } = discOf(sample);
      await session.openSample(sample);
      for (const correction of diagnosis.corrections) {
        await topic('Corrections');
        await session.page.locator(`[data-correction="${correction.kind}"]`).click();
        const card = session.page.locator('.correction-card');
        const text = await shownText(card);
        expect(text).toContain(said(correction.sentence, correction.figures));
        expect(text).toContain(`${shown(correction.before)} → ${shown(correction.after)}`);
        expect(text.includes('This chases noise.')).toBe(correction.chasesNoise);
        await card.getByRole('button', { name: /^Predicted stations/ }).click();
        for (const { station, position, verdict } of correction.predicted) {
          const row = await shownText(card.locator(`tr[data-station="${station}"]`));
          expect(row).toContain(shown(position ?? Number.NaN));
          expect(row).toContain(verdict);
        }
        await card.getByRole('button', { name: 'Try in What if' }).click();
        const band = session.page.locator('.what-if-band');
        expect(await shownText(band)).toMatch(/what-if state – not measured/i);
        expect(await shownText(band.locator('[data-standing="conforming"] b'))).toBe(
          String(correction.conforming),
        );
        for (const { station, position } of correction.predicted)
          expect(
            await shownText(session.page.locator(`.what-if-table tr[data-station="${station}"]`)),
          ).toContain(shown(position ?? Number.NaN));
      }
    },
  );
});

describe('the what-if bench', () => {
  const band = () => session.page.locator('.what-if-band');
  const count = () => shownText(band().locator('[data-standing="conforming"] b'));

  test('follows slider, number and keys, and goes back step by step and at once', async () => {
    const { result } = discOf('off-centre');
    const measured = String(result.summary.conforming);
    await session.openSample('off-centre');
    await workspace('What if');
    expect(await shownText(band())).toContain('As measured');
    expect(await count()).toBe(measured);
    const field = session.page.getByLabel('Shift Y, mm');
    await field.fill('0.02');
    expect(await count()).not.toBe(measured);
    const better = await count();
    await field.press('ArrowUp');
    expect(Number(await field.inputValue())).toBeGreaterThan(0.02);
    await session.page.locator('.band-title').click();
    await session.page.getByLabel('Shift X', { exact: true }).press('ArrowLeft');
    expect(Number(await session.page.getByLabel('Shift X, mm').inputValue())).toBeLessThan(0);
    await session.page.keyboard.press('Control+z');
    expect(Number(await session.page.getByLabel('Shift X, mm').inputValue())).toBe(0);
    await band().getByRole('button', { name: 'Undo' }).click();
    expect(await count()).toBe(measured);
    expect(await shownText(band())).toContain('As measured');
    await band().getByRole('button', { name: 'Redo' }).click();
    expect(await count()).toBe(better);
    await band().getByRole('button', { name: 'Back to measured' }).click();
    expect(await count()).toBe(measured);
    expect(await shownText(band())).toContain('As measured');
  });

  test('leaves stations out, and takes another tolerance', async () => {
    const { result } = discOf('off-centre');
    await session.openSample('off-centre');
    await workspace('What if');
    const worst = result.summary.worst?.station;
    await session.page.getByRole('checkbox', { name: `Station ${worst} takes part` }).uncheck();
    expect(await shownText(band().locator('[data-standing="nonconforming"] b'))).toBe(
      String(result.summary.nonconforming - 1),
    );
    await session.page.getByLabel('Position tolerance, mm').fill('0.01');
    const within = result.stations.filter(
      ({ station, position, limits }) =>
        station !== worst &&
        (position.value ?? 1) <= 0.01 &&
        limits.every(({ verdict }) => verdict === 'conforming'),
    );
    expect(await count()).toBe(String(within.length));
  });

  test('is never mistaken for a measurement: on the page, in file names, in files, in the disc view', async () => {
    const { result } = discOf('off-centre');
    await session.openSample('off-centre');
    const before = await session.cells('position');
    await workspace('What if');
    await session.page.getByLabel('Start from a correction').selectOption('hub');
    expect(await session.page.locator('.tried-state').count()).toBe(1);
    const csv = await saved(() =>
      session.page.getByRole('button', { name: 'Save the tried stations as CSV' }).click(),
    );
    expect(csv.name).toContain('what-if-not-measured');
    const [, ...lines] = csv.text.trim().split('\n');
    expect(lines).toHaveLength(result.stations.length);
    for (const line of lines) expect(line).toContain('WHAT-IF STATE – NOT MEASURED');
    const svg = await saved(() =>
      session.page.getByRole('button', { name: 'Save Position around the disc as SVG' }).click(),
    );
    expect(svg.name).toContain('what-if-not-measured');
    expect(svg.text).toContain('WHAT-IF STATE – NOT MEASURED');
    await session.page.getByRole('button', { name: 'Copy the tried stations' }).click();
    const copied = await session.page.evaluate(() => navigator.clipboard.readText());
    expect(copied.split('WHAT-IF STATE – NOT MEASURED')).toHaveLength(result.stations.length + 1);
    await workspace('Disc');
    expect(await session.cells('position')).toEqual(before);
    const stations = await saved(() => session.page.getByRole('button', { name: 'Save CSV' }).click());
    expect(stations.text).not.toMatch(/what-if/i);
    // It is still there, and still marked, when the person comes back.
    await workspace('What if');
    expect(await shownText(band())).toMatch(/what-if state – not measured/i);
  });

  test('reduces again without a datum point, beside the measured result', async () => {
    const { result } = discOf('off-centre');
    await session.openSample('off-centre');
    await workspace('What if');
    await session.page.getByText('Datum points').click();
    await session.page.getByLabel('Points of the feature').selectOption('hub HUB-BORE');
    await session.page.locator('.point-list input').first().uncheck();
    await session.page.getByText('Reduced again without 1 point.').waitFor();
    expect(await shownText(band())).toMatch(/without the point of line \d+ \(HUB-BORE\)/);
    const row = await shownText(session.page.locator('.what-if-table tr[data-station="1"]'));
    const measured = shown(result.stations[0]?.position.value ?? Number.NaN);
    expect(row).toContain(measured);
    expect(row.split(measured)).toHaveLength(2);
    await band().getByRole('button', { name: 'Back to measured' }).click();
    expect(await count()).toBe(String(result.summary.conforming));
    await workspace('Disc');
    expect(await shownText(session.page.locator('.facts'))).toContain('none excluded');
  });
});

describe('every page of the workspaces', () => {
  test('fits 1280 × 800 and 1920 × 1080 without scrolling the window', async () => {
    await session.openSample('drifting');
    for (const [width, height] of [
      [1280, 800],
      [1920, 1080],
    ] as const) {
      await session.page.setViewportSize({ width, height });
      const overflow = () =>
        session.page.evaluate(() => ({
          down: document.documentElement.scrollHeight - innerHeight,
          right: document.documentElement.scrollWidth - innerWidth,
        }));
      for (const title of [
        'Causes',
        'Corrections',
        'Around the disc',
        'Weld sequence',
        'Arrows',
        'Calculator',
      ]) {
        await topic(title);
        expect(await overflow(), title).toEqual({ down: 0, right: 0 });
      }
      await workspace('What if');
      expect(await overflow(), 'What if').toEqual({ down: 0, right: 0 });
    }
  });

  test('shows lengths and rotations in the units of the settings', async () => {
    const { diagnosis } = discOf('off-centre');
    const ring = diagnosis.components.find(({ name }) => name === 'ringShift');
    await session.openSample('off-centre');
    await topic('Causes');
    await session.page.getByRole('radio', { name: 'Micrometres' }).check({ force: true });
    await session.page.getByRole('radio', { name: 'Arc-seconds' }).check({ force: true });
    await session.page.locator('[data-component="ringShift"]').click();
    const card = await shownText(session.page.locator('.component-card'));
    expect(card).toContain(`${shown(1000 * (ring?.size?.value ?? 0), 1)} µm`);
    const tilt = ring?.parameters.find(({ unit }) => unit === 'rad');
    expect(card).toContain(shown(((tilt?.value ?? 0) * 180 * 3600) / Math.PI, 1));
  });
});
