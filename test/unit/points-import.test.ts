/** The same disc written in every way that a point file may have reads as the same points. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { PointBlock } from '../../shared-math/points.ts';
import type { PlanImport } from '../../src-main/plan/plan-schema.ts';
import { checkPlan } from '../../src-main/plan/read-plan.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { type ReadPoints, readPoints } from '../../src-main/points/read-points.ts';
import { Cancelled } from '../../src-main/problems.ts';
import { conformingDisc, csv, type DiscText, writeDisc } from '../support/disc-files.ts';

const { plan } = conformingDisc();
const definition = toDefinition(checkPlan(JSON.stringify(plan), 'plan.json'));

async function read(points: string | Uint8Array, planImport?: PlanImport): Promise<ReadPoints> {
  return await readPoints(writeDisc(points, {}).points, { definition, planImport });
}

/** Blocks by owner, as plain numbers, without what a variant leaves out. */
function plain(blocks: readonly PointBlock[], scale = 1): Record<string, number[]> {
  return Object.fromEntries(
    blocks.map(({ station, feature, xyz }) => [
      `${station ?? 'hub'} ${feature}`,
      Array.from(xyz, (v) => v * scale),
    ]),
  );
}

const disc = conformingDisc();
const canonical = await read(csv(disc));

function expectSame(points: ReadPoints): void {
  expect(points.excluded).toEqual([]);
  expect(points.gaps).toEqual([]);
  expect(points.used).toBe(disc.rows.length);
  expect(points.rows).toBe(disc.rows.length);
  expect(plain(points.blocks)).toEqual(plain(canonical.blocks));
}

const packedLabel = ([station, feature]: readonly string[]): string =>
  station === '' ? String(feature) : `B${station?.padStart(2, '0')}_${feature}`;

function packed(label: (row: readonly string[]) => string = packedLabel): DiscText {
  return {
    plan,
    header: ['label', 'x', 'y', 'z', 'i', 'j', 'k'],
    rows: disc.rows.map((row) => [label(row), ...row.slice(2)]),
  };
}

const utf16 = (text: string, big: boolean, mark: boolean): Buffer => {
  const bytes = Buffer.from((mark ? '\ufeff' : '') + text, 'utf16le');
  return big ? bytes.swap16() : bytes;
};

it('the canonical file gives the numbers that stand in it, in one block a feature', () => {
  const [first] = disc.rows.filter(([station, feature]) => station === '7' && feature === 'EDGE');
  const block = canonical.blocks.find((one) => one.station === 7 && one.feature === 'EDGE');
  expect(canonical.blocks).toHaveLength(18 * 3 + 4);
  expect(Array.from(block?.xyz.slice(0, 3) ?? [])).toEqual(first?.slice(2, 5).map(Number));
  expect(block?.xyz).toHaveLength(3 * 16);
  expect(block?.normals).toHaveLength(3 * 16);
  expect(block?.tipRadius).toBeNull();
  expect(Math.hypot(...Array.from(block?.normals?.slice(0, 3) ?? []))).toBeCloseTo(1, 14);
  expect(canonical.import).toMatchObject({
    encoding: 'utf-8',
    delimiter: ',',
    decimal: '.',
    unit: 'mm',
    header: true,
    label: null,
    fromPlan: [],
  });
});

it('the digest is that of the bytes of the file', async () => {
  const text = csv(disc);
  const files = writeDisc(text, {});
  const points = await readPoints(files.points, { definition });
  expect(points.sha256).toBe(createHash('sha256').update(readFileSync(files.points)).digest('hex'));
  expect(points.name).toBe('points.csv');
});

describe('delimiters, decimal signs, line ends', () => {
  const comma = (cell: string): string => cell.replace('.', ',');
  it.each<[string, () => string, Partial<ReadPoints['import']>]>([
    ['semicolons', () => csv(disc, ';'), { delimiter: ';', decimal: '.' }],
    ['tabs', () => csv(disc, '\t'), { delimiter: '\t' }],
    ['bars', () => csv(disc, '|'), { delimiter: '|' }],
    [
      'semicolons and decimal commas',
      () => csv({ ...disc, rows: disc.rows.map((row) => row.map(comma)) }, ';'),
      { delimiter: ';', decimal: ',' },
    ],
    [
      'tabs and decimal commas',
      () => csv({ ...disc, rows: disc.rows.map((row) => row.map(comma)) }, '\t'),
      { delimiter: '\t', decimal: ',' },
    ],
    [
      'commas and quoted decimal commas',
      () => csv({ ...disc, rows: disc.rows.map((row) => row.map((cell) => `"${comma(cell)}"`)) }),
      { delimiter: ',', decimal: ',' },
    ],
    [
      'blanks between packed labels and numbers',
      () => csv(packed(), '   '),
      { delimiter: ' ', label: expect.stringContaining('station') as unknown as string },
    ],
    ['carriage returns with line feeds', () => csv(disc, ',', '\r\n'), {}],
    ['carriage returns alone', () => csv(disc, ',', '\r'), {}],
    ['no line end after the last row', () => csv(disc).trimEnd(), {}],
    ['a delimiter after the last cell', () => csv(disc, ',', ',\n'), {}],
    [
      'blank lines and lines of empty cells',
      () =>
        csv(disc)
          .replaceAll(',HUB-BORE,', '\n,,,,,,,\n  \n,HUB-BORE,')
          .replace(/(^|\n)\n/, '$1'),
      {},
    ],
    [
      'blanks around the cells',
      () => csv({ ...disc, rows: disc.rows.map((row) => row.map((cell) => ` ${cell}\t`)) }),
      {},
    ],
    [
      'everything quoted',
      () =>
        csv({
          header: disc.header.map((cell) => `"${cell}"`),
          rows: disc.rows.map((row) => row.map((cell) => `"${cell}"`)),
        }),
      {},
    ],
    [
      'everything quoted, with carriage returns',
      () =>
        csv(
          { header: disc.header, rows: disc.rows.map((row) => row.map((cell) => `"${cell}"`)) },
          ',',
          '\r\n',
        ),
      {},
    ],
    [
      'leading plus signs',
      () =>
        csv({
          ...disc,
          rows: disc.rows.map((row) =>
            row.map((cell, n) => (n > 1 && !cell.startsWith('-') ? `+${cell}` : cell)),
          ),
        }),
      {},
    ],
    [
      'exponents',
      () =>
        csv({
          ...disc,
          rows: disc.rows.map((row) => row.map((cell, n) => (n > 1 ? Number(cell).toExponential() : cell))),
        }),
      {},
    ],
  ])('%s', async (_, text, expected) => {
    const points = await read(text());
    expectSame(points);
    expect(points.import).toMatchObject(expected);
  });
});

describe('encodings', () => {
  const text = csv(disc);
  it.each<[string, () => Uint8Array, string]>([
    ['UTF-8 with mark', () => Buffer.from(`\ufeff${text}`), 'utf-8'],
    ['UTF-16 little endian with mark', () => utf16(text, false, true), 'utf-16le'],
    ['UTF-16 little endian without', () => utf16(text, false, false), 'utf-16le'],
    ['UTF-16 big endian with mark', () => utf16(text, true, true), 'utf-16be'],
    ['UTF-16 big endian without', () => utf16(text, true, false), 'utf-16be'],
    ['UTF-16 with carriage returns alone', () => utf16(csv(disc, ',', '\r'), false, true), 'utf-16le'],
  ])('%s', async (_, bytes, encoding) => {
    const points = await read(bytes());
    expectSame(points);
    expect(points.import.encoding).toBe(encoding);
  });

  const noted = (remark: string): DiscText => ({
    ...disc,
    header: [...disc.header, 'Größe'],
    rows: disc.rows.map((row) => [...row, remark]),
  });
  it('UTF-8 with letters of several bytes anywhere', async () => {
    const points = await read(csv(noted('Prüfmaß ø 5 µm, 測定')).replaceAll(', 測', ' 測'));
    expectSame(points);
    expect(points.import.encoding).toBe('utf-8');
  });
  it('Latin-1', async () => {
    const points = await read(Buffer.from(csv(noted('Prüfmaß')), 'latin1'));
    expectSame(points);
    expect(points.import.encoding).toBe('latin1');
  });
  it('Latin-1 that shows only in the last row', async () => {
    const late = noted('');
    const last = late.rows.at(-1);
    if (last !== undefined) last[8] = 'Prüfmaß';
    late.header[8] = 'remark';
    const points = await read(Buffer.from(csv(late), 'latin1'));
    expectSame(points);
    expect(points.import.encoding).toBe('latin1');
  });
  it('an encoding that the plan states wins', async () => {
    const points = await read(Buffer.from(csv(noted('Prüfmaß'))), { encoding: 'latin-1' });
    expectSame(points);
    expect(points.import).toMatchObject({ encoding: 'latin1', fromPlan: ['encoding'] });
  });
  it('bytes that do not fit a stated encoding are refused', async () => {
    await expect(read(Buffer.from(csv(noted('Prüfmaß')), 'latin1'), { encoding: 'utf-8' })).rejects.toThrow(
      'the bytes do not fit the encoding',
    );
  });
});

describe('columns', () => {
  const renamed = (names: readonly string[]): DiscText => ({ ...disc, header: [...names] });
  it.each([
    ['upper case', ['STATION', 'FEATURE', 'X', 'Y', 'Z', 'I', 'J', 'K']],
    ['units in brackets', ['Blade', 'Element', 'X [mm]', 'Y [mm]', 'Z [mm]', 'NX', 'NY', 'NZ']],
    [
      'units after a line',
      ['blade no.', 'Feature Name', 'x_mm', 'y_mm', 'z_mm', 'Normal X', 'Normal Y', 'Normal Z'],
    ],
    ['measured coordinates', ['Station', 'Feature', 'X Actual', 'Y Actual', 'Z Actual', 'i', 'j', 'k']],
  ])('by %s', async (_, names) => expectSame(await read(csv(renamed(names)))));

  it('in another order, among others', async () => {
    const order = [4, 1, 7, 2, 0, 6, 3, 5];
    const mixed = (row: readonly string[], extra: string): string[] => [
      extra,
      ...order.map((n) => row[n] ?? ''),
      extra,
    ];
    const points = await read(
      csv({ header: mixed(disc.header, 'remark'), rows: disc.rows.map((row) => mixed(row, 'ok')) }),
    );
    expectSame(points);
  });

  it('by the names that the plan gives', async () => {
    const planImport = { columns: { station: 'S', feature: 'F', x: 'u', y: 'v', z: 'w' } };
    const points = await read(csv(renamed(['S', 'F', 'u', 'v', 'w', 'a', 'b', 'c'])), planImport);
    expectSame(points);
    expect(points.blocks.every((block) => block.normals === null)).toBe(true);
    expect(points.import.columns).toEqual({ station: 'S', feature: 'F', x: 'u', y: 'v', z: 'w' });
  });

  it('by the numbers that the plan gives, over another header', async () => {
    const points = await read(csv(renamed(['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'])), {
      header: true,
      columns: { station: 1, feature: 2, x: 3, y: 4, z: 5 },
    });
    expectSame(points);
  });

  it('without a header, in the canonical order', async () => {
    const points = await read(csv(disc).slice(csv(disc).indexOf('\n') + 1));
    expectSame(points);
    expect(points.import).toMatchObject({
      header: false,
      columns: { station: '1', feature: '2', x: '3', k: '8' },
    });
    expect(points.blocks.every((block) => block.normals !== null)).toBe(true);
  });

  it('by a header below title lines, which are no points and are named', async () => {
    const points = await read(`# part programme 12, first shift\nDate;2026-03-04\n\n${csv(disc)}`);
    expect(points.excluded).toEqual([]);
    expect(points.import.sentence).toContain('a header below 2 title lines');
    expect(points.rows).toBe(canonical.rows);
    expect(points.used).toBe(canonical.used);
    expect(points.import).toMatchObject({ header: true, columns: { station: 'station', x: 'x' } });
    expect(plain(points.blocks)).toEqual(plain(canonical.blocks));
  });

  it('without a header, packed', async () => {
    const text = csv(packed());
    const points = await read(text.slice(text.indexOf('\n') + 1));
    expectSame(points);
    expect(points.import).toMatchObject({ header: false, columns: { label: '1', x: '2' } });
  });
});

describe('stations behind a prefix, in a column of their own', () => {
  const withStations = (write: (station: string) => string): DiscText => ({
    ...disc,
    rows: disc.rows.map(([station, ...others]) => [
      station === '' || station === undefined ? '' : write(station),
      ...others,
    ]),
  });
  const padded = (station: string): string => station.padStart(2, '0');

  it.each([
    ['B07', (station: string) => `B${padded(station)}`, 'B(?<station>\\d+)'],
    ['Blade No. 7', (station: string) => `Blade No. ${station}`, 'Blade No\\. (?<station>\\d+)'],
  ])('such as %s are read by the prefix of the first', async (_, write, pattern) => {
    const points = await read(csv(withStations(write)));
    expectSame(points);
    expect(points.import.label).toBe(pattern);
    expect(points.import.sentence).toContain(`stations as ${pattern}`);
  });

  it('are read by the pattern that the plan states', async () => {
    const points = await read(csv(withStations((station) => `St ${station}/18`)), {
      label: 'St (?<station>\\d+)/18',
    });
    expectSame(points);
    expect(points.import.fromPlan).toContain('label');
  });

  it('are not taken from another prefix, nor beside plain numbers: those rows are left out and named', async () => {
    for (const write of [
      (station: string) => `${station === '1' ? 'B' : 'A'}${padded(station)}`,
      (station: string) => (station === '1' ? '1' : `REF${station}`),
    ]) {
      const points = await read(csv(withStations(write)));
      const first = disc.rows.filter(([station]) => station === '' || station === '1');
      expect(points.used).toBe(first.length);
      expect(points.excluded).toHaveLength(disc.rows.length - first.length);
      expect(points.excluded[0]?.reason).toMatch(/A02|REF2/);
    }
  });

  it('a pattern for packed labels says nothing of them', async () => {
    const points = await read(csv(disc), { label: 'B(?<station>\\d+)_(?<feature>.+)' });
    expectSame(points);
    expect(points.import.label).toBeNull();
  });
});

describe('packed labels', () => {
  it.each<[string, (row: readonly string[]) => string]>([
    ['B07_SEAT', packedLabel],
    [
      'Blade 7: SEAT',
      ([station, feature]) => (station === '' ? `${feature}` : `Blade ${station}: ${feature}`),
    ],
    [
      'SEAT-07',
      ([station, feature]) => (station === '' ? `${feature}` : `${feature}-${station?.padStart(2, '0')}`),
    ],
    ['7.SEAT', ([station, feature]) => (station === '' ? `${feature}` : `${station}.${feature}`)],
    ['B7SEAT', ([station, feature]) => (station === '' ? `${feature}` : `B${station}${feature}`)],
  ])('like %s are understood', async (_, label) => expectSame(await read(csv(packed(label)))));

  it('in a column called feature are understood', async () => {
    expectSame(await read(csv({ ...packed(), header: ['feature', 'x', 'y', 'z', 'i', 'j', 'k'] })));
  });

  it('of the hub for longer than the head of the file leave the pattern open until a blade comes', async () => {
    const long = packed();
    const [hub] = long.rows;
    long.rows = [...Array.from({ length: 3000 }, () => hub ?? []), ...long.rows];
    const points = await read(csv(long));
    expect(points.used).toBe(disc.rows.length + 3000);
    expect(points.excluded).toEqual([]);
  });

  it('by the pattern of the plan', async () => {
    const points = await read(csv(packed(([s, f]) => (s === '' ? `${f}` : `[${f}] at ${s}`))), {
      columns: { label: 'label' },
      label: '\\[(?<feature>.+)\\] at (?<station>\\d+)',
    });
    expectSame(points);
    expect(points.import.fromPlan).toEqual(['label', 'columns.label']);
  });
});

describe('units', () => {
  const scaled = (factor: number, header = disc.header): DiscText => ({
    ...disc,
    header,
    rows: disc.rows.map((row) =>
      row.map((cell, n) => (n >= 2 && n <= 4 ? String(Number(cell) / factor) : cell)),
    ),
  });
  const inches = ['station', 'feature', 'X [in]', 'Y [in]', 'Z [in]', 'i', 'j', 'k'];
  it.each<[string, DiscText, PlanImport | undefined, string, string, number]>([
    ['inch by size', scaled(25.4), undefined, 'inch', 'by the size', 0],
    ['µm by size', scaled(0.001), undefined, 'µm', 'by the size', 0],
    ['inch by the header', scaled(25.4, inches), undefined, 'inch', 'as the header says', 0],
    ['inch by the plan', scaled(25.4), { unit: 'inch' }, 'inch', 'as the plan says', 0],
    ['µm by the plan, in the other spelling', scaled(0.001), { unit: 'um' }, 'µm', 'as the plan says', 0],
    [
      'the plan before the header, which it contradicts',
      scaled(25.4, ['station', 'feature', 'x_mm', 'y_mm', 'z_mm', 'i', 'j', 'k']),
      { unit: 'inch' },
      'inch',
      'as the plan says',
      1,
    ],
  ])('%s', async (_, text, planImport, unit, because, warnings) => {
    const points = await read(csv(text), planImport);
    expect(points.import.unit).toBe(unit);
    expect(points.import.sentence).toContain(because);
    expect(points.warnings).toHaveLength(warnings);
    const [expected, found] = [plain(canonical.blocks), plain(points.blocks)];
    expect(Object.keys(found)).toEqual(Object.keys(expected));
    for (const [key, values] of Object.entries(expected))
      values.forEach((value, n) => {
        expect(Math.abs((found[key]?.[n] ?? Number.NaN) - value)).toBeLessThan(1e-11 * 1000);
      });
  });

  it('a stated unit that the size contradicts is taken with a warning', async () => {
    const points = await read(csv(disc), { unit: 'inch' });
    expect(points.import.unit).toBe('inch');
    expect(points.warnings).toEqual([
      expect.stringContaining('the plan says inch, but the size of the coordinates fits mm'),
    ]);
  });

  it('a length unit that is not read is refused', async () => {
    const header = ['station', 'feature', 'x (cm)', 'y (cm)', 'z (cm)', 'i', 'j', 'k'];
    await expect(read(csv({ ...disc, header }))).rejects.toThrow('expected mm, inch or µm');
  });

  it('tip radius and sigma share the unit, temperature and normals do not', async () => {
    const more = scaled(25.4, [...disc.header, 'r', 'sigma', 'temperature']);
    const points = await read(
      csv({ ...more, rows: more.rows.map((row) => [...row, '0.05', '0.0001', '21.5']) }),
    );
    expect(points.import.unit).toBe('inch');
    for (const block of points.blocks) {
      const n = block.xyz.length / 3;
      expect(block.tipRadius).toHaveLength(n);
      for (const value of block.tipRadius ?? []) expect(value).toBeCloseTo(1.27, 14);
      for (const value of block.sigma ?? []) expect(value).toBeCloseTo(0.00254, 16);
      expect(Array.from(block.temperature ?? [])).toEqual(Array.from({ length: n }, () => 21.5));
      expect(Math.hypot(...Array.from(block.normals?.slice(0, 3) ?? []))).toBeCloseTo(1, 14);
    }
  });
});

it('optional columns may be empty for a whole feature', async () => {
  const rows = disc.rows.map((row) => [...row, row[1] === 'HUB-BORE' ? '1.5' : '']);
  const { blocks, excluded } = await read(csv({ header: [...disc.header, 'r'], rows }));
  expect(excluded).toEqual([]);
  for (const { feature, tipRadius } of blocks) expect(tipRadius === null).toBe(feature !== 'HUB-BORE');
});

it('columns that no stage uses yet are named, without a warning', async () => {
  const rows = disc.rows.map((row, n) => [...row, String(n), '2026-01-01']);
  const { import: summary, warnings } = await read(csv({ header: [...disc.header, 'seq', 'time'], rows }));
  expect(summary.sentence).toContain('Not used yet: seq and time');
  expect(warnings).toEqual([]);
});

describe('runs and directions', () => {
  const labelled = (label: (n: number) => readonly string[], header = ['run', 'direction']) => ({
    header: [...disc.header, ...header],
    rows: disc.rows.map((row, n) => [...row, ...label(n)]),
  });

  it('are absent where the file has none', () => {
    for (const { run, direction } of canonical.blocks) expect([run, direction]).toEqual([null, null]);
  });

  it('go with each point, runs counted as they first appear', async () => {
    const runs = ['7', 'late', '7.0', ''];
    const directions = ['up', '-', 'CCW', ''];
    const points = await read(csv(labelled((n) => [runs[n % 4]!, directions[n % 4]!])));
    expectSame(points);
    expect(points.warnings).toEqual([]);
    const byLine = new Map<number, readonly [number, number]>();
    points.blocks.forEach(({ run, direction }, b) => {
      points.lines[b]!.forEach((line, i) => {
        byLine.set(line - 2, [run![i]!, direction![i]!]);
      });
    });
    expect(byLine.size).toBe(disc.rows.length);
    const expected = [
      [1, 1],
      [2, -1],
      [1, 1],
      [3, 0],
    ];
    for (const [n, labels] of byLine) expect(labels).toEqual(expected[n % 4]);
  });

  it('stay with their points when the block grows', async () => {
    const many = Array.from({ length: 5 }, () => disc.rows).flat();
    const rows = many.map((row, n) => [...row, String(1 + Math.floor(n / disc.rows.length))]);
    const { blocks } = await read(csv({ header: [...disc.header, 'run'], rows }));
    for (const { run, direction, xyz } of blocks) {
      const points = xyz.length / 15;
      expect(direction).toBeNull();
      expect(Array.from(run!)).toEqual(
        Array.from({ length: 5 * points }, (_, i) => 1 + Math.floor(i / points)),
      );
    }
  });

  it('a direction that is no known word counts as not stated, with one warning', async () => {
    const points = await read(csv(labelled((n) => [n % 2 === 0 ? 'up' : 'sideways'], ['direction'])));
    expectSame(points);
    expect(points.warnings).toHaveLength(1);
    expect(points.warnings[0]).toContain('the direction "sideways" (line 3, and');
    expect(points.blocks.every(({ direction }) => direction!.every((d) => d === 0 || d === 1))).toBe(true);
  });

  it('may be missing at the end of a row', async () => {
    const { rows, header } = labelled((n) => (n % 2 === 0 ? ['1', 'down'] : []));
    const points = await read(csv({ header, rows }));
    expectSame(points);
    expect(new Set(points.blocks.flatMap(({ direction }) => [...direction!]))).toEqual(new Set([0, -1]));
  });
});

it('a row after quoted line feeds is named by its line in the file', async () => {
  const header = [...disc.header, 'remark'];
  const rows = disc.rows.map((row, n) => [...row, n < 5 ? '"two\nlines"' : 'one']);
  const bad = rows.findIndex(([station, feature]) => station === '9' && feature === 'SEAT');
  rows[bad] = [...(rows[bad] ?? []).slice(0, 2), 'oops', ...(rows[bad] ?? []).slice(3)];
  const text = csv({ header, rows });
  const { gaps, excluded } = await read(text);
  const line = text.slice(0, text.indexOf('oops')).split('\n').length;
  expect(line).toBe(bad + 2 + 5);
  const row = { file: 'points.csv', line, column: 'x', found: 'oops' };
  const fault = { code: 'no-number', values: { decimal: '.' } };
  expect(gaps).toEqual([
    {
      station: 9,
      reason: expect.stringContaining(`line ${line}, column x`),
      note: {
        code: 'station-unreadable',
        values: { row: { code: 'unreadable-row', values: { ...row, fault } }, more: 0 },
      },
    },
  ]);
  expect(excluded.map((entry) => entry.line)).toContain(line);
});

it('a signal stops the reading', async () => {
  const files = writeDisc(csv({ ...disc, rows: Array.from({ length: 20 }, () => disc.rows).flat() }), {});
  const abort = new AbortController();
  const reading = readPoints(files.points, {
    definition,
    signal: abort.signal,
    onProgress: () => abort.abort(),
  });
  await expect(reading).rejects.toBeInstanceOf(Cancelled);
});
