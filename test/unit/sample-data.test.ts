import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { makeDisc } from '../../sample-data/disc.ts';
import { sampleFiles, scenarios } from '../../sample-data/files.ts';
import {
  bladeFrame,
  compose,
  errorsOf,
  inverse,
  motionOf,
  rotationBy,
  type SixVector,
} from '../../sample-data/motion.ts';
import { seededRandom } from '../../sample-data/random.ts';

const folder = new URL('../../sample-data/', import.meta.url);

describe('the sample discs in the repository', () => {
  test.each(sampleFiles().map(({ path, text }) => [path, text]))(
    '%s is what the program writes',
    (path, text) => {
      const kept = readFileSync(new URL(path, folder), 'utf8');
      expect(kept === text, `${path} differs: run npx tsx sample-data/make.ts`).toBe(true);
    },
  );

  test('hold no file that the program does not write', () => {
    const written = new Set(sampleFiles().map(({ path }) => path));
    const found = scenarios.flatMap((scenario) =>
      readdirSync(new URL(`${scenario.folder}/`, folder)).map((name) => `${scenario.folder}/${name}`),
    );
    expect(found.filter((path) => !written.has(path) && !path.endsWith('/scenario.ts'))).toEqual([]);
  });

  test('have the stations out of tolerance that their README names', () => {
    const failing = scenarios.map((scenario) => [
      scenario.folder,
      makeDisc(scenario)
        .stations.filter(({ conforms }) => !conforms)
        .map(({ station }) => station),
    ]);
    expect(failing).toEqual([
      ['conforming', []],
      ['off-centre', [2, 13, 19, 20]],
      ['drifting', [2, 8, 16]],
    ]);
  });

  test('keep every true position at least 3 µm from its limit, so that noise does not decide a verdict', () => {
    for (const scenario of scenarios) {
      const { tolerance } = scenario.plan.blade.position;
      for (const { positions } of makeDisc(scenario).stations) {
        const worst = Math.max(...positions.map(({ value }) => value));
        expect(Math.abs(worst - tolerance)).toBeGreaterThan(0.003);
      }
    }
  });

  test('have features of realistic size: hub 20 to 200 points, blade 6 to 60', () => {
    for (const { hub, blade } of scenarios) {
      expect(hub.filter(({ points }) => points.length < 20 || points.length > 200)).toEqual([]);
      expect(blade.filter(({ points }) => points.length < 6 || points.length > 60)).toEqual([]);
    }
  });

  test('weld every station once, in the order of the sequence numbers', () => {
    for (const { plan, welds } of scenarios) {
      const stations = welds.map(({ station }) => station).sort((a, b) => a - b);
      expect(stations).toEqual(Array.from({ length: plan.disc.stations }, (_, i) => i + 1));
      expect(welds.map(({ sequence }) => sequence)).toEqual(stations);
    }
  });
});

describe('the motions the discs are made with', () => {
  test('without height or stagger, at 0°: oscillation along Z, lateral against Y, upset along X', () => {
    const { rotation, translation } = bladeFrame(
      { radius: 200, axial: -5, heightAngle: 0, staggerAngle: 0 },
      0,
    );
    // Columns are o, l, u. At θ = 0 the radial direction is X and the tangential one Y, so l = u × o = X × Z = −Y.
    const expected = [
      [0, 0, 1],
      [0, -1, 0],
      [1, 0, 0],
    ];
    rotation.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(value).toBeCloseTo(expected[i]![j]!, 15);
      });
    });
    expect(translation).toEqual([200, 0, -5]);
  });

  test('a true blade with more stagger than nominal has a negative rotation about upset', () => {
    const seat = { radius: 240, axial: 10, heightAngle: 6, staggerAngle: 38 };
    const turned = { ...seat, staggerAngle: 38 + (0.001 * 180) / Math.PI };
    const errors = errorsOf(compose(inverse(bladeFrame(seat, 1)), bladeFrame(turned, 1)));
    expect(errors[5]).toBeCloseTo(-0.001, 12);
    for (const other of errors.slice(0, 5)) expect(other).toBeCloseTo(0, 12);
  });

  test('errors become a motion and come back', () => {
    const errors: SixVector = [0.01, -0.02, 0.03, 2e-4, -3e-4, 5e-4];
    errorsOf(motionOf(errors)).forEach((value, i) => {
      expect(Math.abs(value - errors[i]!)).toBeLessThan(1e-15);
    });
  });

  test('a quarter turn about Z carries X to Y', () => {
    const [first, second] = rotationBy([0, 0, Math.PI / 2]);
    expect(first[0]).toBeCloseTo(0, 15);
    expect(second[0]).toBeCloseTo(1, 15);
  });
});

describe('the random numbers', () => {
  test('repeat for the same seed and differ for another', () => {
    const draw = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).normal);
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  test('have mean 0 and standard deviation 1 within four standard errors', () => {
    const n = 20_000;
    const values = Array.from({ length: n }, seededRandom(11).normal);
    const mean = values.reduce((sum, value) => sum + value, 0) / n;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1);
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
  });
});
