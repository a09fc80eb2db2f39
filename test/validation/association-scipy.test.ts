/**
 * The associations against SciPy's fits of the same points (other parametrisations, extended precision; see
 * scripts/associations.py). Bound: the larger of 1e-9 mm (1e-11 rad) and 20·ε·κ·max|coordinate|, κ the condition
 * number that the fit reports.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { angleBetween, distance } from '../../shared-math/geometry/vector.ts';
import { associatedCase, type FittedCase } from '../support/associated-case.ts';

interface Case extends FittedCase {
  readonly name: string;
}

const file = new URL('data/associations-scipy.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

describe('associations against SciPy', () => {
  test('every feature type is among the cases', () => {
    expect(new Set(cases.map((c) => c.type)).size).toBe(8);
  });

  test.each(cases.map((c) => [c.name, c] as const))('%s', (_, c) => {
    const feature = associatedCase(c);
    const { expected } = c;
    const reach = Math.max(...[...c.xyz, ...(c.xyzB ?? [])].map(Math.abs));
    const rounding = 20 * Number.EPSILON * feature.conditionNumber * reach;
    const lengths = Math.max(1e-9, rounding);
    const angles = Math.max(1e-11, rounding);
    expect(distance(feature.point, expected.point)).toBeLessThan(lengths);
    if (expected.direction) {
      expect(angleBetween(feature.direction!, expected.direction)).toBeLessThan(angles);
    }
    if (expected.radius !== undefined) {
      expect(Math.abs(feature.radius! - expected.radius)).toBeLessThan(lengths);
    }
    if (expected.halfAngle !== undefined) {
      expect(Math.abs(feature.halfAngle! - expected.halfAngle)).toBeLessThan(angles);
    }
    if (expected.faceOffset !== undefined) {
      expect(Math.abs(feature.faceOffset! - expected.faceOffset)).toBeLessThan(lengths);
    }
    expect(feature.sumOfSquares / expected.sumOfSquares - 1).toBeLessThan(1e-8);
    expect(feature.sumOfSquares / expected.sumOfSquares - 1).toBeGreaterThan(-1e-8);
  });
});
