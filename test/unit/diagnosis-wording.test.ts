/** What the diagnosis says where the stations leave two readings, where something was not examined, and where nothing stands out. */
import { describe, expect, it } from 'vitest';
import { correctionWords } from '../../shared-math/diagnosis/corrections/words.ts';
import { findCauses } from '../../shared-math/diagnosis/diagnose.ts';
import type { Said } from '../../shared-math/diagnosis/figures.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import { inUnits } from '../../src-renderer/format/sentence.ts';
import { component } from '../support/planted-truth.ts';
import { randomSource } from '../support/random.ts';
import {
  errorsOfMotion,
  NO_CAUSES,
  type SimulatedCauses,
  type SimulationOptions,
  simulateDisc,
} from '../support/simulated-stations.ts';
import { discDefinition } from '../support/synthetic-disc.ts';

const SECOND = Math.PI / 648_000;
const disc = (causes: Partial<SimulatedCauses>, options: Partial<SimulationOptions> = {}, seed = 4) =>
  simulateDisc(
    { stations: 14, welds: null, ...options, causes: { ...NO_CAUSES, ...causes } },
    randomSource(seed),
  );
const said = (causes: Partial<SimulatedCauses>, options: Partial<SimulationOptions> = {}) =>
  findCauses(disc(causes, options))!;

describe('a station set apart', () => {
  const definition = discDefinition({ stations: 14 });
  const { angle, seat } = definition.stations[8]!;
  const nominal = nominalBladeFrame(angle, seat);
  const turned = errorsOfMotion(nominal, [0, 0, 0, 0, 0, -45 * SECOND]);

  it('by a wrong index is said to be so, with the angle', () => {
    const [outlier, ...others] = said({ slips: new Map([[9, turned]]) }).outliers;
    expect(others).toEqual([]);
    expect(outlier!.station).toBe(9);
    expect(outlier!.index! / SECOND).toBeGreaterThan(-49);
    expect(outlier!.index! / SECOND).toBeLessThan(-41);
    expect(outlier!.words).toMatch(/^an index error of −4\d″ explains it$/);
  });

  it('by a wrong index and something else: both are named', () => {
    const both = turned.map((x, i) => x + (i === 2 ? 0.02 : 0));
    const [outlier] = said({ slips: new Map([[9, both]]) }).outliers;
    expect(outlier!.words).toMatch(/^an index error of −4\d″, with \+\d+ µm along upset besides$/);
  });

  it('by a slip that is no turn about the disc axis: its errors are named', () => {
    const [outlier] = said({ slips: new Map([[9, [0, 0, -0.05, 0, 0, 0]]]) }).outliers;
    expect(outlier!.index).toBeNull();
    expect(outlier!.words).toMatch(/−\d+ µm along upset/);
  });
});

describe('welds', () => {
  it('one weld with a tool: tool or slip of that blade, both are stated', () => {
    const welds = Array.from({ length: 14 }, (_, i) => ({ station: i + 1, tool: i === 13 ? 1 : 0 }));
    const tools = [
      [0, 0, 0, 0, 0, 0],
      [0, 0.05, 0, 0, 0, 0],
    ];
    const d = said({ tools }, { welds });
    const entry = d.confounded.find(
      (c) => c.between.includes('toolChange') && c.between.includes('outliers'),
    );
    expect(entry!.words).toMatch(/^Only station 14 was welded with .+ slipped; both make the same errors/);
    expect(component(d, 'toolChange').significant).toBe(true);
    expect(component(d, 'toolChange').sentence).toContain('as the tool, or as a slip of that blade');
  });

  it('two welds with a tool: nothing of the kind', () => {
    const welds = Array.from({ length: 14 }, (_, i) => ({ station: i + 1, tool: i >= 12 ? 1 : 0 }));
    const zero = [0, 0, 0, 0, 0, 0];
    const d = said({ tools: [zero, zero] }, { welds });
    expect(d.confounded.some((c) => c.between.includes('outliers'))).toBe(false);
  });

  it.each([
    [[3], 'the welds file lacks station 3.'],
    [[2, 4], 'the welds file lacks stations 2 and 4.'],
    [[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13], 'the welds file lacks 13 of the 14 measured stations.'],
  ])('without rows for %j', (missing, why) => {
    const made = disc({}, { welds: Array.from({ length: 14 }, (_, i) => ({ station: i + 1, tool: 0 })) });
    const d = findCauses({ ...made, welds: made.welds!.filter((w) => !missing.includes(w.station)) })!;
    expect(component(d, 'toolChange').notExamined).toBe(why);
    expect(component(d, 'wear').notExamined).toBe(why);
    const { notExaminedNote } = component(d, 'wear');
    expect(notExaminedNote && sentenceOf(notExaminedNote)).toBe(why);
  });

  it('without names of tools: that is the reason, and not one tool', () => {
    const made = disc({}, { welds: Array.from({ length: 14 }, (_, i) => ({ station: i + 1, tool: 0 })) });
    const d = findCauses({ ...made, welds: made.welds!.map((w) => ({ ...w, tool: '' })) })!;
    expect(component(d, 'toolChange').notExamined).toBe('the welds file names no tool.');
    expect(component(d, 'wear').notExamined).toBeNull();
  });
});

describe('orders', () => {
  it('that are not tested are named', () => {
    const welds = Array.from({ length: 8 }, (_, i) => ({ station: i + 1, tool: i < 4 ? 0 : 1 }));
    const zero = [0, 0, 0, 0, 0, 0];
    const d = said({ tools: [zero, zero] }, { stations: 8, welds });
    const words = d.confounded.map((c) => c.words).join('\n');
    const orders = [1, 2, 3, 4];
    for (const order of orders) {
      const listed = d.harmonics.some((h) => h.channel === 'index' && h.order === order);
      const named = new RegExp(`Not examined: index of orders? [^.;]*\\b${order}\\b`).test(words);
      expect(listed !== named, `order ${order}`).toBe(true);
    }
  });

  it('are never told from themselves', () => {
    const definition = discDefinition({ stations: 9 });
    const close = {
      ...definition,
      stations: definition.stations.map((s, k) => ({ ...s, angle: (k < 5 ? 0.02 : 3 + 0.02) * k })),
    };
    const d = said({}, { definition: close });
    for (const { between, words } of d.confounded) {
      expect(between.length).toBeGreaterThan(1);
      expect(new Set(between).size).toBe(between.length);
      expect(words).not.toMatch(/index of order (\d).*cannot be told from.*index of order \1/);
    }
  });
});

describe('nothing but scatter', () => {
  const d = said({});

  it('no cause is said to be found, and the budget speaks of scatter', () => {
    expect(d.components.filter((c) => c.significant)).toEqual([]);
    expect(d.sentences[0]).toBe('No cause is distinguishable from scatter.');
    expect(d.budget.sentence).toMatch(/scatter alone uses/);
    expect(d.budget.sentence).not.toContain('causes found');
  });

  it('what no cause explains stands beside what the measurement leaves open', () => {
    const sentence = component(d, 'scatter').sentence;
    const [, whole, own] =
      /by [\d.]+ µm, and the blades by ([\d.]+) µm r\.m\.s\.; .* and ([\d.]+) µm r\.m\.s\./.exec(sentence)!;
    expect(Number(own)).toBeLessThan(Number(whole));
    expect(Number(own)).toBeGreaterThan(0);
  });
});

describe('a harmonic of the seats', () => {
  it('is found although it swells the scatter of the one error that it moves, and has a size', () => {
    let found = 0;
    for (let seed = 0; seed < 12; seed++) {
      const made = disc({ radial: [{ order: 3, amplitude: 0.011, phase: 1 }] }, { stations: 15 }, seed);
      const d = findCauses(made)!;
      const harmonics = component(d, 'harmonics');
      if (d.harmonics.some((h) => h.channel === 'radial' && h.order === 3 && h.significant)) found++;
      if (harmonics.significant) expect(harmonics.size).not.toBeNull();
    }
    // Four times the scatter between stations: seen on nearly every disc.
    expect(found).toBeGreaterThanOrEqual(10);
  });
});

describe('a correction', () => {
  const predicted = Array.from({ length: 12 }, (_, i) => ({
    station: i + 1,
    error: [0, 0, 0, 0, 0, 0] as const,
    position: 0.02,
    at: 'tip',
    expanded: null,
    probability: null,
    verdict: 'conforming' as const,
  }));
  const toldOf = (conforming: number, before: number): Said =>
    correctionWords(
      {
        kind: 'tool',
        title: 'Tool offset',
        settings: [
          {
            kind: 'tool',
            freedom: 'lateral',
            of: null,
            found: 0.004,
            change: -0.004,
            exact: -0.004,
            step: null,
            limit: null,
            atLimit: false,
          },
        ],
        leftOut: [],
        before: 0.06,
        optimum: 0.05,
        after: 0.05,
        gap: 0,
        interval: { low: 0.04, high: 0.06 },
        predicted,
        conforming,
        nonconforming: 12 - conforming,
        unproven: 0,
        noiseGain: null,
        next: null,
        chasesNoise: false,
      },
      { before, after: conforming, planned: 14 },
      null,
      conforming >= before,
    );
  const saidOf = (conforming: number, before: number): string => toldOf(conforming, before).text;

  it('says plainly where fewer stations conform than before', () => {
    expect(saidOf(9, 11)).toContain('would leave only 9 of 14 stations conforming, fewer than the 11 now');
    expect(saidOf(11, 11)).toContain('would leave 11 of 14 stations conforming as they are');
    expect(saidOf(12, 11)).toContain('would make 12 of 14 stations conform instead of 11');
    expect(saidOf(9, 11)).toMatch(/ Not recommended\.$/);
    expect(saidOf(11, 11)).not.toContain('recommended');
    expect(saidOf(12, 11)).toContain('by −4.0 µm along lateral');
  });

  it('says intervals with their unit once, in every unit', () => {
    const { text, figures } = toldOf(12, 11);
    expect(text).toContain('60.0 µm, 40.0 to 60.0 µm when measured again');
    expect(inUnits(text, figures, { length: 'mm', rotation: 'degree' })).toContain(
      '0.0600 mm, 0.0400 to 0.0600 mm when measured again',
    );
  });
});
