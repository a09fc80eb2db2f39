/** Points of a finished reduction against its substitute features: what residual plots show. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { FeatureReport } from '../../shared-math/result.ts';
import type { FeaturePoints } from '../../src-main/api.ts';
import { discPoints, featurePoints } from '../../src-main/jobs/feature-points.ts';
import { type ReductionInput, type ReductionMade, runReduction } from '../../src-main/jobs/run-reduction.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import { conformingDisc, csv, rowOf, samplePath, writeDisc } from '../support/disc-files.ts';

async function made(input: ReductionInput): Promise<ReductionMade> {
  let kept: ReductionMade | null = null;
  await runReduction(
    { ...input, diagnose: false },
    {
      onReduced: (reduction) => {
        kept = reduction;
      },
    },
  );
  if (kept === null) throw new Error('Nothing was reduced.');
  return kept;
}

const sample = (disc: 'conforming' | 'off-centre' | 'drifting'): Promise<ReductionMade> =>
  made({ pointsPath: samplePath(disc, 'points.csv'), planPath: samplePath(disc, 'plan.json') });

/** Every feature that the result reports, hub and stations. */
function reports({ result }: ReductionMade): { station: number | null; report: FeatureReport }[] {
  return [
    ...result.frame.datums.map((report) => ({ station: null, report })),
    ...result.stations.flatMap(({ station, features }) => features.map((report) => ({ station, report }))),
  ];
}

const names = ({ feature }: FeatureReport): string[] => feature.split(', ');

/** Distances are rounded to 2^-27 mm on their way to the page. */
const ROUNDING = 2 ** -27;

describe.each(['conforming', 'off-centre', 'drifting'] as const)('the %s sample', (disc) => {
  it('has the form and r.m.s. distance of every feature that the result reports', async () => {
    const reduction = await sample(disc);
    const all = reports(reduction);
    expect(all.length).toBeGreaterThan(40);
    for (const { station, report } of all) {
      const parts = names(report).map((feature) => featurePoints(reduction, station, feature));
      const total = parts.reduce((sum, part) => sum + part.total, 0);
      const squares = parts.reduce((sum, part) => sum + part.total * (part.rms ?? Number.NaN) ** 2, 0);
      expect(total).toBe(report.points);
      expect(Math.sqrt(squares / total)).toBeCloseTo(report.rms, 11);
      expect(Math.max(...parts.map(({ form }) => form ?? Number.NaN))).toBeCloseTo(report.form, 11);
      for (const part of parts) {
        expect(part.basis).toBe('datum');
        expect(part.excluded.some(Boolean)).toBe(false);
        const spread = Math.max(...part.residual) - Math.min(...part.residual);
        expect(Math.abs(spread - (part.form ?? 0))).toBeLessThanOrEqual(2 * ROUNDING);
      }
    }
  });
});

describe('distances and places', () => {
  /** The file's own numbers, carried into the disc frame by the result's frame. */
  function discPoint(reduction: ReductionMade, line: number): number[] {
    const rows = readFileSync(samplePath('conforming', 'points.csv'), 'utf8').split('\n');
    const header = (rows[0] ?? '').split(',');
    const cells = (rows[line - 1] ?? '').split(',');
    const machine = ['x', 'y', 'z'].map((name) => Number(cells[header.indexOf(name)]));
    const { rotation, origin } = reduction.result.frame;
    return rotation.map((axis) =>
      axis.reduce((sum, part, i) => sum + part * ((machine[i] ?? 0) - (origin[i] ?? 0)), 0),
    );
  }
  const along = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);
  const from = (a: readonly number[], b: readonly number[]): number[] =>
    a.map((value, i) => value - (b[i] ?? 0));
  const point = (points: FeaturePoints, i: number): number[] => points.xyz.slice(3 * i, 3 * i + 3);

  it('of a face are heights over the plane, and places are coordinates in it', async () => {
    const reduction = await sample('conforming');
    const face = featurePoints(reduction, null, 'HUB-FACE');
    const { axes, surface } = face;
    face.lines.forEach((line, i) => {
      const p = discPoint(reduction, line);
      expect(along(from(p, point(face, i)), [1, 1, 1])).toBeCloseTo(0, 5);
      const arm = from(p, surface.point);
      expect(face.residual[i]).toBeCloseTo(along(arm, surface.direction ?? []), 7);
      // The nominal point of the face is the origin of the disc frame, which lies on the measured face as well.
      expect(face.place[2 * i]).toBeCloseTo(along(p, axes.u), 5);
      expect(face.place[2 * i + 1]).toBeCloseTo(along(p, axes.v), 5);
    });
    // The face is the primary datum: its normal is the disc axis, and u lies along +X.
    expect(axes.u[0]).toBeCloseTo(1, 12);
    expect(axes.v[1]).toBeCloseTo(1, 12);
  });

  it('of a bore are radii less the radius, with the angle about the axis from +X and the height', async () => {
    const reduction = await sample('conforming');
    const bore = featurePoints(reduction, null, 'HUB-BORE');
    expect(bore.type).toBe('cylinder');
    bore.lines.forEach((line, i) => {
      const [x = 0, y = 0] = from(discPoint(reduction, line), bore.surface.point);
      const [, , z = 0] = discPoint(reduction, line);
      expect(bore.residual[i]).toBeCloseTo(Math.hypot(x, y) - (bore.surface.radius ?? 0), 6);
      expect(bore.place[2 * i]).toBeCloseTo(Math.atan2(y, x), 5);
      expect(bore.place[2 * i + 1]).toBeCloseTo(z, 5);
    });
  });

  it('of tip centres lie on the surface: radii of a bore grow by the tip, and the nominal radius comes out', async () => {
    const reduction = await sample('drifting');
    const cylinder = reduction.plan.definition.hubDatums.find(({ type }) => type === 'cylinder');
    const bore = featurePoints(reduction, null, cylinder?.features[0] ?? '');
    const radii = bore.lines.map((_, i) => {
      const [x = 0, y = 0] = from(point(bore, i), bore.surface.point);
      return Math.hypot(x, y);
    });
    radii.forEach((radius, i) => {
      expect(radius - (bore.surface.radius ?? 0)).toBeCloseTo(bore.residual[i] ?? Number.NaN, 4);
    });
    const mean = radii.reduce((sum, radius) => sum + radius, 0) / radii.length;
    expect(Math.abs(mean - (cylinder?.nominal.radius ?? 0))).toBeLessThan(0.05);
  });
});

describe('points left out', () => {
  it('move none of the others on their feature: places count from the nominal point', async () => {
    const disc = conformingDisc();
    const { points: pointsPath, plan: planPath } = writeDisc(csv(disc), disc.plan);
    const places = async (station: number | null, feature: string, left: readonly number[]) => {
      const exclusions = left.map((line) => ({ line, reason: 'clamp mark' }));
      const points = featurePoints(await made({ pointsPath, planPath, exclusions }), station, feature);
      return { lines: points.lines, place: points.place, axes: points.axes };
    };
    for (const [station, feature] of [
      [5, 'FLANK'],
      [null, 'HUB-BORE'],
    ] as const) {
      const all = await places(station, feature, []);
      // Of the third of the points that lies at one end, so that the middle of the others is elsewhere.
      const along = (i: number): number => all.place[2 * i + 1] ?? 0;
      const order = all.lines.map((_, i) => i).sort((a, b) => along(a) - along(b));
      const left = order.slice(0, Math.floor(order.length / 3)).map((i) => all.lines[i] ?? 0);
      const fewer = await places(station, feature, left);
      expect(fewer.lines).toEqual(all.lines);
      // The feature fitted anew differs by its form error, some micrometres; the middle of the points moved by millimetres.
      all.axes.origin.forEach((x, axis) => {
        expect(Math.abs((fewer.axes.origin[axis] ?? 0) - x)).toBeLessThan(0.01);
      });
      all.place.forEach((value, i) => {
        expect(Math.abs((fewer.place[i] ?? 0) - value)).toBeLessThan(0.01);
      });
    }
  });

  it('by hand are shown with their distance and reason, and count in nothing else', async () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '5', 'FLANK', 3);
    for (const axis of [3, 4, 5]) row[axis - 1] = String(Number(row[axis - 1]) + 0.3);
    const { points: pointsPath, plan: planPath } = writeDisc(csv(disc), disc.plan);
    const exclusions = [{ line, reason: 'the probe slipped' }];
    const reduction = await made({ pointsPath, planPath, exclusions });
    const flank = featurePoints(reduction, 5, 'FLANK');
    const at = flank.lines.indexOf(line);
    expect(flank.excluded.map((left, i) => (left ? i : -1)).filter((i) => i >= 0)).toEqual([at]);
    expect(flank.reasons).toEqual([{ line, reason: 'excluded by hand: the probe slipped' }]);
    const report = reduction.result.stations.find(({ station }) => station === 5)?.features[0];
    expect(flank.total).toBe((report?.points ?? 0) + 1);
    expect(flank.rms).toBeCloseTo(report?.rms ?? Number.NaN, 11);
    expect(Math.abs(flank.residual[at] ?? 0)).toBeGreaterThan(10 * (flank.form ?? Number.NaN));
  });

  it('by a robust screen are shown too', async () => {
    const disc = conformingDisc();
    for (const datum of disc.plan.blade.datums) datum.screen = { method: 'biweight', exclude: true };
    const { row, line } = rowOf(disc, '5', 'FLANK', 3);
    for (const axis of [3, 4, 5]) row[axis - 1] = String(Number(row[axis - 1]) + 0.3);
    const { points: pointsPath, plan: planPath } = writeDisc(csv(disc), disc.plan);
    const flank = featurePoints(await made({ pointsPath, planPath }), 5, 'FLANK');
    expect(flank.reasons).toEqual([{ line, reason: 'left out by the robust screen of the plan' }]);
    const spread = flank.residual.filter((_, i) => !flank.excluded[i]);
    expect(Math.max(...spread) - Math.min(...spread)).toBeCloseTo(flank.form ?? Number.NaN, 7);
  });

  it('as a whole feature: that feature against its nominal one, its neighbours against their own fits', async () => {
    const reduction = await made({
      pointsPath: samplePath('conforming', 'points.csv'),
      planPath: samplePath('conforming', 'plan.json'),
      excludedFeatures: [{ station: 5, feature: 'EDGE', reason: 'clamp mark' }],
    });
    const edge = featurePoints(reduction, 5, 'EDGE');
    expect(edge).toMatchObject({ basis: 'nominal', rms: null, form: null });
    expect(edge.excluded.every(Boolean)).toBe(true);
    expect(Math.max(...edge.residual.map(Math.abs))).toBeLessThan(0.2);
    const flank = featurePoints(reduction, 5, 'FLANK');
    const usual = featurePoints(await sample('conforming'), 5, 'FLANK');
    expect(flank.basis).toBe('own');
    // A free fit of the primary datum is what the datum system makes of it too.
    expect(flank.form).toBeCloseTo(usual.form ?? Number.NaN, 9);
  });
});

it('members of a pattern are held against fits to their own points', async () => {
  const disc = conformingDisc();
  const [face, bore, slot] = disc.plan.disc.datums;
  if (!face || !bore || !slot) throw new Error('the sample has three hub datums');
  const member = ({ label: _, ...rest }: typeof face) => rest;
  disc.plan.disc.datums = [
    { label: 'A', type: 'pattern', members: [member(face), member(bore)] },
    slot,
  ] as unknown as typeof disc.plan.disc.datums;
  const { points: pointsPath, plan: planPath } = writeDisc(csv(disc), disc.plan);
  const second = featurePoints(await made({ pointsPath, planPath }), null, 'HUB-BORE');
  expect(second).toMatchObject({ datum: 'A.2', type: 'cylinder', basis: 'own' });
  const mean = second.residual.reduce((sum, d) => sum + d, 0) / second.residual.length;
  expect(mean).toBeCloseTo(0, 6);
});

describe('thinning', () => {
  it('keeps extremes and excluded points, and file order', async () => {
    const input = {
      pointsPath: samplePath('conforming', 'points.csv'),
      planPath: samplePath('conforming', 'plan.json'),
    };
    const whole = featurePoints(await made(input), null, 'HUB-FACE');
    const line = whole.lines[7] ?? 0;
    const reduction = await made({ ...input, exclusions: [{ line, reason: 'dirt' }] });
    const all = featurePoints(reduction, null, 'HUB-FACE');
    const few = featurePoints(reduction, null, 'HUB-FACE', 10);
    expect(few.lines.length).toBeLessThanOrEqual(10);
    expect(few.total).toBe(all.total);
    expect(few.form).toBe(all.form);
    expect(few.lines).toEqual([...few.lines].sort((a, b) => a - b));
    expect(few.lines).toContain(line);
    const used = (points: FeaturePoints) => points.residual.filter((_, i) => !points.excluded[i]);
    expect(Math.max(...used(few))).toBe(Math.max(...used(all)));
    expect(Math.min(...used(few))).toBe(Math.min(...used(all)));
    few.lines.forEach((kept, i) => {
      const j = all.lines.indexOf(kept);
      expect(few.residual[i]).toBe(all.residual[j]);
      expect(point3(few, i)).toEqual(point3(all, j));
    });
  });

  const point3 = (points: FeaturePoints, i: number) => points.xyz.slice(3 * i, 3 * i + 3);

  it('of the whole disc shares the room out by the number of points', async () => {
    const reduction = await sample('off-centre');
    const all = discPoints(reduction);
    expect(all.total).toBe(reduction.result.source.points.used);
    expect(all.shown).toBe(all.total);
    const few = discPoints(reduction, 700);
    expect(few.features).toHaveLength(all.features.length);
    expect(few.shown).toBe(few.features.reduce((sum, { lines }) => sum + lines.length, 0));
    expect(few.shown).toBeLessThanOrEqual(700 + 8 * few.features.length);
    expect(few.features[0]?.station).toBe(null);
  });
});

it('what the plan or the file does not have is refused with its place', async () => {
  const reduction = await sample('drifting');
  const missing = reduction.result.summary.missing[0]?.station ?? 0;
  const known = reduction.plan.definition.bladeDatums[0]?.features[0] ?? '';
  expect(() => featurePoints(reduction, 2, 'NOSE')).toThrow(RefusedInput);
  expect(() => featurePoints(reduction, 2, 'NOSE')).toThrow(/station 2, NOSE: the plan has no such feature/);
  expect(() => featurePoints(reduction, missing, known)).toThrow(/There are no points of feature/);
});
