import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { exportTable, nextSort, sortRows, tableRows } from '../../src-renderer/views/station-table/rows.ts';
import { StationTable } from '../../src-renderer/views/station-table/station-table.tsx';
import { exampleDisc, unprovenStation, unprovenWords } from '../support/example-disc.ts';

const disc = exampleDisc();
const mm: Units = { length: 'mm', rotation: 'degree' };
const order = (rows: readonly { readonly station: number }[]) => rows.map((row) => row.station);

describe('rows', () => {
  test('are all planned stations in their order, the missing one among them', () => {
    const rows = tableRows(disc);
    expect(order(rows)).toEqual(Array.from({ length: 18 }, (_, index) => index + 1));
    expect(rows[11]).toMatchObject({ station: 12, standing: 'missing', result: null });
  });

  test('without a value stay last in both directions', () => {
    const rows = tableRows(disc);
    for (const direction of ['ascending', 'descending'] as const) {
      const sorted = order(sortRows(rows, { column: 'rotUpset', direction }));
      expect(sorted.slice(-2)).toEqual([4, 12]);
      expect(order(sortRows(rows, { column: 'position', direction })).at(-1)).toBe(12);
    }
  });

  test('sort by signed value, not by size', () => {
    const values = sortRows(tableRows(disc), { column: 'lateral', direction: 'ascending' }).flatMap((row) =>
      row.result === null ? [] : [row.result.error.lateral ?? Number.NaN],
    );
    expect(values[0]).toBeLessThan(0);
    for (const [index, value] of values.entries())
      if (index > 0) expect(value).toBeGreaterThanOrEqual(values[index - 1] ?? 0);
  });

  test('sort by U and by probability of the position, and by angles within one turn', () => {
    const rows = tableRows(disc);
    const probabilities = sortRows(
      rows,
      nextSort({ column: 'station', direction: 'ascending' }, 'probability'),
    ).flatMap((row) => (row.result === null ? [] : [row.result.position.probability ?? Number.NaN]));
    expect(probabilities).toEqual([...probabilities].sort((a, b) => a - b));
    expect(probabilities[0]).toBeLessThan(0.5);
    const turned = rows.map((row) => (row.station === 1 ? { ...row, angle: -5 } : row));
    expect(order(sortRows(turned, { column: 'angle', direction: 'ascending' })).at(-1)).toBe(1);
  });

  test('sorted by verdict begin with the worst', () => {
    const sort = nextSort({ column: 'station', direction: 'ascending' }, 'verdict');
    expect(sort.direction).toBe('descending');
    const standings = sortRows(tableRows(disc), sort).map((row) => row.standing);
    expect(standings.slice(0, 3)).toEqual(['missing', 'nonconforming', 'unproven']);
    expect(nextSort(sort, 'verdict').direction).toBe('ascending');
    expect(nextSort(sort, 'upset')).toEqual({ column: 'upset', direction: 'ascending' });
  });
});

describe('the exported table', () => {
  const parse = (text: string, separator: string) =>
    text
      .trimEnd()
      .split('\n')
      .map((line) => line.split(separator));

  test('holds every quantity of both frames, missing stations with their reason', () => {
    const [head, ...lines] = parse(exportTable(tableRows(disc), mm, '\t'), '\t');
    expect(head).toHaveLength(33);
    expect(lines).toHaveLength(18);
    const seventh = disc.result.stations.find((station) => station.station === 7);
    const column = (name: string) => Number(lines[6]?.[head?.indexOf(name) ?? -1]);
    expect(column('oscillation (mm)')).toBeCloseTo(seventh?.error.oscillation ?? Number.NaN, 7);
    expect(column('stagger (deg)')).toBeCloseTo(((seventh?.disc.stagger ?? Number.NaN) * 180) / Math.PI, 7);
    expect(lines[11]?.slice(-3)).toEqual(['missing', '', 'feature SEAT has 2 points, a plane needs 3']);
    expect(column('U oscillation (mm)')).toBeCloseTo(
      seventh?.uncertainty?.expanded.oscillation ?? Number.NaN,
      7,
    );
    expect(column('U position (mm)')).toBeCloseTo(seventh?.position.expanded ?? Number.NaN, 7);
    expect(column('P position conforms')).toBe(seventh?.position.probability);
    expect(lines[unprovenStation - 1]?.[head?.indexOf('would settle') ?? -1]).toBe(
      `position: ${unprovenWords}`,
    );
    // An unobserved freedom is empty, never 0.
    expect(lines[3]?.[head?.indexOf('rotUpset (deg)') ?? -1]).toBe('');
  });

  test('quotes what would break a CSV, and disarms what a spreadsheet would run', () => {
    const tricky: ReducedDisc = {
      ...disc,
      result: {
        ...disc.result,
        stations: [],
        summary: {
          ...disc.result.summary,
          missing: [
            { station: 1, angle: -20, reason: 'too few, "only" 2' },
            { station: 2, angle: 0, reason: '=1+1' },
          ],
        },
      },
    };
    const lines = exportTable(tableRows(tricky), mm, ',').trimEnd().split('\n');
    expect(lines[1]).toMatch(/^1,-20,/);
    expect(lines[1]).toMatch(/,"too few, ""only"" 2"$/);
    expect(lines[2]).toMatch(/,'=1\+1$/);
  });
});

test('a value that just exceeds its limit is seen to exceed it, whatever the unit', () => {
  const stations = disc.result.stations.map((station) => ({
    ...station,
    position: { ...station.position, tolerance: 0.05, value: station.station === 7 ? 0.050_003 : 0.04 },
  }));
  for (const length of ['mm', 'µm', 'inch'] as const) {
    const markup = renderToStaticMarkup(
      createElement(StationTable, {
        disc: { ...disc, result: { ...disc.result, stations } },
        units: { ...mm, length },
        frame: 'blade',
        quantity: 'position',
        selected: 7,
        onFrame: () => {},
        onSelect: () => {},
        marked: [],
        onMark: () => {},
      }),
    );
    const limit = Number(/≤ ([\d.]+)/.exec(markup)?.[1]);
    const shown = [...markup.matchAll(/data-quantity="position"[^>]*>([\d.]+)/g)].map(([, text]) =>
      Number(text),
    );
    expect(shown).toHaveLength(17);
    expect(shown.filter((value) => value > limit)).toHaveLength(1);
  }
});
