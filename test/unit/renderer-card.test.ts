import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { CheckPointResult, StationResult } from '../../shared-math/result.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { errorScale } from '../../src-renderer/views/station-card/error-scale.ts';
import { StationCard } from '../../src-renderer/views/station-card/station-card.tsx';
import { ZoneDrawing } from '../../src-renderer/views/station-card/zone-drawing.tsx';
import { Summary } from '../../src-renderer/views/summary/summary.tsx';
import { exampleDisc } from '../support/example-disc.ts';

const disc = exampleDisc();
const mm: Units = { length: 'mm', rotation: 'degree' };
const seventh = disc.result.stations.find((station) => station.station === 7) as StationResult;
const nothing = () => {};

const card = (selected: number): string =>
  renderToStaticMarkup(
    createElement(StationCard, {
      disc,
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
  renderToStaticMarkup(createElement(ZoneDrawing, { points, units: mm }));

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
    const planar = drawing([point({ zone: 'planar' })]);
    expect(planar).toContain('width 0.0500 mm');
    expect(planar).not.toContain('<circle');
  });

  test('says when a displacement is not observed', () => {
    expect(drawing([point({ displacement: null, value: null })])).toContain('displacement not observed');
  });
});

describe('the station card', () => {
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

test('the summary says that uncertainty is not evaluated, and what was left out', () => {
  const markup = renderToStaticMarkup(createElement(Summary, { disc, units: mm, onSelect: nothing }));
  expect(markup).toContain('uncertainty not evaluated in this version');
  expect(markup).toContain('3 excluded');
  expect(markup).toContain('1 to read');
});
