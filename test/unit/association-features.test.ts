/** Fits of data that can be checked by hand: exact features with a small known pattern of errors. */
import { describe, expect, test } from 'vitest';
import {
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associateMidplane,
  associatePlane,
  associatePoint,
  associateSphere,
  midplaneResiduals,
  type Orientation,
  residualDistances,
} from '../../shared-math/association/index.ts';
import { distance } from '../../shared-math/geometry/vector.ts';

const up: Orientation = { kind: 'free', start: [0, 0, 1] };
const alongZ: Orientation = { kind: 'fixed', direction: [0, 0, 1] };
const xyz = (...values: number[]): Float64Array => Float64Array.from(values);

/** `count` points around z at the given radius and height. */
function ring(count: number, radius: number, z: number, turn = 0): number[] {
  return Array.from({ length: count }, (_, k) => {
    const t = turn + (2 * Math.PI * k) / count;
    return [radius * Math.cos(t), radius * Math.sin(t), z];
  }).flat();
}

describe('plane', () => {
  // A square whose corners lie alternately 3 µm above and below z = 5.
  const square = xyz(0, 0, 5.003, 10, 0, 4.997, 10, 10, 5.003, 0, 10, 4.997);

  test('alternating corners leave the plane level', () => {
    const plane = associatePlane({ xyz: square }, up);
    expect(distance(plane.point, [5, 5, 5])).toBeLessThan(1e-15);
    expect(distance(plane.direction!, [0, 0, 1])).toBeLessThan(1e-15);
    expect(plane.rms).toBeCloseTo(0.003, 15);
    expect(plane.form).toBeCloseTo(0.006, 15);
    expect(plane.sumOfSquares).toBeCloseTo(4 * 0.003 ** 2, 15);
    expect(plane.degreesOfFreedom).toBe(1);
    expect([...residualDistances(plane, { xyz: square })].map((d) => Math.round(d * 1e6))).toEqual([
      3000, -3000, 3000, -3000,
    ]);
  });

  test('cofactor: 1/n for the offset, 1/Σx² for the tilts', () => {
    const { cofactor, parameters } = associatePlane({ xyz: square }, up);
    expect(parameters).toEqual(['offset', 'tilt1', 'tilt2']);
    expect(cofactor[0]![0]).toBeCloseTo(1 / 4, 14);
    expect(cofactor[1]![1]).toBeCloseTo(1 / 100, 10);
    expect(cofactor[2]![2]).toBeCloseTo(1 / 100, 10);
  });

  test('the start gives the sense, and offsets move the plane against it', () => {
    const offsets = new Float64Array(4).fill(1.5);
    const down = associatePlane({ xyz: square, offsets }, { kind: 'free', start: [0.3, 0, -2] });
    expect(distance(down.direction!, [0, 0, -1])).toBeLessThan(1e-15);
    expect(down.point[2]).toBeCloseTo(6.5, 14);
    expect(down.rms).toBeCloseTo(0.003, 14);
  });

  test('a fixed direction takes the mean only', () => {
    const plane = associatePlane({ xyz: xyz(0, 0, 1, 4, 0, 3) }, alongZ);
    expect(plane.point).toEqual([2, 0, 2]);
    expect(plane.form).toBe(2);
  });

  test('weights draw the plane to the heavy points', () => {
    const plane = associatePlane({ xyz: xyz(0, 0, 1, 4, 0, 3), weights: Float64Array.of(3, 1) }, alongZ);
    expect(plane.point).toEqual([1, 0, 1.5]);
    expect(plane.sumOfSquares).toBe(3 * 0.25 + 2.25);
  });

  test('turning about an axis keeps the angle to it', () => {
    // A wall at 30° about z; the true wall leans, the fitted one may not.
    const [c, s] = [Math.cos(0.5), Math.sin(0.5)];
    const wall = xyz(c, s, 0, c - s, s + c, 0, 1.01 * c, 1.01 * s, 10, 1.01 * c - s, 1.01 * s + c, 10);
    const plane = associatePlane({ xyz: wall }, { kind: 'about', axis: [0, 0, 1], start: [1, 0, 0] });
    expect(plane.direction![2]).toBe(0);
    expect(Math.atan2(plane.direction![1], plane.direction![0])).toBeCloseTo(0.5, 12);
    expect(plane.parameters).toEqual(['offset', 'azimuth']);
  });

  test('unequal offsets of one surface give the surface', () => {
    // Tips of radius 1 and 2 on z = 0.
    const tips = xyz(0, 0, 1, 10, 0, 2, 0, 10, 2, 10, 10, 1, 5, 3, 2);
    const plane = associatePlane(
      { xyz: tips, offsets: Float64Array.of(1, 2, 2, 1, 2) },
      { kind: 'free', start: null },
    );
    expect(distance(plane.direction!, [0, 0, 1])).toBeLessThan(1e-14);
    expect(plane.point[2]).toBeCloseTo(0, 13);
    expect(plane.rms).toBeLessThan(1e-14);
  });
});

describe('line and point', () => {
  test('line through points beside it', () => {
    const points = xyz(0, 0.01, 3, 10, -0.01, 3, 20, -0.01, 3, 30, 0.01, 3);
    const line = associateLine({ xyz: points }, { kind: 'free', start: [-1, 0, 0] });
    expect(distance(line.direction!, [-1, 0, 0])).toBeLessThan(1e-15);
    expect(distance(line.point, [15, 0, 3])).toBeLessThan(1e-14);
    expect(line.form).toBeCloseTo(0.01, 14);
    expect(line.degreesOfFreedom).toBe(4);
  });

  test('point is the weighted centroid, form the largest distance', () => {
    const point = associatePoint({ xyz: xyz(0, 0, 0, 4, 0, 0), weights: Float64Array.of(3, 1) });
    expect(point.point).toEqual([1, 0, 0]);
    expect(point.form).toBe(3);
    expect(point.sumOfSquares).toBe(3 * 1 + 9);
    expect(point.degreesOfFreedom).toBe(3);
    expect(point.direction).toBeNull();
  });
});

describe('round features', () => {
  test('circle through three points', () => {
    const circle = associateCircle(
      { xyz: xyz(5, 0, 2, 0, 5, 2, -5, 0, 2) },
      { kind: 'free', start: [0, 0, -1] },
    );
    expect(distance(circle.point, [0, 0, 2])).toBeLessThan(1e-14);
    expect(circle.radius).toBeCloseTo(5, 14);
    expect(distance(circle.direction!, [0, 0, -1])).toBeLessThan(1e-15);
    expect(circle.degreesOfFreedom).toBe(0);
  });

  test('circle seen along a fixed direction ignores the heights', () => {
    const circle = associateCircle({ xyz: xyz(6, 0, 0, 0, 6, 3, -6, 0, 9, 0, -6, 0) }, alongZ);
    expect(distance(circle.point, [0, 0, 3])).toBeLessThan(1e-14);
    expect(circle.radius).toBeCloseTo(6, 14);
    expect(circle.rms).toBeLessThan(1e-15);
  });

  test('tip radii: a bore comes out larger, a shaft smaller', () => {
    const tips = xyz(...ring(8, 20, 0));
    const bore = associateCircle({ xyz: tips, offsets: new Float64Array(8).fill(-1) }, alongZ);
    const shaft = associateCircle({ xyz: tips, offsets: new Float64Array(8).fill(1) }, alongZ);
    expect(bore.radius).toBeCloseTo(21, 13);
    expect(shaft.radius).toBeCloseTo(19, 13);
  });

  test('sphere through the ends of its axes', () => {
    const sphere = associateSphere({ xyz: xyz(11, 0, 0, 9, 0, 0, 10, 1, 0, 10, -1, 0, 10, 0, 1, 10, 0, -1) });
    expect(distance(sphere.point, [10, 0, 0])).toBeLessThan(1e-14);
    expect(sphere.radius).toBeCloseTo(1, 14);
    expect(sphere.degreesOfFreedom).toBe(2);
  });

  test('cylinder with two lobes of 4 µm keeps its axis and mean radius', () => {
    const lobed = [0, 10, 20].flatMap((z) =>
      Array.from({ length: 8 }, (_, k) => {
        const t = (Math.PI * k) / 4;
        const r = 30 + 0.004 * Math.cos(2 * t);
        return [r * Math.cos(t), r * Math.sin(t), z];
      }).flat(),
    );
    const cylinder = associateCylinder(
      { xyz: Float64Array.from(lobed) },
      { kind: 'free', start: [0.1, 0, -1] },
    );
    expect(distance(cylinder.direction!, [0, 0, -1])).toBeLessThan(1e-12);
    expect(distance(cylinder.point, [0, 0, 10])).toBeLessThan(1e-12);
    expect(cylinder.radius).toBeCloseTo(30, 12);
    expect(cylinder.form).toBeCloseTo(0.008, 12);
    expect(cylinder.degreesOfFreedom).toBe(19);
  });

  test('cylinder with its direction fixed, from three points', () => {
    const cylinder = associateCylinder({ xyz: xyz(7, 0, 0, 0, 7, 5, -7, 0, 9) }, alongZ);
    expect(distance(cylinder.point, [0, 0, 14 / 3])).toBeLessThan(1e-13);
    expect(cylinder.radius).toBeCloseTo(7, 13);
  });

  test('cone: the point where the radius is the stated one, the sign of the half angle by the start', () => {
    // Radius 20 at z = 0, growing by one half a millimetre.
    const points = xyz(...ring(6, 20, 0), ...ring(6, 25, 10, 0.3), ...ring(6, 30, 20));
    const halfAngle = Math.atan(0.5);
    const grown = associateCone({ xyz: points }, up, { halfAngle: 0.4, radius: 28 });
    expect(distance(grown.point, [0, 0, 16])).toBeLessThan(1e-12);
    expect(grown.halfAngle).toBeCloseTo(halfAngle, 13);
    expect(grown.radius).toBe(28);
    const shrunk = associateCone(
      { xyz: points },
      { kind: 'free', start: [0, 0, -1] },
      { halfAngle: 0.4, radius: 28 },
    );
    expect(shrunk.halfAngle).toBeCloseTo(-halfAngle, 13);
    expect(distance(shrunk.point, [0, 0, 16])).toBeLessThan(1e-12);
    const unknown = associateCone(
      { xyz: points },
      { kind: 'free', start: null },
      { halfAngle: -0.4, radius: 20 },
    );
    expect(distance(unknown.direction!, [0, 0, -1])).toBeLessThan(1e-12);
  });

  test('offsets of a cone act square to its surface', () => {
    const points = xyz(...ring(6, 20, 0), ...ring(6, 25, 10, 0.3), ...ring(6, 30, 20));
    const tip = 2;
    const offsets = new Float64Array(18).fill(-tip);
    const bore = associateCone({ xyz: points, offsets }, up, {
      halfAngle: 0.4,
      radius: 20 + tip / Math.cos(Math.atan(0.5)),
    });
    expect(distance(bore.point, [0, 0, 0])).toBeLessThan(1e-11);
  });
});

describe('mid-plane', () => {
  const right = xyz(6, 0, 0, 6, 10, 0, 6, 0, 10, 6, 10, 10);
  const left = xyz(-4, 0, 0, -4, 10, 0, -4, 0, 10);

  test('lies half way between the faces, at the common centroid', () => {
    const middle = associateMidplane({ xyz: right }, { xyz: left }, { kind: 'free', start: [1, 0, 0] });
    expect(distance(middle.direction!, [1, 0, 0])).toBeLessThan(1e-15);
    expect(middle.point[0]).toBeCloseTo(1, 14);
    expect(middle.point[1]).toBeCloseTo(30 / 7, 13);
    expect(middle.faceOffset).toBeCloseTo(5, 14);
    expect(middle.points).toBe(7);
    expect(middle.degreesOfFreedom).toBe(3);
    const { faceA, faceB } = midplaneResiduals(middle, { xyz: right }, { xyz: left });
    expect(Math.max(...faceA.map(Math.abs), ...faceB.map(Math.abs))).toBeLessThan(1e-13);
  });

  test('one point on each face is enough for a fixed direction', () => {
    const middle = associateMidplane({ xyz: xyz(0, 0, 3) }, { xyz: xyz(5, 5, -1) }, alongZ);
    expect(middle.point[2]).toBe(1);
    expect(middle.faceOffset).toBe(2);
  });

  test('tip radii are signed along the direction, face by face', () => {
    const middle = associateMidplane(
      { xyz: right, offsets: new Float64Array(4).fill(1) },
      { xyz: left, offsets: new Float64Array(3).fill(-1) },
      { kind: 'free', start: [1, 0, 0] },
    );
    expect(middle.point[0]).toBeCloseTo(1, 14);
    expect(middle.faceOffset).toBeCloseTo(4, 14);
  });
});
