/**
 * Every analytic derivative against finite differences: the Jacobian rows of the iterative fits, and, end to end, the
 * cofactor of every feature against how its parameters answer to a shift of each coordinate of each point.
 */
import { describe, expect, test } from 'vitest';
import { circleProblem } from '../../shared-math/association/circle.ts';
import { cloudOf } from '../../shared-math/association/cloud.ts';
import { freedomOf, tangentBasis } from '../../shared-math/association/direction.ts';
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
  type LeastSquaresProblem,
  type MidplaneFeature,
  type Orientation,
  type SubstituteFeature,
  type TriangularFactor,
} from '../../shared-math/association/index.ts';
import { revolutionProblem } from '../../shared-math/association/revolution.ts';
import { sphereProblem } from '../../shared-math/association/sphere.ts';
import { apply } from '../../shared-math/geometry/matrix.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { add, cross, dot, normalize, scale, subtract } from '../../shared-math/geometry/vector.ts';
import { randomSource } from '../support/random.ts';

const random = randomSource(7);
const scattered = Float64Array.from({ length: 60 }, () => random.between(-30, 30));
const weighted: AssociationInput = {
  xyz: scattered,
  weights: Float64Array.from({ length: 20 }, () => random.between(0.5, 2)),
  offsets: Float64Array.from({ length: 20 }, () => random.between(-1, 1)),
};
const direction = normalize([0.3, -0.5, 0.8]);
const free: Orientation = { kind: 'free', start: direction };
const about: Orientation = { kind: 'about', axis: [0.9, 0.1, 0.3], start: direction };
const fixed: Orientation = { kind: 'fixed', direction };

/** The rows that a problem pushes, as plain numbers. */
function rowsOf<State>(problem: LeastSquaresProblem<State>, state: State): number[][] {
  const rows: number[][] = [];
  const row = new Float64Array(problem.parameters + 1);
  problem.evaluate(state, { row, push: () => rows.push([...row]) } as unknown as TriangularFactor);
  return rows;
}

function largestDerivativeError<State>(problem: LeastSquaresProblem<State>, state: State): number {
  const p = problem.parameters;
  const h = 1e-6;
  const rows = rowsOf(problem, state);
  let worst = 0;
  for (let j = 0; j < p; j++) {
    const step = (sign: number) => new Float64Array(p).map((_, k) => (k === j ? sign * h : 0));
    const [more, less] = [
      rowsOf(problem, problem.move(state, step(1))),
      rowsOf(problem, problem.move(state, step(-1))),
    ];
    rows.forEach((row, i) => {
      worst = Math.max(worst, Math.abs((more[i]![p]! - less[i]![p]!) / (2 * h) - row[j]!));
    });
  }
  return worst;
}

describe('Jacobian rows', () => {
  const cloud = cloudOf(weighted, 1, 'feature');
  const round = { anchor: cross(direction, [0.3, 0.2, 0.1]), direction, gap: 0.6, halfAngle: 0 };

  test.each([
    ['free', free],
    ['about', about],
    ['fixed', fixed],
  ] as const)('cylinder and cone, %s', (_, orientation) => {
    const freedom = freedomOf(orientation);
    expect(largestDerivativeError(revolutionProblem(cloud, freedom, false), round)).toBeLessThan(1e-8);
    const cone = { ...round, halfAngle: -0.4 };
    expect(largestDerivativeError(revolutionProblem(cloud, freedom, true), cone)).toBeLessThan(1e-8);
  });

  test('circle', () => {
    const problem = circleProblem(cloud, tangentBasis(direction));
    expect(largestDerivativeError(problem, { u: 0.1, v: -0.2, radius: 0.7 })).toBeLessThan(1e-8);
  });

  test('sphere', () => {
    const problem = sphereProblem(cloud);
    expect(largestDerivativeError(problem, { centre: [0.1, -0.2, 0.3], radius: 0.7 })).toBeLessThan(1e-8);
  });
});

/** How far `moved` is from `base` in the parameters of base's cofactor. */
function parametersBetween(base: SubstituteFeature, moved: SubstituteFeature, about: Vec3 | null): number[] {
  const shift = subtract(moved.point, base.point);
  const turn = base.direction ? subtract(moved.direction!, base.direction) : null;
  const [e1, e2] = base.direction ? tangentBasis(base.direction) : [null, null];
  return base.parameters.map((name) => {
    switch (name) {
      case 'x':
        return shift[0];
      case 'y':
        return shift[1];
      case 'z':
        return shift[2];
      case 'shift1':
        return dot(shift, e1!);
      case 'shift2':
        return dot(shift, e2!);
      case 'offset':
      case 'axial':
        return dot(shift, base.direction!);
      case 'tilt1':
        return dot(turn!, e1!);
      case 'tilt2':
        return dot(turn!, e2!);
      case 'azimuth': {
        const moving = cross(normalize(about!), base.direction!);
        return dot(turn!, moving) / dot(moving, moving);
      }
      case 'radius':
        return moved.radius! - base.radius!;
      case 'halfAngle':
        return moved.halfAngle! - base.halfAngle!;
      case 'faceOffset':
        return (moved as MidplaneFeature).faceOffset - (base as MidplaneFeature).faceOffset;
      default:
        throw new Error(`unknown parameter ${name}`);
    }
  });
}

const turned = rotationFromVector([0.7, -1.1, 0.4]);
const origin: Vec3 = [40, -25, 10];
const trueDirection = apply(turned, [0, 0, 1]);

/** Points of a surface around z, carried to a slanted place, without error. */
function placed(points: readonly Vec3[]): Float64Array {
  return Float64Array.from(points.flatMap((p) => add(apply(turned, p), origin)));
}

function revolved(count: number, radius: number, taper: number): Float64Array {
  return placed(
    Array.from({ length: count }, (_, k) => {
      const [t, z] = [2.4 * k, 15 * Math.sin(1.7 * k)];
      const r = radius + z * Math.tan(taper);
      return [r * Math.cos(t), r * Math.sin(t), z] as const;
    }),
  );
}
const level = (count: number, z: number): Float64Array =>
  placed(
    Array.from(
      { length: count },
      (_, k) => [12 * Math.cos(2.4 * k) * (1 + (k % 3)), 9 * Math.sin(1.3 * k), z] as const,
    ),
  );
const straight = placed(Array.from({ length: 8 }, (_, k) => [0, 0, 5 * k + (k % 3)] as const));
const onSphere = placed(
  Array.from({ length: 14 }, (_, k) =>
    scale(normalize([Math.cos(2.4 * k), Math.sin(2.4 * k), Math.sin(k)]), 20),
  ),
);
const ring = placed(
  Array.from({ length: 9 }, (_, k) => [18 * Math.cos(0.5 * k), 18 * Math.sin(0.5 * k), 0] as const),
);

const axis = cross(trueDirection, [0.2, 1, -0.3]);
const slantedAxis = add(normalize(axis), scale(trueDirection, 0.4));
const orientations: Record<string, Orientation> = {
  free: { kind: 'free', start: trueDirection },
  reversed: { kind: 'free', start: scale(trueDirection, -1) },
  about: { kind: 'about', axis, start: trueDirection },
  'about a slanted axis': { kind: 'about', axis: slantedAxis, start: trueDirection },
  fixed: { kind: 'fixed', direction: trueDirection },
};
const nominal = { halfAngle: 0.3, radius: 22 };
type Fit = (xyz: Float64Array, orientation: Orientation) => SubstituteFeature;
const fits: [string, Float64Array, Fit][] = [
  ['plane', level(9, 0), (xyz, o) => associatePlane({ xyz }, o)],
  ['line', straight, (xyz, o) => associateLine({ xyz }, o)],
  ['circle', ring, (xyz, o) => associateCircle({ xyz }, o)],
  ['cylinder', revolved(14, 30, 0), (xyz, o) => associateCylinder({ xyz }, o)],
  ['cone', revolved(16, 30, 0.35), (xyz, o) => associateCone({ xyz }, o, nominal)],
  [
    'midplane',
    Float64Array.from([...level(7, 6), ...level(5, -4)]),
    (xyz, o) => associateMidplane({ xyz: xyz.subarray(0, 21) }, { xyz: xyz.subarray(21) }, o),
  ],
];
const cases: [string, Float64Array, Fit, Orientation][] = [
  ...fits.flatMap(([type, xyz, fit]) =>
    Object.entries(orientations).map(([name, o]): [string, Float64Array, Fit, Orientation] => [
      `${type}, ${name}`,
      xyz,
      fit,
      o,
    ]),
  ),
  ['sphere', onSphere, (xyz) => associateSphere({ xyz }), free],
  ['point', onSphere, (xyz) => associatePoint({ xyz }), free],
];

describe('cofactor', () => {
  test.each(cases)('%s: Σ (∂p/∂x)(∂p/∂x)ᵀ over all coordinates', (_, xyz, associated, orientation) => {
    const base = associated(xyz, orientation);
    const turning = orientation.kind === 'about' ? orientation.axis : null;
    const h = 1e-4;
    const sum = base.parameters.map(() => base.parameters.map(() => 0));
    for (let i = 0; i < xyz.length; i++) {
      const [more, less] = [xyz.slice(), xyz.slice()];
      more[i] = more[i]! + h;
      less[i] = less[i]! - h;
      const up = parametersBetween(base, associated(more, orientation), turning);
      const down = parametersBetween(base, associated(less, orientation), turning);
      const slope = up.map((value, j) => (value - down[j]!) / (2 * h));
      slope.forEach((a, j) => {
        slope.forEach((b, k) => {
          sum[j]![k] = sum[j]![k]! + a * b;
        });
      });
    }
    base.parameters.forEach((_name, j) => {
      base.parameters.forEach((_other, k) => {
        const size = Math.sqrt(sum[j]![j]! * sum[k]![k]!);
        expect(Math.abs(base.cofactor[j]![k]! - sum[j]![k]!) / size).toBeLessThan(1e-5);
      });
    });
  });
});
