import { describe, expect, test } from 'vitest';
import { previewPoints } from '../../src-main/points/preview.ts';
import {
  countGrid,
  gapWords,
  importBlock,
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
