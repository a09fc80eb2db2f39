/** Criteria on point sets with known results. Each says where its values come from. */
import { describe, expect, test } from 'vitest';
import {
  type AssociationCriterion,
  associateByCriterion,
} from '../../shared-math/association/criteria/index.ts';
import type { AssociationInput, Orientation } from '../../shared-math/association/index.ts';

const ALONG_Z: Orientation = { kind: 'fixed', direction: [0, 0, 1] };

function circleOf(criterion: AssociationCriterion, points: readonly (readonly [number, number])[]) {
  const input: AssociationInput = { xyz: Float64Array.from(points.flatMap(([x, y]) => [x, y, 0])) };
  return associateByCriterion(criterion, 'circle', input, ALONG_Z);
}

describe('minimum circumscribed circle', () => {
  test('PostGIS manual 3.3, ST_MinimumBoundingRadius, example', () => {
    const circle = circleOf('minimum-circumscribed', [
      [26426, 65078],
      [26531, 65242],
      [26075, 65136],
      [26096, 65427],
    ]);
    // As printed there.
    expect(Math.abs(circle.point[0] - 26284.8418027133)).toBeLessThan(1e-9);
    expect(Math.abs(circle.point[1] - 65267.1145090825)).toBeLessThan(1e-9);
    expect(Math.abs(circle.radius! - 247.436045591407)).toBeLessThan(1e-9);
    expect(circle.certificate.contacts).toEqual([1, 2, 3]);
  });

  test('the unit circle by four points (by hand)', () => {
    const circle = circleOf('minimum-circumscribed', [
      [0, 1],
      [-1, 0],
      [0, -1],
      [1, 0],
    ]);
    expect(circle.point).toEqual([0, 0, 0]);
    expect(circle.radius).toBe(1);
  });

  test('points of Gander, Golub & Strebel 1994 (points: value from memory; circle: by hand)', () => {
    // The farthest two, (1, 7) and (9, 5), are a diameter: centre (5, 6), radius √17.
    const circle = circleOf('minimum-circumscribed', [
      [1, 7],
      [2, 6],
      [5, 8],
      [7, 7],
      [9, 5],
      [3, 7],
    ]);
    expect(Math.abs(circle.point[0] - 5)).toBeLessThan(1e-13);
    expect(Math.abs(circle.point[1] - 6)).toBeLessThan(1e-13);
    expect(Math.abs(circle.radius! - Math.sqrt(17))).toBeLessThan(1e-13);
    expect(circle.certificate.contacts).toEqual([0, 4]);
  });
});

/** Twelve points about (3, −2), every 30°, rounded to 1e-6. */
function lobed(radiusAt: (angle: number) => number): [number, number][] {
  return Array.from({ length: 12 }, (_, k) => {
    const angle = (k * Math.PI) / 6;
    const round = (value: number): number => Math.round(value * 1e6) / 1e6;
    return [round(3 + radiusAt(angle) * Math.cos(angle)), round(-2 + radiusAt(angle) * Math.sin(angle))];
  });
}

describe('lobed rings (own construction, regression values)', () => {
  // The values come from all pairs of equidistant pairs, checked with Nelder & Mead to 1e-10.
  test('two lobes of 0.01 on radius 10: the zone is the form', () => {
    const points = lobed((angle) => 10 + 0.01 * Math.cos(2 * angle));
    expect(Math.abs(circleOf('minimax', points).zoneWidth! - 0.02)).toBeLessThan(1e-12);
    expect(Math.abs(circleOf('minimum-circumscribed', points).radius! - 10.01)).toBeLessThan(1e-12);
  });

  test('three lobes of 0.01 on radius 10', () => {
    const points = lobed((angle) => 10 + 0.01 * Math.cos(3 * angle));
    const zone = circleOf('minimax', points);
    expect(Math.abs(zone.zoneWidth! - 0.019999728511828962)).toBeLessThan(1e-12);
    expect(Math.abs(zone.point[0] - 3.000000168518282)).toBeLessThan(1e-9);
    expect(Math.abs(zone.point[1] + 2)).toBeLessThan(1e-9);
    const around = circleOf('minimum-circumscribed', points);
    expect(Math.abs(around.radius! - 10.009999831481718)).toBeLessThan(1e-12);
    expect(Math.abs(around.point[0] - 3.000000168518282)).toBeLessThan(1e-9);
  });
});
