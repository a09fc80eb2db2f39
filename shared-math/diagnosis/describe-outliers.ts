/** Stations set apart: what remains at them after all causes, in numbers and words. */
import { ERRORS } from '../stations/describe-uncertainty.ts';
import { natural, worstDisplacements } from './component-size.ts';
import type { Outlier } from './findings.ts';
import { adjustForFalseDiscoveries } from './inference.ts';
import { SCALE } from './observations.ts';
import type { StationTest } from './outliers.ts';
import { residualsOf, type Separation } from './separation.ts';

/** Errors beyond this many standard deviations of scatter are named. */
const STANDS_OUT = 3;

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
    const large = ERRORS.flatMap((name, i) => {
      const deviation = Math.sqrt(s.fit.components[i]! + o.own[i]![i]!);
      return Math.abs(residual[i]!) > STANDS_OUT * deviation ? [{ name, i }] : [];
    });
    return [
      {
        station: o.station,
        error: natural(residual),
        distance: tests[k]!.distance,
        probability: tests[k]!.probability,
        adjusted: adjusted[k]!,
        size: 2 * worst!.length,
        words: large.length === 0 ? 'its errors together lie' : outlierWords(residual, large),
      },
    ];
  });
}

function outlierWords(
  residual: readonly number[],
  large: readonly { readonly name: string; readonly i: number }[],
): string {
  const wordsOf: Readonly<Record<string, string>> = {
    oscillation: 'along oscillation',
    lateral: 'along lateral',
    upset: 'along upset',
    rotOscillation: 'about oscillation',
    rotLateral: 'about lateral',
    rotUpset: 'about upset',
  };
  return large
    .map(({ name, i }) => {
      const value = residual[i]! / SCALE[i]!;
      const text = i < 3 ? `${(value * 1000).toFixed(0)} µm` : `${((value * 648000) / Math.PI).toFixed(0)}″`;
      return `${value > 0 ? '+' : ''}${text} ${wordsOf[name]}`.replace('-', '−');
    })
    .join(', ');
}
