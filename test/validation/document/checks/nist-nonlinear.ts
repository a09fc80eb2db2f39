/** The shared solver on all nonlinear regression sets of NIST, from both of their starts. */
import { solveLeastSquares } from '../../../../shared-math/association/index.ts';
import { ReductionError } from '../../../../shared-math/errors.ts';
import { type Chapter, Checks, fixture } from '../check.ts';
import { NIST_MODELS } from './nist-models.ts';

const GROUP = 'NIST StRD, nonlinear regression';
const SOURCE =
  'NIST Statistical Reference Datasets, Nonlinear Least Squares Regression; file texts as carried by data/nist of ceres-solver 2.1.0 (b1 of Roszman1: NIST_STRD of lmfit-py)';
/** Matching digits are counted up to these; the certificates have 11, of which rounding of the data can cost the last. */
const COUNTED = { parameters: 10, squares: 9, deviations: 7 } as const;
/** Digits of the worst parameter that may miss. */
const MISSING = 1;
/** First damping of the checked runs, for starts far off. */
const DAMPING = 100;
/** Other first dampings, for the record: that of the associations, and one between. */
const OTHER_DAMPINGS = [1, 1e-4];
/** Iterations after which a run counts as not converged. */
const MOST_ITERATIONS = 2000;

interface NistSet {
  readonly name: string;
  readonly level: 'lower' | 'average' | 'higher';
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly certifiedDeviations: readonly number[];
  readonly residualSumOfSquares: number;
  readonly x: readonly (number | readonly number[])[];
  readonly y: readonly number[];
}

export function nistNonlinear(): Chapter {
  const checks = new Checks(GROUP, SOURCE);
  const { sets } = fixture<{ sets: NistSet[] }>('nist-nonlinear-all.json');
  const refused: string[] = [];
  const rank = { higher: 0, average: 1, lower: 2 };
  for (const set of [...sets].sort((a, b) => rank[a.level] - rank[b.level])) {
    for (const k of [0, 1]) {
      const label = `${set.name} (${set.level}), start ${k + 1}`;
      const found = solve(set, set.starts[k]!, DAMPING);
      if (found === null) {
        refused.push(label);
        continue;
      }
      checks.add(label, found.parameters, COUNTED.parameters, MISSING, 'digits');
      // Its sum of squares is rounding itself.
      if (set.name === 'Lanczos1') continue;
      checks.add(
        `residual sums of squares, to ${COUNTED.squares} digits`,
        found.squares,
        COUNTED.squares,
        0,
        'digits',
      );
      checks.add(
        `standard deviations of the parameters, to ${COUNTED.deviations} digits`,
        found.deviations,
        COUNTED.deviations,
        0,
        'digits',
      );
    }
  }
  checks.add('runs that did not converge, and said so', refused.length, 0, 1);
  return {
    group: GROUP,
    text: `All 27 sets (8 of the higher level of difficulty) from both starts with one setting: first damping ${DAMPING}, at most ${MOST_ITERATIONS} iterations, analytic
derivatives. Compared are matching significant digits of the worst parameter, −log₁₀|ours/certified − 1| cut to whole digits and counted up
to ${COUNTED.parameters} (the certificates have 11); at least ${COUNTED.parameters - MISSING} are demanded. A run that stops with other values than the certified ones fails its row.

${refused.length === 0 ? 'Every run converged.' : `Not converged, and refused as such by the solver: ${refused.join('; ')}.`} Lanczos1 is exact to 13 digits, so its residual sum of squares
(1.4e-25) is rounding of its data and is not compared. Associations start the solver from algebraic fits, never as far off as these starts.`,
    checks: checks.list,
    appendix: otherDampings(sets),
  };
}

/** What becomes of the same runs with other first dampings; not demanded. */
function otherDampings(sets: readonly NistSet[]): string {
  const rows = OTHER_DAMPINGS.map((damping) => {
    let reached = 0;
    const refused: string[] = [];
    const elsewhere: string[] = [];
    for (const set of sets) {
      for (const k of [0, 1]) {
        const found = solve(set, set.starts[k]!, damping);
        if (found === null) refused.push(`${set.name} ${k + 1}`);
        else if (found.parameters >= COUNTED.parameters - MISSING) reached++;
        else elsewhere.push(`${set.name} ${k + 1}`);
      }
    }
    return `| ${damping} | ${reached} | ${refused.join(', ') || '–'} | ${elsewhere.join(', ') || '–'} |`;
  });
  return [
    'For the record, the same 54 runs with other first dampings (set and start named): a start far off needs short first steps.',
    '',
    '| First damping | Certified values | Not converged, said so | Stopped elsewhere |',
    '|--:|--:|---|---|',
    ...rows,
  ].join('\n');
}

/** Matching digits from one start; null where the solver says that it did not converge. */
function solve(set: NistSet, start: readonly number[], damping: number) {
  const model = NIST_MODELS[set.name]!;
  const y = set.name === 'Nelson' ? set.y.map(Math.log) : set.y;
  try {
    const { state, sumOfSquares, cofactor } = solveLeastSquares<readonly number[]>(
      {
        parameters: start.length,
        evaluate: (b, rows) => {
          set.x.forEach((x, i) => {
            const [first, second] = typeof x === 'number' ? [x, 0] : [x[0]!, x[1]!];
            const [value, ...gradient] = model(b, first, second);
            rows.row.set([...gradient, value! - y[i]!]);
            rows.push();
          });
        },
        move: (b, step) => b.map((value, j) => value + step[j]!),
        parameterSizes: (b) => b.map(Math.abs),
      },
      start,
      { damping, maximumIterations: MOST_ITERATIONS },
    );
    const variance = sumOfSquares / (set.y.length - start.length);
    return {
      parameters: worst(set.certified, (j) => state[j]!, COUNTED.parameters),
      squares: worst([set.residualSumOfSquares], () => sumOfSquares, COUNTED.squares),
      deviations: worst(
        set.certifiedDeviations,
        (j) => Math.sqrt(variance * cofactor[j]![j]!),
        COUNTED.deviations,
      ),
    };
  } catch (error) {
    if (error instanceof ReductionError && error.failure === 'not-converged') return null;
    throw error;
  }
}

/** Fewest whole digits in which ours match the certified values, between 0 and `counted`. */
function worst(certified: readonly number[], ours: (j: number) => number, counted: number): number {
  const digits = certified.map((value, j) => Math.floor(-Math.log10(Math.abs(ours(j) / value - 1))));
  return digits.reduce((least, d) => Math.min(least, Number.isNaN(d) ? 0 : Math.max(0, d)), counted);
}
