import { describe, expect, test } from 'vitest';
import {
  angleBetween,
  apply,
  applyTransposed,
  cross,
  determinant,
  distance,
  dot,
  type Mat3,
  multiply,
  norm,
  normalize,
  perpendicular,
  rejectFrom,
  skew,
  transpose,
  type Vec3,
} from '../../shared-math/geometry/index.ts';

describe('vectors', () => {
  test('the vector product is right-handed', () => {
    expect(cross([1, 0, 0], [0, 1, 0])).toEqual([0, 0, 1]);
    expect(cross([1, 2, 3], [4, 5, 6])).toEqual([-3, 6, -3]);
  });

  test('length neither overflows nor underflows', () => {
    expect(norm([3e200, 4e200, 0]) / 5e200).toBeCloseTo(1, 15);
    expect(norm([3e-200, 0, 4e-200]) / 5e-200).toBeCloseTo(1, 15);
    expect(norm([2, 3, 6])).toBe(7);
  });

  test('angles keep their digits when tiny and near a half turn', () => {
    expect(angleBetween([1, 0, 0], [1, 1e-12, 0])).toBeCloseTo(1e-12, 24);
    expect(Math.PI - angleBetween([1, 0, 0], [-1, 1e-9, 0])).toBeCloseTo(1e-9, 15);
    expect(angleBetween([2, 0, 0], [0, 0, 5])).toBe(Math.PI / 2);
  });

  test.each([[[1, 0, 0]], [[0, -1, 0]], [[0, 0, 3]], [[1, 1e-9, -1e-9]], [[0.577, -0.577, 0.578]]] as [
    Vec3,
  ][])('perpendicular to %j is a unit vector square to it', (a) => {
    const p = perpendicular(a);
    expect(norm(p)).toBeCloseTo(1, 15);
    expect(dot(p, a)).toBeCloseTo(0, 15);
  });

  test('a vector without a direction is refused', () => {
    expect(() => normalize([0, 0, 0])).toThrow(/no direction/);
    expect(() => normalize([Number.NaN, 0, 1])).toThrow(/no direction/);
    expect(() => normalize([Number.POSITIVE_INFINITY, 0, 1])).toThrow(/no direction/);
  });

  test('the part square to a direction', () => {
    expect(rejectFrom([3, 4, 5], [0, 0, 1])).toEqual([3, 4, 0]);
    expect(distance([1, 2, 3], [1, 2, 5])).toBe(2);
  });
});

describe('matrices', () => {
  const a: Mat3 = [
    [1, 2, 3],
    [0, 1, 4],
    [5, 6, 0],
  ];

  test('product, transpose and determinant by hand', () => {
    expect(apply(a, [1, 1, 1])).toEqual([6, 5, 11]);
    expect(applyTransposed(a, [1, 1, 1])).toEqual(apply(transpose(a), [1, 1, 1]));
    expect(determinant(a)).toBe(1);
    expect(multiply(a, transpose(a))).toEqual([
      [14, 14, 17],
      [14, 17, 6],
      [17, 6, 61],
    ]);
  });

  test('the skew matrix makes the vector product', () => {
    expect(apply(skew([1, 2, 3]), [4, 5, 6])).toEqual(cross([1, 2, 3], [4, 5, 6]));
  });
});
