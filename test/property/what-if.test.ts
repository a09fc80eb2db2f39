/** What must hold for any what-if of a measured disc. */
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { PartDefinition } from '../../shared-math/definition.ts';
import { corrections } from '../../shared-math/diagnosis/corrections/corrections.ts';
import type { StationResult } from '../../shared-math/result.ts';
import { rejudgeStation, rejudging } from '../../shared-math/stations/rejudge-station.ts';
import { applyWhatIf, type MeasuredDisc } from '../../shared-math/what-if/apply.ts';
import {
  EVERY_TOOL,
  isMeasured,
  MEASURED_STATE,
  type WhatIfState,
  withCorrection,
} from '../../shared-math/what-if/state.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';

const RUNS = { numRuns: 12, seed: 20261125 };
const QUICK = { bounds: false };
const mm = fc.double({ min: -0.03, max: 0.03, noNaN: true });
const rad = fc.double({ min: -2e-4, max: 2e-4, noNaN: true });
const sixOf = fc.tuple(mm, mm, mm, rad, rad, rad);

let reduced: ReducedDisc;
let definition: PartDefinition;
let disc: MeasuredDisc;

beforeAll(async () => {
  const path = (name: string) =>
    fileURLToPath(new URL(`../../sample-data/drifting/${name}`, import.meta.url));
  reduced = await runReduction({
    pointsPath: path('points.csv'),
    planPath: path('plan.json'),
    weldsPath: path('welds.csv'),
  });
  ({ definition } = await readPlan(path('plan.json')));
  disc = { result: reduced.result, definition, welds: reduced.welds };
});

const hubOf = ([x, y, z, rotX, rotY, rotZ]: readonly number[]): WhatIfState['hub'] => ({
  x: x!,
  y: y!,
  z: z!,
  rotX: rotX!,
  rotY: rotY!,
  rotZ: rotZ!,
});

const positionsOf = (stations: readonly StationResult[]): number[] => stations.map((s) => s.position.value!);

describe('what if nothing is changed', () => {
  it('is the measurement itself', () => {
    const found = applyWhatIf(disc, MEASURED_STATE);
    expect(isMeasured(MEASURED_STATE)).toBe(true);
    expect(found.stations).toEqual(disc.result.stations);
    expect(found.summary).toEqual(disc.result.summary);
    expect(found.changed).toEqual([]);
  });

  it('is judged as it was measured, to rounding', () => {
    for (const measured of disc.result.stations) {
      const station = definition.stations.find((s) => s.station === measured.station)!;
      const again = rejudgeStation(measured, rejudging(definition, station, null))!;
      expect(again.verdict).toBe(measured.verdict);
      expect(again.position.value).toBeCloseTo(measured.position.value!, 14);
      expect(again.position.expanded).toBeCloseTo(measured.position.expanded!, 10);
      expect(again.position.probability).toBeCloseTo(measured.position.probability!, 10);
      again.limits.forEach((limit, i) => {
        const before = measured.limits[i]!;
        expect(limit.verdict).toBe(before.verdict);
        expect(limit.expanded).toBeCloseTo(before.expanded!, 12);
        expect(limit.probability).toBeCloseTo(before.probability!, 10);
      });
    }
  });
});

describe('moved blades', () => {
  it('come back where a motion of the tool is undone', () => {
    fc.assert(
      fc.property(sixOf, (six) => {
        const there = applyWhatIf(disc, { ...MEASURED_STATE, tools: { [EVERY_TOOL]: [...six] } }, QUICK);
        const moved: MeasuredDisc = { ...disc, result: { ...disc.result, stations: there.stations } };
        const back = applyWhatIf(
          moved,
          { ...MEASURED_STATE, tools: { [EVERY_TOOL]: six.map((x) => -x) as unknown as typeof six } },
          QUICK,
        );
        // exp(−c) is not quite the inverse of the motion of c: its displacement is turned by the rotation.
        back.stations.forEach((s, k) => {
          expect(Math.abs(s.position.value! - disc.result.stations[k]!.position.value!)).toBeLessThan(5e-5);
        });
      }),
      RUNS,
    );
  });

  it('are the same whether the disc is re-clocked, the hub turned, or every station indexed', () => {
    fc.assert(
      fc.property(rad, (turn) => {
        const all = Object.fromEntries(definition.stations.map((s) => [s.station, turn]));
        const [clock, hub, index] = [
          { ...MEASURED_STATE, reclock: turn },
          { ...MEASURED_STATE, hub: hubOf([0, 0, 0, 0, 0, turn]) },
          { ...MEASURED_STATE, index: all },
        ].map((state) => positionsOf(applyWhatIf(disc, state, QUICK).stations));
        clock!.forEach((value, k) => {
          expect(value).toBeCloseTo(hub![k]!, 12);
          expect(value).toBeCloseTo(index![k]!, 12);
        });
      }),
      RUNS,
    );
  });

  it('are judged alike with and without upper bounds', () => {
    fc.assert(
      fc.property(sixOf, (six) => {
        const state = { ...MEASURED_STATE, hub: hubOf(six) };
        const [full, quick] = [applyWhatIf(disc, state), applyWhatIf(disc, state, QUICK)];
        expect(quick.summary).toEqual(full.summary);
        expect(quick.stations.every((s) => s.position.expanded === null)).toBe(true);
        full.stations.forEach((s, k) => {
          expect(quick.stations[k]!.verdict).toBe(s.verdict);
          expect(quick.stations[k]!.position.probability).toBe(s.position.probability);
          expect(s.position.expanded).toBeGreaterThan(0);
        });
      }),
      { ...RUNS, numRuns: 4 },
    );
  });

  it('of one tool are those it welded', () => {
    const { changed } = applyWhatIf(disc, { ...MEASURED_STATE, tools: { T2: [0.01, 0, 0, 0, 0, 0] } }, QUICK);
    const ofT2 = reduced.welds!.filter((w) => w.tool === 'T2').map((w) => w.station);
    const measured = disc.result.stations.map((s) => s.station);
    expect(changed).toEqual(measured.filter((station) => ofT2.includes(station)));
    expect(changed.length).toBeGreaterThan(3);
  });

  it('by the settings of a correction are the predicted stations', () => {
    const found = corrections({
      stations: disc.result.stations,
      definition,
      frame: reduced.result.frame.covariance,
      welds: reduced.welds,
      outliers: [],
      scatter: null,
    });
    for (const correction of found) {
      const { stations, summary } = applyWhatIf(disc, withCorrection(MEASURED_STATE, correction));
      correction.predicted.forEach((p, k) => {
        expect(stations[k]!.position.value).toBeCloseTo(p.position!, 10);
        expect(stations[k]!.verdict).toBe(p.verdict);
      });
      expect(summary.conforming).toBe(correction.conforming);
    }
  });
});

describe('other requirements', () => {
  it('never fail more stations where the tolerance is larger', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.1, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (tolerance, factor) => {
          const of = (t: number) => applyWhatIf(disc, { ...MEASURED_STATE, tolerance: t }, QUICK).summary;
          const [tight, wide] = [of(tolerance), of(tolerance * factor)];
          expect(wide.conforming).toBeGreaterThanOrEqual(tight.conforming);
          expect(wide.nonconforming).toBeLessThanOrEqual(tight.nonconforming);
        },
      ),
      RUNS,
    );
  });

  it('leave the positions as they are', () => {
    const { stations } = applyWhatIf(disc, { ...MEASURED_STATE, tolerance: 0.02, limits: { lateral: null } });
    expect(positionsOf(stations).map((x) => x.toFixed(12))).toEqual(
      positionsOf(disc.result.stations).map((x) => x.toFixed(12)),
    );
    expect(stations.every((s) => s.limits.every((l) => l.name !== 'lateral'))).toBe(true);
    expect(stations.every((s) => s.position.tolerance === 0.02)).toBe(true);
  });

  it('count without the stations that are left out', () => {
    const [first] = disc.result.stations;
    const { stations, summary } = applyWhatIf(disc, { ...MEASURED_STATE, dropped: [first!.station] });
    expect(stations).toEqual(disc.result.stations.slice(1));
    expect(summary.stations).toBe(disc.result.summary.stations - 1);
    expect(summary.missing).toEqual(disc.result.summary.missing);
  });
});
