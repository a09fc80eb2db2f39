/**
 * The product against an independent reduction (reduction.py, Python with numpy and scipy) on every disc of this folder:
 * six errors, disc-frame view, position, verdicts, missing stations, excluded points, frame. And inputs that must be
 * refused, with words that the message must hold. How both were made, and what is stated where: README.md beside this.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import type { DiscErrorName, ErrorName } from '../../../shared-math/definition.ts';
import { ReductionError } from '../../../shared-math/errors.ts';
import { runReduction } from '../../../src-main/jobs/run-reduction.ts';
import { RefusedInput } from '../../../src-main/problems.ts';

const here = fileURLToPath(new URL('.', import.meta.url));

/** What is demanded; the independent reduction itself is good to 1e-12 mm and 1e-14 rad (README). */
const DEMANDED_MM = 1e-6;
const DEMANDED_RAD = 1e-8;

type Judged = 'conforming' | 'nonconforming';
interface Expected {
  readonly truth: { readonly exact: boolean };
  readonly frame: {
    readonly rotation: readonly (readonly number[])[];
    readonly origin: readonly number[];
    readonly datums: readonly { readonly label: string; readonly points: number; readonly rms: number }[];
  };
  readonly stations: readonly {
    readonly station: number;
    readonly angle: number;
    readonly error: Readonly<Record<ErrorName, number>>;
    readonly disc: Readonly<Record<DiscErrorName, number>>;
    readonly position: {
      readonly value: number;
      readonly at: string;
      readonly verdict: Judged;
      /** Value, verdict, displacement. */
      readonly checkPoints: Readonly<Record<string, readonly [number, Judged, readonly number[]]>>;
    };
    /** Limit and verdict. */
    readonly limits: Readonly<Record<string, readonly [number, Judged]>>;
    readonly verdict: Judged;
  }[];
  readonly summary: {
    readonly stations: number;
    readonly conforming: number;
    readonly nonconforming: number;
    readonly missing: readonly { readonly station: number }[];
    readonly worst: { readonly station: number; readonly position: number };
  };
  readonly source: { readonly rows: number; readonly excluded: readonly number[] };
}

const readJson = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const folders = (of: string) => readdirSync(join(here, of)).sort();

const ROTATIONS = new Set(['rotOscillation', 'rotLateral', 'rotUpset', 'lean', 'sweep', 'stagger']);

/** Largest differences seen, mm and rad apart. */
class Differences {
  mm = 0;
  rad = 0;
  where = { mm: '', rad: '' };

  take(kind: 'mm' | 'rad', found: number | null | undefined, wanted: number, where: string) {
    expect(found, where).toBeTypeOf('number');
    const difference = Math.abs((found as number) - wanted);
    if (!(difference <= this[kind])) {
      this[kind] = difference;
      this.where[kind] = where;
    }
  }
}

const reached: { disc: string; mm: number; rad: number; where: string }[] = [];

describe('agrees with the independent reduction', () => {
  it.each(folders('discs'))('%s', async (disc) => {
    const folder = join(here, 'discs', disc);
    const expected: Expected = readJson(join(folder, 'expected.json'));
    const { result } = await runReduction(
      { pointsPath: join(folder, 'points.csv'), planPath: join(folder, 'plan.json') },
      {},
    );
    const seen = new Differences();

    expect(result.stations.map((s) => s.station)).toEqual(expected.stations.map((s) => s.station));
    for (const wanted of expected.stations) {
      const found = result.stations.find((s) => s.station === wanted.station)!;
      const at = `station ${wanted.station}`;
      seen.take('rad', (found.angle * Math.PI) / 180, (wanted.angle * Math.PI) / 180, `${at} angle`);
      for (const [name, value] of Object.entries(wanted.error))
        seen.take(ROTATIONS.has(name) ? 'rad' : 'mm', found.error[name as ErrorName], value, `${at} ${name}`);
      for (const [name, value] of Object.entries(wanted.disc))
        seen.take(
          ROTATIONS.has(name) ? 'rad' : 'mm',
          found.disc[name as DiscErrorName],
          value,
          `${at} ${name}`,
        );
      seen.take('mm', found.position.value, wanted.position.value, `${at} position`);
      expect(found.position.checkPoints.map((c) => c.name)).toEqual(Object.keys(wanted.position.checkPoints));
      for (const point of found.position.checkPoints) {
        const [value, verdict, displacement] = wanted.position.checkPoints[point.name]!;
        seen.take('mm', point.value, value, `${at} position of ${point.name}`);
        for (const i of [0, 1, 2])
          seen.take('mm', point.displacement?.[i], displacement[i]!, `${at} displacement of ${point.name}`);
        expect(point.verdict, `${at} ${point.name}`).toBe(verdict);
      }
      for (const limit of found.limits) {
        const value = { ...wanted.error, ...wanted.disc }[limit.name];
        seen.take(ROTATIONS.has(limit.name) ? 'rad' : 'mm', limit.value, value, `${at} limit ${limit.name}`);
      }
      expect(
        Object.fromEntries(found.limits.map((l) => [l.name, [l.limit, l.verdict]])),
        `${at} limits`,
      ).toEqual(wanted.limits);
      expect([found.position.at, found.position.verdict, found.verdict], at).toEqual([
        wanted.position.at,
        wanted.position.verdict,
        wanted.verdict,
      ]);
    }
    expected.frame.rotation.forEach((row, i) => {
      row.forEach((value, j) => {
        seen.take('rad', result.frame.rotation[i]?.[j], value, 'frame rotation');
      });
    });
    expected.frame.origin.forEach((value, i) => {
      seen.take('mm', result.frame.origin[i], value, 'frame origin');
    });
    for (const wanted of expected.frame.datums) {
      const found = result.frame.datums.find((d) => d.label === wanted.label)!;
      expect(found.points).toBe(wanted.points);
      seen.take('mm', found.rms, wanted.rms, `rms of datum ${wanted.label}`);
    }

    reached.push({ disc, mm: seen.mm, rad: seen.rad, where: `${seen.where.mm}; ${seen.where.rad}` });
    expect(seen.mm, seen.where.mm).toBeLessThanOrEqual(DEMANDED_MM);
    expect(seen.rad, seen.where.rad).toBeLessThanOrEqual(DEMANDED_RAD);

    const { summary, source } = result;
    expect(summary.stations).toBe(expected.summary.stations);
    expect([summary.conforming, summary.nonconforming, summary.unproven]).toEqual([
      expected.summary.conforming,
      expected.summary.nonconforming,
      0,
    ]);
    expect(summary.missing.map((m) => m.station)).toEqual(expected.summary.missing.map((m) => m.station));
    for (const missing of summary.missing) expect(missing.reason).not.toBe('');
    expect(summary.worst?.station).toBe(expected.summary.worst.station);
    expect(summary.conforming + summary.nonconforming + summary.unproven + summary.missing.length).toBe(
      summary.stations,
    );
    expect(source.points.rows).toBe(expected.source.rows);
    expect(source.points.excluded.map((e) => e.line)).toEqual(expected.source.excluded);
    expect(source.points.used).toBe(expected.source.rows - expected.source.excluded.length);
  });

  afterAll(() => {
    const lines = reached
      .sort((a, b) => b.mm - a.mm)
      .map((r) => `${r.disc}: ${r.mm.toExponential(1)} mm, ${r.rad.toExponential(1)} rad (${r.where})`);
    console.log(`Largest differences from the independent reduction:\n${lines.join('\n')}`);
  });
});

describe('refuses with an explanation', () => {
  it.each(folders('refused'))('%s', async (name) => {
    const folder = join(here, 'refused', name);
    const expected: { plan: string; words: string[] } = readJson(join(folder, 'expected.json'));
    const failure: unknown = await runReduction(
      { pointsPath: join(folder, 'points.csv'), planPath: join(folder, expected.plan) },
      {},
    ).then(
      () => null,
      (reason: unknown) => reason,
    );
    expect(failure, 'it was not refused').not.toBeNull();
    expect(failure instanceof RefusedInput || failure instanceof ReductionError, String(failure)).toBe(true);
    const message = (failure as Error).message;
    for (const word of expected.words) expect(message).toMatch(new RegExp(word, 'i'));
  });
});
