import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { CheckPointResult, StationResult } from '../../shared-math/result.ts';
import { coverageEllipse, coverageHalfWidth } from '../../shared-math/uncertainty/coverage-ellipse.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { errorScale } from '../../src-renderer/views/station-card/error-scale.ts';
import { StationCard } from '../../src-renderer/views/station-card/station-card.tsx';
import { stationSheet } from '../../src-renderer/views/station-card/station-sheet.ts';
import { ZoneDrawing } from '../../src-renderer/views/station-card/zone-drawing.tsx';
import { Decision, ruleWords } from '../../src-renderer/views/summary/decision.tsx';
import { Summary } from '../../src-renderer/views/summary/summary.tsx';
import { exampleDisc, unprovenStation, unprovenWords } from '../support/example-disc.ts';

const disc = exampleDisc();
const mm: Units = { length: 'mm', rotation: 'degree' };
const seventh = disc.result.stations.find((station) => station.station === 7) as StationResult;
const nothing = () => {};

const card = (selected: number, shown = disc): string =>
  renderToStaticMarkup(
    createElement(StationCard, {
      disc: shown,
      units: mm,
      frame: 'blade',
      quantity: 'position',
      onQuantity: nothing,
      selected,
      onStep: nothing,
    }),
  );

function point(change: Partial<CheckPointResult>): CheckPointResult {
  return {
    name: 'tip',
    at: [0, 0, 160],
    zone: 'cylindrical',
    tolerance: 0.05,
    displacement: [0.01, -0.02, 0.03],
    direction: null,
    value: 0.0447,
    expanded: null,
    probability: null,
    covariance: null,
    verdict: 'conforming',
    ...change,
  };
}
const drawing = (points: readonly CheckPointResult[]): string =>
  renderToStaticMarkup(createElement(ZoneDrawing, { points, coverage: 0.95, units: mm }));

describe('bars of the six errors', () => {
  test('stand against the limit where the plan has one', () => {
    expect(errorScale(seventh, 'lateral')).toEqual({ size: 0.025, against: 'limit' });
    expect(errorScale(seventh, 'rotLateral')).toEqual({ size: 0.0005, against: 'limit' });
  });

  test('else against the error that alone would fill the zone of the check point it moves most', () => {
    const free: StationResult = { ...seventh, limits: [] };
    // Half of 0.05 mm at the root; at the tip, 160 mm out, a rotation moves 160 mm a radian.
    expect(errorScale(free, 'oscillation')).toEqual({ size: 0.025, against: 'budget' });
    expect(errorScale(free, 'rotOscillation')?.size).toBeCloseTo(0.025 / 160, 12);
    // Neither upset nor a turn about the stacking axis moves these points in a cylindrical zone about it.
    expect(errorScale(free, 'upset')).toBeNull();
    expect(errorScale(free, 'rotUpset')).toBeNull();
    expect(errorScale(free, 'lean')).toBeNull();
  });
});

describe('the zone drawing', () => {
  test('draws δ in a circle of half the tolerance, oscillation to the right and lateral up', () => {
    const markup = drawing([point({})]);
    const radius = Number(/<circle r="([\d.]+)" class="tolerance"/.exec(markup)?.[1]);
    const [, x, y] = (/<path d="M0 0 L([-\d.]+) ([-\d.]+)"/.exec(markup) ?? []).map(Number);
    expect((x ?? 0) / radius).toBeCloseTo(0.01 / 0.025, 9);
    expect((y ?? 0) / radius).toBeCloseTo(0.02 / 0.025, 9);
    expect(markup).toContain('tip: displaced +0.0100 mm in oscillation, −0.0200 mm in lateral');
  });

  test('draws a vector that leaves its zone at full length', () => {
    const markup = drawing([point({ displacement: [0.1, 0, 0], verdict: 'nonconforming' })]);
    const radius = Number(/<circle r="([\d.]+)" class="tolerance"/.exec(markup)?.[1]);
    const x = Number(/<path d="M0 0 L([-\d.]+) /.exec(markup)?.[1]);
    expect(x / radius).toBeCloseTo(4, 9);
    expect(x).toBeLessThan(100);
  });

  test('adds a scale for upset to spherical zones, and shows planar ones as a width', () => {
    expect(drawing([point({ zone: 'spherical' })])).toContain('>upset<');
    expect(drawing([point({})])).not.toContain('>upset<');
    const planar = drawing([point({ zone: 'planar', direction: [0, 1, 0] })]);
    expect(planar).toContain('width 0.0500 mm');
    expect(planar).toContain('along lateral');
    expect(planar).not.toContain('class="tolerance" r=');
  });

  test('draws δ·n of a planar zone on the side where it lies, with its interval', () => {
    const markup = drawing([
      point({
        zone: 'planar',
        direction: [0, 1, 0],
        covariance: [
          [9e-6, 0, 0],
          [0, 4e-6, 0],
          [0, 0, 9e-6],
        ],
      }),
    ]);
    const edge = -Number(/<rect x="([-\d.]+)" y="-12"/.exec(markup)?.[1]);
    const at = Number(/<circle cx="([-\d.]+)"/.exec(markup)?.[1]);
    expect(at / edge).toBeCloseTo(-0.02 / 0.025, 9);
    const width = Number(/<rect x="[-\d.]+" y="-6" width="([\d.]+)"/.exec(markup)?.[1]);
    // 1.959964 is the 97.5 % quantile of the normal distribution, from any table.
    expect(width / edge).toBeCloseTo((2 * 1.959964 * 0.002) / 0.025, 6);
  });

  test('draws the coverage ellipse at the point, to the scale of the zone', () => {
    const markup = drawing([
      point({
        covariance: [
          [9e-6, 0, 0],
          [0, 4e-6, 0],
          [0, 0, 1e-6],
        ],
      }),
    ]);
    const radius = Number(/<circle r="([\d.]+)" class="tolerance"/.exec(markup)?.[1]);
    const [, rx, ry, x, y] = (
      /<ellipse rx="([\d.]+)" ry="([\d.]+)" transform="translate\(([-\d.]+) ([-\d.]+)\)/.exec(markup) ?? []
    ).map(Number);
    expect((rx ?? 0) / radius).toBeCloseTo((0.003 * Math.sqrt(5.991465)) / 0.025, 6);
    expect((ry ?? 0) / radius).toBeCloseTo((0.002 * Math.sqrt(5.991465)) / 0.025, 6);
    expect((x ?? 0) / radius).toBeCloseTo(0.01 / 0.025, 9);
    expect((y ?? 0) / radius).toBeCloseTo(0.02 / 0.025, 9);
    expect(drawing([point({})])).not.toContain('<ellipse');
  });

  test('says when a displacement is not observed', () => {
    expect(drawing([point({ displacement: null, value: null })])).toContain('displacement not observed');
  });
});

describe('the coverage ellipse', () => {
  test('has the half-axes of the χ² quantile with two degrees of freedom, along the principal axes', () => {
    // Half-axes 3 and 1, the longer one turned by 30° from oscillation towards lateral.
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    const { major, minor, angle } = coverageEllipse(
      [
        [9 * c * c + s * s, 8 * c * s, 0],
        [8 * c * s, 9 * s * s + c * c, 0],
        [0, 0, 5],
      ],
      0.95,
    );
    // 5.991465: 95 % quantile of χ² with two degrees of freedom, from any table.
    expect(major).toBeCloseTo(3 * Math.sqrt(5.991465), 6);
    expect(minor).toBeCloseTo(Math.sqrt(5.991465), 6);
    expect(angle).toBeCloseTo(Math.PI / 6, 12);
  });

  test('of a displacement known in one direction is a stroke, and its interval takes the direction into account', () => {
    const one = [
      [4, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ] as const;
    expect(coverageEllipse(one, 0.95).minor).toBe(0);
    expect(coverageHalfWidth(one, [0.6, 0.8, 0], 0.95)).toBeCloseTo(1.959964 * 2 * 0.6, 6);
  });
});

describe('the station card', () => {
  test('shows U beside each error, U and P(conform) of the position and of each check point', () => {
    const markup = card(7);
    const text = markup.replaceAll(/<[^>]+>/g, '');
    for (const value of [seventh.error.oscillation ?? 0, seventh.error.lateral ?? 0])
      expect(text).toContain(`${Math.abs(value).toFixed(4)} ± 0.0032mm`);
    expect(text).toContain(`Position ${seventh.position.value?.toFixed(4)} + 0.0042 mm at`);
    expect(text).toContain('P(conform) &lt;0.1 %, tolerance ⌀ 0.0500');
    expect(text).toMatch(/root\W+nonconforming0\.\d{4}0\.0040&lt;0\.1|root\W+conforming0\.\d{4}0\.004099\.9/);
  });

  test('draws U as whiskers from value − U to value + U on the scale of the limit', () => {
    const row = /<tr[^>]*>(?:(?!<\/tr>).)*>Lateral<(?:(?!<\/tr>).)*<\/tr>/.exec(card(3))?.[0] ?? '';
    const third = disc.result.stations.find((station) => station.station === 3);
    const [, from, to] = (/<path d="M([-\d.]+) 0 H([-\d.]+)/.exec(row) ?? []).map(Number);
    const limit = Number(/<rect x="([-\d.]+)"[^>]*class="within"/.exec(row)?.[1]) / -0.025;
    expect(((from ?? 0) + (to ?? 0)) / 2 / limit).toBeCloseTo(third?.error.lateral ?? Number.NaN, 9);
    expect(((to ?? 0) - (from ?? 0)) / 2 / limit).toBeCloseTo(0.0032, 9);
  });

  test('names the share of each source, own ones apart from shared ones', () => {
    const text = card(7).replaceAll(/<[^>]+>/g, '');
    expect(text).toMatch(/own: probing 50 %form 0 %shared: frame 40 %scale 6 %temperature 4 %/);
  });

  test('says what would settle an unproven value', () => {
    expect(card(unprovenStation)).toContain(unprovenWords);
    expect(card(7)).not.toContain('not proven');
    // Its words keep their unit, which is not the one on view.
    expect(card(unprovenStation)).toContain('not proven (figures in µm).');
  });

  test('says so where the uncertainty is not evaluated', () => {
    const without: ReducedDisc = {
      ...disc,
      result: {
        ...disc.result,
        stations: disc.result.stations.map((station) => ({
          ...station,
          uncertainty: null,
          position: { ...station.position, expanded: null, probability: null },
        })),
      },
    };
    expect(card(7)).not.toContain('uncertainty not evaluated');
    expect(card(7, without)).toContain('uncertainty not evaluated');
    const summary = (shown: ReducedDisc): string =>
      renderToStaticMarkup(createElement(Summary, { disc: shown, units: mm, onSelect: nothing }));
    expect(summary(without)).toContain('uncertainty not evaluated');
    expect(summary(disc)).not.toContain('not evaluated');
  });

  test('names freedoms that are not observed, and never shows them as zero', () => {
    const markup = card(4);
    expect(markup).toContain('Rotation about upset not observed:');
    expect(markup).toContain('no feature of this blade turns with it');
    const row = /<tr[^>]*>(?:(?!<\/tr>).)*↻ Upset(?:(?!<\/tr>).)*<\/tr>/.exec(markup)?.[0] ?? '';
    expect(row).toContain('not observed');
    expect(row).not.toContain('0.0000');
  });

  test('gives the reason for a station that is missing', () => {
    expect(card(12)).toContain('Not reduced: feature SEAT has 2 points, a plane needs 3');
  });

  test('lists datum features with points, form and r.m.s.', () => {
    const markup = card(7);
    for (const feature of seventh.features) {
      expect(markup).toContain(feature.feature);
      expect(markup).toContain(feature.form.toFixed(4));
      expect(markup).toContain(feature.rms.toFixed(4));
    }
  });
});

test('the summary states rule, risk and coverage, and what was left out', () => {
  const markup = renderToStaticMarkup(createElement(Summary, { disc, units: mm, onSelect: nothing }));
  expect(markup).toContain('conformity proven at 95 %');
  expect(markup).toContain(disc.result.decision.risk);
  expect(markup).toContain('uncertainty at 95 % coverage');
  expect(markup).toContain('3 excluded');
  expect(markup).toContain('1 to read');
});

describe('the decision rule', () => {
  const markup = renderToStaticMarkup(createElement(Decision, { result: disc.result }));

  test('is explained with its risk, coverage, the unproven stations and what would settle them', () => {
    for (const text of [disc.result.decision.risk, 'coverage 95 %', '2 stations', unprovenWords])
      expect(markup).toContain(text);
    expect(markup).toContain(`station ${unprovenStation}, position`);
  });

  test('has words for each rule', () => {
    const rule = { coverage: 0.95, risk: '', probability: null, factor: null };
    expect(ruleWords({ ...rule, rule: 'simple' })).toBe('value against limit');
    expect(ruleWords({ ...rule, rule: 'guarded', probability: 0.9973 })).toBe('conformity proven at 99.73 %');
    expect(ruleWords({ ...rule, rule: 'guarded', factor: 0.5 })).toBe('guard band of 0.5 × U');
  });
});

test('the figures of a station go out with units, limits and the verdict of each', () => {
  const station = seventh;
  const { head, rows } = stationSheet(station, { length: 'µm', rotation: 'degree' });
  expect(head[0]).toBe('station 7');
  for (const row of rows) expect(row).toHaveLength(head.length);
  const row = (name: string) => rows.find(([title]) => title === name)!;
  expect(Number(row('position')[2])).toBeCloseTo(1000 * station.position.value!, 3);
  expect(row('position').slice(1, 2)).toEqual(['um']);
  expect(row('position')[6]).toBe(station.position.verdict);
  expect(Number(row('stagger')[2])).toBeCloseTo((station.disc.stagger! * 180) / Math.PI, 6);
  expect(rows.filter(([title]) => title?.startsWith('position '))).toHaveLength(
    station.position.checkPoints.length,
  );
  const [first] = station.features;
  expect(row(`form of ${first!.label} ${first!.feature}`).slice(-2)[0]).toBe(String(first!.points));
});
