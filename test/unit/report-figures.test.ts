/** The figures as lists of shapes, and these as SVG. */
import { describe, expect, it } from 'vitest';
import type { CheckPointResult, StationResult } from '../../shared-math/result.ts';
import { errorBars } from '../../src-main/report/figures/error-bars.ts';
import { polarMap } from '../../src-main/report/figures/polar-map.ts';
import {
  type Drawing,
  type EllipseShape,
  label,
  type PathShape,
} from '../../src-main/report/figures/shapes.ts';
import { stationErrors } from '../../src-main/report/figures/station-errors.ts';
import { toSvg } from '../../src-main/report/figures/to-svg.ts';
import { zonePicture } from '../../src-main/report/figures/zone-picture.ts';
import { textWidth } from '../../src-main/report/fonts/measure.ts';
import { toneInk } from '../../src-main/report/palette.ts';

const words = {
  title: 'Map',
  tolerance: '⌀ 50 µm',
  verdicts: { conforming: 'c', nonconforming: 'n', unproven: 'u', missing: 'm' },
};

function station(
  number: number,
  angle: number,
  value: number,
  verdict: 'conforming' | 'nonconforming' = 'conforming',
) {
  const point = { name: 'tip', value, expanded: 0.01, tolerance: 0.05 };
  return { station: number, angle, verdict, position: { checkPoints: [point] } } as unknown as StationResult;
}

function ellipses({ shapes }: Drawing): readonly EllipseShape[] {
  return shapes.filter((shape) => shape.kind === 'ellipse');
}

describe('the polar map', () => {
  // 0.05 lies on the ring; the scale ends at 1.2 of it.
  const map = polarMap([station(1, 0, 0.05), station(2, 90, 0)], [], words, 200);
  const ring = ellipses(map).find(({ stroke }) => stroke?.dash?.[0] === 5);
  const marks = ellipses(map).filter(({ fill, y }) => fill === toneInk.conforming && y < 200);

  it('puts a position of the tolerance on the ring, at the station’s angle, counterclockwise from the right', () => {
    expect(marks[0]?.x).toBeCloseTo(100 + (ring?.rx ?? 0), 9);
    expect(marks[0]?.y).toBeCloseTo(100, 9);
    expect(marks[1]?.x).toBeCloseTo(100, 9);
    expect(marks[1]?.y).toBeLessThan(100);
  });

  it('draws further out in proportion, from the hub', () => {
    const far = polarMap([station(1, 0, 0.1), station(2, 180, 0)], [], words, 200);
    const [one, zero] = ellipses(far).filter(({ fill, y }) => fill === toneInk.conforming && y < 150);
    const dashed = ellipses(far).find(({ stroke }) => stroke?.dash?.[0] === 5);
    const hub = 100 - (zero?.x ?? 0);
    expect((one?.x ?? 0) - 100 - hub).toBeCloseTo(2 * ((dashed?.rx ?? 0) - hub), 9);
  });

  it('marks a nonconforming station by shape as well as by colour', () => {
    const broken = polarMap([station(1, 0, 0.1, 'nonconforming')], [], words, 200);
    const squares = broken.shapes.filter(
      (shape): shape is PathShape =>
        shape.kind === 'path' && shape.closed && shape.fill === toneInk.nonconforming,
    );
    // One of the station, one of the legend.
    expect(squares.map(({ points }) => points.length)).toEqual([4, 4]);
  });

  it('marks a missing station with a dash at its angle, as tables do, and not with the cross of a nonconforming one', () => {
    const drawn = polarMap([], [{ station: 3, angle: 270, reason: '' }], words, 200);
    const dashes = drawn.shapes.filter(
      (shape): shape is PathShape => shape.kind === 'path' && shape.stroke?.colour === toneInk.missing,
    );
    // One of the station, one of the legend.
    expect(dashes).toHaveLength(2);
    const [[x1, y1] = [0, 0], [x2, y2] = [0, 0]] = dashes[0]?.points ?? [];
    expect((x1 + x2) / 2).toBeCloseTo(100, 6);
    expect(x2 - x1).toBeGreaterThan(3);
    expect(y2).toBe(y1);
    expect(y1).toBeGreaterThan(120);
  });
});

describe('the zone picture', () => {
  const point = {
    name: 'tip',
    zone: 'cylindrical',
    tolerance: 0.1,
    displacement: [0.05, 0, 0.3],
    direction: null,
    covariance: [
      [1e-6, 0, 0],
      [0, 4e-6, 0],
      [0, 0, 1e-6],
    ],
    verdict: 'conforming',
  } as unknown as CheckPointResult;
  const zoneWords = {
    title: 'Zone',
    oscillation: 'oscillation',
    lateral: 'lateral',
    upset: 'upset',
    size: () => '⌀ 0.1',
    length: (value: number) => `${value} mm`,
  };

  it('shows a displacement of half the tolerance on the edge of the zone', () => {
    const [zone, ellipse, mark] = ellipses(zonePicture([point], 0.95, zoneWords, 200));
    expect((mark?.x ?? 0) - 100).toBeCloseTo(zone?.rx ?? 0, 6);
    expect(mark?.y).toBeCloseTo(100, 6);
    // Twice the standard deviation across: an ellipse of twice the axis, turned upright.
    expect((ellipse?.rx ?? 0) / (ellipse?.ry ?? 1)).toBeCloseTo(2, 6);
    expect(Math.abs(ellipse?.turn ?? 0)).toBeCloseTo(90, 6);
  });

  it('shows a positive lateral displacement upwards', () => {
    const up = { ...point, displacement: [0, 0.02, 0] } as unknown as CheckPointResult;
    expect(ellipses(zonePicture([up], 0.95, zoneWords, 200)).at(-1)?.y).toBeLessThan(100);
  });

  it('gives a zone between two planes a strip of its own', () => {
    const planar = { ...point, zone: 'planar', direction: [1, 0, 0] } as unknown as CheckPointResult;
    const drawn = zonePicture([point, planar], 0.95, zoneWords, 200);
    expect(drawn.height).toBeGreaterThan(200);
    const mark = ellipses(drawn).at(-1);
    const edges = drawn.shapes.filter(
      (shape): shape is PathShape => shape.kind === 'path' && shape.stroke?.dash?.[0] === 5,
    );
    const right = Math.max(...edges.map(({ points }) => points[0]?.[0] ?? 0));
    expect(mark?.x).toBeCloseTo(right, 6);
  });

  it.each([
    ['their middle', ['left', 'right', 'upper'].map((at) => `UPPER-TRANSITION-${at}-OF-THE-AIRFOIL-STUB`)],
    ['their end', ['A', 'B'].map((at) => `MEASURED-ON-THE-UPPER-TRANSITION-${at}`)],
    [
      'two places',
      ['a1', 'a2', 'b1'].map((at) => `UPPER-TRANSITION-OF-${at[0]}-AIRFOIL-STUB-${at[1]}-MEASURED-AGAIN`),
    ],
  ])('tells names apart that are too long for it and differ in %s', (_, names) => {
    const points = names.flatMap((name, i) => {
      const displacement = [0.02, 0.01 * i, 0];
      const named = { ...point, name, displacement } as unknown as CheckPointResult;
      return i === 0
        ? [named]
        : [named, { ...named, zone: 'planar', direction: [1, 0, 0] } as CheckPointResult];
    });
    const drawn = zonePicture(points, 0.95, zoneWords, 200);
    const shown = drawn.shapes.flatMap((shape) =>
      shape.kind === 'text' && shape.bold === true && shape.text.includes('…')
        ? [shape.text.replace(/: ⌀.*/, '')]
        : [],
    );
    expect(shown).toHaveLength(points.length);
    expect(new Set(shown.slice(0, names.length)).size).toBe(names.length);
    for (const text of shown) expect(textWidth(text, 7.5, true)).toBeLessThan(190);
  });

  it('writes no name across the edge of the zone where it can stand beside it', () => {
    for (let angle = -60; angle <= 240; angle += 12)
      for (const share of [0.5, 0.7, 0.8, 0.9, 1]) {
        const across = Math.abs(Math.cos((angle * Math.PI) / 180));
        // Above and below the edge runs along the name; near the frame there is no room beside it.
        if (across < 0.6 || across * share > 0.75) continue;
        const displacement = [Math.cos, Math.sin].map(
          (along) => 0.05 * share * along((angle * Math.PI) / 180),
        );
        const placed = {
          ...point,
          displacement: [...displacement, 0],
          covariance: null,
        } as unknown as CheckPointResult;
        const drawn = zonePicture([placed], 0.95, zoneWords, 200);
        const ring = ellipses(drawn)[0]?.rx ?? 0;
        const name = drawn.shapes.find((shape) => shape.kind === 'text' && shape.text === 'tip');
        if (name?.kind !== 'text') throw new Error('There is no name.');
        const wide = textWidth('tip', 7.5, true);
        const start = name.anchor === 'end' ? name.x - wide : name.x;
        const beyond = [start, start + wide].flatMap((x) =>
          [name.y - 5, name.y + 1].map((y) => Math.hypot(x - 100, y - 100) > ring),
        );
        expect(new Set(beyond).size, `${angle}°, ${share}`).toBe(1);
      }
  });

  it('scales its bar to what it says', () => {
    const drawn = zonePicture([point], 0.95, zoneWords, 200);
    const says = drawn.shapes.flatMap((shape) =>
      shape.kind === 'text' && shape.text.endsWith(' mm') ? [Number.parseFloat(shape.text)] : [],
    )[0];
    const bar = drawn.shapes.filter(
      (shape): shape is PathShape =>
        shape.kind === 'path' && shape.stroke?.width === 0.8 && shape.points[0]?.[1] === shape.points[1]?.[1],
    )[0];
    const length = (bar?.points[1]?.[0] ?? 0) - (bar?.points[0]?.[0] ?? 0);
    const [zone] = ellipses(drawn);
    expect(length / (says ?? 1)).toBeCloseTo((zone?.rx ?? 0) / 0.05, 6);
  });
});

describe('bars and panels', () => {
  const bar = {
    name: 'a',
    text: '1',
    value: 0.02,
    expanded: 0.001,
    limit: 0.02,
    tone: 'conforming' as const,
  };

  it('end a bar of its limit at the limit', () => {
    const drawn = errorBars([[bar]], 'Errors', 300);
    const filled = drawn.shapes.find(
      (shape): shape is PathShape => shape.kind === 'path' && shape.fill === toneInk.conforming,
    );
    const limits = drawn.shapes.filter(
      (shape): shape is PathShape => shape.kind === 'path' && shape.stroke?.dash !== undefined,
    );
    expect(Math.max(...(filled?.points.map(([x]) => x) ?? []))).toBeCloseTo(
      Math.max(...limits.flatMap(({ points }) => points.map(([x]) => x))),
      9,
    );
  });

  it('draw a station on its limit on the line of the limit, and nothing for a value that is not there', () => {
    const point = { station: 1, value: 0.02, expanded: 0.001, tone: 'conforming' as const };
    const panel = {
      title: 'a',
      limit: 0.02,
      text: String,
      points: [point, { ...point, station: 2, value: null }],
    };
    const drawn = stationErrors([panel], 2, 'Errors', 300);
    const marks = ellipses(drawn);
    expect(marks).toHaveLength(1);
    const lines = drawn.shapes.filter(
      (shape): shape is PathShape => shape.kind === 'path' && shape.stroke?.dash !== undefined,
    );
    expect(marks[0]?.y).toBeCloseTo(Math.min(...lines.map(({ points }) => points[0]?.[1] ?? 0)), 9);
  });
});

describe('SVG', () => {
  it('escapes its texts and names itself', () => {
    const svg = toSvg({
      width: 10,
      height: 5,
      title: 'a "b" <c>',
      shapes: [label(1, 2, '<&>', { colour: '#000000' })],
    });
    expect(svg).toContain('aria-label="a &quot;b&quot; &lt;c&gt;"');
    expect(svg).toContain('>&lt;&amp;&gt;</text>');
    expect(svg).toContain('viewBox="0 0 10 5"');
  });
});
