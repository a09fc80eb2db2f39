/** Residual plots, exclusions, the three-dimensional view and comparison: their plain parts. */
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { Association, DatumDefinition } from '../../shared-math/definition.ts';
import type { FeaturePoints } from '../../src-main/api.ts';
import { residualColour, rgbOfLab, SHADES, shadeOf } from '../../src-renderer/plot/residual-colours.ts';
import {
  emptyHistory,
  historyFrom,
  noExclusions,
  reasonsGiven,
  redone,
  stepTo,
  undone,
  withFeature,
  withoutFeature,
  withoutPoints,
  withPoints,
} from '../../src-renderer/state/exclusions.ts';
import { emptySession, type ReductionRecord, reduceSession } from '../../src-renderer/state/session.ts';
import {
  changeOf,
  exclusionChanges,
  inputDifferences,
  isChanged,
  positionTexts,
  stationChanges,
} from '../../src-renderer/views/compare/changes.ts';
import { byReason } from '../../src-renderer/views/exclusions/reasons.ts';
import {
  associationOf,
  featureAxisNames,
  featureOnView,
} from '../../src-renderer/views/features/feature-names.ts';
import {
  byResidual,
  pointsSheet,
  pointViews,
  residualBins,
  residualRange,
  roundDown,
  rounds,
  stepPoint,
} from '../../src-renderer/views/features/points.ts';
import { ResidualMap } from '../../src-renderer/views/features/residual-map.tsx';
import { traceMagnification } from '../../src-renderer/views/features/round-trace.tsx';
import {
  cameraLayout,
  cameraMoved,
  fromZ,
  nearer,
  oblique,
  turned,
} from '../../src-renderer/views/scene/camera.ts';
import { bladeFrames, moved } from '../../src-renderer/views/scene/frames.ts';
import { sceneLayout } from '../../src-renderer/views/scene/scene-layout.ts';
import { filterRows, noFilter, parseNumbers } from '../../src-renderer/views/station-table/filter.ts';
import { rangeBetween, toggled } from '../../src-renderer/views/station-table/marking.ts';
import { tableRows } from '../../src-renderer/views/station-table/rows.ts';
import { exampleDisc } from '../support/example-disc.ts';
import { plotColours } from '../support/plot-colours.ts';

const units = { length: 'mm', rotation: 'degree' } as const;

/** What the test reads of the layout of the plot library. */
interface SceneAxes {
  readonly scene: {
    readonly xaxis: {
      readonly title: { readonly text: string };
      readonly tickvals: readonly number[];
      readonly ticktext: readonly string[];
    };
  };
}

test('axes of a feature bear the names of the frame with their sense, and none of them where they lie askew', () => {
  const { result } = exampleDisc();
  const { axes } = result.stations[2]!.nominal;
  const { station } = result.stations[2]!;
  const back = axes[2].map((value) => -value) as unknown as (typeof axes)[2];
  const inPlane = (at: number | null, u: typeof back, v: typeof back) =>
    featureAxisNames({ station: at, axes: { origin: [0, 0, 0], u, v, normal: axes[1] } }, result);
  expect(inPlane(station, axes[0], back)).toEqual({ u: '+oscillation', v: '−upset', direction: '+lateral' });
  expect(inPlane(null, [0, -1, 0], [0, 0, 1])).toMatchObject({ u: '−Y', v: '+Z' });
  expect(inPlane(null, [0.8, 0.6, 0], [-0.6, 0.8, 0])).toMatchObject({ u: 's', v: 't' });
  expect(inPlane(999, axes[0], axes[2])).toEqual({ u: 's', v: 't', direction: 'axis' });
});

describe('the colours of residuals', () => {
  const channels = (colour: string): number[] =>
    [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  const luminance = (colour: string): number => {
    const [r, g, b] = channels(colour).map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };

  test('follow CIE L*a*b*: white, mid grey and a colour of a published table', () => {
    expect(rgbOfLab(100, 0, 0)).toEqual([255, 255, 255]);
    expect(rgbOfLab(0, 0, 0)).toEqual([0, 0, 0]);
    // sRGB red is L* 53.24, a* 80.09, b* 67.20 under D65 (value from memory).
    expect(rgbOfLab(53.24, 80.09, 67.2).map((value) => Math.round(value / 2))).toEqual([128, 0, 0]);
  });

  test.each([false, true])('grow evenly away from zero on either side, dark %s', (dark) => {
    for (const sign of [-1, 1]) {
      const steps = Array.from({ length: SHADES + 1 }, (_, i) =>
        luminance(residualColour((sign * i) / SHADES, dark)),
      );
      for (let i = 1; i < steps.length; i += 1)
        expect(dark ? steps[i]! - steps[i - 1]! : steps[i - 1]! - steps[i]!).toBeGreaterThan(0);
    }
    // The same distance from zero is equally light: 2 % of white is what rounding to 8 bits may make.
    expect(luminance(residualColour(-1, dark))).toBeCloseTo(luminance(residualColour(1, dark)), 1);
    expect(residualColour(0.001, dark)).toBe(residualColour(-0.001, dark));
  });

  test('tell the sides apart by blue against red and green, whatever the red-green vision', () => {
    for (const dark of [false, true]) {
      const [r1, , b1] = channels(residualColour(-1, dark));
      const [r2, , b2] = channels(residualColour(1, dark));
      expect(b1! - r1!).toBeGreaterThan(60);
      expect(r2! - b2!).toBeGreaterThan(60);
    }
  });

  test('fall into steps that never leave the scale', () => {
    expect([-9, -1, -0.049, 0.051, 1, 9].map((value) => shadeOf(value, 1))).toEqual([-10, -10, 0, 1, 10, 10]);
    expect(shadeOf(1, 0)).toBe(0);
  });
});

/** A cylinder of three points a round, two rounds, the last point left out. */
function cylinder(): FeaturePoints {
  const angles = [0, 1, 2, 3, 4, 5].map((i) => (i - 3) * 1.0471975512);
  const place = [...angles, ...angles].flatMap((angle, i) => [angle, i < 6 ? -5 : 5]);
  const residual = [1, -2, 0.5, 0, -0.5, 0.2, 0.1, -0.1, 0.3, 1.5, -1, 9].map((value) => value * 1e-3);
  return {
    station: null,
    feature: 'BORE',
    datum: 'A',
    type: 'cylinder',
    total: 12,
    lines: residual.map((_, i) => 10 + i),
    xyz: residual.flatMap(() => [1, 2, 3]),
    residual,
    place,
    axes: { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 1, 0], normal: [0, 0, 1] },
    excluded: residual.map((_, i) => i === 11),
    reasons: [{ line: 21, reason: 'excluded by hand: dirt' }],
    surface: { point: [0, 0, 0], direction: [0, 0, 1], radius: 70, halfAngle: null },
    basis: 'datum',
    rms: 0.001,
    form: 0.0035,
  };
}

/** Three by three points on a plane that is longer along v than along u. */
function longPlane(): FeaturePoints {
  const place = [-20, 0, 20].flatMap((u) => [-60, 0, 60].flatMap((v) => [u, v]));
  const residual = place.filter((_, i) => i % 2 === 0).map((u) => u * 1e-5);
  return {
    ...cylinder(),
    type: 'plane',
    total: residual.length,
    lines: residual.map((_, i) => 10 + i),
    xyz: residual.flatMap(() => [1, 2, 3]),
    residual,
    place,
    excluded: residual.map(() => false),
    reasons: [],
  };
}

test('a plane that lies along the drawing still grows to the right and upwards', () => {
  const feature = longPlane();
  const markup = renderToStaticMarkup(
    createElement(ResidualMap, {
      feature,
      points: pointViews(feature),
      axisNames: { u: '+oscillation', v: '−upset', direction: '+lateral' },
      range: 2e-4,
      units,
      dark: false,
      chosen: null,
      onChoose: () => {},
      width: 520,
      height: 260,
    }),
  );
  const ticks = [...markup.matchAll(/x="([\d.]+)" y="([\d.]+)" text-anchor="(\w+)">(−?\d+)</g)].map(
    ([, x, y, anchor, text]) => ({
      x: Number(x),
      y: Number(y),
      isUpright: anchor === 'end',
      value: Number(text?.replace('−', '-')),
    }),
  );
  expect(markup).toMatch(/rotate\(-90\)[^<]*>along \+oscillation, mm</);
  const byValue = (isUpright: boolean) =>
    ticks.filter((tick) => tick.isUpright === isUpright).sort((a, b) => a.value - b.value);
  const [upwards, across] = [byValue(true), byValue(false)];
  expect(Math.min(upwards.length, across.length)).toBeGreaterThan(1);
  expect(upwards.at(-1)?.y).toBeLessThan(upwards[0]?.y ?? 0);
  expect(across.at(-1)?.x).toBeGreaterThan(across[0]?.x ?? 1e3);
});

describe('points of a feature', () => {
  const points = pointViews(cylinder());

  test('carry why they are not used, and do not stretch the scale then', () => {
    expect(points.at(-1)).toMatchObject({ line: 21, reason: 'excluded by hand: dirt' });
    expect(residualRange(points)).toBeCloseTo(2e-3, 12);
    expect(residualRange(points.slice(-1))).toBeCloseTo(9e-3, 12);
  });

  test('are counted once in the bins, without those left out', () => {
    const bins = residualBins(points);
    expect(bins.reduce((sum, { count }) => sum + count, 0)).toBe(11);
    expect(bins[0]!.from).toBeLessThanOrEqual(-2e-3);
    expect(bins.at(-1)!.to).toBeGreaterThanOrEqual(1.5e-3);
    for (const { from, to, count } of bins)
      expect(count).toBe(
        points.filter(({ residual, reason }) => reason === null && residual >= from && residual < to).length,
      );
    expect(residualBins(points.slice(-1))).toEqual([]);
  });

  test('make a trace a round, in the order of their angles', () => {
    const traces = rounds(points, 'cylinder');
    expect(traces.map((trace) => trace.length)).toEqual([6, 6]);
    expect(traces[0]!.map(({ line }) => line)).toEqual([10, 11, 12, 13, 14, 15]);
    // A spiral has no rounds.
    const spiral = points.map((point, i) => ({ ...point, place: [point.place[0], i] as const }));
    expect(rounds(spiral, 'cylinder')).toEqual([]);
    expect(rounds(points, 'sphere')).toEqual([]);
  });

  test('are gone through in file order or by size, and stop at the ends', () => {
    const inOrder = byResidual(points);
    expect(inOrder.slice(0, 3).map(({ line }) => line)).toEqual([21, 11, 19]);
    expect(stepPoint(points, null, 1)).toBe(10);
    expect(stepPoint(points, 10, -1)).toBe(10);
    expect(stepPoint(inOrder, 21, 1)).toBe(11);
    expect(stepPoint(points, 12, 'last')).toBe(21);
  });

  test('go to other programs in the units shown', () => {
    const { head, rows } = pointsSheet(
      points,
      cylinder(),
      { u: '+X', v: '+Y', direction: '−Z' },
      { ...units, length: 'µm' },
    );
    // Places stay in millimetres where residuals are in micrometres.
    expect(head.slice(0, 5)).toEqual([
      'line',
      'residual (um)',
      'angle (deg)',
      'height along -Z (mm)',
      'x (mm)',
    ]);
    expect(rows[1]!.slice(0, 2)).toEqual(['11', '-2.0000']);
    const other = points[1]!;
    expect(Number(rows[1]![3])).toBeCloseTo(other.place[1], 6);
    expect(Number(rows[1]![4])).toBeCloseTo(other.xyz[0], 6);
    expect(rows.at(-1)!.slice(-2)).toEqual(['left out', 'excluded by hand: dirt']);
  });

  test('are magnified by a round number that fits the drawing', () => {
    expect([0.9, 1, 4.9, 73, 1e-3].map(roundDown)).toEqual([0.5, 1, 2, 50, 1e-3]);
    const magnification = traceMagnification(70, 2e-3);
    expect(magnification).toBe(10_000);
    // The largest residual stays within the room outside the circle.
    expect((0.64 / 70) * magnification * 2e-3).toBeLessThan(1 - 0.64);
  });
});

describe('exclusions', () => {
  const flank = { station: 4, feature: 'FLANK' };

  test('step forth and back, and a new step lets go of what was undone', () => {
    const first = stepTo(emptyHistory, withPoints(noExclusions, [7, 3], ' dirt '));
    expect(first.present.points).toEqual([
      { line: 3, reason: 'dirt' },
      { line: 7, reason: 'dirt' },
    ]);
    const second = stepTo(first, withFeature(first.present, flank, 'burr'));
    const back = undone(second)!;
    expect(back.present).toBe(first.present);
    expect(redone(back)!.present).toBe(second.present);
    expect(redone(stepTo(back, noExclusions))).toBeNull();
    expect(undone(historyFrom(second.present))).toBeNull();
    expect(reasonsGiven(second)).toEqual(['burr', 'dirt']);
  });

  test('take a new reason, or are taken back', () => {
    const now = withPoints(withPoints(noExclusions, [3, 7], 'dirt'), [7], 'burr');
    expect(now.points.map(({ reason }) => reason)).toEqual(['dirt', 'burr']);
    expect(withoutPoints(now, [3]).points.map(({ line }) => line)).toEqual([7]);
    const both = withFeature(withFeature(now, flank, 'a'), { ...flank, station: 5 }, 'b');
    expect(withoutFeature(both, flank).features).toEqual([{ station: 5, feature: 'FLANK', reason: 'b' }]);
    expect(withFeature(both, flank, 'c').features).toHaveLength(2);
  });

  test('stay with the disc on view while a reduction with others is refused', () => {
    const disc = exampleDisc();
    const exclusions = stepTo(emptyHistory, withPoints(noExclusions, [3], 'dirt'));
    const loaded = reduceSession(emptySession, {
      kind: 'finished',
      disc,
      files: {},
      job: 'one',
      exclusions: emptyHistory,
    });
    const refused = reduceSession(loaded, { kind: 'refused', problems: [{ code: 'x', message: 'no' }] });
    expect(refused.exclusions).toBe(emptyHistory);
    const again = reduceSession(loaded, { kind: 'finished', disc, files: {}, job: 'two', exclusions });
    expect(again).toMatchObject({ job: 'two', previous: { job: 'one', exclusions: noExclusions } });
    expect(again.exclusions).toBe(exclusions);
  });

  test('are told by reason', () => {
    const groups = byReason([...Array(8).keys()].map((line) => ({ line, reason: line === 2 ? 'b' : 'a' })));
    expect(groups.map(({ reason, words }) => [reason, words])).toEqual([
      ['a', '0, 1, 3, 4, 5, 6 and 1 more'],
      ['b', '2'],
    ]);
  });
});

describe('the feature on view', () => {
  const datum = (label: string, feature: string, association: Association): DatumDefinition => ({
    label,
    features: [feature],
    type: 'plane',
    nominal: { point: [0, 0, 0], direction: [0, 0, 1], radius: null, halfAngle: null },
    side: null,
    material: 'negative',
    clocking: 'direction',
    weights: 'equal',
    association,
  });
  const [blade, last, hub] = ['FLANK', 'END', 'FACE'] as const;
  const definition = {
    ...exampleDisc().definition,
    hubDatums: [datum('A', hub, 'minimax')],
    bladeDatums: [datum('B', blade, 'gaussian'), datum('C', last, 'gaussian')],
  };

  test('moves with the station, stays on the hub, and falls back where the plan has it no more', () => {
    expect(featureOnView(definition, 3, null)).toMatchObject({ station: 3, feature: blade });
    expect(featureOnView(definition, 5, { hub: false, feature: last })).toMatchObject({
      station: 5,
      feature: last,
    });
    expect(featureOnView(definition, 5, { hub: true, feature: hub })).toMatchObject({ station: null });
    expect(featureOnView(definition, 5, { hub: false, feature: 'gone' })).toMatchObject({ feature: blade });
    expect(featureOnView(definition, null, null)).toMatchObject({ station: null, feature: hub });
    expect(associationOf(definition, { station: null, feature: hub })).toBe('minimax');
    expect(associationOf(definition, { station: 2, feature: hub })).toBeNull();
  });
});

describe('the three-dimensional view', () => {
  test('draws each place of a blade at its displacement, magnified', () => {
    const { stations } = exampleDisc().result;
    const known = stations.filter(({ error }) => Object.values(error).every((value) => value !== null));
    const frames = bladeFrames(stations);
    expect(frames.map(({ station }) => station)).toEqual(known.map(({ station }) => station));
    const [frame] = frames;
    const [station] = known;
    const { axes } = station!.nominal;
    // The origin moves by the translation alone: along the three directions of the nominal frame.
    const along = axes.map((axis) =>
      axis.reduce((sum, value, i) => sum + value * frame!.origin.delta[i]!, 0),
    );
    const { oscillation, lateral, upset } = station!.error;
    for (const [i, value] of [oscillation!, lateral!, upset!].entries())
      expect(along[i]).toBeCloseTo(value, 12);
    const place = { at: [1, 2, 3], delta: [0.1, 0, -0.1] } as const;
    expect(moved(place, 10)).toEqual([2, 2, 2]);
  });

  test('has round figures at its axes in the unit of the window', () => {
    const box = { middle: [0, 0, 0], half: [400, 400, 50], longest: 800 } as const;
    const axisX = (length: 'mm' | 'µm' | 'inch') =>
      (sceneLayout(box, oblique, plotColours, 'sans-serif', { ...units, length }) as SceneAxes).scene.xaxis;
    for (const length of ['mm', 'µm'] as const) {
      expect(axisX(length).title.text).toBe('X, mm');
      expect(axisX(length).tickvals).toEqual([-400, -200, 0, 200, 400]);
    }
    const { title, ticktext, tickvals } = axisX('inch');
    expect(title.text).toBe('X, in');
    expect(ticktext).toEqual(['−10', '0', '10']);
    for (const [index, text] of ticktext.entries())
      expect(tickvals[index]).toBeCloseTo(25.4 * Number(text.replace('−', '-')), 9);
  });

  test('turns about the disc axis and finds its camera again after a drag', () => {
    const { eye, up } = cameraLayout(fromZ);
    expect(eye.z).toBeCloseTo(fromZ.distance, 5);
    expect(up).toEqual({ x: 0, y: 0, z: 1 });
    const camera = turned(nearer(oblique, 2), 30, -10);
    const layout = cameraLayout(camera);
    const found = cameraMoved({ 'scene.camera': layout })!;
    expect(found.azimuth).toBeCloseTo(camera.azimuth, 9);
    expect(found.elevation).toBeCloseTo(camera.elevation, 9);
    expect(found.distance).toBeCloseTo(camera.distance, 9);
    expect(turned(oblique, 0, 500).elevation).toBeLessThan(90);
    expect(cameraMoved({ 'xaxis.range': [0, 1] })).toBeNull();
  });
});

describe('the station table', () => {
  const rows = tableRows(exampleDisc());
  const numbers = (text: string): number[] =>
    filterRows(rows, { ...noFilter, numbers: text }).map(({ station }) => station);

  test('finds stations by number and by range, and hides nothing for what is neither', () => {
    expect(numbers('3, 7-9')).toEqual([3, 7, 8, 9]);
    expect(numbers('9-7;1')).toEqual([1, 7, 8, 9]);
    expect(numbers('16-')).toEqual([16, 17, 18]);
    expect(numbers('')).toHaveLength(rows.length);
    expect(parseNumbers('seven')).toBeNull();
    expect(numbers('seven')).toHaveLength(rows.length);
  });

  test('hides verdicts', () => {
    const shown = filterRows(rows, { hidden: ['conforming', 'missing'], numbers: '' });
    expect(shown.length).toBeGreaterThan(0);
    expect(shown.length).toBe(
      rows.filter(({ standing }) => standing === 'nonconforming' || standing === 'unproven').length,
    );
  });

  test('chooses several stations by adding and by range, in the order of the rows', () => {
    expect(toggled([], 4, 7)).toEqual([4, 7]);
    expect(toggled([4, 7], 7, 4)).toEqual([7]);
    expect(toggled([], 4, 4)).toEqual([4]);
    expect(rangeBetween([5, 1, 9, 3], 3, 1)).toEqual([1, 9, 3]);
    expect(rangeBetween([5, 1, 9], null, 9)).toEqual([9]);
    expect(rangeBetween([5, 1], 5, 8)).toEqual([]);
  });
});

describe('two reductions', () => {
  const disc = exampleDisc();
  const record = (part: Partial<ReductionRecord>): ReductionRecord => ({
    disc,
    files: {},
    exclusions: noExclusions,
    job: 'one',
    ...part,
  });

  test('of the same input differ in nothing', () => {
    expect(inputDifferences(record({}), record({ job: 'two' }))).toEqual([]);
    expect(stationChanges(disc, disc).filter((change) => isChanged(change, units))).toEqual([]);
  });

  test('show the change of a value, of a verdict and of the input', () => {
    const [first, ...rest] = disc.result.stations;
    const other = {
      ...disc,
      plan: { ...disc.plan, pose: 'bestfit' as const },
      result: {
        ...disc.result,
        stations: [
          { ...first!, error: { ...first!.error, upset: first!.error.upset! + 0.01 } },
          ...rest.slice(1),
        ],
        summary: {
          ...disc.result.summary,
          missing: [
            ...disc.result.summary.missing,
            { station: rest[0]!.station, angle: rest[0]!.angle, reason: 'left out' },
          ],
        },
      },
    };
    const changes = stationChanges(disc, other);
    const changed = changes.filter((change) => isChanged(change, units));
    expect(changed.map(({ station }) => station)).toEqual([first!.station, rest[0]!.station]);
    expect(changeOf(changed[0]!, 'upset')).toBeCloseTo(0.01, 12);
    expect(changed[1]).toMatchObject({ after: { standing: 'missing', result: null } });
    expect(changeOf(changed[1]!, 'upset')).toBeNull();
    expect(inputDifferences(record({}), record({ disc: other })).map(({ what }) => what)).toEqual([
      'blade frame',
    ]);
  });

  test('print a position and its change so that they agree', () => {
    const withPosition = (value: number) => ({
      ...disc,
      result: {
        ...disc.result,
        stations: disc.result.stations.map((station) => ({
          ...station,
          position: { ...station.position, value },
        })),
      },
    });
    const [change] = stationChanges(withPosition(0.041_84), withPosition(0.041_86));
    expect(positionTexts(change!, units)).toEqual({
      before: '0.04184',
      after: '0.04186',
      change: '+0.00002',
    });
    expect(isChanged(change!, units)).toBe(true);
    const [alike] = stationChanges(withPosition(0.0418), withPosition(0.041_81));
    expect(positionTexts(alike!, units)).toEqual({ before: '0.0418', after: '0.0418', change: '0.0000' });
    expect(isChanged(alike!, units)).toBe(false);
  });

  test('name what one leaves out and the other does not, for the same point file only', () => {
    const left = record({ exclusions: withPoints(noExclusions, [5], 'dirt') });
    expect(exclusionChanges(record({}), left)).toEqual([
      { kind: 'left out', what: 'point on line 5', reason: 'dirt' },
    ]);
    expect(exclusionChanges(left, record({}))).toMatchObject([{ kind: 'taken back' }]);
    const { result } = disc;
    const points = { ...result.source.points, sha256: 'another' };
    const elsewhere = { ...disc, result: { ...result, source: { ...result.source, points } } };
    expect(exclusionChanges(record({ disc: elsewhere }), left)).toEqual([]);
  });
});
