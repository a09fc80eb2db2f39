/** What of a correction's gain recurs: cases with a known distribution. */
import { describe, expect, test } from 'vitest';
import { bladesOf, pointsOf } from '../../shared-math/diagnosis/corrections/blades.ts';
import { corrections } from '../../shared-math/diagnosis/corrections/corrections.ts';
import { nextDisc } from '../../shared-math/diagnosis/corrections/next-disc.ts';
import { unknownsOf } from '../../shared-math/diagnosis/corrections/settings.ts';
import type { Scatter, Vec6 } from '../../shared-math/diagnosis/findings.ts';
import { IDENTITY_MOTION } from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion } from '../../shared-math/geometry/types.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { seededGenerator } from '../../shared-math/uncertainty/random.ts';
import { randomSource } from '../support/random.ts';
import { discBlocks, discDefinition } from '../support/synthetic-disc.ts';

const requirement = {
  checkPoints: [{ name: 'root', at: [0, 0, 0], zone: 'cylindrical', tolerance: 0.05, direction: null }],
  limits: {},
} as const;

function discOf(errors: readonly RigidMotion[]) {
  const planned = discDefinition({ stations: errors.length, requirement });
  const definition = { ...planned, uncertainty: { ...planned.uncertainty, probing: 1e-5 } };
  const blocks = discBlocks(definition, errors, IDENTITY_MOTION, randomSource(7));
  const { stations, frame } = reduce({ blocks, definition, gaps: [] });
  const blades = bladesOf(stations, definition, null, []);
  return { stations, definition, frame: frame.covariance, blades, points: pointsOf(blades) };
}

const shifted = (o: number, l: number): RigidMotion => ({
  ...IDENTITY_MOTION,
  translation: [o, l, 0],
});

describe('the next disc', () => {
  const disc = discOf([shifted(0.02, -0.01), shifted(0.02, 0.01), shifted(0.021, 0), shifted(0.019, 0.002)]);
  const tool = unknownsOf(
    'tool',
    { tool: { oscillation: { limit: null, step: null } }, hub: {}, index: null },
    [],
    disc.blades,
    disc.points,
  );

  test('without scatter shows the causes, and the causes changed by the settings', () => {
    const causes = new Map<number, Vec6>(
      disc.blades.map((b) => [b.measured.station, [0.02, 0.003, 0, 0, 0, 0]]),
    );
    const still = [new Float64Array(6 * disc.blades.length)];
    const { unchanged, corrected } = nextDisc(
      disc.blades,
      disc.points,
      tool,
      Float64Array.of(-0.02),
      causes,
      still,
      0.95,
    );
    expect(unchanged.expected).toBeCloseTo(2 * Math.hypot(0.02, 0.003), 12);
    expect(corrected.expected).toBeCloseTo(2 * 0.003, 12);
    expect(corrected.low).toBe(corrected.high);
  });

  test('with scatter alone follows the largest of n Rayleigh variables', () => {
    // P(largest of n ≤ 2r) = (1 − exp(−r²/2σ²))ⁿ, n independent blades with σ along both directions of the zone.
    const sigma = 0.004;
    const n = disc.blades.length;
    const generator = seededGenerator(11);
    const draws = Array.from({ length: 20_000 }, () =>
      Float64Array.from({ length: 6 * n }, (_, i) => (i % 6 < 2 ? sigma * generator.normal() : 0)),
    );
    const quantileAt = (p: number): number => 2 * sigma * Math.sqrt(-2 * Math.log(1 - p ** (1 / n)));
    const { unchanged } = nextDisc(
      disc.blades,
      disc.points,
      tool,
      Float64Array.of(0),
      new Map(),
      draws,
      0.95,
    );
    // Standard errors of the quantiles of 20 000 draws are below 1 % of them.
    expect(unchanged.expected / quantileAt(0.5)).toBeCloseTo(1, 1.5);
    expect(unchanged.low / quantileAt(0.025)).toBeCloseTo(1, 1.5);
    expect(unchanged.high / quantileAt(0.975)).toBeCloseTo(1, 1.5);
  });
});

describe('a correction', () => {
  const random = randomSource(3);
  const scattered = Array.from({ length: 12 }, () =>
    shifted(0.006 * random.normal(), 0.006 * random.normal()),
  );
  const scatter: Scatter = {
    process: [0.006, 0.006, 0, 0, 0, 0],
    measurement: [0, 0, 0, 0, 0, 0],
    index: 0,
    degreesOfFreedom: 60,
  };

  test('fitted to scatter alone brings nothing on the next disc, and says so', () => {
    const { stations, definition, frame } = discOf(scattered);
    const found = corrections({
      stations,
      definition,
      frame,
      welds: null,
      outliers: [],
      scatter,
      causes: new Map(),
    });
    for (const { kind, before, after, next, chasesNoise, sentence } of found) {
      expect(after, kind).toBeLessThan(before);
      expect(next!.corrected.expected, kind).toBeGreaterThan(next!.unchanged.expected);
      expect(chasesNoise, kind).toBe(true);
      expect(sentence, kind).toContain('chase');
      expect(sentence, kind).toMatch(/ Not recommended\.$/);
    }
  });

  test('of a cause that recurs keeps its gain, and settings for single stations add nothing to it', () => {
    const shift = 0.03;
    const { stations, definition, frame } = discOf(
      scattered.map(({ translation: [o, l] }) => shifted(o + shift, l)),
    );
    const found = corrections({
      stations,
      definition,
      frame,
      welds: null,
      outliers: [],
      scatter,
      causes: new Map(stations.map((s): [number, Vec6] => [s.station, [shift, 0, 0, 0, 0, 0]])),
    });
    const tool = found.find((c) => c.kind === 'tool')!;
    expect(tool.next!.unchanged.expected - tool.next!.corrected.expected).toBeGreaterThan(0.03);
    expect(tool.chasesNoise).toBe(false);
    expect(found.find((c) => c.kind === 'all')!.chasesNoise).toBe(true);
  });
});
