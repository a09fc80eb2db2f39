import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { previewPoints } from '../../src-main/points/preview.ts';
import {
  countGrid,
  gapWords,
  importBlock,
  labelledStations,
  rolesByColumn,
  withRole,
} from '../../src-renderer/views/import/mapping.ts';
import { samplePath } from '../support/sample-results.ts';

const look = (sample: string) => previewPoints(samplePath(sample, 'points.csv'));

describe('roles of columns', () => {
  test('stand by their column', async () => {
    expect(rolesByColumn(await look('conforming'))).toEqual([
      'station',
      'feature',
      'x',
      'y',
      'z',
      'i',
      'j',
      'k',
    ]);
    expect(rolesByColumn(await look('off-centre'))).toEqual(['label', 'x', 'y', 'z']);
  });

  test('a column that takes the role of another leaves that one without', async () => {
    const columns = withRole(await look('conforming'), 5, 'z');
    expect(columns).toMatchObject({ z: 'i', i: null });
  });

  test('a label excludes station and feature, and they exclude it', async () => {
    expect(withRole(await look('conforming'), 1, 'label')).toMatchObject({
      label: 'feature',
      station: null,
      feature: null,
    });
    expect(withRole(await look('off-centre'), 0, 'feature')).toMatchObject({ feature: 'Label', label: null });
  });

  test('a column can be left unused, and the reading with all of it is stated', async () => {
    const preview = await look('conforming');
    const columns = withRole(preview, 7, '');
    expect(columns).toMatchObject({ k: null, j: 'j' });
    const again = await previewPoints(samplePath('conforming', 'points.csv'), { stated: { columns } });
    expect(rolesByColumn(again)).toEqual(['station', 'feature', 'x', 'y', 'z', 'i', 'j', '']);
    expect(again.problems.map(({ code }) => code)).toEqual(['missing-column']);
  });
});

test('the block for the plan holds everything that was taken', async () => {
  expect(importBlock(await look('conforming'))).toEqual({
    encoding: 'utf-8',
    delimiter: ',',
    decimal: '.',
    unit: 'mm',
    header: true,
    columns: { station: 'station', feature: 'feature', x: 'x', y: 'y', z: 'z', i: 'i', j: 'j', k: 'k' },
  });
});

describe('the grid around the disc', () => {
  test('counts each feature of each station, and names the gaps', async () => {
    const grid = countGrid(await look('drifting'), 16);
    expect(grid.features).toEqual(['SEAT', 'FLANK', 'BORE', 'BALL']);
    expect(grid.gaps).toEqual(['SEAT', 'FLANK', 'BORE', 'BALL'].map((feature) => ({ station: 12, feature })));
    expect(gapWords(grid)).toEqual(['station 12 has no point']);
    expect([grid.count(1, 'SEAT'), grid.count(12, 'SEAT'), grid.most]).toEqual([20, 0, 21]);
    expect(grid.hub.map(({ feature }) => feature)).toEqual([
      'HUB-FACE',
      'HUB-BORE',
      'HUB-FLAT',
      'REFERENCE-BALL',
    ]);
  });

  test('has a place for every station of the plan, or up to the largest number', async () => {
    const preview = await look('conforming');
    expect(countGrid(preview, null).stations).toHaveLength(18);
    expect(countGrid(preview, 20).gaps).toHaveLength(6);
  });
});

describe('stations with letters in a column of their own', () => {
  test('are read behind one prefix; another is named with what to do', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'hubtrue-labels-'));
    const path = join(folder, 'points.csv');
    const rows = (station: string): string[] =>
      ['SEAT', 'SIDE'].flatMap((feature) => [1.25, 2.5, 3.75].map((x) => `${station},${feature},${x},2,3`));
    writeFileSync(path, ['station,feature,x,y,z', ...rows('B07'), ...rows('B08'), ''].join('\n'));
    const prefixed = await previewPoints(path);
    expect(labelledStations(prefixed)).toBeNull();
    expect(prefixed.taken.label).toBe('B(?<station>\\d+)');
    expect(importBlock(prefixed)['label']).toBe('B(?<station>\\d+)');
    expect(prefixed.patterns).toEqual([
      {
        pattern: 'B(?<station>\\d+)',
        example: { label: 'B07', station: 7, feature: '' },
        matched: 2,
        labels: 2,
      },
    ]);
    writeFileSync(path, ['station,feature,x,y,z', ...rows('B07'), ...rows('A08'), ''].join('\n'));
    expect(labelledStations(await previewPoints(path))).toMatch(
      /such as A08 \(line 8\).*write 8 in the export/,
    );
    writeFileSync(path, ['station,feature,x,y,z', ...rows('7'), ...rows('08'), ''].join('\n'));
    expect(labelledStations(await previewPoints(path))).toBeNull();
    rmSync(folder, { recursive: true });
  });

  test('are no matter where label and feature stand in one cell', async () => {
    expect(labelledStations(await look('off-centre'))).toBeNull();
  });
});
