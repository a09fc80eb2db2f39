/** Pitch deviations round the disc, and repeatability from repeated runs. */
import { describe, expect, it } from 'vitest';
import { pitchDeviations } from '../../shared-math/diagnosis/pitch.ts';
import { indexRepeatability, repeatability } from '../../shared-math/diagnosis/repeatability.ts';
import { DEGREE, discDefinition, SEAT } from '../support/synthetic-disc.ts';

/** Index deviations in µm at the seat radius. */
function deviations(arcs: readonly (number | null)[]) {
  return arcs.flatMap((arc, k) =>
    arc === null ? [] : [{ station: k + 1, deviation: arc / 1000 / SEAT.radius }],
  );
}

function micrometres(value: number | null): number | null {
  return value === null ? null : Number((1000 * value).toFixed(9));
}

const ARCS = [0, 2, 5, 3, -1, -4, -6, -2];

describe('pitch deviations', () => {
  it('do not know a common turn', () => {
    const disc = discDefinition({ stations: 8 });
    const turned = pitchDeviations(deviations(ARCS.map((x) => x + 40)), disc);
    expect(turned.stations.map((s) => micrometres(s.singlePitch))).toEqual([2, 3, -2, -4, -3, -2, 4, 2]);
    expect(turned.stations.map((s) => micrometres(s.arc))).toEqual(ARCS.map((x) => x + 40));
    expect([micrometres(turned.singlePitch), micrometres(turned.totalCumulativePitch)]).toEqual([4, 11]);
  });

  it('are pitches in the sense in which a clockwise plan numbers', () => {
    // Station 2 lies clockwise of station 1: turned counter-clockwise, it comes nearer.
    const disc = discDefinition({ stations: 8, sense: 'clockwise' });
    const found = pitchDeviations(deviations(ARCS), disc);
    expect(found.stations.map((s) => s.station)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(found.stations.map((s) => micrometres(s.singlePitch))).toEqual([-2, -3, 2, 4, 3, 2, -4, -2]);
    expect(found.stations.map((s) => micrometres(s.cumulativePitch))).toEqual(ARCS.map((x) => 0 - x));
  });

  it('go to the next angle where the plan lists angles in another order', () => {
    const disc = discDefinition({ angles: [0, 200, 90, 300].map((a) => a * DEGREE) });
    const found = pitchDeviations(deviations([1, 2, 4, 8]), disc);
    expect(found.stations.map((s) => s.station)).toEqual([1, 3, 2, 4]);
    expect(found.stations.map((s) => micrometres(s.singlePitch))).toEqual([3, -2, 6, -7]);
  });

  it('are unknown across a missing station, while cumulative ones go on', () => {
    const disc = discDefinition({ stations: 8 });
    const found = pitchDeviations(deviations(ARCS.map((x, k) => (k === 0 || k === 3 ? null : x))), disc);
    expect(found.stations.map((s) => [s.station, micrometres(s.singlePitch)])).toEqual([
      [2, 3],
      [3, null],
      [5, -3],
      [6, -2],
      [7, 4],
      [8, null],
    ]);
    expect(found.stations.map((s) => micrometres(s.cumulativePitch))).toEqual([0, 3, -3, -6, -8, -4]);
    expect([micrometres(found.singlePitch), micrometres(found.totalCumulativePitch)]).toEqual([4, 11]);
  });

  it('do not exist for a single station', () => {
    const found = pitchDeviations(deviations([3]), discDefinition({ stations: 1 }));
    expect(found).toMatchObject({ singlePitch: null, totalCumulativePitch: null });
    expect(pitchDeviations([], discDefinition()).stations).toEqual([]);
  });
});

describe('repeatability', () => {
  const up = [1, 3, 2];
  const down = [0, 2];

  it('from one direction alone has no reversal', () => {
    const found = repeatability([{ station: 1, up, down: [] }], 3)!;
    expect(found).toMatchObject({ reversal: null, repeatabilityDown: null, meanDeviation: null });
    expect(found.repeatabilityUp).toBeCloseTo(4, 12);
    expect(found.repeatability).toBeCloseTo(4, 12);
    expect(found.accuracy).toBeCloseTo(4, 12);
    expect(found.accuracyDown).toBeNull();
  });

  it('from one approach in a direction has a reversal and no spread', () => {
    const found = repeatability([{ station: 1, up, down: [5] }], 3)!;
    expect(found.reversal).toBeCloseTo(3, 12);
    expect(found).toMatchObject({ repeatability: null, accuracy: null, repeatabilityDown: null });
    expect(found.systematicDeviation).toBeCloseTo(3, 12);
  });

  it('takes the larger of the spreads and of both with the reversal', () => {
    // s↑ = 1, s↓ = √2, B = 1: 2·1 + 2·√2 + 1 against 4·√2.
    const found = repeatability([{ station: 4, up, down }], 3)!;
    expect(found.repeatability).toBeCloseTo(3 + 2 * Math.SQRT2, 12);
    // s↑ = 1, s↓ = 10·√2: 4·s↓ is the largest.
    const wide = repeatability([{ station: 4, up, down: [-8, 12] }], 3)!;
    expect(wide.repeatability).toBeCloseTo(40 * Math.SQRT2, 10);
  });

  it('is null without any approach', () => {
    expect(repeatability([{ station: 1, up: [], down: [] }], 0)).toBeNull();
  });

  it('of the index takes runs about the station’s own deviation, tangential displacement over radius', () => {
    const disc = discDefinition({
      stations: 2,
      seat: { ...SEAT, heightAngle: 0, staggerAngle: Math.PI / 2 },
    });
    // With this seat the oscillation direction is the tangential one.
    const pose = (station: number, run: number, direction: 1 | -1, arc: number) =>
      ({ station, run, direction, error: [arc, 0.3, 0.2, 0, 0, 0] }) as const;
    const poses = [pose(1, 1, 1, 0.101), pose(1, 1, -1, 0.099), pose(1, 2, 1, 0.103), pose(1, 2, -1, 0.097)];
    const found = indexRepeatability(
      poses,
      [
        { station: 1, deviation: 5e-6 },
        { station: 2, deviation: -5e-6 },
      ],
      disc,
    )!;
    expect(found.runs).toBe(2);
    const [first] = found.targets;
    expect(found.targets).toHaveLength(1);
    expect(first!.meanUp! - 5e-6).toBeCloseTo(0.002 / SEAT.radius, 15);
    expect(first!.reversal).toBeCloseTo(0.004 / SEAT.radius, 15);
    expect(first!.standardDown).toBeCloseTo((Math.SQRT2 * 0.001) / SEAT.radius, 15);
    expect(indexRepeatability(null, [], disc)).toBeNull();
  });
});
