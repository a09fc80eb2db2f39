import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkPlan } from '../../src-main/plan/read-plan.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { type PreviewOptions, previewPoints } from '../../src-main/points/preview.ts';
import { readPoints } from '../../src-main/points/read-points.ts';
import { labelPatterns } from '../../src-main/points/suggest-pattern.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import { samplePath } from '../support/sample-results.ts';
import { unfamiliarPoints } from '../support/unfamiliar-points.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

function look(content: string | Buffer, options: PreviewOptions = {}) {
  const path = join(folder, 'points.csv');
  writeFileSync(path, content);
  return previewPoints(path, options);
}

/** Rows of four stations with two features each, three points a feature, written by `row`. */
function rows(row: (station: number, feature: string, x: string, y: string, z: string) => string): string {
  const lines: string[] = [];
  for (const station of [1, 2, 3, 4])
    for (const feature of ['FLANK', 'SEAT'])
      for (const k of [0, 1, 2])
        lines.push(row(station, feature, `${100 + station}.${k}`, `${20 + k}.5`, `-${k}.25`));
  return lines.join('\n');
}

describe('what is detected', () => {
  test('in the canonical form', async () => {
    const preview = await look(
      `station,feature,x,y,z\n${rows((s, f, ...at) => [s, f, ...at].join(','))}\n,FACE,1.5,2.5,3.5\n`,
    );
    expect(preview).toMatchObject({ rows: 25, points: 25, problems: [], stated: [] });
    expect(preview.taken).toMatchObject({
      encoding: 'utf-8',
      delimiter: ',',
      decimal: '.',
      header: true,
      columns: { station: 'station', feature: 'feature', x: 'x', y: 'y', z: 'z' },
    });
    expect(preview.taken.label).toBeUndefined();
    expect(preview.counts.find(({ station }) => station === null)).toMatchObject({
      feature: 'FACE',
      count: 1,
      line: 26,
    });
    expect(preview.counts.filter(({ station }) => station !== null).map(({ count }) => count)).toEqual(
      Array(8).fill(3),
    );
  });

  test('in a file that says nothing in words that anybody knows', async () => {
    const preview = await look(unfamiliarPoints('conforming'));
    expect(preview.taken).toEqual({
      encoding: 'latin1',
      delimiter: ';',
      decimal: ',',
      unit: 'mm',
      header: true,
      columns: { label: 'Punkt', x: 'X-Ist', y: 'Y-Ist', z: 'Z-Ist', i: 'NX', j: 'NY', k: 'NZ' },
      label: '[A-Za-z]*[ _.:-]?(?<station>\\d+)[ _.:/-]+(?<feature>.+)',
    });
    expect(preview.head.slice(0, 4).map(({ line, kind }) => [line, kind])).toEqual([
      [1, 'title'],
      [2, 'title'],
      [4, 'header'],
      [5, 'point'],
    ]);
    expect(preview).toMatchObject({ rows: 1552, points: 1552, problems: [] });
  });

  test('without a header, and with another order of columns', async () => {
    const preview = await look(rows((s, f, ...at) => [...at, f, s].join('\t')));
    expect(preview.taken).toMatchObject({
      delimiter: '\t',
      header: false,
      columns: { x: 1, y: 2, z: 3, feature: 4, station: 5 },
    });
    expect(preview.counts).toHaveLength(8);
  });

  test.each([
    ['inches', 'x [in],y [in],z [in]', { unit: 'inch', unitBecause: 'header' }],
    ['millimetres', 'x,y,z', { unit: 'mm', unitBecause: 'size' }],
  ])('the unit: %s', async (_, header, { unit, unitBecause }) => {
    const preview = await look(
      `station,feature,${header}\n${rows((s, f, x, y, z) => [s, f, Number(x) * s, y, z].join(','))}`,
    );
    expect(preview.taken.unit).toBe(unit);
    expect(preview.unitBecause).toBe(unitBecause);
  });

  test('UTF-16 with its mark, and Latin-1 that shows only after the first part of the file', async () => {
    const text = `station;feature;x;y;z\n${rows((s, f, ...at) => [s, f, ...at].join(';'))}\n`;
    const wide = await look(Buffer.from(`\ufeff${text}`, 'utf16le'));
    expect(wide.taken.encoding).toBe('utf-16le');
    expect(wide.points).toBe(24);
    const long = Buffer.from(`${text}${'1;FLANK;1.5;2.5;3.5\n'.repeat(5000)}1;MÜHLE;1.5;2.5;3.5\n`, 'latin1');
    const late = await look(long);
    expect(late.taken.encoding).toBe('latin1');
    expect(late.counts.some(({ feature }) => feature === 'MÜHLE')).toBe(true);
    expect(late.rows).toBe(5025);
  });
});

describe('what is stated', () => {
  const text = `station;feature;x;y;z\n${rows((s, f, ...at) => [s, f, ...at].join(';'))}\n`;

  test('is taken, right or wrong, and what follows from it is a finding', async () => {
    const preview = await look(text, { stated: { delimiter: ',' } });
    expect(preview.stated).toEqual(['delimiter']);
    expect(preview.points).toBe(0);
    expect(preview.problems[0]).toMatchObject({ code: 'missing-column' });
  });

  test('wins over headers; null takes a column away', async () => {
    const preview = await look(text, { stated: { columns: { x: 'y', y: 'x', z: null } } });
    expect(preview.taken.columns).toEqual({
      station: 'station',
      feature: 'feature',
      y: 'x',
      x: 'y',
      z: null,
    });
    expect(preview.stated).toEqual(['columns.x', 'columns.y', 'columns.z']);
  });

  test('a pattern that is none is said to fit no label', async () => {
    const labels = text.replace('station;feature', 'label').replaceAll(/^(\d);/gm, 'B$1-');
    const preview = await look(labels, { stated: { label: '(' } });
    expect(preview.counts.every(({ station }) => station === null)).toBe(true);
    expect(preview.patterns[0]?.example).toEqual({ label: 'B1-FLANK', station: 1, feature: 'FLANK' });
  });
});

describe('counts', () => {
  const text = `station;feature;x;y;z\n${rows((s, f, ...at) => [s, f, ...at].join(';'))}\n;FACE;1.5;2.5;3.5\n9;FLANK;1.5;2.5;3.5\n2;BLOB;1.5;2.5;3.5\nX;SEAT;1.5;2.5;3.5\n`;

  test('against a plan', async () => {
    const preview = await look(text, { plan: { stations: 4, hub: ['FACE'], blade: ['FLANK', 'SEAT'] } });
    expect(
      preview.counts
        .filter(({ standing }) => standing === 'stray')
        .map(({ feature, reason }) => [feature, reason]),
    ).toEqual([
      ['SEAT', '"X" is no station number'],
      ['BLOB', 'the plan has no blade feature BLOB'],
      ['FLANK', 'the plan has stations 1 to 4'],
    ]);
  });

  test('without a plan a name that few stations have is odd', async () => {
    const preview = await look(text);
    expect(
      preview.counts
        .filter(({ standing }) => standing === 'stray')
        .map(({ feature, reason }) => [feature, reason]),
    ).toEqual([
      ['SEAT', '"X" is no station number'],
      ['BLOB', 'only station 2 has BLOB'],
    ]);
  });

  test('rows without readable coordinates are named and not counted', async () => {
    const preview = await look(text.replace('101.1', 'NaN'));
    expect(preview.points).toBe(preview.rows - 1);
    expect(preview.problems[0]).toMatchObject({ code: 'not-finite', line: 3, column: 'x' });
  });
});

test('a file that is no text, or empty, is refused', async () => {
  await expect(look(Buffer.from([0x50, 0x4b, 3, 4, 0, 0]))).rejects.toBeInstanceOf(RefusedInput);
  await expect(look('')).rejects.toBeInstanceOf(RefusedInput);
});

test('what was taken, written into a plan, is what the reader of points then does', async () => {
  const content = unfamiliarPoints('conforming');
  const preview = await look(content);
  const plan = JSON.parse(readFileSync(samplePath('conforming', 'plan.json'), 'utf8')) as Record<
    string,
    unknown
  >;
  const own = checkPlan(JSON.stringify({ ...plan, import: preview.taken }), 'plan.json');
  const read = await readPoints(join(folder, 'points.csv'), {
    definition: toDefinition(own),
    planImport: own.import,
  });
  // The two title lines above the header are no points: none is left out.
  expect(read.excluded).toEqual([]);
  expect(read.used).toBe(preview.points);
  const counted = new Map(
    preview.counts.map(({ station, feature, count }) => [`${station} ${feature}`, count]),
  );
  for (const block of read.blocks)
    expect(block.xyz.length / 3).toBe(counted.get(`${block.station} ${block.feature}`));
});

test('a column that the plan says is absent is not found by its header', async () => {
  const text = readFileSync(samplePath('conforming', 'points.csv'), 'utf8').replace('i,j,k', 'r,j,k');
  const path = join(folder, 'radius.csv');
  writeFileSync(path, text);
  const plan = JSON.parse(readFileSync(samplePath('conforming', 'plan.json'), 'utf8')) as Record<
    string,
    unknown
  >;
  const columns = { r: null, j: null, k: null };
  const own = checkPlan(JSON.stringify({ ...plan, import: { columns } }), 'plan.json');
  const read = await readPoints(path, { definition: toDefinition(own), planImport: own.import });
  expect(read.blocks.every(({ tipRadius, normals }) => tipRadius === null && normals === null)).toBe(true);
  expect(Object.keys(read.import.columns)).toEqual(['station', 'feature', 'x', 'y', 'z']);
});

describe('what the points look like', () => {
  test.each([
    ['conforming', 'HUB-BORE', ['cylinder'], 72],
    ['off-centre', 'HUB-DOWEL', ['cylinder'], 6],
    ['off-centre', 'HUB-FACE', ['plane'], null],
    // Tip centres of a bore of radius 66 lie a tip radius of 1.5 further in.
    ['drifting', 'HUB-BORE', ['cylinder'], 64.5],
  ])('%s: %s', async (sample, feature, looks, radius) => {
    const { shapes } = await previewPoints(samplePath(sample, 'points.csv'));
    const shape = shapes.find((entry) => entry.feature === feature);
    expect(shape?.looks).toEqual(looks);
    if (radius === null) expect(shape?.radius).toBeNull();
    // Within the noise of the sample, some micrometres.
    else expect(shape?.radius).toBeCloseTo(radius, 2);
  });

  test('the ring of blades, in whatever unit the file is', async () => {
    const stated = { unit: 'inch' } as const;
    const { ring } = await previewPoints(samplePath('conforming', 'points.csv'));
    const inches = await previewPoints(samplePath('conforming', 'points.csv'), { stated });
    expect(ring?.stations).toBe(18);
    expect(inches.ring!.radius / ring!.radius).toBeCloseTo(25.4, 9);
  });
});

describe('patterns of labels', () => {
  test('the one whose features recur wins over one that merely matches', () => {
    const labels = [1, 2, 3].flatMap((station) => [`FLANK-${station}`, `SEAT-${station}`]);
    const [best] = labelPatterns([...labels, 'BOLT-7', 'FACE']);
    expect(best).toMatchObject({
      matched: 7,
      labels: 8,
      example: { label: 'FLANK-1', station: 1, feature: 'FLANK' },
    });
  });

  test('none for labels without numbers', () => {
    expect(labelPatterns(['FACE', 'BORE'])).toEqual([]);
  });
});
