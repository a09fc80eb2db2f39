/** Stations set apart: what remains at them after all causes, in numbers and words. */
import { ERRORS } from '../pose/error-names.ts';
import { chiSquaredQuantile } from '../uncertainty/distributions.ts';
import { natural, worstDisplacements } from './component-size.ts';
import { errorKeys } from './design.ts';
import { readFigures } from './figures.ts';
import type { Outlier } from './findings.ts';
import { adjustForFalseDiscoveries } from './inference.ts';
import { totalCovariance } from './mixed-model.ts';
import { PER_RAD, SCALE } from './observations.ts';
import type { StationTest } from './outliers.ts';
import { residualsOf, type Separation } from './separation.ts';
import { dotProduct, inverseDefinite, product, times } from './symmetric.ts';
import { listed, signed } from './words.ts';

/** Errors beyond this many standard deviations of scatter are named. */
const STANDS_OUT = 3;
/** A wrong index explains an error where what it leaves is within scatter at this probability, or less than this share of it. */
const WITHIN_SCATTER = 0.99;
const LEAVES = 0.2;

/** @param significant whether the component of outliers is; else there are none. */
export function describeOutliers(
  s: Separation,
  tests: readonly StationTest[],
  significant: boolean,
): Outlier[] {
  if (!significant) return [];
  const residuals = residualsOf(s);
  const adjusted = adjustForFalseDiscoveries(tests.map((t) => t.probability));
  return s.observations.flatMap((o, k) => {
    if (s.counts[k]) return [];
    const residual = residuals[k]!;
    const [worst] = worstDisplacements([o], [residual]);
    const spread = predictionCovariance(s, k);
    const turn = indexTurn(residual, o.motions[5]!, spread);
    const standing = (error: readonly number[]) =>
      ERRORS.flatMap((name, i) =>
        Math.abs(error[i]!) > STANDS_OUT * Math.sqrt(spread[i]![i]!) ? [{ name, i }] : [],
      );
    const { text: words, figures } = readFigures(
      turn === null
        ? errorWords(residual, standing(residual)) || 'no single error, but all six together'
        : indexWords(turn, errorWords(turn.rest, standing(turn.rest))),
    );
    return [
      {
        station: o.station,
        error: natural(residual),
        distance: tests[k]!.distance,
        probability: tests[k]!.probability,
        adjusted: adjusted[k]!,
        size: 2 * worst!.length,
        index: turn === null ? null : turn.value / PER_RAD,
        words,
        figures,
      },
    ];
  });
}

/** V_k + X_k·Φ·X_kᵀ: of a station outside the fit against what the others predict. */
function predictionCovariance(s: Separation, k: number): number[][] {
  const o = s.observations[k]!;
  const x = s.design[k]!;
  const xh = product(x, s.fit.covariance);
  return totalCovariance(o.own, o.motions[5]!, s.fit.components).map((row, i) =>
    row.map((c, j) => c + dotProduct(xh[i]!, x[j]!)),
  );
}

interface IndexTurn {
  /** Scaled, as the errors that are left. */
  readonly value: number;
  readonly rest: readonly number[];
}

/** The turn about the disc axis nearest to an error in its own covariance, or null where it explains it badly. */
function indexTurn(
  error: readonly number[],
  index: readonly number[],
  spread: readonly (readonly number[])[],
): IndexTurn | null {
  const inverted = inverseDefinite(spread);
  if (inverted === null) return null;
  const weighted = times(inverted.inverse, index);
  const value = dotProduct(weighted, error) / dotProduct(weighted, index);
  const rest = error.map((e, i) => e - value * index[i]!);
  const left = dotProduct(rest, times(inverted.inverse, rest));
  const whole = dotProduct(error, times(inverted.inverse, error));
  return left < chiSquaredQuantile(WITHIN_SCATTER, 5) || left < LEAVES * whole ? { value, rest } : null;
}

function indexWords({ value }: IndexTurn, rest: string): string {
  const index = `an index error of ${signed({ value: value / PER_RAD, unit: 'rad' })}`;
  return rest === '' ? `${index} explains it` : `${index}, with ${rest} besides`;
}

const ERROR_WORDS = errorKeys(null).map(({ name }) => name);

function errorWords(error: readonly number[], large: readonly { readonly i: number }[]): string {
  return listed(
    large.map(({ i }) => {
      const [value, unit] = [error[i]! / SCALE[i]!, i < 3 ? ('mm' as const) : ('rad' as const)];
      return `${signed({ value, unit })} ${ERROR_WORDS[i]}`;
    }),
  );
}
