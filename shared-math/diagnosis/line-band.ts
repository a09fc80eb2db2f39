/** The band about a fitted line within which its mean lies, abscissa by abscissa. */
import type { Contrast } from './contrast.ts';
import type { Estimate } from './findings.ts';
import { estimate } from './inference.ts';

/** A straight line would hide how the band widens; this many points let no eye see the chords. */
const ABSCISSAE = 13;

/** Evenly spaced abscissae from the first to the last, both included; one where they are the same. */
export function abscissaeOf(first: number, last: number): readonly number[] {
  if (first === last) return [first];
  return Array.from({ length: ABSCISSAE }, (_, i) => first + ((last - first) * i) / (ABSCISSAE - 1));
}

/**
 * Pointwise interval of the mean of a line: value(x) ± t(ν(x))·√(vᵀ·C·v) with v = (1, x), a hyperbola about the line, narrowest
 * at the weighted mean of the abscissae.
 *
 * @param combination of intercept and slope: value, variance and degrees of freedom of v₀·intercept + v₁·slope.
 * @param abscissae in the unit that the slope counts in.
 * @param coverage of the interval at one abscissa, 0 … 1; it is not that of the whole line at once.
 * @param scale into the unit of the result, > 0.
 * @returns one estimate for each abscissa. Source: N. R. Draper, H. Smith, Applied Regression Analysis, 3rd ed. (1998), 3.1 (from memory).
 */
export function lineBand(
  combination: (v: readonly [number, number]) => Contrast,
  abscissae: readonly number[],
  coverage: number,
  scale = 1,
): Estimate[] {
  return abscissae.map((x) => estimate(combination([1, x]), coverage, scale));
}
