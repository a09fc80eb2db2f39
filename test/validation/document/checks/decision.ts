/** Conformance probabilities, guard factors and global risks of JCGM 106. */
import { decide, intervalProbability } from '../../../../shared-math/uncertainty/decision.ts';
import { normalDensity, normalQuantile } from '../../../../shared-math/uncertainty/distributions.ts';
import { integrate } from '../../../../shared-math/uncertainty/quadrature.ts';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Decision rules';

interface Published {
  readonly oneSided: { readonly rows: readonly (readonly [number, number, number])[] };
  readonly conformance: {
    readonly cases: readonly {
      readonly name: string;
      readonly value: number;
      readonly u: number;
      readonly lower: number | null;
      readonly upper: number | null;
      readonly printed: number;
      readonly exact: number;
    }[];
  };
  readonly resistors: {
    readonly limit: number;
    readonly process: number;
    readonly measurement: number;
    readonly nonconforming: number;
    readonly simple: { readonly consumer: number; readonly producer: number };
    readonly guarded: { readonly acceptance: number; readonly consumer: number; readonly producer: number };
  };
}

export function decisionRules(): Chapter {
  const { oneSided, conformance, resistors } = fixture<Published>('uncertainty-published.json');
  const checks = new Checks(
    GROUP,
    'JCGM 106:2012 and ISO 14253-1:2017 (inputs and printed results: value from memory; recomputed with SciPy 1.17.1, risks also with mpmath)',
  );
  for (const [p, printed, exact] of oneSided.rows) {
    checks.add(`guard factor at ${p}, printed`, normalQuantile(p), printed, 5.1e-3);
    checks.add('guard factors, recomputed', normalQuantile(p), exact, 1e-6);
  }
  checks.add('guard band of ISO 14253-1 at 95 %, in u', normalQuantile(0.95), 1.65, 5.2e-3);
  for (const { name, value, u, lower, upper, printed, exact } of conformance.cases) {
    const ours = intervalProbability(
      lower ?? Number.NEGATIVE_INFINITY,
      upper ?? Number.POSITIVE_INFINITY,
      value,
      u,
    );
    checks.add(`${name}, probability of conformance, printed`, ours, printed, 5e-3);
    checks.add(`${name}, probability of conformance`, ours, exact, 1e-9);
  }

  const { limit, process, measurement } = resistors;
  checks.add(
    'resistors, non-conforming',
    1 - intervalProbability(-limit, limit, 0, process),
    resistors.nonconforming,
    1e-9,
  );
  const density = (truth: number) => normalDensity(truth / process) / process;
  for (const [name, acceptance, expected] of [
    ['simple', limit, resistors.simple],
    ['guarded', resistors.guarded.acceptance, resistors.guarded],
  ] as const) {
    // A guard band of 0.02 is a quarter of U = 2u = 0.08; the verdict at the acceptance limit and just beyond it.
    const rule = name === 'simple' ? { rule: name } : { rule: name, factor: 0.25 };
    const accepts = (value: number) =>
      decide(rule, { value, limit, probability: Number.NaN, expanded: 2 * measurement }) === 'conforming'
        ? 1
        : 0;
    checks.add(`resistors, ${name}, accepted at the acceptance limit`, accepts(acceptance), 1, 0);
    checks.add(`resistors, ${name}, accepted just beyond it`, accepts(acceptance + 1e-12), 0, 0);
    const accepted = (truth: number) => intervalProbability(-acceptance, acceptance, truth, measurement);
    const consumer = 2 * integrate((t) => density(t) * accepted(t), [limit, 0.3, 0.5, 1.5], 1e-12);
    const producer = integrate((t) => density(t) * (1 - accepted(t)), [-limit, 0, limit], 1e-12);
    checks.add(`resistors, ${name}, consumer's global risk`, consumer, expected.consumer, 1e-9);
    checks.add(`resistors, ${name}, producer's global risk`, producer, expected.producer, 1e-9);
  }
  return {
    group: GROUP,
    text: `Conformance probabilities by the product's normal distribution; the resistors' global risks integrate its acceptance over the process.
Clause numbers were not at hand.`,
    checks: checks.list,
  };
}
