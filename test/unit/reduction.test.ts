/** The reduction step by step, with data that can be checked by hand. */
import { describe, expect, it } from 'vitest';
import type { PartDefinition } from '../../shared-math/definition.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { IDENTITY_MOTION } from '../../shared-math/geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import { discErrors, sixErrors } from '../../shared-math/pose/blade-errors.ts';
import { displacement, positionValue } from '../../shared-math/pose/position.ts';
import { reduce } from '../../shared-math/reduce.ts';
import { randomSource } from '../support/random.ts';
import {
  BORE,
  type DiscOptions,
  datum,
  discBlocks,
  discDefinition,
  FACE,
  REQUIREMENT,
  randomError,
  SEAT,
  SLOT,
} from '../support/synthetic-disc.ts';

const random = randomSource(21);
const run = (
  blocks: readonly PointBlock[],
  definition: PartDefinition,
  gaps: { station: number; reason: string }[] = [],
) => reduce({ blocks, definition, gaps });

function make(options: DiscOptions = {}) {
  const definition = discDefinition({ stations: 6, ...options });
  const errors = definition.stations.map(() => randomError(random, 0.01, 5e-5));
  return { definition, errors, blocks: discBlocks(definition, errors, random.motion(300), random) };
}

describe('nominal blade frame', () => {
  it('stands upright at 0° without height and stagger: o along Z, l against e_t, u along X', () => {
    const frame = nominalBladeFrame(0, { radius: 240, axial: 15, heightAngle: 0, staggerAngle: 0 });
    expect(frame.translation).toEqual([240, 0, 15]);
    const [x, y, z] = frame.rotation;
    expect([x[2], y[1], z[0]]).toEqual([1, -1, 1]);
  });

  it('turns o from a towards +e_t as the stagger angle grows', () => {
    const frame = nominalBladeFrame(0, { ...SEAT, heightAngle: 0, staggerAngle: Math.PI / 2 });
    expect(frame.rotation[1][0]).toBeCloseTo(1, 15);
  });
});

describe('six errors and disc view', () => {
  it('reads translations and a turn about upset with its sign', () => {
    const error: RigidMotion = {
      rotation: [
        [0, -1, 0],
        [1, 0, 0],
        [0, 0, 1],
      ],
      translation: [1, 2, 3],
    };
    expect(sixErrors(error)).toEqual({
      oscillation: 1,
      lateral: 2,
      upset: 3,
      rotOscillation: 0,
      rotLateral: 0,
      rotUpset: expect.closeTo(Math.PI / 2, 15),
    });
    expect(discErrors(error, 0, SEAT).stagger).toBeCloseTo(-Math.PI / 2, 15);
  });

  it('shows a radial displacement of an upright blade as radial', () => {
    const seat = { radius: 240, axial: 0, heightAngle: 0, staggerAngle: 0 };
    const view = discErrors({ ...IDENTITY_MOTION, translation: [0.1, 0.2, 0.3] }, 0, seat);
    expect(view).toMatchObject({
      axial: expect.closeTo(0.1),
      tangential: expect.closeTo(-0.2),
      radial: expect.closeTo(0.3),
    });
  });
});

describe('position', () => {
  const delta: Vec3 = [0.003, 0.004, 0.012];
  it.each([
    ['cylindrical', null, 0.01],
    ['spherical', null, 0.026],
    ['planar', [0, 0, -1], 0.024],
  ] as const)('is the size of the smallest %s zone', (zone, direction, size) => {
    expect(positionValue(delta, { zone, direction })).toBeCloseTo(size, 15);
  });

  it('carries a rotation to the check point', () => {
    const tilt: RigidMotion = {
      rotation: [
        [1, 0, 0],
        [0, 0, -1],
        [0, 1, 0],
      ],
      translation: [0, 0, 0],
    };
    expect(displacement(tilt, [0, 0, 10])).toEqual([0, -10, -10]);
  });
});

describe('verdicts and summary', () => {
  it('counts conforming, nonconforming and missing stations to the planned total', () => {
    const { definition, errors } = make();
    const planted = errors.map((e, k): RigidMotion => (k === 2 ? { ...e, translation: [0.06, 0, 0] } : e));
    const blocks = discBlocks(definition, planted, random.motion(300), random).filter((b) => b.station !== 5);
    const { summary, stations } = run(blocks, definition, [{ station: 6, reason: 'line 9: not a number' }]);
    expect(summary).toMatchObject({ stations: 6, conforming: 3, nonconforming: 1, unproven: 0 });
    expect(summary.missing.map((m) => [m.station, m.reason])).toEqual([
      [5, 'The file has no points of this station.'],
      [6, 'line 9: not a number'],
    ]);
    expect(summary.worst!.station).toBe(3);
    expect(stations[2]!.limits[0]).toMatchObject({
      name: 'oscillation',
      limit: 0.025,
      verdict: 'nonconforming',
    });
    expect(stations[2]!.position).toMatchObject({ verdict: 'nonconforming' });
  });

  it('takes the largest position over the check points, each judged by its own tolerance', () => {
    const requirement = {
      limits: {},
      checkPoints: [
        { ...REQUIREMENT.checkPoints[0]!, name: 'root', tolerance: 0.1 },
        {
          ...REQUIREMENT.checkPoints[0]!,
          name: 'foot',
          zone: 'planar' as const,
          tolerance: 0.03,
          direction: [0, 0, 1] as const,
        },
      ],
    };
    const { definition, errors } = make({ requirement });
    const planted = errors.map((): RigidMotion => ({ ...IDENTITY_MOTION, translation: [0.03, 0, 0.02] }));
    const { stations } = run(discBlocks(definition, planted, random.motion(300), random), definition);
    const { position } = stations[0]!;
    expect(position).toMatchObject({ value: expect.closeTo(0.06, 9), at: 'root', verdict: 'nonconforming' });
    expect(position.checkPoints.map((c) => c.verdict)).toEqual(['conforming', 'nonconforming']);
  });

  it('leaves a value near its limit unproven under the guarded rule, and says so by its probability', () => {
    const guarded = { rule: 'guarded', probability: 0.95 } as const;
    const { definition, errors } = make({ decision: guarded });
    const at = (oscillation: number) =>
      errors.map((): RigidMotion => ({ ...IDENTITY_MOTION, translation: [oscillation, 0, 0] }));
    const verdictAt = (oscillation: number) =>
      run(
        discBlocks(
          { ...definition, stations: definition.stations },
          at(oscillation),
          random.motion(300),
          random,
        ),
        {
          ...definition,
          uncertainty: { ...definition.uncertainty, probing: 0.00005 },
          stations: definition.stations.map((s) => ({
            ...s,
            requirement: { limits: {}, checkPoints: s.requirement.checkPoints.slice(0, 1) },
          })),
        },
      ).stations[0]!.position;
    expect(verdictAt(0.02)).toMatchObject({ verdict: 'conforming', probability: expect.closeTo(1, 6) });
    expect(verdictAt(0.025)).toMatchObject({
      verdict: 'unproven',
      settle: expect.stringMatching(/limit|standard uncertainty/),
    });
    expect(verdictAt(0.03)).toMatchObject({ verdict: 'nonconforming', probability: expect.closeTo(0, 6) });
  });

  it('warns where nothing is stated about the points, and goes by the residuals', () => {
    const { definition, errors } = make();
    const blocks = discBlocks(definition, errors, random.motion(300), random);
    const { stations, warnings } = run(blocks, {
      ...definition,
      uncertainty: { ...definition.uncertainty, probing: null },
    });
    expect(stations[0]!.position.verdict).toBe('conforming');
    expect(warnings.join()).toMatch(/states no "uncertainty"/);
  });
});

describe('what a station lacks', () => {
  it.each([
    [
      'a feature',
      (b: PointBlock) => (b.feature === 'E-FEATURE' ? null : b),
      /no points of feature E-FEATURE/,
    ],
    [
      'points',
      (b: PointBlock) => (b.feature === 'D-FEATURE' ? { ...b, xyz: b.xyz.slice(0, 6) } : b),
      /D-FEATURE/,
    ],
    [
      'spread',
      (b: PointBlock) => (b.feature === 'D-FEATURE' ? { ...b, xyz: b.xyz.map((_, i) => b.xyz[i % 3]!) } : b),
      /D-FEATURE/,
    ],
    [
      'finite numbers',
      (b: PointBlock) =>
        b.feature === 'D-FEATURE' ? { ...b, xyz: b.xyz.map((x, i) => (i === 7 ? Number.NaN : x)) } : b,
      /D-FEATURE/,
    ],
  ] as const)('lists a station without %s as missing and reduces the others', (_, spoil, words) => {
    const { definition, blocks } = make();
    const spoiled = blocks.flatMap((b) => (b.station === 4 ? (spoil(b) ?? []) : b));
    const { stations, summary } = run(spoiled, definition);
    expect(stations.map((s) => s.station)).toEqual([1, 2, 3, 5, 6]);
    expect(summary.missing).toHaveLength(1);
    expect(summary.missing[0]!.reason).toMatch(words);
  });

  it('refuses when a hub feature has no points, and names it', () => {
    const { definition, blocks } = make();
    expect(() =>
      run(
        blocks.filter((b) => b.feature !== 'B-FEATURE'),
        definition,
      ),
    ).toThrow(/hub has no points of feature B-FEATURE/);
  });

  it('refuses when no station has points', () => {
    const { definition, blocks } = make();
    expect(() =>
      run(
        blocks.filter((b) => b.station === null),
        definition,
      ),
    ).toThrow(/no points of any planned station/);
  });

  it('names the lack of sigma where no station can be weighted by it', () => {
    const { definition, blocks } = make();
    const bladeDatums = definition.bladeDatums.map((d) => ({ ...d, weights: 'sigma' as const }));
    expect(() => run(blocks, { ...definition, bladeDatums })).toThrow(/Station 1: .*sigma/);
  });

  it('refuses a datum system with an open freedom before any point is used', () => {
    const { definition, blocks } = make();
    expect(() => run(blocks, { ...definition, hubDatums: [FACE, BORE] })).toThrow(
      expect.objectContaining({ failure: 'open-freedom', remedy: expect.stringMatching(/clocking datum/) }),
    );
  });

  it('can be stopped between stations', () => {
    const { definition, blocks } = make();
    const seen: number[] = [];
    const stop = new Error('stop');
    expect(() =>
      reduce({ blocks, definition, gaps: [] }, ({ station }) => {
        if (station !== null) seen.push(station);
        if (station === 3) throw stop;
      }),
    ).toThrow(stop);
    expect(seen).toEqual([1, 2, 3]);
  });
});

describe('best fit with free motions', () => {
  // The free slide runs along the measured planes, which are tilted by up to 5e-5 rad: the observed errors carry that
  // tilt times the slide (about 0.01 mm), some 1e-7 mm.
  it('reports what two planes do not observe as null, with a reason, and leaves the position unproven', () => {
    const bladeDatums = discDefinition().bladeDatums.slice(0, 2);
    const { definition, blocks, errors } = make({ pose: 'bestfit', bladeDatums });
    const station = run(blocks, definition).stations[0]!;
    expect(station.error.oscillation).toBeNull();
    expect(station.unobservable.map((u) => u.freedom)).toEqual(['oscillation']);
    expect(station.unobservable[0]!.reason).toMatch(/do not determine the displacement along oscillation/);
    expect(station.error.upset).toBeCloseTo(errors[0]!.translation[2], 6);
    expect(station.position).toMatchObject({ value: null, verdict: 'unproven' });
    expect(station.disc).toMatchObject({ radial: null, axial: null, stagger: expect.any(Number) });
    expect(station.verdict).toBe('unproven');
  });

  it('still judges a zone that the free motion does not touch', () => {
    const bladeDatums = discDefinition().bladeDatums.slice(0, 2);
    const requirement = {
      limits: {},
      checkPoints: [
        { ...REQUIREMENT.checkPoints[0]!, zone: 'planar' as const, direction: [0, 1, 0] as const },
      ],
    };
    const { definition, blocks, errors } = make({ pose: 'bestfit', bladeDatums, requirement });
    const { position } = run(blocks, definition).stations[0]!;
    expect(position.value).toBeCloseTo(2 * Math.abs(errors[0]!.translation[1]), 5);
  });
});

describe('tip-centre points', () => {
  const TIP = 1.5;
  const outward = (b: PointBlock, n: (p: Vec3) => Vec3, normals: boolean): PointBlock => {
    const count = b.xyz.length / 3;
    const ijk = new Float64Array(3 * count);
    const xyz = new Float64Array(3 * count);
    for (let i = 0; i < count; i++) {
      const p: Vec3 = [b.xyz[3 * i]!, b.xyz[3 * i + 1]!, b.xyz[3 * i + 2]!];
      n(p).forEach((c, k) => {
        ijk[3 * i + k] = c;
        xyz[3 * i + k] = p[k]! + TIP * c;
      });
    }
    return { ...b, xyz, normals: normals ? ijk : null, tipRadius: new Float64Array(count).fill(TIP) };
  };

  /** Hub and nominal blades in the disc frame, every point moved out of the material by the tip radius. */
  function tipDisc(normals: boolean, hubDatums = [FACE, BORE, SLOT]) {
    const definition = discDefinition({ stations: 6, hubDatums });
    const surface = discBlocks(
      definition,
      definition.stations.map(() => IDENTITY_MOTION),
      IDENTITY_MOTION,
      random,
    );
    const blocks = surface.map((b) => {
      if (b.feature === 'B-FEATURE') return outward(b, ([x, y]) => [-x / 70, -y / 70, 0], normals);
      const d = [...definition.hubDatums, ...definition.bladeDatums].find((e) =>
        e.features.includes(b.feature),
      )!;
      const direction = d.nominal.direction!;
      const s = definition.stations.find((e) => e.station === b.station);
      const r = s ? nominalBladeFrame(s.angle, s.seat).rotation : IDENTITY_MOTION.rotation;
      const n: Vec3 = [0, 1, 2].map(
        (k) => r[k]![0] * direction[0] + r[k]![1] * direction[1] + r[k]![2] * direction[2],
      ) as unknown as Vec3;
      return outward(b, () => n, normals);
    });
    return { definition, blocks };
  }

  it.each([[true], [false]])('are compensated to the surface (normals: %s)', (normals) => {
    const { definition, blocks } = tipDisc(normals);
    const { stations, frame } = run(blocks, definition);
    expect(frame.datums[1]!.radius).toBeCloseTo(70, 10);
    for (const { error } of stations)
      for (const value of Object.values(error)) expect(Math.abs(value!)).toBeLessThan(1e-9);
  });

  it('need a side where there are no normals', () => {
    const { definition, blocks } = tipDisc(false, [FACE, { ...BORE, side: null }, SLOT]);
    expect(() => run(blocks, definition)).toThrow(
      expect.objectContaining({ failure: 'missing-side', remedy: expect.stringMatching(/"side": "inside"/) }),
    );
  });

  it('warn where normals point into the material', () => {
    const { definition, blocks } = tipDisc(true);
    const turned = blocks.map((b) =>
      b.feature === 'B-FEATURE' ? { ...b, normals: b.normals!.map((c) => -c) } : b,
    );
    const { warnings } = run(turned, definition);
    expect(warnings.join()).toMatch(/B-FEATURE: the normals i, j, k point into the material/);
  });
});

describe('temperature', () => {
  const HOT = 32;
  const ALPHA = 8.6e-6;
  const hot = (b: PointBlock): PointBlock => ({ ...b, xyz: b.xyz.map((x) => x / (1 + ALPHA * (20 - HOT))) });

  it.each([
    ['hub datums through the origin', [FACE, BORE, SLOT]],
    [
      'a face away from the origin',
      [datum('A', 'plane', { point: [0, 0, 25], direction: [0, 0, 1] }), BORE, SLOT],
    ],
  ])('brings a warm part back to its size at 20 °C: %s', (_, hubDatums) => {
    const made = make({ hubDatums });
    const definition: PartDefinition = {
      ...made.definition,
      temperature: { applied: false, part: HOT, expansion: ALPHA },
    };
    const { stations } = run(made.blocks.map(hot), definition);
    stations.forEach(({ error }, i) => {
      expect(error.upset).toBeCloseTo(made.errors[i]!.translation[2], 8);
      expect(error.oscillation).toBeCloseTo(made.errors[i]!.translation[0], 8);
    });
    const uncompensated = run(made.blocks.map(hot), {
      ...definition,
      temperature: { ...definition.temperature!, applied: true },
    });
    expect(uncompensated.stations[0]!.error.upset! - made.errors[0]!.translation[2]).toBeGreaterThan(0.02);
  });

  it('scales the surface, not the path of the tip centre', () => {
    const TIP = 2;
    const made = make();
    const definition: PartDefinition = {
      ...made.definition,
      temperature: { applied: false, part: HOT, expansion: ALPHA },
    };
    // Only the face is probed as tip centres: r beyond the warm surface, along +Z of the disc.
    const machine = run(made.blocks, made.definition).frame;
    const blocks = made.blocks.map(hot).map((b) => {
      if (b.feature !== 'A-FEATURE') return b;
      const xyz = b.xyz.map((x, i) => x + TIP * machine.rotation[2][i % 3]!);
      return { ...b, xyz, tipRadius: new Float64Array(b.xyz.length / 3).fill(TIP) };
    });
    run(blocks, definition).stations.forEach(({ disc }, i) => {
      expect(disc.axial).toBeCloseTo(run(made.blocks, made.definition).stations[i]!.disc.axial!, 8);
    });
  });

  it('takes the temperature column over the plan, and warns of a spread over 1 K', () => {
    const made = make();
    const definition: PartDefinition = {
      ...made.definition,
      temperature: { applied: false, part: 20, expansion: ALPHA },
    };
    const blocks = made.blocks.map(hot).map((b) => {
      const temperature = new Float64Array(b.xyz.length / 3).fill(HOT);
      if (b.feature === 'B-FEATURE') {
        temperature[0] = HOT - 1;
        temperature[1] = HOT + 1;
      }
      return { ...b, temperature };
    });
    const { stations, warnings } = run(blocks, definition);
    expect(stations[0]!.error.upset).toBeCloseTo(made.errors[0]!.translation[2], 8);
    expect(warnings.join()).toMatch(/Hub, B-FEATURE: temperatures differ by 2\.00 K/);
  });
});

describe('weights', () => {
  it('lets a point with a large sigma pull less', () => {
    const made = make();
    const pulled = made.blocks.map((b) => {
      const sigma = new Float64Array(b.xyz.length / 3).fill(0.001);
      const off = b.feature === 'D-FEATURE' && b.station === 1;
      if (off) sigma[0] = 1000;
      return { ...b, sigma, xyz: off ? b.xyz.map((x, i) => (i < 3 ? x + 0.5 : x)) : b.xyz };
    });
    const weighted = made.definition.bladeDatums.map((d) => ({ ...d, weights: 'sigma' as const }));
    const { stations } = run(pulled, { ...made.definition, bladeDatums: weighted });
    expect(stations[0]!.error.upset).toBeCloseTo(made.errors[0]!.translation[2], 8);
    expect(
      Math.abs(run(pulled, made.definition).stations[0]!.error.upset! - made.errors[0]!.translation[2]),
    ).toBeGreaterThan(1e-3);
  });

  it('lists a station as missing where a point has no sigma to weight by', () => {
    const made = make();
    const weighted = made.definition.bladeDatums.map((d) => ({ ...d, weights: 'sigma' as const }));
    const sigma = made.blocks.map((b) => ({
      ...b,
      sigma: b.station === 3 ? null : new Float64Array(b.xyz.length / 3).fill(0.001),
    }));
    const { summary } = run(sigma, { ...made.definition, bladeDatums: weighted });
    expect(summary.missing.map((m) => m.station)).toEqual([3]);
    expect(summary.missing[0]!.reason).toMatch(/weighted by sigma/);
  });
});

it('keeps errors of the mathematics typed', () => {
  expect(new ReductionError('alignment', 'words', 'do this').at({ station: 3 })).toMatchObject({
    failure: 'alignment',
    remedy: 'do this',
    place: { station: 3 },
  });
});
