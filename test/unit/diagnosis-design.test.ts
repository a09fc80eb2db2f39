/** What the causes make of the six errors, against the exact motions; rank and the cases in which causes cannot be told apart. */
import { describe, expect, it } from 'vitest';
import type { BladeSeat } from '../../shared-math/definition.ts';
import { channelDirection } from '../../shared-math/diagnosis/design.ts';
import { findCauses } from '../../shared-math/diagnosis/diagnose.ts';
import type { HarmonicChannel } from '../../shared-math/diagnosis/findings.ts';
import { discMotions, observe, SCALE } from '../../shared-math/diagnosis/observations.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { transpose } from '../../shared-math/geometry/matrix.ts';
import { discErrors } from '../../shared-math/pose/blade-errors.ts';
import { component } from '../support/planted-truth.ts';
import { randomSource } from '../support/random.ts';
import {
  errorsOfMotion,
  motion,
  NO_CAUSES,
  type SimulatedCauses,
  type SimulationOptions,
  simulateDisc,
} from '../support/simulated-stations.ts';
import { discDefinition } from '../support/synthetic-disc.ts';

const DEGREE = Math.PI / 180;
const SEATS: readonly BladeSeat[] = [
  { radius: 240, axial: 15, heightAngle: 6 * DEGREE, staggerAngle: 38 * DEGREE },
  { radius: 180, axial: -30, heightAngle: -12 * DEGREE, staggerAngle: -25 * DEGREE },
];

describe('small motions', () => {
  it('of the disc frame are the first order of the exact composition', () => {
    for (const seat of SEATS)
      for (const angle of [0.3, 2.1, -1.7]) {
        const nominal = nominalBladeFrame(angle, seat);
        const columns = discMotions(transpose(nominal.rotation), nominal.translation);
        columns.forEach((column, m) => {
          // One µm or 10 µrad: the second order is below 1e-5 of it.
          const size = m < 3 ? 1e-3 : 1e-5;
          const exact = errorsOfMotion(
            nominal,
            [0, 1, 2, 3, 4, 5].map((i) => (i === m ? size : 0)),
          );
          column.forEach((x, i) => {
            expect(x).toBeCloseTo(exact[i]! * SCALE[i]!, 4);
          });
        });
      }
  });

  it.each(['radial', 'tangential', 'axial', 'lean', 'sweep', 'stagger'] as const)(
    'of a blade in the channel %s show in this quantity of the disc view and in no other of its kind',
    (channel: HarmonicChannel) => {
      for (const seat of SEATS) {
        const definition = discDefinition({ stations: 5, seat });
        const { stations } = simulateDisc(
          { stations: 5, seat, causes: NO_CAUSES, welds: null },
          randomSource(1),
        );
        const o = observe(stations, definition)[3]!;
        const six = channelDirection(o, channel).map((x, i) => x / SCALE[i]!);
        const seen = discErrors(motion(six), o.angle, seat) as Readonly<Record<string, number>>;
        const kind = ['radial', 'tangential', 'axial'].includes(channel)
          ? ['radial', 'tangential', 'axial']
          : ['lean', 'sweep', 'stagger'];
        const unit = kind[0] === 'radial' ? 1e-3 : 1e-5;
        for (const name of kind) expect(seen[name]! / unit).toBeCloseTo(name === channel ? 1 : 0, 4);
      }
    },
  );
});

const NO_NOISE = { scatter: [0, 0, 0, 0, 0, 0], hub: null, own: null } as const;

function exactDisc(causes: Partial<SimulatedCauses>, options: Partial<SimulationOptions> = {}) {
  return simulateDisc(
    {
      stations: 12,
      welds: null,
      ...options,
      ...NO_NOISE,
      causes: { ...NO_CAUSES, scatter: NO_NOISE.scatter, ...causes },
    },
    randomSource(3),
  );
}

describe('without noise', () => {
  it('every cause comes out as planted', () => {
    const welds = [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12].map((station, i) => ({
      station,
      tool: i < 6 ? 0 : 1,
    }));
    const d = findCauses(
      exactDisc(
        {
          ring: [0.02, -0.01, 0, 3e-5, -2e-5, 0],
          tools: [
            [0, 0, 0, 0, 0, 1e-4],
            [0.01, -0.005, 0.003, 0, 2e-5, 1e-4],
          ],
          wear: [0.001, 0, 0.002, -3e-6, 0, 0],
          index: [{ order: 1, amplitude: 2e-5, phase: 1 }],
        },
        { welds },
      ),
    )!;
    const value = (name: Parameters<typeof component>[1], key: string): number =>
      component(d, name).parameters.find((p) => p.key === key)!.value;
    // To first order in motions of 1e-4: within a thousandth of the largest.
    expect(value('ringShift', 'x')).toBeCloseTo(0.02, 5);
    expect(value('ringShift', 'y')).toBeCloseTo(-0.01, 5);
    expect(value('ringShift', 'tiltX')).toBeCloseTo(3e-5, 7);
    expect(value('toolChange', 'oscillation')).toBeCloseTo(0.01, 5);
    expect(value('toolChange', 'rotLateral')).toBeCloseTo(2e-5, 7);
    expect(value('wear', 'upset')).toBeCloseTo(0.002, 5);
    expect(value('wear', 'rotOscillation')).toBeCloseTo(-3e-6, 7);
    expect(value('index', 'amplitude')).toBeCloseTo(2e-5, 7);
    expect(value('index', 'phase')).toBeCloseTo(180 / Math.PI, 1);
    for (const c of d.components) expect(Number.isFinite(c.share)).toBe(true);
  });
});

describe('what cannot be told apart', () => {
  const scattered = (options: Partial<SimulationOptions>, causes: Partial<SimulatedCauses> = {}) =>
    simulateDisc(
      { stations: 12, welds: null, ...options, causes: { ...NO_CAUSES, ...causes } },
      randomSource(11),
    );

  it('a constant offset: two of its six dimensions belong to the common component, with both readings', () => {
    const d = findCauses(scattered({}))!;
    expect(component(d, 'toolSetup').dimensions).toBe(4);
    expect(component(d, 'common').dimensions).toBe(2);
    expect(component(d, 'common').readings).toHaveLength(2);
    expect(component(d, 'common').readings[1]!.parameters).toHaveLength(6);
    expect(d.confounded[0]!.between).toEqual(['common', 'toolSetup']);
  });

  it('without a welds file tool change and wear are not examined', () => {
    const d = findCauses(scattered({}))!;
    for (const name of ['toolChange', 'wear'] as const)
      expect(component(d, name)).toMatchObject({
        notExamined: 'no welds file was given.',
        notExaminedNote: { code: 'no-welds-file', values: {} },
        test: null,
        size: null,
        significant: false,
      });
    expect(d.sequence).toBeNull();
    expect(d.sentences.join(' ')).toContain('Tool wear was not examined: no welds file was given.');
  });

  it('one tool: no tool change', () => {
    const welds = Array.from({ length: 12 }, (_, i) => ({ station: ((5 * i) % 12) + 1, tool: 0 }));
    const d = findCauses(scattered({ welds }))!;
    expect(component(d, 'toolChange').notExamined).toBe('one tool made all welds.');
    expect(component(d, 'wear').notExamined).toBeNull();
    expect(d.confounded.some((c) => c.between.includes('wear') && c.between.includes('index'))).toBe(true);
  });

  it('tools used once leave no wear', () => {
    const welds = Array.from({ length: 4 }, (_, i) => ({ station: 3 * i + 1, tool: i }));
    const d = findCauses(
      scattered(
        { welds, missing: [2, 3, 5, 6, 8, 9, 11, 12] },
        { tools: welds.map(() => [0, 0, 0, 0, 0, 0]) },
      ),
    )!;
    expect(component(d, 'wear').notExamined).toContain('no tool made more than one');
    expect(component(d, 'toolChange').notExamined).toContain('too few stations');
  });

  it('a weld that is not listed: nothing is said of tools', () => {
    const welds = Array.from({ length: 11 }, (_, i) => ({ station: i + 1, tool: 0 }));
    const d = findCauses(scattered({ welds }))!;
    expect(component(d, 'wear').notExamined).toBe('the welds file lacks station 12.');
  });

  it('two tools, the second used from one ring half on: steps and ring stay apart', () => {
    const welds = Array.from({ length: 12 }, (_, i) => ({ station: i + 1, tool: i < 6 ? 0 : 1 }));
    const tools = [
      [0, 0, 0, 0, 0, 0],
      [0, 0.02, 0, 0, 0, 0],
    ];
    const d = findCauses(scattered({ welds }, { tools }))!;
    expect(component(d, 'toolChange').significant).toBe(true);
    expect(component(d, 'toolChange').dimensions).toBe(6);
  });

  it('fewer than four stations: no diagnosis; four and five: ring, common and tool alone', () => {
    expect(findCauses(scattered({ stations: 3 }))).toBeNull();
    for (const stations of [4, 5]) {
      const welds = Array.from({ length: stations }, (_, i) => ({ station: i + 1, tool: 0 }));
      const d = findCauses(scattered({ stations, welds }))!;
      expect(component(d, 'ringShift').notExamined).toBeNull();
      expect(Number.isFinite(component(d, 'ringShift').size!.high)).toBe(true);
      if (stations === 4) expect(component(d, 'wear').notExamined).toContain('too few stations');
    }
  });

  it('seats that differ at one station do not undo the split of a constant offset; seats that differ widely do', () => {
    const definition = discDefinition({ stations: 12 });
    const other = (staggers: (k: number) => number) => ({
      ...definition,
      stations: definition.stations.map((s, k) => ({
        ...s,
        seat: { ...s.seat, staggerAngle: s.seat.staggerAngle + staggers(k) },
      })),
    });
    const once = findCauses(scattered({ definition: other((k) => (k === 4 ? 3 * DEGREE : 0)) }))!;
    expect(component(once, 'toolSetup').dimensions).toBe(4);
    const often = findCauses(scattered({ definition: other((k) => (k % 2) * 40 * DEGREE) }))!;
    expect(component(often, 'toolSetup').dimensions).toBe(6);
  });

  it('lists the orders that equal pitch cannot tell apart, and fewer of them for uneven pitch', () => {
    const even = findCauses(scattered({}))!;
    expect(even.harmonics.find((h) => h.channel === 'index' && h.order === 5)!.aliases).toEqual([7]);
    const angles = Array.from({ length: 12 }, (_, k) => (k * Math.PI) / 6 + 0.1 * Math.sin(5 * k));
    const uneven = findCauses(scattered({ angles }))!;
    expect(uneven.harmonics.find((h) => h.channel === 'index' && h.order === 5)!.aliases).toEqual([]);
  });
});

describe('nothing known of the measurement', () => {
  it('scatter and measurement stand together, with a warning, and nothing is NaN', () => {
    const d = findCauses(
      simulateDisc({ stations: 10, welds: null, own: null, hub: null, causes: NO_CAUSES }, randomSource(5)),
    )!;
    expect(d.warnings.join(' ')).toContain('Nothing is known of the measurement uncertainty');
    expect(d.warnings.join(' ')).toContain('hub frame');
    expect(JSON.stringify(d)).not.toContain('NaN');
    const numbers = JSON.stringify(d, (_, v: unknown) =>
      typeof v === 'number' && !Number.isFinite(v) ? 'not finite' : v,
    );
    expect(numbers).not.toContain('not finite');
    expect(d.scatter.process.every((s) => s > 0)).toBe(true);
  });
});
