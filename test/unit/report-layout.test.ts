/** Pages: what belongs together stays together, tables go on with their head, nothing is lost or divided. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { StationResult } from '../../shared-math/result.ts';
import type { Box } from '../../src-main/report/pdf/box.ts';
import { leastFilled, paginate } from '../../src-main/report/pdf/paginate.ts';
import { readPdf } from '../support/pdf-text.ts';
import { reduceSample, reportOf } from '../support/reports.ts';

function box(height: number, options: Partial<Box> = {}): Box {
  return { height, before: 0, keep: false, draw: () => {}, ...options };
}

/** The same boxes at every density. */
function pagesOf(boxes: readonly Box[], height = 100) {
  return paginate(() => boxes, height);
}

function heights(boxes: readonly Box[], height = 100): readonly (readonly number[])[] {
  return pagesOf(boxes, height).map((page) => page.map((placed) => placed.box.height));
}

describe('filling pages', () => {
  it('goes on until the page is full', () => {
    expect(heights([box(40), box(41), box(20), box(25)])).toEqual([
      [40, 41],
      [20, 25],
    ]);
  });

  it('leaves out the space above at the head of a page', () => {
    const [first, second] = pagesOf([
      box(60, { before: 30 }),
      box(50, { before: 10 }),
      box(10, { before: 5 }),
    ]);
    expect(first?.map(({ y }) => y)).toEqual([0]);
    expect(second?.map(({ y }) => y)).toEqual([0, 55]);
  });

  it('keeps a heading with what follows', () => {
    expect(heights([box(70), box(10, { keep: true }), box(30)])).toEqual([[70], [10, 30]]);
    expect(heights([box(50), box(10, { keep: true }), box(30)])).toEqual([[50, 10, 30]]);
  });

  it('lets a chain that no page holds run on', () => {
    const kept = (height: number) => box(height, { keep: true });
    expect(heights([box(10), kept(60), kept(60), box(60)])).toEqual([[10], [60], [60], [60]]);
  });

  it('draws the head of a table again, and only on a page that begins with a row', () => {
    const head = box(7);
    const row = (height: number) => box(height, { head });
    expect(heights([box(8), row(40), row(41), row(42), row(43)])).toEqual([
      [8, 40, 41],
      [7, 42, 43],
    ]);
  });

  it('turns the page where it must, but never to leave one empty', () => {
    const turn = box(0, { pageBreak: 'always' });
    expect(heights([turn, box(10), turn, turn, box(20), turn])).toEqual([[10], [20]]);
  });

  it('turns the page for a section unless the page is nearly empty', () => {
    const turn = box(0, { pageBreak: 'unlessEmpty' });
    expect(heights([box(39), turn, box(50)])).toEqual([[39, 50]]);
    expect(heights([turn, box(40), turn, turn, box(50), turn])).toEqual([[40], [50]]);
  });
});

describe('what just does not fit on a page with much room left', () => {
  const pagesAt = (first: number, second: number) =>
    paginate((density) => [box(first), box(second * density), box(50)], 100).map((page) =>
      page.map((placed) => placed.box.height),
    );

  it('is set as dense as it must be, and nothing else is', () => {
    expect(pagesAt(40, 70)).toEqual([[40, 56], [50]]);
  });

  it('turns the page where that is not enough, or where the page is well filled', () => {
    expect(pagesAt(40, 90)).toEqual([[40], [90], [50]]);
    expect(pagesAt(80, 22)).toEqual([[80], [22, 50]]);
  });
});

describe('a page that would stay nearly empty', () => {
  it('is saved by setting the pages before a little denser, where that is enough', () => {
    const asked: number[] = [];
    const pages = paginate((density) => {
      asked.push(density);
      return [50, 30, 30].map((height) => box(height * density));
    }, 100);
    expect(pages.map((page) => page.map((placed) => placed.box.height))).toEqual([[45, 27, 27]]);
    // No denser than it needs to be.
    expect(asked).toEqual([1, 0.9]);
  });

  it('gets more from the page before, where it is not', () => {
    expect(heights([box(30), box(30), box(30), box(20)])).toEqual([
      [30, 30],
      [30, 20],
    ]);
  });

  it('is never left where all can be parted, however much there is, though setting it denser saved a page', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 4, max: 10 }), { minLength: 20, maxLength: 300, size: 'max' }),
        (sizes) => {
          const pages = paginate((density) => sizes.map((height) => box(height * density)), 100);
          const filled = pages.map((page) => page.reduce((sum, placed) => sum + placed.box.height, 0));
          expect(Math.max(...filled)).toBeLessThanOrEqual(100);
          expect(Math.min(...filled)).toBeGreaterThanOrEqual(100 * leastFilled);
          expect(pages.flat()).toHaveLength(sizes.length);
        },
      ),
      { seed: 20260521, numRuns: 200 },
    );
  });

  it('gets a whole block rather than the end of a table', () => {
    const head = box(5);
    const row = (options: Partial<Box> = {}) => box(12, { head, ...options });
    // The last two rows would do; the table goes over as a whole, with its caption.
    expect(heights([box(40), box(8, { keep: true }), row(), row(), row(), row(), box(15)])).toEqual([
      [40],
      [8, 12, 12, 12, 12, 15],
    ]);
  });

  it('stays so where what stands before it may not be parted', () => {
    const kept = box(30, { keep: true });
    expect(heights([kept, kept, box(30), box(20)])).toEqual([[30, 30, 30], [20]]);
  });

  it('is left alone at the end of a run before it leaves its own page', () => {
    const turn = box(0, { pageBreak: 'always' });
    expect(heights([box(60), turn, box(10), turn, box(70)])).toEqual([[60], [10], [70]]);
  });
});

describe('the head of a column', () => {
  it('may take several lines, but its words stay whole', async () => {
    const { pages } = await readPdf(
      (await reportOf(await reduceSample('off-centre'), { paper: 'letter' })).pdf,
    );
    const { lines, items } = pages.find((page) => page.lines.includes('Corrections for the next disc')) ?? {};
    expect(lines).toBeDefined();
    // Between the table's caption and its first row; "after" stands in two heads.
    const top = items?.find(({ text }) => text.startsWith('Corrections'))?.y ?? 0;
    const end = items?.find(({ text, y }) => y > top && text.startsWith('Set the'))?.y ?? 0;
    const head = items?.filter(({ text, y }) => y > top && y < end - 1 && /^[A-Za-z ]+$/.test(text)) ?? [];
    const words = head.flatMap(({ text }) => text.trim().split(' ')).sort();
    expect(words).toEqual(
      ['Correction', 'Settings', 'Largest', 'position', 'before', 'after', 'Conforming', 'after'].sort(),
    );
  });
});

describe('a disc of 60 stations', async () => {
  const disc = await reduceSample('off-centre');
  const stations = Array.from({ length: 60 }, (_, i): StationResult => {
    const like = disc.result.stations[i % 20] as StationResult;
    return { ...like, station: i + 1, angle: i * 6 };
  });
  const count = (verdict: string) => stations.filter((station) => station.verdict === verdict).length;
  const long = {
    ...disc,
    result: {
      ...disc.result,
      stations,
      summary: {
        ...disc.result.summary,
        stations: 60,
        conforming: count('conforming'),
        nonconforming: count('nonconforming'),
      },
    },
    plan: { ...disc.plan, stations: stations.map(({ station, angle }) => ({ station, angle })) },
  };
  const { pages, text } = await readPdf((await reportOf(long, { paper: 'letter' })).pdf);
  const caption = 'The six errors, position and verdict of every station';

  it('has its table on several pages, each with the head, and every station once', () => {
    const own = pages.filter(({ lines }) => lines.some((line) => line.startsWith(caption)));
    expect(own.length).toBeGreaterThan(1);
    own.forEach(({ lines }, i) => {
      const start = lines.findIndex((line) => line.startsWith(caption));
      expect(lines[start]).toBe(i === 0 ? caption : `${caption} (continued)`);
      expect(lines[start + 1]).toMatch(/^St\. Angle Oscill\./);
    });
    const rows = own.flatMap(({ lines }) =>
      lines.filter((line) => /^\d+ \d+\.\d\d .*conforming$/.test(line)),
    );
    expect(rows.map((line) => Number(line.split(' ')[0]))).toEqual(stations.map(({ station }) => station));
  });

  it('accounts for every requirement of every station', () => {
    const rows = pages.flatMap(({ lines }) =>
      lines.filter((line) => /^\d+\.\d+ \d+ [A-Z].*(≤|±).*conforming$/.test(line)),
    );
    const asked = stations.reduce(
      (sum, { position, limits }) => sum + position.checkPoints.length + limits.length,
      0,
    );
    expect(rows).toHaveLength(asked);
  });

  it('has a page for each of the nonconforming ones', () => {
    expect(text.match(/Station \d+: nonconforming/g)).toHaveLength(count('nonconforming'));
    expect(pages.at(-1)?.lines.at(-1)).toMatch(new RegExp(`${pages.length} / ${pages.length}$`));
  });
});

describe('long texts', async () => {
  const disc = await reduceSample('conforming');

  it('longer than a page go on on the next one, in a list of keys and in a table', async () => {
    const words = (letter: string) => Array.from({ length: 900 }, (_, i) => `${letter}${i}x`).join(' ');
    const { source } = disc.result;
    const { pages, text } = await readPdf(
      (
        await reportOf(
          {
            ...disc,
            plan: { ...disc.plan, part: { ...disc.plan.part, material: words('k') } },
            result: {
              ...disc.result,
              source: {
                ...source,
                points: { ...source.points, excluded: [{ line: 3, reason: words('t') }] },
              },
            },
          },
          { paper: 'letter' },
        )
      ).pdf,
    );
    for (const letter of ['k', 't']) for (let i = 0; i < 900; i++) expect(text).toContain(`${letter}${i}x`);
    for (const { items } of pages)
      for (const { y, text: words } of items)
        if (/\b[kt]\d+x\b/.test(words)) expect(y).toBeLessThan(792 - 50);
  });

  it('are broken, and cut where they have no blank, inside the margins', async () => {
    const number = 'X'.repeat(220);
    const part = { name: `A very long name ${'indeed '.repeat(40)}`, number, serial: 'S' };
    const { pages } = await readPdf((await reportOf({ ...disc, plan: { ...disc.plan, part } })).pdf);
    for (const { width, items } of pages)
      for (const { x, width: own } of items) expect(x + own).toBeLessThanOrEqual(width - 44);
    const shown =
      pages[0]?.items.filter(({ text }) => /^X+$/.test(text)).map(({ text }) => text.length) ?? [];
    expect(shown.reduce((sum, length) => sum + length, 0)).toBeGreaterThanOrEqual(220);
  });
});
