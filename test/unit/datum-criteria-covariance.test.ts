/**
 * The covariance of features by other criteria than least squares, and of poses from them, against central differences
 * of the whole computation, every coordinate of every point moved in turn.
 */
import { describe, expect, it } from 'vitest';
import type { CriterionFeature } from '../../shared-math/association/criteria/index.ts';
import type { Orientation } from '../../shared-math/association/types.ts';
import type { Association, DatumDefinition } from '../../shared-math/definition.ts';
import { type AssociatedFeature, associateDatum } from '../../shared-math/frame/associate-datum.ts';
import { apply } from '../../shared-math/geometry/matrix.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { addScaled, cross, dot, scale, subtract } from '../../shared-math/geometry/vector.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { contactSensitivity } from '../../shared-math/uncertainty/contact-sensitivity.ts';
import { numericCovariance, poseCovariance, relativeDifference } from '../support/pose-covariance.ts';
import { type RandomSource, randomSource } from '../support/random.ts';
import { BORE, datum, FACE, featureBlocks, randomError, SLOT } from '../support/synthetic-disc.ts';

const X: Vec3 = [1, 0, 0];
const Z: Vec3 = [0, 0, 1];
const AXES: readonly Vec3[] = [X, [0, 1, 0], Z];
const by = (d: DatumDefinition, association: Association): DatumDefinition => ({ ...d, association });
const CIRCLE = datum('B', 'circle', { point: [0, 0, -4], direction: Z, radius: 70 }, { side: 'inside' });
const SPHERE = datum('S', 'sphere', { point: [0, 0, 20], radius: 40 }, { side: 'outside' });
const EDGE = datum('C', 'line', { point: [0, 44, 0], direction: X });

const NOISE = 0.002;
const COUNT = 10;
const STEP = 1e-6;

function noisyBlocks(datums: readonly DatumDefinition[], random: RandomSource): PointBlock[] {
  const place = randomError(random, 0.3, 2e-3);
  return datums.flatMap((d) =>
    featureBlocks(d, null, place, random, COUNT).map((b) => ({
      ...b,
      xyz: b.xyz.map((x) => x + NOISE * random.normal()),
      sigma:
        d.weights === 'sigma' ? Float64Array.from({ length: COUNT }, () => random.between(1e-3, 4e-3)) : null,
    })),
  );
}

const FREE: Orientation = { kind: 'free', start: Z };
const ALONG: Orientation = { kind: 'fixed', direction: Z };
const ABOUT: Orientation = { kind: 'about', axis: Z, start: X };

const FEATURES: readonly (readonly [string, DatumDefinition, Orientation])[] = [
  ['minimum zone plane', by(FACE, 'minimax'), FREE],
  ['inscribed cylinder of given direction', by(BORE, 'maximum-inscribed'), ALONG],
  ['circumscribed cylinder', by(BORE, 'minimum-circumscribed'), FREE],
  ['circumscribed cylinder of given direction', by(BORE, 'minimum-circumscribed'), ALONG],
  ['minimum zone cylinder', by(BORE, 'minimax'), FREE],
  ['minimum zone circle in a given plane', by(CIRCLE, 'minimax'), ALONG],
  ['circumscribed sphere', by(SPHERE, 'minimum-circumscribed'), FREE],
  ['minimum zone line that turns about an axis', by(EDGE, 'minimax'), ABOUT],
];

/** The feature's direction, and its place where its first place was, of the part that it determines. */
function placeOf(now: AssociatedFeature, first: AssociatedFeature): number[] {
  const d = now.direction;
  const moved = subtract(now.point, first.point);
  if (d === null) return [0, 0, 0, ...moved];
  if (now.type === 'plane') return [...d, ...scale(first.direction!, dot(d, moved))];
  if (now.type === 'circle') return [...d, ...moved];
  return [...d, ...addScaled(moved, d, -dot(moved, first.direction!) / dot(d, first.direction!))];
}

describe('sensitivity of a feature that hangs on its contacts', () => {
  it.each(FEATURES)('agrees with central differences: %s', (_, d, orientation) => {
    const random = randomSource(21);
    const [block] = noisyBlocks([d], random) as [PointBlock];
    const associate = (xyz: Float64Array, o = orientation) =>
      associateDatum(d, [{ xyz }], o) as CriterionFeature;
    const feature = associate(block.xyz);
    const { turns, shifts, response, covariance } = contactSensitivity(
      feature,
      { xyz: block.xyz },
      orientation,
    );
    const axis = feature.direction ?? [0, 0, 0];
    const effect = turns.map((turn, k) => [...cross(turn, axis), ...shifts[k]!]);

    const gradients = Array.from(block.xyz, (_x, i) => {
      const at = (step: number) =>
        placeOf(associate(block.xyz.map((x, j) => (j === i ? x + step : x))), feature);
      const [up, down] = [at(STEP), at(-STEP)];
      return up.map((u, k) => (u - down[k]!) / (2 * STEP));
    });
    for (let r = 0; r < 6; r++)
      for (let c = 0; c < 6; c++) {
        const numeric = gradients.reduce((sum, g) => sum + g[r]! * g[c]!, 0);
        const analytic = effect.reduce(
          (sum, a, i) => sum + effect.reduce((s, b, j) => s + a[r]! * b[c]! * covariance[i]![j]!, 0),
          0,
        );
        expect(analytic, `entry ${r},${c}`).toBeCloseTo(numeric, 5);
      }

    if (orientation.kind === 'free') return;
    AXES.forEach((held, a) => {
      const turned = (angle: number): number[] => {
        const turn = (v: Vec3): Vec3 => apply(rotationFromVector(scale(held, angle)), v);
        const o: Orientation =
          orientation.kind === 'fixed'
            ? { kind: 'fixed', direction: turn(Z) }
            : { kind: 'about', axis: turn(Z), start: turn(X) };
        return placeOf(associate(block.xyz, o), feature);
      };
      const [up, down] = [turned(STEP), turned(-STEP)];
      const own = cross(held, axis);
      for (let r = 0; r < 6; r++) {
        const analytic =
          (r < 3 ? own[r]! : 0) + response.reduce((sum, beta, k) => sum + beta[a]! * effect[k]![r]!, 0);
        expect(analytic, `turn ${a}, entry ${r}`).toBeCloseTo((up[r]! - down[r]!) / (2 * STEP), 4);
      }
    });
  });
});

/** The least-squares parts leave out second derivatives: a relative error of residual over size. */
const LEFT_OUT = 2e-3;

const SYSTEMS: readonly (readonly [string, readonly DatumDefinition[]])[] = [
  ['outer face, bore, slot', [by(FACE, 'gaussian-outer'), BORE, SLOT]],
  [
    'outer face with sigma weights',
    [{ ...by(FACE, 'gaussian-outer'), weights: 'sigma' as const }, BORE, SLOT],
  ],
  ['face, inscribed bore, outer slot', [FACE, by(BORE, 'maximum-inscribed'), by(SLOT, 'gaussian-outer')]],
  ['face, outer bore, slot', [FACE, by(BORE, 'gaussian-outer'), SLOT]],
  ['circumscribed circle, slot', [by(CIRCLE, 'minimum-circumscribed'), SLOT]],
  ['circumscribed sphere, face, slot', [by(SPHERE, 'minimum-circumscribed'), FACE, SLOT]],
];

describe('covariance of a pose by other criteria', () => {
  it.each(SYSTEMS)('agrees with central differences: %s', (_, datums) => {
    const blocks = noisyBlocks(datums, randomSource(3));
    const numeric = numericCovariance(datums, blocks, STEP);
    expect(relativeDifference(poseCovariance(datums, blocks), numeric)).toBeLessThan(LEFT_OUT);
  });
});
