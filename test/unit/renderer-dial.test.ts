import { describe, expect, test } from 'vitest';
import type { Units } from '../../src-renderer/format/format.ts';
import {
  dialPlace,
  HUB,
  pointAt,
  radiusAt,
  rangeMoved,
  sectorPath,
} from '../../src-renderer/views/polar-map/dial-geometry.ts';
import { mapLayout, picturedLayout } from '../../src-renderer/views/polar-map/layout.ts';
import { groundsOf, mapMarks, mapScale, placeOnScale } from '../../src-renderer/views/polar-map/marks.ts';
import { mapData } from '../../src-renderer/views/polar-map/series.ts';
import { exampleDisc } from '../support/example-disc.ts';
import { plotColours } from '../support/plot-colours.ts';

const place = dialPlace({ width: 460, height: 652 });

describe('the dial on the page', () => {
  test('is the largest circle between the margins, in their middle', () => {
    expect(place).toEqual({ cx: 230, cy: 326, rim: 200, hub: HUB * 200 });
    expect(dialPlace({ width: 700, height: 252 })).toMatchObject({ cx: 350, cy: 126, rim: 100 });
    expect(dialPlace({ width: 0, height: 0 }).rim).toBe(0);
  });

  test('has the ends of its range at hub and rim, and what is beyond them beyond', () => {
    expect(radiusAt(place, [-2, 6], -2)).toBe(place.hub);
    expect(radiusAt(place, [-2, 6], 6)).toBe(place.rim);
    expect(radiusAt(place, [-2, 6], 2)).toBeCloseTo((place.hub + place.rim) / 2, 12);
    expect(radiusAt(place, [0, 1], 1.5)).toBeGreaterThan(place.rim);
    expect(radiusAt(place, [0, 1], -0.1)).toBeLessThan(place.hub);
  });

  test('counts angles from the right, counterclockwise', () => {
    expect(pointAt(place, 0, 100)).toEqual([330, 326]);
    expect(pointAt(place, 90, 100)[0]).toBeCloseTo(230, 12);
    expect(pointAt(place, 90, 100)[1]).toBe(226);
    expect(pointAt(place, -90, 100)[1]).toBe(426);
  });

  test('a ground lies to either side of its station', () => {
    const numbers =
      sectorPath(place, 90, 20, 100, 200)
        .match(/-?[\d.]+/g)
        ?.map(Number) ?? [];
    const corners = [0, 2, 9, 11].map((index) => [numbers[index], numbers[index + 1]]);
    expect(corners[0]?.[0]).toBeGreaterThan(230);
    // Mirrored about the spoke.
    expect((corners[0]?.[0] ?? 0) + (corners[3]?.[0] ?? 0)).toBeCloseTo(460, 1);
    expect(corners[1]?.[1]).toBeCloseTo(corners[2]?.[1] ?? Number.NaN, 1);
  });

  test('hears of a box that the person has drawn, and of nothing else', () => {
    expect(rangeMoved({ 'polar.radialaxis.range': [0.01, 0.03] })).toEqual([0.01, 0.03]);
    for (const change of [{ autosize: true }, {}, { 'polar.radialaxis.range': [1, 1] }])
      expect(rangeMoved(change)).toBeNull();
  });
});

describe('the selection', () => {
  const disc = exampleDisc();
  const units: Units = { length: 'mm', rotation: 'degree' };
  const marks = mapMarks(disc, 'position', units);
  const scale = mapScale(marks, 'position', 0.05, 'limit');
  const options = { marks, name: 'position', units, scale, colours: plotColours } as const;

  test('has a ground for each station, the widest for the one on the card', () => {
    const grounds = groundsOf(marks, 7, [3, 7, 9]);
    expect(grounds.map(({ station }) => station)).toEqual([3, 7, 9]);
    const [third, seventh, ninth] = grounds.map(({ width }) => width);
    expect(third).toBe(ninth);
    expect(seventh).toBeGreaterThan(third ?? Number.NaN);
    expect(groundsOf(marks, null, [])).toEqual([]);
  });

  test('stands where the plot draws its mark', () => {
    const traces = mapData({ ...options, selected: null, marked: [] }) as unknown as {
      readonly customdata?: readonly number[];
      readonly r: readonly number[];
    }[];
    for (const mark of marks) {
      const trace = traces.find(({ customdata }) => customdata?.includes(mark.station));
      expect(trace?.r[trace.customdata?.indexOf(mark.station) ?? -1]).toBe(placeOnScale(mark, scale));
    }
  });

  test('is in a saved picture, and in the plot of the page not', () => {
    const reading = ['Station 7', '0.0724', '+ 0.0110 mm'] as const;
    const pictured = picturedLayout(options, [0.01, 0.03], reading, true);
    const words = pictured.annotations?.map(({ text }) => text);
    expect(words?.slice(0, 3)).toEqual(reading);
    expect(words?.[3]).toMatch(/^scale in mm<br>dashed: tolerance /);
    expect(picturedLayout(options, [0.01, 0.03], reading, false).annotations).toHaveLength(3);
    expect(pictured.polar?.bgcolor).toBe(plotColours.dial);
    // A box that is drawn on the page is in the picture as well.
    expect(pictured.polar?.radialaxis?.range).toEqual([0.01, 0.03]);
    expect(mapLayout(options).annotations).toBeUndefined();
    const isGround = (trace: object): boolean =>
      JSON.stringify(trace).includes(`"color":"${plotColours.select}"`);
    expect(mapData({ ...options, selected: 7, marked: [] }).filter(isGround)).toHaveLength(1);
    expect(mapData({ ...options, selected: null, marked: [] }).filter(isGround)).toHaveLength(0);
  });
});
