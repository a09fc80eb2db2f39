/** The reduction of the sample discs against what was planted in them. */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { makeDisc, type PlantedStation } from '../../sample-data/disc.ts';
import { scenarios } from '../../sample-data/files.ts';
import type { Verdict } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';

const names = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'] as const;

/**
 * Points have 1 µm of noise. A feature of n points at lever L then tilts by about 1 µm/(L·√n): at worst 13 µrad for the
 * narrow flanks about upset; the clocking datums turn the whole disc by up to 5 µrad, 2 µm at the blade tips. Four
 * times that, and the position is the diameter.
 */
const LARGEST_SHIFT = 0.004;
const LARGEST_TURN = 5.2e-5;
const LARGEST_POSITION_CHANGE = 0.01;

describe.each(scenarios.map((scenario) => [scenario.folder, scenario] as const))('%s', (folder, scenario) => {
  let disc: ReducedDisc;
  let truth: readonly PlantedStation[];

  beforeAll(async () => {
    const path = (name: string) =>
      fileURLToPath(new URL(`../../sample-data/${folder}/${name}`, import.meta.url));
    disc = await runReduction({
      pointsPath: path('points.csv'),
      planPath: path('plan.json'),
      weldsPath: path('welds.csv'),
    });
    truth = makeDisc(scenario).stations;
  });

  test('every measured station is reduced, the others are listed as missing', () => {
    const { notMeasured } = scenario.measurement;
    expect(disc.result.stations.map(({ station }) => station)).toEqual(
      truth.map(({ station }) => station).filter((station) => !notMeasured.includes(station)),
    );
    expect(disc.result.summary.missing.map(({ station }) => station)).toEqual(notMeasured);
  });

  test('the six errors are those planted, within the noise', () => {
    for (const { station, error } of disc.result.stations) {
      names.forEach((name, i) => {
        const difference = Math.abs(error[name]! - truth[station - 1]!.errors[i]!);
        expect(difference, `station ${station}, ${name}`).toBeLessThan(i < 3 ? LARGEST_SHIFT : LARGEST_TURN);
      });
    }
  });

  test('position at root and tip is that planted, within the noise', () => {
    for (const { station, position } of disc.result.stations) {
      for (const { name, value } of truth[station - 1]!.positions) {
        const found = position.checkPoints.find((point) => point.name === name)!.value!;
        expect(Math.abs(found - value), `station ${station}, ${name}`).toBeLessThan(LARGEST_POSITION_CHANGE);
      }
    }
  });

  const truly = (station: number): Verdict => (truth[station - 1]!.conforms ? 'conforming' : 'nonconforming');

  const { rule } = scenario.plan['decision'] as { readonly rule: string };
  if (rule === 'guarded') {
    test('no proven verdict contradicts the true one, and only what lies within U of its limit is unproven', () => {
      const { stations } = disc.result;
      for (const { station, verdict } of stations)
        if (verdict !== 'unproven') expect(verdict, `station ${station}`).toBe(truly(station));
      const judged = stations.flatMap(({ station, position, limits }) => [
        ...position.checkPoints.map((point) => ({ ...point, limit: point.tolerance, station })),
        ...limits.map((limit) => ({ ...limit, station })),
      ]);
      for (const { station, name, value, expanded, limit, verdict } of judged)
        if (verdict === 'unproven')
          expect(Math.abs(Math.abs(value!) - limit), `station ${station}, ${name}`).toBeLessThanOrEqual(
            expanded!,
          );
      // Measured, its planted failures exceed the tolerance by less than U; none of them passes, and no good blade is held.
      expect(stations.filter(({ verdict }) => verdict === 'unproven').map(({ station }) => station)).toEqual(
        stations.filter(({ station }) => truly(station) === 'nonconforming').map(({ station }) => station),
      );
    });
  } else {
    test('every verdict is the true one', () => {
      expect(disc.result.stations.map(({ station, verdict }) => [station, verdict])).toEqual(
        disc.result.stations.map(({ station }) => [station, truly(station)]),
      );
    });
  }

  test('points of features that the plan does not know are left out, and no others', () => {
    expect(disc.result.source.points.excluded.length).toBe(scenario.csv.strays.length);
  });

  test('the welds are read in the order of the file', () => {
    expect(disc.welds?.map(({ station, sequence, tool }) => [station, sequence, tool])).toEqual(
      scenario.welds.map(({ station, sequence, tool }) => [station, sequence, tool]),
    );
  });
});
