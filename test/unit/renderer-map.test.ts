import { describe, expect, test } from 'vitest';
import type { Units } from '../../src-renderer/format/format.ts';
import { mapLayout, radialTicks, scaleNote } from '../../src-renderer/views/polar-map/layout.ts';
import {
  isCrowded,
  limitRings,
  type MapMark,
  mapMarks,
  mapScale,
  smallestPitch,
} from '../../src-renderer/views/polar-map/marks.ts';
import { mapData } from '../../src-renderer/views/polar-map/series.ts';
import { exampleDisc } from '../support/example-disc.ts';
import { plotColours as colours } from '../support/plot-colours.ts';

const disc = exampleDisc();
const mm: Units = { length: 'mm', rotation: 'degree' };

interface Trace {
  readonly type: string;
  readonly mode?: string;
  readonly name?: string;
  readonly r: readonly (number | null)[];
  readonly theta: readonly (number | null)[];
  readonly text?: readonly string[];
  readonly textposition?: unknown;
  readonly customdata?: readonly number[];
  readonly line?: { readonly color: string; readonly dash?: string };
  readonly marker?: { readonly symbol?: string };
}

function traces(
  name: 'position' | 'lateral',
  marks = mapMarks(disc, name, mm),
  mode: 'all' | 'limit' = 'limit',
) {
  const scale = mapScale(marks, name, 0.05, mode);
  const data = mapData({
    marks,
    name,
    units: mm,
    scale,
    colours,
    selected: 7,
    marked: [],
  }) as unknown as Trace[];
  return { marks, scale, data };
}
const points = (data: readonly Trace[]) => data.filter((trace) => trace.mode === 'markers');

describe('the polar map', () => {
  test('puts every planned station at its planned angle, at the value of the result', () => {
    const { data, scale } = traces('position');
    const seen = new Map<number, [number, number]>();
    for (const trace of points(data))
      trace.customdata?.forEach((station, index) => {
        seen.set(station, [trace.theta[index] ?? Number.NaN, trace.r[index] ?? Number.NaN]);
      });
    expect(seen.size).toBe(18);
    for (const station of disc.result.stations)
      expect(seen.get(station.station)).toEqual([station.angle, station.position.value]);
    // Without a value it stands near the rim, where nobody reads one.
    expect(seen.get(12)?.[0]).toBe(220);
    expect(seen.get(12)?.[1]).toBeGreaterThan(scale.to * 0.9);
  });

  test('draws U as whiskers: up from a position, both ways from a signed value', () => {
    const whisker = (name: 'position' | 'lateral', station: number) => {
      const { data, marks } = traces(name);
      const mark = marks.find((entry) => entry.station === station);
      const line = data.find((trace) => trace.name === 'U');
      const at = line?.theta.indexOf(mark?.angle ?? Number.NaN) ?? -1;
      return { value: mark?.value ?? Number.NaN, ends: line?.r.slice(at, at + 3) };
    };
    const third = disc.result.stations.find((station) => station.station === 3);
    const position = whisker('position', 3);
    expect(position.ends).toEqual([position.value, position.value + (third?.position.expanded ?? 0), null]);
    const lateral = whisker('lateral', 3);
    const half = third?.uncertainty?.expanded.lateral ?? Number.NaN;
    expect(lateral.ends).toEqual([lateral.value - half, lateral.value + half, null]);
  });

  test('tells the verdicts apart by symbol as well as by colour', () => {
    const symbols = points(traces('position').data).map((trace) => [trace.name, trace.marker?.symbol]);
    expect(new Set(symbols.map(([, symbol]) => symbol)).size).toBe(symbols.length);
    expect(symbols).toContainEqual(['nonconforming', 'diamond']);
    expect(symbols).toContainEqual(['missing', 'x-thin-open']);
  });

  test('draws the tolerance as one ring, a signed limit as two about a zero ring', () => {
    const rings = (data: readonly Trace[]) =>
      data.filter((trace) => trace.line?.dash === 'dash').map((trace) => trace.r[0]);
    expect(rings(traces('position').data)).toEqual([0.05]);
    expect(rings(traces('lateral').data)).toEqual([0.025, -0.025]);
    const zero = traces('lateral').data.filter(
      (trace) => trace.line?.dash === 'solid' && trace.r.every((r) => r === 0),
    );
    expect(zero).toHaveLength(1);
  });

  test('marks a limit of a single station beside the common one', () => {
    const marks = mapMarks(disc, 'lateral', mm).map(
      (mark): MapMark => (mark.station === 3 ? { ...mark, limit: 0.04 } : mark),
    );
    expect(limitRings(marks)).toMatchObject({ common: 0.025, own: [{ station: 3 }] });
  });

  test('a mark judges the quantity on view, not the whole station', () => {
    const marks = mapMarks(disc, 'upset', mm);
    expect(disc.result.stations.find((station) => station.station === 7)?.verdict).toBe('nonconforming');
    expect(marks.find((mark) => mark.station === 7)?.standing).toBe('conforming');
    expect(mapMarks(disc, 'rotUpset', mm).find((mark) => mark.station === 4)).toMatchObject({
      value: null,
      standing: 'unproven',
    });
  });
});

describe('the scale', () => {
  const far = mapMarks(disc, 'position', mm).map(
    (mark): MapMark => (mark.station === 7 ? { ...mark, value: 0.4 } : mark),
  );

  test('holds all values, unless one would press the others into the hub', () => {
    const plain = mapMarks(disc, 'position', mm);
    expect(isCrowded(plain)).toBe(false);
    expect(mapScale(plain, 'position', 0.05, 'limit')).toEqual(mapScale(plain, 'position', 0.05, 'all'));
    expect(isCrowded(far)).toBe(true);
    expect(mapScale(far, 'position', 0.05, 'limit').to).toBeLessThan(0.1);
    expect(mapScale(far, 'position', 0.05, 'all').to).toBeGreaterThan(0.4);
  });

  test('a value beyond it stands inside the rim with its figure', () => {
    const { data, scale } = traces('position', far);
    const mark = points(data).find((trace) => trace.customdata?.includes(7));
    expect(mark?.r[mark.customdata?.indexOf(7) ?? -1]).toBeLessThan(scale.to);
    const words = data.filter((trace) => trace.mode === 'text');
    expect(words.map(({ text }) => text)).toContainEqual(['0.4000']);
    // The name of the axis stands at 0°, whatever the sense of the stations.
    expect(words.find(({ text }) => String(text).includes('+X'))?.theta).toEqual([0]);
  });

  test('the name of the axis leaves the numbers of the stations beside it room', () => {
    const placeWith = (...angles: number[]): unknown => {
      const some = far.slice(0, angles.length).map((mark, index) => ({ ...mark, angle: angles[index]! }));
      return traces('position', some).data.find(({ text }) => String(text).includes('+X'))?.textposition;
    };
    expect(placeWith(9, -9, 171)).toBe('middle right');
    expect(placeWith(0, 18, -18)).toBe('bottom right');
    expect(placeWith(0, -8, 40)).toBe('top right');
    expect(placeWith(354, 90, 180)).toBe('top right');
  });

  test('of signed quantities is symmetric, and of nothing is not empty', () => {
    const marks = mapMarks(disc, 'lateral', mm);
    const scale = mapScale(marks, 'lateral', 0.05, 'all');
    expect(scale.from).toBe(-scale.to);
    expect(mapScale([], 'position', 0.05, 'limit').to).toBeGreaterThan(0);
  });

  test('has round figures that start at zero', () => {
    expect(radialTicks(0, 0.063)).toEqual([0, 0.02, 0.04, 0.06]);
    for (const tick of radialTicks(-0.028, 0.028)) expect(Math.abs(tick)).toBeLessThanOrEqual(0.028);
    expect(radialTicks(-0.028, 0.028)).toContain(0);
  });
});

test('clockwise discs count their angles downwards; labels and pitch do not mind', () => {
  expect(smallestPitch([9, -9, -27, -333])).toBe(18);
  expect(smallestPitch([350, 5, 120])).toBe(15);
  const marks = mapMarks(disc, 'position', mm).map((mark): MapMark => ({ ...mark, angle: -mark.angle }));
  const layout = mapLayout({
    marks,
    name: 'position',
    units: mm,
    scale: mapScale(marks, 'position', 0.05, 'limit'),
    colours,
  });
  const ticks = layout.polar?.angularaxis?.tickvals as readonly number[];
  expect(ticks).toHaveLength(18);
  for (const tick of ticks) expect(tick).toBeGreaterThanOrEqual(0);
  expect(ticks[1]).toBe(340);
});

test('the limit in the note on the scale leaves no value on its other side', () => {
  const inches: Units = { length: 'inch', rotation: 'degree' };
  // 0.05 mm are 0.0019685 inches, and 0.050 01 mm are 0.0019689: both would be written 0.001969.
  const marks = mapMarks(disc, 'position', inches).map(
    (mark): MapMark => ({ ...mark, limit: 0.05, value: mark.station === 7 ? 0.050_01 : 0.03 }),
  );
  const note = scaleNote({
    marks,
    name: 'position',
    units: inches,
    scale: mapScale(marks, 'position', 0.05, 'all'),
    colours,
  });
  expect(note.at(-1)).toBe('dashed: tolerance 0.0019685');
});
