/** The coverage experiment on simulated discs, and the curve of coverage of the upper bound of position against truth. */
import { readFileSync } from 'node:fs';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Coverage';
const RESULTS = new URL('../../../coverage/results.json', import.meta.url);

interface Share {
  readonly share: number;
  readonly of: number;
}

interface Experiment {
  readonly seed: number;
  readonly stationsPerDisc: number;
  readonly bounds: {
    readonly interval: readonly [number, number];
    readonly positionAtLeast: number;
    readonly acceptedAtMost: number;
  };
  readonly total: Shares;
  readonly variants: readonly (Shares & { readonly name: string })[];
}

interface Shares {
  readonly discs: number;
  readonly intervals: Readonly<Record<string, Share>>;
  readonly position: readonly (Share & { readonly truth: number })[];
  readonly acceptedJustOutside: Readonly<Record<string, Share>>;
}

interface Curves {
  readonly trials: number;
  readonly curves: readonly {
    readonly name: string;
    readonly degreesOfFreedom: number | null;
    readonly points: readonly { readonly truth: number; readonly coverage: number }[];
  }[];
}

export function coverage(): Chapter {
  const checks = new Checks(
    GROUP,
    'Own simulation from known truth, trials of the distribution of position; test/validation/scripts/uncertainty-coverage.ts',
  );
  const { trials, curves } = fixture<Curves>('uncertainty-coverage.json');
  for (const { name, points } of curves) {
    const least = Math.min(...points.map((p) => p.coverage));
    checks.addLimit(`position, ${name}, least of the curve`, least, 'least', 0.935);
  }
  const experiment: Experiment = JSON.parse(readFileSync(RESULTS, 'utf8'));
  const { total, stationsPerDisc, seed } = experiment;
  return {
    group: GROUP,
    text: `Shares of intervals that hold the truth, nominal 95 %. Whole discs: ${total.discs} of ${stationsPerDisc} stations, seed ${seed}, \`npm run coverage\`. Errors and disc-frame
quantities 95 ± 1.5 %; upper bound of position at least 93.5 % at every truth; guarded acceptance just outside the limit at most 6.5 %.
Near zero the bound over-covers by its nature: a position has no negative values.`,
    checks: [...simulatedDiscs(experiment), ...checks.list],
    appendix: [
      `Coverage of the upper 95 % bound of position against the true position, in % (${trials} trials each; truth in units of the largest standard deviation).`,
      curveTable(curves),
      truthTable(experiment),
      variantTable(experiment),
    ].join('\n\n'),
  };
}

function simulatedDiscs({ bounds, total }: Experiment) {
  const checks = new Checks(GROUP, 'Own simulation of whole discs from known truth; test/coverage');
  const [low, high] = bounds.interval;
  for (const [name, { share }] of Object.entries(total.intervals))
    checks.add(`discs, interval of ${name}`, share, (low + high) / 2, (high - low) / 2);
  for (const { truth, share } of total.position)
    checks.addLimit(
      `discs, upper bound of position at ${truth} × tolerance`,
      share,
      'least',
      bounds.positionAtLeast,
    );
  for (const [rule, { share }] of Object.entries(total.acceptedJustOutside))
    checks.addLimit(
      `discs, accepted just outside the limit, guarded ${rule === 'byFactor' ? 'by factor' : 'by probability'}`,
      share,
      'most',
      bounds.acceptedAtMost,
    );
  return checks.list;
}

function curveTable(curves: Curves['curves']): string {
  const truths = [...new Set(curves.flatMap((c) => c.points.map((p) => p.truth)))].sort((a, b) => a - b);
  const rows = curves.map(({ name, points }) => {
    const cells = truths.map((truth) => {
      const point = points.find((p) => p.truth === truth);
      return point ? (100 * point.coverage).toFixed(1) : '';
    });
    return `| ${name} | ${cells.join(' | ')} |`;
  });
  return [`| | ${truths.join(' | ')} |`, `|---|${truths.map(() => '--:|').join('')}`, ...rows].join('\n');
}

function truthTable({ total }: Experiment): string {
  const truths = total.position.map((p) => p.truth);
  return [
    'Whole discs: the same against the true position as a share of the tolerance, in %.',
    '',
    `| ${truths.join(' | ')} |`,
    `|${truths.map(() => '--:|').join('')}`,
    `| ${total.position.map((p) => (100 * p.share).toFixed(1)).join(' | ')} |`,
  ].join('\n');
}

function variantTable({ variants }: Experiment): string {
  const percent = (share: number): string => (100 * share).toFixed(1);
  const rows = variants.map(({ name, discs, intervals, position, acceptedJustOutside }) => {
    const shares = Object.values(intervals).map((t) => t.share);
    const least = Math.min(...position.map((p) => p.share));
    const accepted = Math.max(...Object.values(acceptedJustOutside).map((a) => a.share));
    const range = `${percent(Math.min(...shares))} … ${percent(Math.max(...shares))}`;
    return `| ${name} | ${discs} | ${range} | ${percent(least)} | ${percent(accepted)} |`;
  });
  return [
    'Whole discs by variant, in % (intervals of the twelve quantities, least coverage of the upper bound, accepted just outside).',
    '',
    '| | discs | intervals | upper bound | accepted |',
    '|---|--:|--:|--:|--:|',
    ...rows,
  ].join('\n');
}
