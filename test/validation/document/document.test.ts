/**
 * The validation document: every check within its bound, RESULTS.md as committed what the code computes now, and a part of
 * the long run of random orientations repeated.
 */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { associateCylinder } from '../../../shared-math/association/index.ts';
import { ReductionError } from '../../../shared-math/errors.ts';
import { addScaled, normalize, perpendicular } from '../../../shared-math/geometry/index.ts';
import { buildChapters } from './build.ts';
import { type Chapter, fixture, passes } from './check.ts';
import type { OrientationRun } from './checks/random-orientation.ts';
import { CONFIGURATIONS, ORIENTATION_SEED, orientationOutcome } from './random-orientation.ts';
import { renderDocument } from './render.ts';

describe('validation document', () => {
  let chapters: readonly Chapter[] = [];
  beforeAll(async () => {
    chapters = await buildChapters();
  });

  test('every check is within its bound', () => {
    expect(chapters.flatMap((c) => c.checks).length).toBeGreaterThan(2000);
    expect(chapters.filter((c) => c.checks.length === 0)).toEqual([]);
    expect(chapters.flatMap((c) => c.checks).filter((c) => !passes(c))).toEqual([]);
  });

  test('RESULTS.md is what the code computes; else run npx tsx test/validation/document/write.ts', () => {
    const committed = readFileSync(new URL('../RESULTS.md', import.meta.url), 'utf8').split('\n');
    const now = renderDocument(chapters).split('\n');
    const differing = now.flatMap((line, i) =>
      line === committed[i] ? [] : [{ committed: committed[i], now: line }],
    );
    expect(differing.slice(0, 3)).toEqual([]);
    expect(committed.length).toBe(now.length);
  });
});

describe('checks', () => {
  const check = { group: '', name: '', source: '', unit: 'mm', reference: 1, bound: 0.1 };

  test('a value beyond its bound, or none at all, fails and shows', () => {
    for (const ours of [1.2, Number.NaN]) {
      expect(passes({ ...check, ours })).toBe(false);
      const text = renderDocument([{ group: 'one', text: '', checks: [{ ...check, ours }] }]);
      expect(text).toContain('1 checks, 1 beyond their bounds');
      expect(text).toContain('**beyond**');
    }
    expect(passes({ ...check, ours: 1.05 })).toBe(true);
  });
});

describe('random orientations', () => {
  test('every fortieth of the long run again', () => {
    const run = fixture<OrientationRun>('random-orientation.json');
    expect([run.seed, run.configurations]).toEqual([ORIENTATION_SEED, CONFIGURATIONS]);
    for (let k = 0; k < CONFIGURATIONS; k += 40) {
      expect(orientationOutcome(k), `configuration ${k}`).toEqual({ kind: 'lowest' });
    }
  });

  test('an association that ends elsewhere counts as wrong, one that gives up as refused', () => {
    for (const k of [2, 4, 6]) {
      const elsewhere = orientationOutcome(k, ({ xyz, truth }) => {
        const direction = normalize(addScaled(truth.direction, perpendicular(truth.direction), 0.01));
        return associateCylinder({ xyz }, { kind: 'fixed', direction });
      });
      expect(elsewhere.kind).toBe('wrong');
      const gaveUp = orientationOutcome(k, () => {
        throw new ReductionError('not-converged', 'The fit did not settle.');
      });
      expect(gaveUp).toEqual({ kind: 'refused', code: 'not-converged' });
    }
  });
});
