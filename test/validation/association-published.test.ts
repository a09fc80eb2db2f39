/**
 * Associations against published examples.
 * - Circle: Gander, Golub & Strebel, "Least-squares fitting of circles and ellipses", BIT 34 (1994) 558–578, first example
 *   (points and four printed decimals: value from memory; more digits by mpmath at 40 digits).
 * - Line: Pearson, "On lines and planes of closest fit to systems of points in space", Phil. Mag. (6) 2 (1901) 559–572
 *   (points and 5.784, −0.5456: value from memory; more digits recomputed).
 * - Plane and line in space: the first three columns of Anderson's irises (Fisher 1936; `datasets::iris` of R), principal
 *   components by `prcomp` of R.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { associateCircle, associateLine, associatePlane } from '../../shared-math/association/index.ts';
import { angleBetween, distance } from '../../shared-math/geometry/vector.ts';

describe('published fits', () => {
  test('circle of Gander, Golub & Strebel', () => {
    const xyz = Float64Array.of(1, 7, 0, 2, 6, 0, 5, 8, 0, 7, 7, 0, 9, 5, 0, 3, 7, 0);
    const circle = associateCircle({ xyz }, { kind: 'fixed', direction: [0, 0, 1] });
    expect(circle.point[0]).toBeCloseTo(4.7398, 4);
    expect(circle.point[1]).toBeCloseTo(2.9835, 4);
    expect(circle.radius).toBeCloseTo(4.7142, 4);
    expect(distance(circle.point, [4.739782410906074, 2.983532699292475, 0])).toBeLessThan(1e-12);
    expect(circle.radius).toBeCloseTo(4.71422603779211, 13);
    expect(circle.sumOfSquares).toBeCloseTo(1.227599078183656, 13);
  });

  test('line of Pearson', () => {
    const x = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
    const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
    const xyz = Float64Array.from(x.flatMap((value, i) => [value, y[i]!, 0]));
    const line = associateLine({ xyz }, { kind: 'free', start: [1, 0, 0] });
    const slope = line.direction![1] / line.direction![0];
    expect(slope).toBeCloseTo(-0.5456, 4);
    expect(line.point[1] - slope * line.point[0]).toBeCloseTo(5.784, 3);
    expect(slope).toBeCloseTo(-0.545561197521, 12);
    expect(line.sumOfSquares).toBeCloseTo(0.618572759437, 12);
  });

  test('plane and line through the irises', () => {
    const text = readFileSync(new URL('data/iris-three-columns.csv', import.meta.url), 'utf8');
    const rows = text.split('\n').filter((row) => /^\d/.test(row));
    const xyz = Float64Array.from(rows.flatMap((row) => row.split(',').map(Number)));
    const plane = associatePlane({ xyz }, { kind: 'free', start: [-1, 1, 1] });
    const line = associateLine({ xyz }, { kind: 'free', start: [0, 0, 1] });
    expect(plane.points).toBe(150);
    expect(distance(plane.point, [5.843333333333, 3.057333333333, 3.758])).toBeLessThan(1e-11);
    expect(angleBetween(plane.direction!, [-0.662890262992, 0.663009326109, 0.347843546329])).toBeLessThan(
      2e-12,
    );
    expect(angleBetween(line.direction!, [0.3898334290298, -0.0910080129147, 0.9163773454184])).toBeLessThan(
      2e-12,
    );
    // prcomp prints standard deviations with n − 1.
    expect(Math.sqrt(plane.sumOfSquares / 149)).toBeCloseTo(0.243831337756, 11);
    expect(line.sumOfSquares / 149).toBeCloseTo(0.491301610814 ** 2 + 0.243831337756 ** 2, 10);
  });
});
