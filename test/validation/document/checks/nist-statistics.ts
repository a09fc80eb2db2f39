/** Mean, standard deviation and linear regression of the NIST sets, through the shared solver. */
import { type LeastSquaresSolution, solveLeastSquares } from '../../../../shared-math/association/index.ts';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'NIST StRD, univariate and linear';

interface Fixture {
  readonly univariate: readonly {
    readonly name: string;
    readonly mean: number;
    readonly deviation: number;
    readonly values?: readonly number[];
    readonly digits?: string;
    readonly first?: number;
    readonly pair?: readonly [number, number];
    readonly pairs?: number;
  }[];
  readonly linear: readonly {
    readonly name: string;
    readonly y?: readonly number[];
    readonly terms?: readonly (readonly number[])[];
    readonly certified: readonly number[];
    readonly deviation: number;
  }[];
  readonly wampler: { readonly x: readonly number[]; readonly delta: readonly number[] };
}

/**
 * Relative bounds where the certificate is out of reach of double precision: the decimal data of NumAcc3 and NumAcc4 round, by up
 * to 5e-9 of the deviation; Wampler4 and 5 have residuals 1e5 and 1e7 times the effect of the coefficients.
 */
const DEVIATION_BOUNDS: Readonly<Record<string, number>> = { NumAcc3: 1e-9, NumAcc4: 1e-8 };
const COEFFICIENT_BOUNDS: Readonly<Record<string, number>> = {
  Longley: 1e-9,
  Wampler3: 1e-9,
  Wampler4: 1e-7,
  Wampler5: 1e-5,
};
/** Of the mean, and of everything else that is well conditioned; certificates have 15 digits. */
const RELATIVE = 1e-12;

export function nistStatistics(): Chapter {
  const all = fixture<Fixture>('nist-statistics.json');
  const univariate = new Checks(
    GROUP,
    'NIST StRD, univariate summary statistics (data and certified values as carried by the GNU Scientific Library)',
  );
  for (const { mean, deviation, ...set } of all.univariate) {
    const values = set.values ?? (set.digits ? [...set.digits].map(Number) : generated(set));
    const fit = linearFit(
      values.map(() => [1]),
      values,
    );
    univariate.add(`${set.name}, mean`, fit.state[0]!, mean, RELATIVE * Math.abs(mean));
    const bound = (DEVIATION_BOUNDS[set.name] ?? RELATIVE) * deviation;
    const ours = Math.sqrt(fit.sumOfSquares / (values.length - 1));
    univariate.add(`${set.name}, standard deviation`, ours, deviation, bound);
  }
  const linear = new Checks(
    GROUP,
    'NIST StRD, linear regression (Longley as carried by statsmodels; Norris, Pontius, Wampler1–5: value from memory, recomputed)',
  );
  for (const set of all.linear) {
    const { terms, y } = set.terms ? { terms: set.terms, y: set.y! } : wampler(set.name, all.wampler);
    const fit = linearFit(terms, y);
    set.certified.forEach((value, j) => {
      const bound = (COEFFICIENT_BOUNDS[set.name] ?? 1e-10) * Math.abs(value);
      linear.add(`${set.name}, coefficients`, fit.state[j]!, value, bound);
    });
    const ours = Math.sqrt(fit.sumOfSquares / (y.length - set.certified.length));
    // Exact polynomials of Wampler1 (values up to 3e6) and 2: only rounding is left.
    const bound = set.deviation === 0 ? 1e-9 : 1e-10 * set.deviation;
    linear.add(`${set.name}, residual standard deviation`, ours, set.deviation, bound);
  }
  return {
    group: GROUP,
    text: `A mean is the fit of one constant and its standard deviation the residual one, so these sets go through the shared solver as the
associations do. Bounds are relative: 1e-12 (means, standard deviations), 1e-10 (coefficients), except where double precision cannot
carry the data: NumAcc3 1e-9, NumAcc4 1e-8, Longley and Wampler3 1e-9, Wampler4 1e-7, Wampler5 1e-5. The certified lag-1
autocorrelations are not compared: the product has none.`,
    checks: [...univariate.list, ...linear.list],
  };
}

function generated(set: Omit<Fixture['univariate'][number], 'mean' | 'deviation'>): number[] {
  return [set.first!, ...Array.from({ length: set.pairs! }, () => set.pair!).flat()];
}

function wampler(name: string, { x, delta }: Fixture['wampler']) {
  const kind = Number(name.at(-1));
  const scale = [0, 0, 1, 100, 10_000][kind - 1]!;
  // 0.1^k as a decimal: powers of 0.1 would carry its rounding along.
  const coefficients = [0, 1, 2, 3, 4, 5].map((k) => (kind === 2 ? 1 / 10 ** k : 1));
  const terms = x.map((v) => [0, 1, 2, 3, 4, 5].map((k) => v ** k));
  const exact = (v: number): number =>
    kind === 2
      ? [5, 4, 3, 2, 1, 0].reduce((sum, k) => sum + v ** k * 10 ** (5 - k), 0) / 1e5
      : coefficients.reduceRight((sum, c) => sum * v + c, 0);
  return { terms, y: x.map((v, i) => exact(v) + scale * delta[i]!) };
}

function linearFit(
  terms: readonly (readonly number[])[],
  y: readonly number[],
): LeastSquaresSolution<readonly number[]> {
  return solveLeastSquares<readonly number[]>(
    {
      parameters: terms[0]!.length,
      evaluate: (b, rows) => {
        terms.forEach((row, i) => {
          rows.row.set([...row, row.reduce((sum, t, j) => sum + t * b[j]!, 0) - y[i]!]);
          rows.push();
        });
      },
      move: (b, step) => b.map((value, j) => value + step[j]!),
      parameterSizes: (b) => b.map((value) => Math.abs(value) || 1),
    },
    terms[0]!.map(() => 0),
  );
}
