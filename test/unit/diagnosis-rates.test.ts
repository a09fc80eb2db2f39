/**
 * Rates on simulated discs: coverage, false claims and power. Few discs, wide bounds; the large run with its table is in
 * `test/coverage/run-diagnosis.ts`.
 */
import { describe, expect, it } from 'vitest';
import { plannedWelds, runCoverage, runPlanted, runScatterOnly } from '../coverage/diagnosis-experiment.ts';
import { predictedPower } from '../support/diagnosis-power.ts';
import { NO_CAUSES } from '../support/simulated-stations.ts';
import { discDefinition } from '../support/synthetic-disc.ts';

describe('coverage', () => {
  it('of parameters and sizes is the stated one', () => {
    const tallies = runCoverage(40, 5);
    // Parameters of one disc share its scatter: some 15 independent values a disc, standard error about 0.7 %.
    expect(tallies.share('any parameter')).toBeGreaterThan(0.925);
    expect(tallies.share('any parameter')).toBeLessThan(0.98);
    expect(tallies.share('any size')).toBeGreaterThan(0.9);
    expect(tallies.share('index deviation')).toBeGreaterThan(0.92);
    expect(tallies.share('slipped blade named')).toBeGreaterThan(0.75);
    expect(tallies.share('no false outlier')).toBeGreaterThan(0.9);
  });
});

describe('scatter only', () => {
  it('causes are claimed at no more than the stated rate', () => {
    const tallies = runScatterOnly(12, 60, 21);
    // 3 of 60 expected at most; 9 or more would happen by chance in 0.3 % of runs.
    expect(tallies.all.get('any claim')!.count).toBeLessThan(9);
  });
});

describe('a planted cause', () => {
  const stations = 18;
  const definition = discDefinition({ stations });
  it('is found with the power that theory predicts', () => {
    const shift = 0.0032;
    const predicted = predictedPower(
      definition,
      definition.stations.map((s) => plannedWelds(stations).findIndex((w) => w.station === s.station)),
      'ringShift',
      [shift, 0, 0, 0],
      NO_CAUSES.scatter,
      60,
    );
    expect(predicted).toBeGreaterThan(0.6);
    expect(predicted).toBeLessThan(0.9);
    const discs = 40;
    const found = runPlanted('ringShift', { ...NO_CAUSES, ring: [shift, 0, 0, 0, 0, 0] }, stations, discs, 9);
    const error = Math.sqrt((predicted * (1 - predicted)) / discs);
    expect(Math.abs(found.share('p ≤ 0.05') - predicted)).toBeLessThan(3 * error);
  });
});
