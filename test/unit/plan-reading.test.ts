/** From the plan file to the definition that the mathematics takes. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { PartDefinition } from '../../shared-math/definition.ts';
import { memberDatums } from '../../shared-math/frame/pattern-fit.ts';
import { JsonSyntaxError, pathText, readJson } from '../../src-main/plan/json-positions.ts';
import { planJsonSchema } from '../../src-main/plan/json-schema.ts';
import { checkPlan, readPlan } from '../../src-main/plan/read-plan.ts';
import { summarise } from '../../src-main/plan/summarise.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { conformingDisc, samplePath, writeDisc } from '../support/disc-files.ts';

const DEGREE = Math.PI / 180;

// biome-ignore lint/suspicious/noExplicitAny: tests change any value of the plan
function definitionOf(change: (plan: any) => void = () => {}): PartDefinition {
  const { plan } = conformingDisc();
  change(plan);
  return toDefinition(checkPlan(JSON.stringify(plan), 'plan.json'));
}

it('the JSON Schema beside the plan schema is what the schema gives', () => {
  const stored = readFileSync(new URL('../../src-main/plan/plan.schema.json', import.meta.url), 'utf8');
  expect(stored).toBe(planJsonSchema());
});

it('a plan file is read with its name, digest and summary', async () => {
  const path = samplePath('drifting', 'plan.json');
  const { plan, name, sha256, summary, definition } = await readPlan(path);
  expect(name).toBe('plan.json');
  expect(sha256).toBe(createHash('sha256').update(readFileSync(path)).digest('hex'));
  expect(summary.title).toBe(plan.title);
  expect(summary.stations).toHaveLength(definition.stations.length);
});

it.each(['utf8', 'utf16le'] as const)('a plan in %s with a mark is read', async (encoding) => {
  const text = JSON.stringify(conformingDisc().plan);
  const { plan } = await readPlan(writeDisc('', Buffer.from(`\ufeff${text}`, encoding)).plan);
  expect(plan.title).toBe(conformingDisc().plan.title);
});

describe('stations', () => {
  it('lie at firstAngle + (k − 1)·360°/N, counted by sense', () => {
    const up = definitionOf((plan) => Object.assign(plan.disc, { firstAngle: 5, sense: 'counterclockwise' }));
    const down = definitionOf((plan) => Object.assign(plan.disc, { firstAngle: 5, sense: 'clockwise' }));
    expect(up.stations[3]?.angle).toBeCloseTo(65 * DEGREE, 15);
    expect(down.stations[3]?.angle).toBeCloseTo(-55 * DEGREE, 15);
    expect(up.explicitAngles).toBe(false);
    expect(down.sense).toBe('clockwise');
  });

  it('lie at the listed angles, whatever sense and firstAngle say', () => {
    const angles = Array.from({ length: 18 }, (_, k) => 20 * k + (k % 2));
    const definition = definitionOf((plan) =>
      Object.assign(plan.disc, { angles, sense: 'clockwise', firstAngle: 90 }),
    );
    definition.stations.forEach(({ angle }, k) => {
      expect(angle).toBeCloseTo((angles[k] ?? Number.NaN) * DEGREE, 15);
    });
    expect(definition.explicitAngles).toBe(true);
  });

  it('carry the seat in radians', () => {
    const { plan } = conformingDisc();
    expect(definitionOf().stations[0]?.seat).toEqual({
      radius: plan.blade.seat.radius,
      axial: plan.blade.seat.axial,
      heightAngle: plan.blade.seat.heightAngle * DEGREE,
      staggerAngle: plan.blade.seat.staggerAngle * DEGREE,
    });
  });

  it('take what an override replaces there and nowhere else', () => {
    const definition = definitionOf((plan) => {
      plan.overrides = {
        4: { seat: { staggerAngle: 40 }, limits: { lean: 0.002 }, position: { tolerance: 0.2 } },
        5: {
          position: { zone: 'planar', direction: [0, 3, 4], checkPoints: [{ name: 'mid', at: [0, 0, 80] }] },
        },
      };
    });
    const usual = definition.stations[2];
    const fourth = definition.stations[3];
    const fifth = definition.stations[4];
    expect(fourth?.seat).toEqual({ ...usual?.seat, staggerAngle: 40 * DEGREE });
    expect(fourth?.requirement.limits).toEqual({ lean: 0.002 });
    expect(fourth?.requirement.checkPoints).toEqual(
      usual?.requirement.checkPoints.map((point) => ({ ...point, tolerance: 0.2 })),
    );
    expect(fifth?.requirement.checkPoints).toEqual([
      { name: 'mid', at: [0, 0, 80], zone: 'planar', tolerance: 0.05, direction: [0, 0.6, 0.8] },
    ]);
    expect(fifth?.requirement.limits).toEqual(usual?.requirement.limits);
  });
});

it('check points may have their own tolerance, zone and direction', () => {
  const definition = definitionOf((plan) => {
    plan.blade.position = {
      tolerance: 0.1,
      zone: 'cylindrical',
      checkPoints: [
        { name: 'a', at: [0, 0, 0] },
        { name: 'b', at: [1, 2, 3], tolerance: 0.3, zone: 'spherical' },
        { name: 'c', at: [0, 0, 9], zone: 'planar', direction: [0, 0, -2] },
      ],
    };
  });
  expect(definition.stations[0]?.requirement.checkPoints).toEqual([
    { name: 'a', at: [0, 0, 0], zone: 'cylindrical', tolerance: 0.1, direction: null },
    { name: 'b', at: [1, 2, 3], zone: 'spherical', tolerance: 0.3, direction: null },
    { name: 'c', at: [0, 0, 9], zone: 'planar', tolerance: 0.1, direction: [0, 0, -1] },
  ]);
});

describe('datums', () => {
  const features = (type: string): object => ({
    type,
    nominal: {
      point: [1, 2, 3],
      direction: [0, 0, 5],
      ...(['circle', 'sphere', 'cylinder', 'cone'].includes(type) ? { radius: 4 } : {}),
      ...(type === 'cone' ? { halfAngle: 30 } : {}),
    },
    ...(type === 'midplane' ? { features: ['P', 'Q'] } : { feature: 'P' }),
  });
  it.each([
    ['plane', 'direction'],
    ['line', 'direction'],
    ['midplane', 'location'],
    ['circle', 'location'],
    ['cylinder', 'location'],
    ['cone', 'location'],
    ['sphere', 'location'],
    ['point', 'location'],
  ] as const)('a %s sets the clocking by its %s unless told otherwise', (type, clocking) => {
    const definition = definitionOf((plan) => {
      plan.disc.datums = [
        { label: 'A', ...features(type) },
        {
          label: 'B',
          ...features(type),
          clocking: 'direction',
          ...(type === 'midplane' ? { features: ['R', 'S'] } : { feature: 'R' }),
        },
      ];
    });
    const [usual, told] = definition.hubDatums.flatMap(memberDatums);
    expect(usual?.clocking).toBe(clocking);
    expect(told?.clocking).toBe('direction');
    expect(usual?.features).toEqual(type === 'midplane' ? ['P', 'Q'] : ['P']);
    expect(usual?.nominal.direction).toEqual(type === 'sphere' || type === 'point' ? null : [0, 0, 1]);
    expect(usual?.nominal.halfAngle).toEqual(type === 'cone' ? 30 * DEGREE : null);
    expect(usual).toMatchObject({
      side: null,
      material: 'negative',
      weights: 'equal',
      association: 'gaussian',
    });
  });

  it('name several features that are one datum together', () => {
    const [face] = definitionOf((plan) => {
      delete plan.disc.datums[0].feature;
      plan.disc.datums[0].features = ['PAD-1', 'PAD-2', 'PAD-3'];
    }).hubDatums;
    expect(face?.features).toEqual(['PAD-1', 'PAD-2', 'PAD-3']);
  });

  it('may be a pattern of features, with its middle at the mean of its members', () => {
    const [pattern] = definitionOf((plan) => {
      const hole = (feature: string, x: number) => ({
        feature,
        type: 'cylinder',
        nominal: { point: [x, 3, 0], direction: [0, 0, 4], radius: 6 },
        side: 'inside',
      });
      plan.disc.datums = [
        { label: 'A', type: 'pattern', weights: 'sigma', members: [hole('H1', 90), hole('H2', -80)] },
      ];
    }).hubDatums;
    expect(pattern).toEqual({
      label: 'A',
      type: 'pattern',
      features: ['H1', 'H2'],
      nominal: { point: [5, 3, 0], direction: null, radius: null, halfAngle: null },
      members: [
        expect.objectContaining({ label: 'A.1', features: ['H1'], side: 'inside', weights: 'sigma' }),
        expect.objectContaining({
          label: 'A.2',
          nominal: { point: [-80, 3, 0], direction: [0, 0, 1], radius: 6, halfAngle: null },
        }),
      ],
    });
  });

  it('take association and screen of the plan unless they have their own', () => {
    const definition = definitionOf((plan) => {
      plan.association = 'minimax';
      plan.screen = { method: 'biweight' };
      plan.disc.datums[1].association = 'maximum-inscribed';
      plan.disc.datums[1].screen = { method: 'huber', cutoff: 4, exclude: true };
      plan.disc.datums[2].association = 'gaussian';
      plan.disc.datums[2].screen = null;
    });
    expect(definition.hubDatums.flatMap(memberDatums).map(({ association }) => association)).toEqual([
      'minimax',
      'maximum-inscribed',
      'gaussian',
    ]);
    expect(definition.hubDatums.flatMap(memberDatums).map(({ screen }) => screen)).toEqual([
      { method: 'biweight', cutoff: 3.5, exclude: false },
      { method: 'huber', cutoff: 4, exclude: true },
      null,
    ]);
  });

  it('take the weights of the plan unless they have their own', () => {
    const definition = definitionOf((plan) => {
      plan.weights = 'sigma';
      plan.disc.datums[0].weights = 'equal';
    });
    expect(definition.hubDatums.flatMap(memberDatums).map(({ weights }) => weights)).toEqual([
      'equal',
      'sigma',
      'sigma',
    ]);
  });
});

describe('temperature and decision', () => {
  it('are null and simple where the plan has none', () => {
    const definition = definitionOf((plan) => {
      delete plan.temperature;
      delete plan.decision;
    });
    expect(definition.temperature).toBeNull();
    expect(definition.decision).toEqual({ rule: 'simple' });
  });
  it('pass as asked', () => {
    const definition = definitionOf((plan) => {
      plan.temperature = { applied: false, part: 23.5, expansion: 9e-6 };
      plan.decision = { rule: 'guarded', probability: 0.95 };
    });
    expect(definition.temperature).toEqual({ applied: false, part: 23.5, expansion: 9e-6 });
    expect(definition.decision).toEqual({ rule: 'guarded', probability: 0.95 });
  });
});

describe('budget and adjustments', () => {
  it('are null where the plan has none', () => {
    const { budget, adjustments } = definitionOf((plan) => {
      delete plan.budget;
    });
    expect([budget, adjustments]).toEqual([null, null]);
  });

  it('keep the lines that are there, and further ones with what is known of them', () => {
    const { budget } = definitionOf((plan) => {
      plan.budget = {
        index: 0.012,
        wear: 0,
        others: [
          { name: 'Deflection', allocated: 0.004, found: 0.003 },
          { name: 'Clamp', found: 0.001 },
        ],
      };
    });
    expect(budget).toEqual({
      lines: { index: 0.012, wear: 0 },
      others: [
        { name: 'Deflection', allocated: 0.004, found: 0.003 },
        { name: 'Clamp', allocated: null, found: 0.001 },
      ],
    });
  });

  it('list what can be set; an empty range has neither bound nor step, and what is not listed cannot be set', () => {
    const { adjustments } = definitionOf((plan) => {
      plan.adjustments = {
        tool: { lateral: { limit: 0.2, step: 0.01 }, rotUpset: {} },
        hub: { x: { limit: 0.05 } },
      };
    });
    expect(adjustments).toEqual({
      tool: { lateral: { limit: 0.2, step: 0.01 }, rotUpset: { limit: null, step: null } },
      hub: { x: { limit: 0.05, step: null } },
      index: null,
    });
    const index = definitionOf((plan) => {
      plan.adjustments = { index: { step: 5e-6 } };
    });
    expect(index.adjustments).toEqual({ tool: {}, hub: {}, index: { limit: null, step: 5e-6 } });
  });
});

it('the summary says what views show', () => {
  const { plan } = conformingDisc();
  const summary = summarise(plan);
  expect(summary).toMatchObject({
    title: plan.title,
    part: plan.part,
    inspection: plan.inspection,
    pose: 'datum',
    sense: 'counterclockwise',
    tolerance: 0.05,
    zone: 'cylindrical',
    limits: plan.blade.limits,
    hubDatums: [
      'A HUB-FACE (plane)',
      'B HUB-BORE (cylinder)',
      'C HUB-SLOT-LEFT and HUB-SLOT-RIGHT (midplane)',
    ],
  });
  expect(summary.stations[17]).toEqual({ station: 18, angle: 340 });
});

describe('JSON with positions', () => {
  it('gives the value of the text and the place of every key and element', () => {
    const text = '{ "a": [1, -2.5e3, "x\\n\\u00e9", {"b": null}],\n  "c": {},\n  "d": [ ] , "e": true }';
    const { value, positionOf } = readJson(text);
    expect(value).toEqual(JSON.parse(text));
    expect(positionOf(['a'])).toEqual({ line: 1, character: 3 });
    expect(positionOf(['a', 1])).toEqual({ line: 1, character: 12 });
    expect(positionOf(['a', 3, 'b'])).toEqual({ line: 1, character: 34 });
    expect(positionOf(['d'])).toEqual({ line: 3, character: 3 });
    expect(positionOf(['c', 'absent'])).toEqual({ line: 2, character: 3 });
  });

  it('counts lines by any line end', () => {
    expect(readJson('{\r\n"a": 1,\r"b": 2,\n"c": 3}').positionOf(['c'])).toEqual({ line: 4, character: 1 });
  });

  it.each([
    '{"a": 01}',
    '{"a": +1}',
    '{"a": .5}',
    '{"a": 1.}',
    '{"a": "\t"}',
    '{"a": tru}',
    '{"a" 1}',
    '[1 2]',
    '{} {}',
    '{"a": "\\x"}',
    '"',
    '',
  ])('refuses %s, as JSON.parse does', (text) => {
    expect(() => JSON.parse(text)).toThrow();
    expect(() => readJson(text)).toThrow(JsonSyntaxError);
  });

  it('writes paths as people do', () => {
    expect(pathText(['disc', 'datums', 1, 'nominal', 'point', 2])).toBe('disc.datums[1].nominal.point[2]');
  });
});
