/** First and second derivatives of the distances against central differences of their definition. */
import { describe, expect, test } from 'vitest';
import { cloudOf } from '../../shared-math/association/cloud.ts';
import {
  axisModel,
  centreModel,
  type DistanceModel,
  type Placement,
  planeModel,
} from '../../shared-math/association/criteria/placement.ts';
import { freedomOf } from '../../shared-math/association/direction.ts';
import { normalize } from '../../shared-math/geometry/vector.ts';
import { randomSource } from '../support/random.ts';

const random = randomSource(44);
const POINTS = 6;
const cloud = cloudOf(
  {
    xyz: Float64Array.from({ length: 3 * POINTS }, () => random.between(-30, 30)),
    offsets: Float64Array.from({ length: POINTS }, () => random.between(-1, 1)),
  },
  1,
  'feature',
);
const direction = normalize([0.2, -0.4, 1]);
const placement: Placement = { anchor: [0.1, -0.2, 0.05], direction };
const free = freedomOf({ kind: 'free', start: direction });
const about = freedomOf({ kind: 'about', axis: normalize([0.5, 0.3, 1]), start: direction });
const fixed = freedomOf({ kind: 'fixed', direction });

const models: readonly (readonly [string, DistanceModel])[] = [
  ['plane', planeModel(cloud, free)],
  ['plane about an axis', planeModel(cloud, about)],
  ['axis', axisModel(cloud, free)],
  ['axis about an axis', axisModel(cloud, about)],
  ['axis of given direction', axisModel(cloud, fixed)],
  ['centre', centreModel(cloud)],
];

describe.each(models)('%s', (_, model) => {
  const k = model.size;
  const at = (step: readonly number[]): Float64Array => {
    const out = new Float64Array(POINTS);
    model.distances(model.move(placement, step), out);
    return out;
  };
  const along = (d: number, length: number, e = d, other = 0): number[] =>
    Array.from({ length: k }, (_, i) => (i === d ? length : 0) + (i === e ? other : 0));
  const derivatives = model.derivatives(placement);

  test('distances and gradients', () => {
    const here = at(new Array(k).fill(0));
    const h = 1e-6;
    for (let i = 0; i < POINTS; i++) {
      expect(Math.abs(derivatives.distance(i) - here[i]!)).toBeLessThan(1e-14);
      const gradient = new Float64Array(k);
      derivatives.gradient(i, -2, gradient, 0);
      for (let d = 0; d < k; d++) {
        const slope = (at(along(d, h))[i]! - at(along(d, -h))[i]!) / (2 * h);
        expect(Math.abs(gradient[d]! + 2 * slope)).toBeLessThan(1e-8);
      }
    }
  });

  test('curvatures', () => {
    const h = 1e-3;
    for (let i = 0; i < POINTS; i++) {
      const curvature = new Float64Array(k * k);
      derivatives.curvature(i, 1, curvature, k);
      for (let d = 0; d < k; d++) {
        for (let e = 0; e < k; e++) {
          const mixed =
            (at(along(d, h, e, h))[i]! -
              at(along(d, h, e, -h))[i]! -
              at(along(d, -h, e, h))[i]! +
              at(along(d, -h, e, -h))[i]!) /
            (4 * h * h);
          expect(Math.abs(curvature[d * k + e]! - mixed)).toBeLessThan(1e-4);
        }
      }
    }
  });
});
