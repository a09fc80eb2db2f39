/** Bad input is refused with a reason and a remedy. */
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
  type Orientation,
  type SubstituteFeature,
} from '../../shared-math/association/index.ts';
import { ReductionError } from '../../shared-math/errors.ts';

const free: Orientation = { kind: 'free', start: [0, 0, 1] };
const unknown: Orientation = { kind: 'free', start: null };
const about: Orientation = { kind: 'about', axis: [1, 0, 0], start: [0, 0, 1] };
const fixed: Orientation = { kind: 'fixed', direction: [0, 0, 1] };
const nominal = { halfAngle: 0.3, radius: 10 };

const fits: Record<string, (input: AssociationInput, orientation: Orientation) => SubstituteFeature> = {
  plane: associatePlane,
  line: associateLine,
  circle: associateCircle,
  sphere: (input) => associateSphere(input),
  cylinder: (input, orientation) => associateCylinder(input, orientation),
  cone: (input, orientation) => associateCone(input, orientation, nominal),
  point: (input) => associatePoint(input),
  midplane: (input, orientation) => associateMidplane(input, input, orientation),
};

function refusal(run: () => unknown): ReductionError {
  try {
    run();
  } catch (error) {
    if (error instanceof ReductionError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

/** Points spread in space, on no feature in particular. */
function scattered(count: number): Float64Array {
  return Float64Array.from({ length: 3 * count }, (_, i) => 10 * Math.sin(7.3 * i + 0.4 * i * i));
}

const onLine = Float64Array.from(
  { length: 30 },
  (_, i) => 100 + (Math.floor(i / 3) + 1) * [0.3, -0.7, 1.1][i % 3]!,
);
const inPlane = Float64Array.from({ length: 60 }, (_, i) => {
  const k = Math.floor(i / 3);
  return [Math.cos(k) * 5 * (1 + (k % 3)), Math.sin(k) * 5 * (1 + (k % 4)), 7][i % 3]!;
});
const coincident = Float64Array.from({ length: 30 }, (_, i) => [812.1, -33.7, 4.4][i % 3]!);

describe.each(Object.keys(fits))('%s', (type) => {
  const associate = fits[type]!;

  test('refuses no points at all', () => {
    expect(refusal(() => associate({ xyz: new Float64Array(0) }, free)).failure).toBe('too-few-points');
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    'refuses a coordinate %d and says where',
    (bad) => {
      const xyz = scattered(12);
      xyz[3 * 6 + 1] = bad;
      const { failure, message } = refusal(() => associate({ xyz }, free));
      expect(failure).toBe('not-finite');
      expect(message).toContain(`coordinate y of point 7 is ${bad}`);
    },
  );

  test('refuses weights and offsets that do not fit', () => {
    const xyz = scattered(12);
    expect(refusal(() => associate({ xyz, weights: new Float64Array(11).fill(1) }, free)).failure).toBe(
      'invalid-argument',
    );
    expect(refusal(() => associate({ xyz, weights: new Float64Array(12) }, free)).failure).toBe(
      'invalid-argument',
    );
    expect(refusal(() => associate({ xyz: xyz.subarray(1) }, free)).failure).toBe('invalid-argument');
    expect(
      refusal(() => associate({ xyz, weights: new Float64Array(12).fill(Number.NaN) }, free)).failure,
    ).toBe('not-finite');
  });
});

test.each([
  ['plane', free, 3],
  ['plane', about, 2],
  ['plane', fixed, 1],
  ['line', free, 2],
  ['line', fixed, 1],
  ['circle', free, 3],
  ['circle', fixed, 3],
  ['sphere', free, 4],
  ['cylinder', free, 5],
  ['cylinder', about, 4],
  ['cylinder', fixed, 3],
  ['cone', free, 6],
  ['cone', about, 5],
  ['cone', fixed, 4],
  ['point', free, 1],
] as const)('%s %j needs %i points', (type, orientation, minimum) => {
  const { failure, message, remedy } = refusal(() =>
    fits[type]!({ xyz: scattered(minimum - 1) }, orientation),
  );
  expect(failure).toBe('too-few-points');
  expect(message).toContain(`at least ${minimum} point`);
  expect(message).toContain(`got ${minimum - 1}`);
  expect(remedy).not.toBe('');
});

test('a mid-plane counts both faces', () => {
  const face = { xyz: scattered(1) };
  expect(refusal(() => associateMidplane(face, face, free)).message).toContain('at least 4 points');
  expect(refusal(() => associateMidplane(face, face, about)).message).toContain('at least 3 points');
});

test.each(['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone'])(
  '%s refuses coincident points',
  (type) => {
    const { failure, message } = refusal(() => fits[type]!({ xyz: coincident }, unknown));
    expect(failure).toBe('degenerate-points');
    expect(message).toMatch(/same place/);
  },
);

test.each(['plane', 'circle', 'sphere', 'cylinder', 'cone', 'midplane'])(
  '%s refuses points on a line',
  (type) => {
    const { failure, message } = refusal(() => fits[type]!({ xyz: onLine }, unknown));
    expect(failure).toBe('degenerate-points');
    expect(message).toMatch(/one line/);
  },
);

test('points on a line, rounded to the micrometre, are still points on a line', () => {
  const rounded = onLine.map((c) => Math.round(c * 1000 * 5) / 1000);
  expect(refusal(() => associatePlane({ xyz: rounded }, unknown)).failure).toBe('degenerate-points');
});

test.each(['sphere', 'cylinder', 'cone'])('%s refuses points in a plane', (type) => {
  const { failure, message } = refusal(() => fits[type]!({ xyz: inPlane }, unknown));
  expect(failure).toBe('degenerate-points');
  expect(message).toMatch(/one plane/);
});

test('a circle or cylinder seen edge-on, and a plane turned about a line that holds its points, are refused', () => {
  const edge = refusal(() => associateCircle({ xyz: inPlane }, { kind: 'fixed', direction: [1, 0, 0] }));
  expect(edge.message).toMatch(/along its direction/);
  const wall = refusal(() => associateCylinder({ xyz: inPlane }, { kind: 'fixed', direction: [1, 0, 0] }));
  expect(wall.message).toMatch(/along its direction/);
  const row = Float64Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0);
  expect(refusal(() => associatePlane({ xyz: row }, about)).failure).toBe('degenerate-points');
});

test('a cylinder is no cone', () => {
  const xyz = Float64Array.from({ length: 72 }, (_, i) => {
    const k = Math.floor(i / 3);
    return [10 * Math.cos((k * Math.PI) / 4), 10 * Math.sin((k * Math.PI) / 4), 5 * Math.floor(k / 8)][
      i % 3
    ]!;
  });
  const { failure, message } = refusal(() => associateCone({ xyz }, free, nominal));
  expect(failure).toBe('degenerate-points');
  expect(message).toMatch(/no taper/);
});

test('offsets of line and point cannot be taken off', () => {
  const input = { xyz: scattered(4), offsets: new Float64Array(4).fill(1) };
  expect(refusal(() => associateLine(input, free)).failure).toBe('missing-normals');
  expect(refusal(() => associatePoint(input)).failure).toBe('missing-normals');
});

test('directions of no length and impossible cones are refused', () => {
  const input = { xyz: scattered(12) };
  expect(refusal(() => associatePlane(input, { kind: 'free', start: [0, 0, 0] })).failure).toBe(
    'invalid-argument',
  );
  expect(refusal(() => associateCone(input, free, { halfAngle: 1.6, radius: 5 })).failure).toBe(
    'invalid-argument',
  );
});
