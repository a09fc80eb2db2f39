/**
 * The circle of least radius about points, the two-freedom case of a correction, against published results.
 *
 * Sources: PostGIS manual, ST_MinimumBoundingRadius (the first set with its printed centre and radius); Alibaba Cloud
 * documentation of the same function, help.aliyun.com (the square); W. Gander, G. H. Golub, R. Strebel, BIT 34 (1994) 558–578 (points of the
 * first worked example; their smallest circle is fixed by the first and the fifth, a diameter of √68).
 */
import { describe, expect, test } from 'vitest';
import { boxMinimax } from '../../shared-math/diagnosis/corrections/box-minimax.ts';

/** Points less their scale, so that lengths are near 1 as those of shares of a tolerance are. */
function smallestCircle(points: readonly (readonly [number, number])[], unit: number) {
  const [x0, y0] = points[0]!;
  const offsets = new Float64Array(3 * points.length);
  const rows = new Float64Array(6 * points.length);
  points.forEach(([x, y], j) => {
    offsets.set([(x - x0) / unit, (y - y0) / unit], 3 * j);
    rows[6 * j] = -1;
    rows[6 * j + 3] = -1;
  });
  const wide = { lower: new Float64Array(2).fill(-100), upper: new Float64Array(2).fill(100) };
  const found = boxMinimax({ count: points.length, size: 2, offsets, rows }, wide, [true, true]);
  return {
    centre: [x0 + unit * found.step[0]!, y0 + unit * found.step[1]!] as const,
    radius: unit * found.value,
    lower: unit * found.lower,
  };
}

describe('circle of least radius', () => {
  test('PostGIS manual', () => {
    const points = [
      [26426, 65078],
      [26531, 65242],
      [26075, 65136],
      [26096, 65427],
    ] as const;
    const { centre, radius, lower } = smallestCircle(points, 250);
    expect(radius).toBeCloseTo(247.436045591407, 6);
    expect(centre[0]).toBeCloseTo(26284.8418027133, 5);
    expect(centre[1]).toBeCloseTo(65267.1145090825, 5);
    expect(lower).toBeGreaterThan(247.436045591407 - 1e-5);
    expect(lower).toBeLessThanOrEqual(radius);
  });

  test('the corners of a square', () => {
    const { centre, radius } = smallestCircle(
      [
        [0, 1],
        [-1, 0],
        [0, -1],
        [1, 0],
      ],
      1,
    );
    expect(radius).toBeCloseTo(1, 9);
    expect(centre[0]).toBeCloseTo(0, 9);
    expect(centre[1]).toBeCloseTo(0, 9);
  });

  test('the points of Gander, Golub and Strebel', () => {
    const { centre, radius } = smallestCircle(
      [
        [1, 7],
        [2, 6],
        [5, 8],
        [7, 7],
        [9, 5],
        [3, 7],
      ],
      4,
    );
    expect(radius).toBeCloseTo(Math.sqrt(17), 9);
    expect(centre[0]).toBeCloseTo(5, 5);
    expect(centre[1]).toBeCloseTo(6, 5);
  });
});
