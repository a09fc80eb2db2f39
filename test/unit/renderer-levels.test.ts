/** The two levels of position, and points that a robust screen flagged, as the window shows them. */
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { mapMarks } from '../../src-renderer/views/polar-map/marks.ts';
import { QuantityRail } from '../../src-renderer/views/polar-map/quantity-rail.tsx';
import { StationCard } from '../../src-renderer/views/station-card/station-card.tsx';
import { exportTable, nextSort, sortRows, tableRows } from '../../src-renderer/views/station-table/rows.ts';
import { StationTable } from '../../src-renderer/views/station-table/station-table.tsx';
import { LeftOut } from '../../src-renderer/views/summary/left-out.tsx';
import { Pattern } from '../../src-renderer/views/summary/pattern.tsx';
import { Summary } from '../../src-renderer/views/summary/summary.tsx';
import { exampleDisc, exampleDiscOfTwoLevels } from '../support/example-disc.ts';

const one = exampleDisc();
const two = exampleDiscOfTwoLevels();
const pattern = two.result.pattern!;
const units: Units = { length: 'mm', rotation: 'degree' };
const nothing = () => {};
const textOf = (markup: string): string => markup.replaceAll(/<[^>]+>/g, ' ').replaceAll(/\s+/g, ' ');
const shared = { units, frame: 'blade', quantity: 'position', selected: 7 } as const;

const table = (disc: ReducedDisc): string =>
  renderToStaticMarkup(
    createElement(StationTable, {
      ...shared,
      disc,
      onFrame: nothing,
      onSelect: nothing,
      marked: [],
      onMark: nothing,
    }),
  );
const card = (disc: ReducedDisc): string =>
  renderToStaticMarkup(createElement(StationCard, { ...shared, disc, onQuantity: nothing, onStep: nothing }));
const summary = (disc: ReducedDisc): string =>
  renderToStaticMarkup(createElement(Summary, { disc, units, onSelect: nothing }));
const rail = (disc: ReducedDisc): string =>
  renderToStaticMarkup(createElement(QuantityRail, { disc, value: 'position', onChange: nothing }));

describe('a disc of one level', () => {
  test('shows nothing of a second one, nor of flagged points', () => {
    const everything = table(one) + card(one) + summary(one) + rail(one);
    expect(everything).not.toMatch(/relative|each other|flagged/i);
    expect(exportTable(tableRows(one), units, ',')).not.toContain('relative');
  });
});

describe('the second level of position', () => {
  test('is a column of the table, with its limit, value and sign of the verdict', () => {
    const markup = table(two);
    for (const { station, value, verdict } of pattern.stations) {
      const row = new RegExp(`<tr data-station="${station}".*?</tr>`).exec(markup)?.[0] ?? '';
      const cell = /<td data-quantity="relative".*?<\/td>/.exec(row)?.[0] ?? '';
      expect(textOf(cell)).toContain(value!.toFixed(4));
      expect(cell.includes('over the limit')).toBe(verdict === 'nonconforming');
    }
    expect(pattern.stations.some(({ verdict }) => verdict === 'nonconforming')).toBe(true);
    expect(textOf(markup)).toContain('≤ 0.0300');
    expect(markup).toContain('Sort by Position relative to each other');
  });

  test('sorts with the worst first, the missing station last', () => {
    const rows = sortRows(
      tableRows(two),
      nextSort({ column: 'station', direction: 'ascending' }, 'relative'),
    );
    expect(rows[0]?.station).toBe(pattern.at!.station);
    expect(rows.at(-1)?.station).toBe(12);
  });

  test('is in the exported table', () => {
    const [head, ...lines] = exportTable(tableRows(two), units, '\t')
      .replace(/\n$/, '')
      .split('\n')
      .map((line) => line.split('\t'));
    const cell = (station: number, name: string) => lines[station - 1]?.[head!.indexOf(name)];
    for (const { station, value, at, probability, verdict } of pattern.stations) {
      expect(Number(cell(station, 'relative (mm)'))).toBeCloseTo(value!, 6);
      expect(cell(station, 'relative at')).toBe(at);
      expect(cell(station, 'P relative conforms')).toBe(String(probability));
      expect(cell(station, 'relative verdict')).toBe(verdict);
    }
    expect(lines.every((line) => line.length === head!.length)).toBe(true);
  });

  test('stands beside the first one on the card, for the blade and for each check point', () => {
    const station = two.result.stations.find((entry) => entry.station === 7)!;
    const relative = pattern.stations.find((entry) => entry.station === 7)!;
    const text = textOf(card(two));
    expect(text).toContain(
      `position ${station.position.value!.toFixed(4)} ${station.position.verdict} ${relative.value!.toFixed(4)} ${relative.verdict}`,
    );
    expect(text).toContain('tolerance 0.0500 0.0300');
    for (const { name, value } of relative.checkPoints)
      expect(text).toMatch(new RegExp(`${name} \\w+ [\\d.]+ [\\d.]+ \\S+ ${value!.toFixed(4)}`));
  });

  test('has a place in the rail of the map, and its own marks with its own limit', () => {
    expect(textOf(rail(two))).toContain('Relative position');
    const marks = mapMarks(two, 'relative', units);
    for (const { station, value, verdict, at } of pattern.stations) {
      const mark = marks.find((entry) => entry.station === station);
      expect(mark).toMatchObject({ value, standing: verdict, limit: 0.03, expanded: 0.0021 });
      expect(mark?.text).toContain(` at ${at}, limit 0.0300 mm`);
    }
    expect(marks.find((entry) => entry.station === 12)?.standing).toBe('missing');
  });

  test('is named in the summary with verdict, value and tolerance', () => {
    expect(textOf(summary(two))).toContain(
      `Position relative to each other ${pattern.value!.toFixed(4)} mm nonconforming, tolerance 0.0300 mm`,
    );
    expect(textOf(summary(two))).toContain('Position relative to the hub');
  });

  test('its dialog tells the motion, least squares for comparison, and what holds the zones', () => {
    const text = textOf(renderToStaticMarkup(createElement(Pattern, { pattern, units, needed: null })));
    expect(text).toContain(
      `${pattern.value!.toFixed(4)} + 0.0019 mm at station ${pattern.at!.station}, ${pattern.at!.checkPoint}`,
    );
    expect(text).toContain('along x +0.0123 mm +0.0101 mm');
    expect(text).toContain('along z, the axis held held');
    expect(text).toContain('tilt about x seen by no zone seen by no zone');
    expect(text).toContain('clocking about z −0.0178° 0.0000°');
    expect(text).toContain(`largest position ${pattern.value!.toFixed(4)} mm 0.0999 mm`);
    expect(text).toContain('2 root 40.0 %');
  });
});

describe('points that a robust screen flagged', () => {
  test('are listed with station, feature, number, distance and what became of them', () => {
    const text = textOf(renderToStaticMarkup(createElement(LeftOut, { result: two.result, units })));
    expect(text).toContain('hub HUB-BORE 17 −0.0312 left out');
    expect(text).toContain('9 SIDE 4 0.0205 only reported');
    expect(text).toContain('44 feature REF-BALL is not in the plan');
    expect(textOf(summary(two))).toContain('3 excluded, 2 flagged');
  });
});
