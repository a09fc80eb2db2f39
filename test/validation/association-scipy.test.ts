/**
 * The associations against SciPy's fits of the same points (other parametrisations, extended precision; see
 * scripts/associations.py). Bound: the larger of 1e-9 mm (1e-11 rad) and 20·ε·κ·max|coordinate|, κ the condition
 * number that the fit reports.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  type AssociationInput,
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associateMidplane,
  associatePlane,
  associatePoint,
  associateSphere,
  type MidplaneFeature,
  type Orientation,
  type SubstituteFeature,
} from '../../shared-math/association/index.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { angleBetween, distance } from '../../shared-math/geometry/vector.ts';

interface Case {
  readonly name: string;
  readonly type: SubstituteFeature['type'];
  readonly xyz: number[];
  readonly xyzB?: number[];
  readonly weights?: number[];
  readonly offsets?: number[];
  readonly orientation?: Orientation;
  readonly nominal?: { readonly halfAngle: number; readonly radius: number };
  readonly expected: {
    readonly point: Vec3;
    readonly direction?: Vec3;
    readonly radius?: number;
    readonly halfAngle?: number;
    readonly faceOffset?: number;
    readonly sumOfSquares: number;
  };
}

const file = new URL('data/associations-scipy.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

function associated(c: Case): SubstituteFeature & Partial<Pick<MidplaneFeature, 'faceOffset'>> {
  const input: AssociationInput = {
    xyz: Float64Array.from(c.xyz),
    weights: c.weights ? Float64Array.from(c.weights) : null,
    offsets: c.offsets ? Float64Array.from(c.offsets) : null,
  };
  const orientation = c.orientation!;
  switch (c.type) {
    case 'point':
      return associatePoint(input);
    case 'plane':
      return associatePlane(input, orientation);
    case 'line':
      return associateLine(input, orientation);
    case 'circle':
      return associateCircle(input, orientation);
    case 'sphere':
      return associateSphere(input);
    case 'cylinder':
      return associateCylinder(input, orientation);
    case 'cone':
      return associateCone(input, orientation, c.nominal!);
    case 'midplane':
      return associateMidplane(input, { xyz: Float64Array.from(c.xyzB!) }, orientation);
  }
}

describe('associations against SciPy', () => {
  test('every feature type is among the cases', () => {
    expect(new Set(cases.map((c) => c.type)).size).toBe(8);
  });

  test.each(cases.map((c) => [c.name, c] as const))('%s', (_, c) => {
    const feature = associated(c);
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
