/** The diagnosis does not hang on how stations are numbered, where θ is counted from, or in which order they come. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DiagnosisInput, findCauses } from '../../shared-math/diagnosis/diagnose.ts';
import type { Diagnosis } from '../../shared-math/diagnosis/findings.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { transpose } from '../../shared-math/geometry/matrix.ts';
import { randomSource } from '../support/random.ts';
import { NO_CAUSES, simulateDisc } from '../support/simulated-stations.ts';

type Found = Omit<Diagnosis, 'corrections'>;

function disc(seed: number) {
  const random = randomSource(seed);
  const stations = 9 + Math.floor(6 * random.uniform());
  const welds = Array.from({ length: stations }, (_, k) => ({ station: k + 1, at: random.uniform() }))
    .sort((a, b) => a.at - b.at)
    .map(({ station }, i) => ({ station, tool: i < stations / 2 ? 0 : 1 }));
  const six = (mm: number, rad: number) => [mm, mm, mm, rad, rad, rad].map((s) => s * random.normal());
  return simulateDisc(
    {
      stations,
      welds,
      causes: {
        ...NO_CAUSES,
        ring: six(0.01, 3e-5),
        tools: [six(0.008, 5e-5), six(0.008, 5e-5)],
        wear: six(0.0008, 4e-6),
        slips: new Map(seed % 3 === 0 ? [[4, [0.07, 0, 0, 0, 0, 0]]] : []),
      },
    },
    random,
  );
}

/** What does not hang on the numbers of stations. Angles from the X axis are left out. */
function essence(d: Found) {
  return d.components.map((c) => ({
    name: c.name,
    significant: c.significant,
    size: c.size?.value ?? 0,
    low: c.size?.low ?? 0,
    high: c.size?.high ?? 0,
    share: c.share,
    dimensions: c.dimensions,
    probability: c.test?.probability ?? 0,
  }));
}

function expectSame(a: Found, b: Found): void {
  essence(a).forEach((x, i) => {
    const y = essence(b)[i]!;
    expect(y.significant).toBe(x.significant);
    expect(y.dimensions).toBe(x.dimensions);
    for (const key of ['size', 'low', 'high'] as const) expect(Math.abs(y[key] - x[key])).toBeLessThan(1e-6);
    for (const key of ['share', 'probability'] as const) expect(Math.abs(y[key] - x[key])).toBeLessThan(1e-4);
  });
}

describe('invariance', () => {
  const seeds = { seed: 4, numRuns: 12 };

  it('numbers of stations may be given anew', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), (seed) => {
        const original = disc(seed);
        const n = original.definition.stations.length;
        const renumber = (station: number): number => n + 1 - station;
        const other: DiagnosisInput = {
          definition: {
            ...original.definition,
            stations: [...original.definition.stations]
              .map((s) => ({ ...s, station: renumber(s.station) }))
              .sort((a, b) => a.station - b.station),
          },
          stations: [...original.stations]
            .map((s) => ({ ...s, station: renumber(s.station) }))
            .sort((a, b) => a.station - b.station),
          welds: original.welds!.map((w) => ({ ...w, station: renumber(w.station) })),
          frame: original.frame,
        };
        const [a, b] = [findCauses(original)!, findCauses(other)!];
        expectSame(a, b);
        expect(b.outliers.map((o) => renumber(o.station))).toEqual(a.outliers.map((o) => o.station));
        expect(b.leading).toBe(a.leading);
      }),
      seeds,
    );
  });

  it('θ may be counted from another place', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000 }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (seed, from) => {
          const original = { ...disc(seed), frame: { covariance: null } };
          const turned = (angle: number): number => angle + from;
          const other: DiagnosisInput = {
            ...original,
            definition: {
              ...original.definition,
              stations: original.definition.stations.map((s) => ({ ...s, angle: turned(s.angle) })),
            },
            stations: original.stations.map((s) => {
              const planned = original.definition.stations.find((d) => d.station === s.station)!;
              const { rotation, translation } = nominalBladeFrame(turned(planned.angle), planned.seat);
              return { ...s, nominal: { origin: translation, axes: transpose(rotation) } };
            }),
          };
          expectSame(findCauses(original)!, findCauses(other)!);
        },
      ),
      seeds,
    );
  });

  it('rows of the weld file may come in any order, sequence numbers with gaps', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), (seed) => {
        const original = disc(seed);
        const welds = [...original.welds!].reverse().map((w) => ({ ...w, sequence: 10 * w.sequence + 3 }));
        expectSame(findCauses(original)!, findCauses({ ...original, welds })!);
      }),
      seeds,
    );
  });

  it('shares add up to one and dimensions to all errors', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), (seed) => {
        const d = findCauses(disc(seed))!;
        expect(d.components.reduce((sum, c) => sum + c.share, 0)).toBeCloseTo(1, 12);
        expect(d.components.reduce((sum, c) => sum + c.dimensions, 0)).toBe(6 * d.stations.length);
        for (const c of d.components) if (c.size) expect(c.size.low).toBeLessThanOrEqual(c.size.value);
      }),
      seeds,
    );
  });
});
