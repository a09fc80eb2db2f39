/**
 * The diagnosis on discs with planted causes, made and evaluated independently in Python
 * (independent/diagnosis: maker.py plants, store.py evaluates with numpy and scipy; README.md there).
 *
 * Against the truth: leading cause, outliers, no cause that was not planted, planted values inside the stated intervals at the
 * stated rate. Against the evaluation: estimates, standard uncertainties, variance components, optima of the corrections.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ComponentName, Diagnosis, Parameter } from '../../shared-math/diagnosis/findings.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';

const folder = fileURLToPath(new URL('./independent/diagnosis/discs/', import.meta.url));
const discs = readdirSync(folder).sort();
const readJson = (disc: string, name: string) => JSON.parse(readFileSync(join(folder, disc, name), 'utf8'));

interface Truth {
  readonly planted: readonly ComponentName[];
  /** Components that may be called leading; null: none. */
  readonly leading: readonly (ComponentName | null)[];
  readonly mustFind: readonly (ComponentName | null)[];
  readonly outliers: readonly number[];
  readonly parameters: {
    readonly ringShift: Readonly<Record<string, number>>;
    readonly common: Readonly<Record<string, number>>;
    /** The constant offset of every blade, as a setting of the tool; null where the seats differ. */
    readonly constantAsTool: readonly number[] | null;
    readonly toolChange: Readonly<Record<string, readonly number[]>>;
    readonly wear: readonly number[] | null;
    readonly index: readonly { readonly order: number; readonly amplitude: number }[];
  };
  readonly sizes: Partial<Record<ComponentName, { readonly value: number }>>;
}

/** One fit of the evaluation. */
interface OwnFit {
  /** False: more parameters than the stations can tell. */
  readonly fullRank: boolean;
  readonly scatter: readonly number[];
  readonly parameters: readonly {
    readonly component: ComponentName;
    readonly key: string;
    readonly of: string | null;
    readonly value: number;
    readonly standard: number;
  }[];
}

interface Evaluation {
  readonly outliers: readonly number[];
  /** Columns for index and harmonics in the fits. */
  readonly dimensions: Readonly<Record<'index' | 'harmonics', number>>;
  /** With a random rest of the index, and without. */
  readonly fits: readonly [OwnFit, OwnFit];
  readonly corrections: Readonly<Record<string, { readonly before: number; readonly optimum: number }>>;
}

const ERRORS = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'];

interface Case {
  readonly diagnosis: Diagnosis;
  readonly truth: Truth;
  readonly evaluation: Evaluation;
}
const cases = new Map<string, Case>();
const componentOf = (d: Diagnosis, name: ComponentName) => d.components.find((c) => c.name === name)!;
const parameterOf = (from: readonly Parameter[], key: string, of: string | null = null) =>
  from.find((p) => p.key === key && (of === null || p.of === of));

beforeAll(async () => {
  for (const disc of discs) {
    const weldsPath = join(folder, disc, 'welds.csv');
    const { result } = await runReduction({
      pointsPath: join(folder, disc, 'points.csv'),
      planPath: join(folder, disc, 'plan.json'),
      ...(existsSync(weldsPath) ? { weldsPath } : {}),
    });
    cases.set(disc, {
      diagnosis: result.diagnosis!,
      truth: readJson(disc, 'truth.json'),
      evaluation: readJson(disc, 'evaluation.json'),
    });
  }
}, 120_000);

describe('finds what was planted', () => {
  it.each(discs)('%s', (disc) => {
    const { diagnosis, truth } = cases.get(disc)!;
    expect(truth.leading).toContain(diagnosis.leading);
    for (const name of truth.mustFind)
      if (name !== null) expect(componentOf(diagnosis, name).significant, name).toBe(true);
    expect(diagnosis.outliers.map((o) => o.station)).toEqual(truth.outliers);
  });

  it('claims no more causes that were not planted than the stated rate lets expect', () => {
    const claimed: string[] = [];
    for (const [disc, { diagnosis, truth }] of cases) {
      const constant = truth.planted.some((n) => n === 'common' || n === 'toolSetup');
      const planted = new Set<ComponentName>([
        ...truth.planted,
        'outliers',
        'scatter',
        ...(constant ? (['common', 'toolSetup'] as const) : []),
      ]);
      const wrong = diagnosis.components.filter((c) => c.significant && !planted.has(c.name));
      if (wrong.length > 0) claimed.push(`${disc}: ${wrong.map((c) => c.name).join(', ')}`);
    }
    // At most one disc in twenty, 26 discs: five or more with probability 1 %.
    expect(claimed.length, claimed.join('; ')).toBeLessThan(5);
  });
});

/** Planted values with what was found for them. */
function pairs({ diagnosis, truth }: Case): { found: Parameter; planted: number; what: string }[] {
  const { parameters } = truth;
  const wanted: [ComponentName, readonly Parameter[], string, string | null, number][] = [];
  const of = (name: ComponentName) => componentOf(diagnosis, name).parameters;
  for (const [key, value] of Object.entries(parameters.ringShift))
    wanted.push(['ringShift', of('ringShift'), key, null, value]);
  const readings = componentOf(diagnosis, 'common').readings;
  const asTool = readings.find((r) => parameterOf(r.parameters, 'lateral') !== undefined);
  if (parameters.constantAsTool !== null)
    ERRORS.forEach((key, i) => {
      wanted.push(['common', asTool?.parameters ?? [], key, null, parameters.constantAsTool![i]!]);
    });
  for (const [tool, six] of Object.entries(parameters.toolChange))
    ERRORS.forEach((key, i) => {
      wanted.push(['toolChange', of('toolChange'), key, tool, six[i]!]);
    });
  if (parameters.wear !== null)
    ERRORS.forEach((key, i) => {
      wanted.push(['wear', of('wear'), key, null, parameters.wear![i]!]);
    });
  return wanted.map(([name, from, key, tool, planted]) => {
    const found = parameterOf(from, key, tool);
    expect(found, `${name} ${key} ${tool ?? ''}`).toBeDefined();
    return { found: found!, planted, what: `${name} ${key} ${tool ?? ''}` };
  });
}

describe('intervals', () => {
  it('hold the planted values at the stated 95 %', () => {
    let all = 0;
    const outside: string[] = [];
    for (const [disc, one] of cases)
      for (const { found, planted, what } of pairs(one)) {
        all++;
        if (planted < found.low || planted > found.high) outside.push(`${disc} ${what}`);
      }
    expect(all).toBeGreaterThan(350);
    // Binomial with p = 0.05; values of one disc share its noise, so five standard deviations are left.
    expect(outside.length, outside.join('; ')).toBeLessThan(0.05 * all + 5 * Math.sqrt(all * 0.05 * 0.95));
  });

  it('hold the planted sizes', () => {
    for (const [disc, { diagnosis, truth }] of cases)
      for (const name of ['ringShift', 'toolChange', 'wear'] as const) {
        const planted = truth.sizes[name]?.value;
        const size = componentOf(diagnosis, name).size;
        if (planted === undefined || size === null) continue;
        // Three half-widths beside the interval for one in twenty that may lie outside.
        const slack = size.high - size.low;
        expect(planted, `${disc} ${name}`).toBeGreaterThan(size.low - slack);
        expect(planted, `${disc} ${name}`).toBeLessThan(size.high + slack);
      }
  });
});

describe('agrees with the independent evaluation', () => {
  const compared: string[] = [];

  it.each(discs)('%s', (disc) => {
    const { diagnosis, truth, evaluation } = cases.get(disc)!;
    expect(diagnosis.outliers.map((o) => o.station)).toEqual(evaluation.outliers);
    for (const [kind, own] of Object.entries(evaluation.corrections)) {
      const found = diagnosis.corrections.find((c) => c.kind === kind)!;
      expect(Math.abs(found.before - own.before), `${kind} before`).toBeLessThan(1e-8);
      // The own optimum is bounded by linear programs to 1e-7 mm.
      expect(Math.abs(found.optimum - own.optimum), `${kind} optimum`).toBeLessThan(3e-7);
    }
    // The numbers of two fits can only agree where both have the same columns.
    const same = (['index', 'harmonics'] as const).every(
      (name) => componentOf(diagnosis, name).dimensions === evaluation.dimensions[name],
    );
    const fit = evaluation.fits[diagnosis.scatter.index > 0 ? 0 : 1];
    if (!same || !fit.fullRank) return;
    compared.push(disc);
    for (const own of fit.parameters) {
      if (own.component === 'index' || own.component === 'harmonics') continue;
      const asTool = own.component === 'toolSetup' && truth.parameters.constantAsTool !== null;
      const from = asTool
        ? componentOf(diagnosis, 'common').readings.flatMap((r) => r.parameters)
        : componentOf(diagnosis, own.component).parameters;
      const found = parameterOf(from, own.key, own.component === 'toolSetup' ? null : own.of);
      const what = `${own.component} ${own.key} ${own.of ?? ''}`;
      expect(found, what).toBeDefined();
      // Both minimise the restricted likelihood to their own tolerance.
      expect(Math.abs(found!.value - own.value) / own.standard, what).toBeLessThan(0.02);
      // The product adds what the estimated variances leave uncertain; the evaluation does not.
      expect(found!.standard / own.standard, what).toBeGreaterThan(0.98);
      expect(found!.standard / own.standard, what).toBeLessThan(diagnosis.stations.length < 8 ? 2.5 : 1.4);
    }
    diagnosis.scatter.process.forEach((s, i) => {
      const unit = i < 3 ? 1 : 1e-2; // rad at 100 mm
      expect(Math.abs(s - fit.scatter[i]!), ERRORS[i]).toBeLessThan(2e-5 * unit);
    });
  });

  it('in the numbers of nearly all fits', () => {
    expect(compared.length, compared.join(', ')).toBeGreaterThan(20);
  });
});
